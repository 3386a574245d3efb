package org.aftercast.stats;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;

/**
 * Log-rank tests of equal survival in k groups (keys {@code mantel1966}, {@code harrington1982}).
 *
 * <p>At each event time with d events among r at risk, the events expected in a group are d·(its share of the risk set);
 * the variance is hypergeometric. Each time carries the weight S(t−)^ρ, S the pooled product-limit curve. Event codes
 * above 0 count as the event.
 *
 * @param chiSquare statistic, ≥ 0
 * @param degreesOfFreedom groups with anyone at risk, less one
 * @param p probability of a statistic at least so large when survival is equal
 * @param observed weighted events in each group
 * @param expected weighted events expected in each group
 */
public record LogRank(double chiSquare, int degreesOfFreedom, double p, double[] observed, double[] expected) {

    /**
     * The test.
     *
     * @param data subjects observed from time 0
     * @param group 0 … groups−1 for each subject
     * @param groups number of groups, ≥ 2
     * @param rho 0 for the log-rank test, 1 for the version that gives early events more weight
     * @throws IllegalArgumentException if a group is empty, there is no event, or the variance is singular (no time at
     *     which a group differs)
     */
    public static LogRank of(SurvivalTimes data, int[] group, int groups, double rho) {
        int n = data.size();
        double[] exit = data.exit();
        int[] event = data.event();
        double[] times = data.eventTimes();
        if (times.length == 0) {
            throw new IllegalArgumentException("data: no event");
        }
        int[][] at = GroupCounts.atRisk(exit, group, groups, times);
        int[][] dead = new int[times.length][groups];
        for (int i = 0; i < n; i++) {
            if (event[i] > 0) {
                dead[Arrays.binarySearch(times, exit[i])][group[i]]++;
            }
        }
        double[] observed = new double[groups];
        double[] expected = new double[groups];
        double[][] variance = new double[groups - 1][groups - 1];
        double survival = 1;
        for (int j = 0; j < times.length; j++) {
            int r = 0;
            int d = 0;
            for (int g = 0; g < groups; g++) {
                r += at[j][g];
                d += dead[j][g];
            }
            double weight = Math.pow(survival, rho);
            survival *= 1 - (double) d / r;
            double factor = r > 1 ? weight * weight * d * (r - d) / (r - 1.0) : 0;
            for (int g = 0; g < groups; g++) {
                double share = (double) at[j][g] / r;
                observed[g] += weight * dead[j][g];
                expected[g] += weight * d * share;
                for (int h = 0; g < groups - 1 && h < groups - 1; h++) {
                    variance[g][h] += factor * share * ((g == h ? 1 : 0) - (double) at[j][h] / r);
                }
            }
        }
        double[] difference = new double[groups - 1];
        for (int g = 0; g < groups - 1; g++) {
            difference[g] = observed[g] - expected[g];
        }
        double chiSquare = GroupCounts.quadratic(difference, variance);
        int df = groups - 1;
        return new LogRank(
                chiSquare, df, 1 - new ChiSquaredDistribution(df).cumulativeProbability(chiSquare), observed, expected);
    }
}
