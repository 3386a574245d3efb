package org.aftercast.search;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Outlines of where a grid is at least a level: marching squares with straight interpolation, the high side on the left, so
 * that outer rings run counter-clockwise and holes clockwise. The grid is taken as surrounded by zeros, so every outline
 * closes. Saddles are joined when their mean is at least the level.
 */
final class Contours {

    private Contours() {}

    /** A closed line in cell units; the closing point is left out. */
    record Ring(double[] x, double[] y) {
        /** Area in cells, positive counter-clockwise. */
        double signedArea() {
            double sum = 0;
            for (int i = 0; i < x.length; i++) {
                int j = (i + 1) % x.length;
                sum += x[i] * y[j] - x[j] * y[i];
            }
            return sum / 2;
        }

        boolean contains(double px, double py) {
            boolean in = false;
            for (int i = 0; i < x.length; i++) {
                int j = (i + 1) % x.length;
                if ((y[i] > py) != (y[j] > py) && px < x[i] + (py - y[i]) / (y[j] - y[i]) * (x[j] - x[i])) {
                    in = !in;
                }
            }
            return in;
        }
    }

    private record Segment(long from, long to) {}

    /**
     * All outlines.
     *
     * @param grid row by row
     * @param level above 0
     */
    static List<Ring> of(double[] grid, int columns, int rows, double level) {
        Map<Long, Segment> next = new HashMap<>();
        for (int r = -1; r < rows; r++) {
            for (int c = -1; c < columns; c++) {
                square(grid, columns, rows, level, c, r, next);
            }
        }
        List<Ring> rings = new ArrayList<>();
        while (!next.isEmpty()) {
            long start = next.keySet().iterator().next();
            List<double[]> points = new ArrayList<>();
            Segment segment = next.remove(start);
            while (segment != null) {
                points.add(place(grid, columns, rows, level, segment.from));
                segment = next.remove(segment.to);
            }
            if (points.size() >= 3) {
                rings.add(new Ring(
                        points.stream().mapToDouble(p -> p[0]).toArray(),
                        points.stream().mapToDouble(p -> p[1]).toArray()));
            }
        }
        return rings;
    }

    private static double value(double[] grid, int columns, int rows, int c, int r) {
        return c < 0 || r < 0 || c >= columns || r >= rows ? 0 : grid[r * columns + c];
    }

    /** Edge below (side 0) or left (side 1) of a corner, as a key. */
    private static long edge(int c, int r, int side) {
        return (((long) (r + 1) << 24 | (c + 1)) << 1) | side;
    }

    private static void square(
            double[] grid, int columns, int rows, double level, int c, int r, Map<Long, Segment> next) {
        double v0 = value(grid, columns, rows, c, r);
        double v1 = value(grid, columns, rows, c + 1, r);
        double v2 = value(grid, columns, rows, c + 1, r + 1);
        double v3 = value(grid, columns, rows, c, r + 1);
        int code = (v0 >= level ? 1 : 0) | (v1 >= level ? 2 : 0) | (v2 >= level ? 4 : 0) | (v3 >= level ? 8 : 0);
        if (code == 0 || code == 15) {
            return;
        }
        long bottom = edge(c, r, 0);
        long top = edge(c, r + 1, 0);
        long left = edge(c, r, 1);
        long right = edge(c + 1, r, 1);
        boolean joined = (v0 + v1 + v2 + v3) / 4 >= level;
        switch (code) {
            case 1 -> add(next, bottom, left);
            case 2 -> add(next, right, bottom);
            case 3 -> add(next, right, left);
            case 4 -> add(next, top, right);
            case 5 -> {
                add(next, bottom, joined ? right : left);
                add(next, top, joined ? left : right);
            }
            case 6 -> add(next, top, bottom);
            case 7 -> add(next, top, left);
            case 8 -> add(next, left, top);
            case 9 -> add(next, bottom, top);
            case 10 -> {
                add(next, right, joined ? top : bottom);
                add(next, left, joined ? bottom : top);
            }
            case 11 -> add(next, right, top);
            case 12 -> add(next, left, right);
            case 13 -> add(next, bottom, right);
            default -> add(next, left, bottom);
        }
    }

    private static void add(Map<Long, Segment> next, long from, long to) {
        next.put(from, new Segment(from, to));
    }

    private static double[] place(double[] grid, int columns, int rows, double level, long key) {
        int side = (int) (key & 1);
        int c = (int) ((key >> 1) & 0xFFFFFF) - 1;
        int r = (int) (key >> 25) - 1;
        double a = value(grid, columns, rows, c, r);
        double b = side == 0 ? value(grid, columns, rows, c + 1, r) : value(grid, columns, rows, c, r + 1);
        double share = a == b ? 0.5 : Math.max(0.001, Math.min(0.999, (level - a) / (b - a)));
        return side == 0 ? new double[] {c + share, r} : new double[] {c, r + share};
    }
}
