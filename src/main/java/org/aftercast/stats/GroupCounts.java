package org.aftercast.stats;

import java.util.Arrays;

/** Risk sets by group, and quadratic forms. */
final class GroupCounts {

    private GroupCounts() {}

    /** Subjects of each group at risk just before each time; every group must have one. */
    static int[][] atRisk(double[] exit, int[] group, int groups, double[] times) {
        if (groups < 2) {
            throw new IllegalArgumentException("groups: " + groups + " is below 2");
        }
        int[] size = new int[groups];
        for (int g : group) {
            size[g]++;
        }
        double[][] exits = new double[groups][];
        int[] filled = new int[groups];
        for (int g = 0; g < groups; g++) {
            if (size[g] == 0) {
                throw new IllegalArgumentException("group: group " + g + " is empty");
            }
            exits[g] = new double[size[g]];
        }
        for (int i = 0; i < exit.length; i++) {
            exits[group[i]][filled[group[i]]++] = exit[i];
        }
        int[][] at = new int[times.length][groups];
        for (int g = 0; g < groups; g++) {
            Arrays.sort(exits[g]);
            int left = 0;
            for (int j = 0; j < times.length; j++) {
                while (left < size[g] && exits[g][left] < times[j]) {
                    left++;
                }
                at[j][g] = size[g] - left;
            }
        }
        return at;
    }

    /** dᵀV⁻¹d. */
    static double quadratic(double[] d, double[][] variance) {
        Symmetric factor = Symmetric.of(variance);
        if (factor == null) {
            throw new IllegalArgumentException("groups: at no event time is more than one group at risk");
        }
        double[] solved = factor.solve(d);
        double sum = 0;
        for (int i = 0; i < d.length; i++) {
            sum += d[i] * solved[i];
        }
        return sum;
    }
}
