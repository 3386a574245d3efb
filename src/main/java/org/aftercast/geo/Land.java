package org.aftercast.geo;

import java.util.List;
import org.locationtech.jts.algorithm.RobustLineIntersector;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.index.ItemVisitor;
import org.locationtech.jts.index.strtree.STRtree;

/**
 * The land around one place, on a local plane, made for being asked very often. Not for navigation.
 *
 * <p>Point in land: even-odd, with a raster of {@value #CELLS}² cells that answers at once where a cell is all land or all
 * sea and counts crossings where it is mixed. Line across land: an STR tree of coast edges and JTS's robust
 * intersection. Outside the square everything counts as sea, which {@link #covers} tells.
 */
public final class Land {

    private static final int CELLS = 512;
    private static final byte SEA = 0;
    private static final byte LAND = 1;
    private static final byte MIXED = 2;

    private final LocalPlane plane;
    private final double radiusM;
    private final double cellM;
    private final byte[] raster = new byte[CELLS * CELLS];
    private final Edges base;
    private final Edges added;
    private final boolean empty;

    Land(LocalPlane plane, double radiusM, List<double[][]> baseRings, List<double[][]> addedRings) {
        this.plane = plane;
        this.radiusM = radiusM;
        this.cellM = 2 * radiusM / CELLS;
        this.base = new Edges(baseRings, radiusM);
        this.added = new Edges(addedRings, radiusM);
        this.empty = baseRings.isEmpty() && addedRings.isEmpty();
        if (!empty) {
            base.markCells(raster, cellM);
            added.markCells(raster, cellM);
            fill();
        }
    }

    /** Open sea all around. */
    public static Land none(Position centre, double radiusM) {
        return new Land(new LocalPlane(centre), radiusM, List.of(), List.of());
    }

    /** The plane all coordinates here are on. */
    public LocalPlane plane() {
        return plane;
    }

    /** Half side of the square in metres. */
    public double radiusM() {
        return radiusM;
    }

    /** Whether a point lies in the square for which land is known. */
    public boolean covers(double xM, double yM) {
        return Math.abs(xM) <= radiusM && Math.abs(yM) <= radiusM;
    }

    /** Whether a point is on land; false outside the square. */
    public boolean isLand(double xM, double yM) {
        if (empty || !covers(xM, yM)) {
            return false;
        }
        int column = cell(xM);
        int row = cell(yM);
        byte kind = raster[row * CELLS + column];
        return kind == MIXED ? exact(xM, yM) : kind == LAND;
    }

    /** Whether a place is on land. */
    public boolean isLand(Position place) {
        LocalPlane.Point point = plane.toPlane(place);
        return isLand(point.xM(), point.yM());
    }

    /** Whether a straight line touches land: an end on land, or a coast crossed on the way. */
    public boolean crosses(double x1M, double y1M, double x2M, double y2M) {
        if (empty) {
            return false;
        }
        return isLand(x1M, y1M)
                || isLand(x2M, y2M)
                || base.crossed(x1M, y1M, x2M, y2M)
                || added.crossed(x1M, y1M, x2M, y2M);
    }

    /** Distance in metres from a point to the nearest coast, up to {@code limitM}; {@code limitM} if none is nearer. */
    public double coastDistanceM(double xM, double yM, double limitM) {
        return empty ? limitM : Math.min(base.nearestM(xM, yM, limitM), added.nearestM(xM, yM, limitM));
    }

    private boolean exact(double xM, double yM) {
        return base.inside(xM, yM) || added.inside(xM, yM);
    }

    private int cell(double value) {
        return Math.max(0, Math.min(CELLS - 1, (int) ((value + radiusM) / cellM)));
    }

    private void fill() {
        for (int row = 0; row < CELLS; row++) {
            byte run = -1;
            for (int column = 0; column < CELLS; column++) {
                int i = row * CELLS + column;
                if (raster[i] == MIXED) {
                    run = -1;
                } else {
                    if (run < 0) {
                        double x = (column + 0.5) * cellM - radiusM;
                        double y = (row + 0.5) * cellM - radiusM;
                        run = exact(x, y) ? LAND : SEA;
                    }
                    raster[i] = run;
                }
            }
        }
    }

    /** Coast edges of one set of rings. */
    private static final class Edges {
        private final double[][] rows;
        private final double rowM;
        private final double radiusM;
        private final STRtree tree = new STRtree();
        private final int count;

