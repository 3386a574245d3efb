package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.aftercast.geo.GeoJson;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;

/**
 * Density of weighted points on a grid and its highest-density regions.
 *
 * <p>The grid spans all but one point in a thousand at each side. Points are shared among the four nearest cells and
 * smoothed by a Gaussian whose width is the kernel rule for two dimensions times the spread of an equally large normal
 * cloud (found from the area that holds 95 % in a first, rougher pass), so that two lobes far apart are not smeared into
 * one. A region is every cell at least as dense as the level that holds the wanted probability, outlined by {@link
 * Contours}.
 */
final class Density {

    private static final int CELLS = 180;

    private final LocalPlane plane;
    private final double lowX;
    private final double lowY;
    private final double cellM;
    private final int columns;
    private final int rows;
    private final double[] mass;

    private Density(LocalPlane plane, double lowX, double lowY, double cellM, int columns, int rows, double[] mass) {
        this.plane = plane;
        this.lowX = lowX;
        this.lowY = lowY;
        this.cellM = cellM;
        this.columns = columns;
        this.rows = rows;
        this.mass = mass;
    }

    static Density of(LocalPlane plane, double[] x, double[] y, double[] weight) {
        double[] spanX = span(x, weight);
        double[] spanY = span(y, weight);
        double effective = Math.max(20, Resampling.effective(weight));
        double wide = Math.max(40, Math.max(spanX[1] - spanX[0], spanY[1] - spanY[0]));
        double margin = 0.06 * wide + 10;
        double cell = (wide + 2 * margin) / CELLS;
        int columns = (int) Math.ceil((spanX[1] - spanX[0] + 2 * margin) / cell) + 1;
        int rows = (int) Math.ceil((spanY[1] - spanY[0] + 2 * margin) / cell) + 1;
        double lowX = spanX[0] - margin;
        double lowY = spanY[0] - margin;
        double[] raw = new double[columns * rows];
        for (int i = 0; i < x.length; i++) {
            double cx = (x[i] - lowX) / cell - 0.5;
            double cy = (y[i] - lowY) / cell - 0.5;
            int c = (int) Math.floor(cx);
            int r = (int) Math.floor(cy);
            if (c < 0 || r < 0 || c >= columns - 1 || r >= rows - 1) {
                continue;
            }
            double fx = cx - c;
            double fy = cy - r;
            raw[r * columns + c] += weight[i] * (1 - fx) * (1 - fy);
            raw[r * columns + c + 1] += weight[i] * fx * (1 - fy);
            raw[(r + 1) * columns + c] += weight[i] * (1 - fx) * fy;
            raw[(r + 1) * columns + c + 1] += weight[i] * fx * fy;
        }
        double rule = Resampling.kernelWidth(2, effective);
        double[] pilot = blur(raw, columns, rows, Math.max(1, 0.08 * rule * CELLS));
        double area = area(pilot, level(pilot, 0.95)) * cell * cell;
        double spread = Math.sqrt(area / (5.991 * Math.PI));
        double[] mass = blur(raw, columns, rows, Math.max(0.7, 0.7 * rule * spread / cell));
        return new Density(plane, lowX, lowY, cell, columns, rows, mass);
    }

    /** The densest place. */
    Position peak() {
        int best = 0;
        for (int i = 1; i < mass.length; i++) {
            if (mass[i] > mass[best]) {
                best = i;
            }
        }
        int row = best / columns;
        int column = best % columns;
        return plane.toEarth(lowX + (column + 0.5) * cellM, lowY + (row + 0.5) * cellM);
    }

