package org.aftercast.search;

import java.util.Arrays;
import java.util.PriorityQueue;
import org.aftercast.geo.Land;

/**
 * How far it is to one place over water: straight where no land lies between, else along a grid of about 1/200 of the land
 * square, eight neighbours (at most 8 % too long). Not for navigation: depth is not known.
 */
final class SeaRoute {

    private static final int CELLS = 200;

    private final Land land;
    private final double goalX;
    private final double goalY;
    private final double cellM;
    private double[] distance = new double[0];

    SeaRoute(Land land, double goalX, double goalY) {
        this.land = land;
        this.goalX = goalX;
        this.goalY = goalY;
        this.cellM = 2 * land.radiusM() / CELLS;
    }

    /** Distance over water in metres; infinite when there is no way. */
    double distanceM(double x, double y) {
        double straight = Math.hypot(x - goalX, y - goalY);
        if (straight < 2 * cellM || !land.crosses(x, y, goalX, goalY)) {
            return straight;
        }
        if (distance.length == 0) {
            distance = spread();
        }
        return Math.max(straight, distance[index(x, y)]);
    }

    private int index(double x, double y) {
        int c = Math.max(0, Math.min(CELLS - 1, (int) ((x + land.radiusM()) / cellM)));
        int r = Math.max(0, Math.min(CELLS - 1, (int) ((y + land.radiusM()) / cellM)));
        return r * CELLS + c;
    }

    private boolean open(int c, int r) {
        return !land.isLand((c + 0.5) * cellM - land.radiusM(), (r + 0.5) * cellM - land.radiusM());
    }

    private record Node(int index, double metres) {}

    private double[] spread() {
        double[] best = new double[CELLS * CELLS];
        Arrays.fill(best, Double.POSITIVE_INFINITY);
        PriorityQueue<Node> queue = new PriorityQueue<>((a, b) -> Double.compare(a.metres, b.metres));
        int goal = index(goalX, goalY);
        best[goal] = 0;
        queue.add(new Node(goal, 0));
        while (true) {
            Node node = queue.poll();
            if (node == null) {
                return best;
            }
            if (node.metres > best[node.index]) {
                continue;
            }
            int c = node.index % CELLS;
            int r = node.index / CELLS;
            for (int dr = -1; dr <= 1; dr++) {
                for (int dc = -1; dc <= 1; dc++) {
                    int nc = c + dc;
                    int nr = r + dr;
                    if (nc < 0 || nr < 0 || nc >= CELLS || nr >= CELLS || !open(nc, nr)) {
                        continue;
                    }
                    double metres = node.metres + cellM * Math.hypot(dc, dr);
                    int to = nr * CELLS + nc;
                    if (metres < best[to]) {
                        best[to] = metres;
                        queue.add(new Node(to, metres));
                    }
                }
            }
        }
    }
}