        Edges(List<double[][]> rings, double radiusM) {
            this.radiusM = radiusM;
            this.rowM = 2 * radiusM / CELLS;
            int[] sizes = new int[CELLS];
            int edges = 0;
            for (double[][] ring : rings) {
                for (int i = 0; i < ring[0].length; i++) {
                    int j = (i + 1) % ring[0].length;
                    int last = row(Math.max(ring[1][i], ring[1][j]));
                    for (int row = row(Math.min(ring[1][i], ring[1][j])); row <= last; row++) {
                        sizes[row] += 4;
                    }
                }
            }
            rows = new double[CELLS][];
            for (int r = 0; r < CELLS; r++) {
                rows[r] = new double[sizes[r]];
                sizes[r] = 0;
            }
            for (double[][] ring : rings) {
                for (int i = 0; i < ring[0].length; i++) {
                    int j = (i + 1) % ring[0].length;
                    double[] edge = {ring[0][i], ring[1][i], ring[0][j], ring[1][j]};
                    for (int row = row(Math.min(edge[1], edge[3])); row <= row(Math.max(edge[1], edge[3])); row++) {
                        System.arraycopy(edge, 0, rows[row], sizes[row], 4);
                        sizes[row] += 4;
                    }
                    tree.insert(new Envelope(edge[0], edge[2], edge[1], edge[3]), edge);
                    edges++;
                }
            }
            count = edges;
            if (edges > 0) {
                tree.build();
            }
        }

        private int row(double yM) {
            return Math.max(0, Math.min(CELLS - 1, (int) ((yM + radiusM) / rowM)));
        }

        boolean inside(double xM, double yM) {
            double[] row = rows[row(yM)];
            boolean in = false;
            for (int i = 0; i < row.length; i += 4) {
                double y1 = row[i + 1];
                double y2 = row[i + 3];
                if ((y1 > yM) != (y2 > yM) && xM < row[i] + (yM - y1) / (y2 - y1) * (row[i + 2] - row[i])) {
                    in = !in;
                }
            }
            return in;
        }

        boolean crossed(double x1, double y1, double x2, double y2) {
            if (count == 0) {
                return false;
            }
            Coordinate a = new Coordinate(x1, y1);
            Coordinate b = new Coordinate(x2, y2);
            RobustLineIntersector intersector = new RobustLineIntersector();
            boolean[] hit = {false};
            ItemVisitor visitor = item -> {
                if (!hit[0]) {
                    double[] edge = (double[]) item;
                    intersector.computeIntersection(
                            a, b, new Coordinate(edge[0], edge[1]), new Coordinate(edge[2], edge[3]));
                    hit[0] = intersector.hasIntersection();
                }
            };
            tree.query(new Envelope(a, b), visitor);
            return hit[0];
        }

        double nearestM(double xM, double yM, double limitM) {
            if (count == 0) {
                return limitM;
            }
            double[] best = {limitM};
            ItemVisitor visitor = item -> {
                double[] e = (double[]) item;
                double dx = e[2] - e[0];
                double dy = e[3] - e[1];
                double length = dx * dx + dy * dy;
                double t = length == 0 ? 0 : ((xM - e[0]) * dx + (yM - e[1]) * dy) / length;
                double clamped = Math.max(0, Math.min(1, t));
                best[0] = Math.min(best[0], Math.hypot(e[0] + clamped * dx - xM, e[1] + clamped * dy - yM));
            };
            tree.query(new Envelope(xM - limitM, xM + limitM, yM - limitM, yM + limitM), visitor);
            return best[0];
        }

        /** Marks every cell an edge may pass through, with a margin of a thousandth of a cell. */
        void markCells(byte[] raster, double cellM) {
            for (int r = 0; r < CELLS; r++) {
                double low = r * rowM - radiusM - 1e-3 * cellM;
                double high = low + rowM + 2e-3 * cellM;
                double[] row = rows[r];
                for (int i = 0; i < row.length; i += 4) {
                    mark(raster, r, cellM, low, high, row[i], row[i + 1], row[i + 2], row[i + 3]);
                }
            }
        }

        private void mark(
                byte[] raster,
                int r,
                double cellM,
                double low,
                double high,
                double x1,
                double y1,
                double x2,
                double y2) {
            double t1 = 0;
            double t2 = 1;
            if (y1 != y2) {
                double a = (low - y1) / (y2 - y1);
                double b = (high - y1) / (y2 - y1);
                t1 = Math.max(0, Math.min(a, b));
                t2 = Math.min(1, Math.max(a, b));
            } else if (y1 < low || y1 > high) {
                return;
            }
            if (t1 > t2) {
                return;
            }
            double left = Math.min(x1 + t1 * (x2 - x1), x1 + t2 * (x2 - x1)) - 1e-3 * cellM;
            double right = Math.max(x1 + t1 * (x2 - x1), x1 + t2 * (x2 - x1)) + 1e-3 * cellM;
            int from = (int) Math.floor((left + radiusM) / cellM);
            int to = (int) Math.floor((right + radiusM) / cellM);
            for (int c = Math.max(0, from); c <= Math.min(CELLS - 1, to); c++) {
                raster[r * CELLS + c] = MIXED;
            }
        }
    }
}