    Region region(double probability) {
        double level = level(mass, probability);
        List<Contours.Ring> rings = Contours.of(mass, columns, rows, level);
        List<Region.Piece> pieces = new ArrayList<>();
        double area = 0;
        for (Contours.Ring ring : rings) {
            if (ring.signedArea() <= 0) {
                continue;
            }
            List<List<Position>> holes = new ArrayList<>();
            double pieceArea = ring.signedArea();
            for (Contours.Ring hole : rings) {
                if (hole.signedArea() < 0
                        && ring.contains(hole.x()[0], hole.y()[0])
                        && isInnermost(rings, ring, hole)) {
                    holes.add(earth(hole));
                    pieceArea += hole.signedArea();
                }
            }
            double held = 0;
            double meanX = 0;
            double meanY = 0;
            for (int i = 0; i < mass.length; i++) {
                int row = i / columns;
                int column = i % columns;
                if (mass[i] >= level && ring.contains(column, row)) {
                    held += mass[i];
                    meanX += mass[i] * column;
                    meanY += mass[i] * row;
                }
            }
            if (held > 0.002) {
                Position centre =
                        plane.toEarth(lowX + (meanX / held + 0.5) * cellM, lowY + (meanY / held + 0.5) * cellM);
                pieces.add(new Region.Piece(held, centre, new GeoJson.Polygon(earth(ring), holes)));
                area += pieceArea * cellM * cellM;
            }
        }
        pieces.sort(Comparator.comparingDouble(Region.Piece::probability).reversed());
        return new Region(probability, area, pieces);
    }

    /** A hole belongs to the smallest ring around it. */
    private static boolean isInnermost(List<Contours.Ring> rings, Contours.Ring ring, Contours.Ring hole) {
        return rings.stream()
                .noneMatch(other -> other.signedArea() > 0
                        && other.signedArea() < ring.signedArea()
                        && other.contains(hole.x()[0], hole.y()[0]));
    }

    private List<Position> earth(Contours.Ring ring) {
        List<Position> out = new ArrayList<>(ring.x().length);
        for (int i = 0; i < ring.x().length; i++) {
            out.add(plane.toEarth(lowX + (ring.x()[i] + 0.5) * cellM, lowY + (ring.y()[i] + 0.5) * cellM));
        }
        return out;
    }

    /** The density above which cells hold the wanted share of all mass. */
    static double level(double[] mass, double probability) {
        double[] sorted = mass.clone();
        Arrays.sort(sorted);
        double total = Arrays.stream(sorted).sum();
        double sum = 0;
        for (int i = sorted.length - 1; i >= 0; i--) {
            sum += sorted[i];
            if (sum >= probability * total) {
                return sorted[i];
            }
        }
        return 0;
    }

    private static double area(double[] mass, double level) {
        int count = 0;
        for (double m : mass) {
            count += m >= level ? 1 : 0;
        }
        return count;
    }

    /** Two passes of a sampled Gaussian; what would fall off the grid stays at its edge. */
    private static double[] blur(double[] in, int columns, int rows, double sdCells) {
        int half = (int) Math.ceil(3.5 * sdCells);
        double[] kernel = new double[half + 1];
        double sum = 0;
        for (int k = 0; k <= half; k++) {
            kernel[k] = Math.exp(-0.5 * k * k / (sdCells * sdCells));
            sum += k == 0 ? kernel[k] : 2 * kernel[k];
        }
        double[] across = new double[in.length];
        double[] out = new double[in.length];
        for (int r = 0; r < rows; r++) {
            for (int c = 0; c < columns; c++) {
                double value = in[r * columns + c];
                if (value != 0) {
                    for (int k = -half; k <= half; k++) {
                        int to = Math.max(0, Math.min(columns - 1, c + k));
                        across[r * columns + to] += value * kernel[Math.abs(k)] / sum;
                    }
                }
            }
        }
        for (int r = 0; r < rows; r++) {
            for (int c = 0; c < columns; c++) {
                double value = across[r * columns + c];
                if (value != 0) {
                    for (int k = -half; k <= half; k++) {
                        int to = Math.max(0, Math.min(rows - 1, r + k));
                        out[to * columns + c] += value * kernel[Math.abs(k)] / sum;
                    }
                }
            }
        }
        return out;
    }

    /** Values that leave one in a thousand of the weight at each side. */
    private static double[] span(double[] values, double[] weight) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double v : values) {
            low = Math.min(low, v);
            high = Math.max(high, v);
        }
        int bins = 4000;
        double step = (high - low) / bins;
        if (!(step > 0)) {
            return new double[] {low, high};
        }
        double[] sum = new double[bins + 1];
        for (int i = 0; i < values.length; i++) {
            sum[(int) ((values[i] - low) / step)] += weight[i];
        }
        int first = 0;
        double left = sum[0];
        while (left < 0.001 && first < bins) {
            left += sum[++first];
        }
        int last = bins;
        double right = sum[bins];
        while (right < 0.001 && last > first) {
            right += sum[--last];
        }
        return new double[] {low + first * step, low + (last + 1) * step};
    }
}
