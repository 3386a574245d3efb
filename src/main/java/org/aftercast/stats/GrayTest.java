package org.aftercast.stats;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;

/**
 * Gray's test of equal cumulative incidence of one kind of end in k groups (key {@code gray1988}, with ρ = 0).
 *
 * <p>Score of group k: Σ (d₁ₖ − d₁·Rₖ/R), Rₖ = rₖ·(1 − F₁ₖ(t−))/Sₖ(t−). Its variance: with hᵣ = rᵣ/Sᵣ(t−), h their
 * sum, F₀ the pooled incidence (steps d₁/h), aₖᵣ = hᵣ(δₖᵣ − hₖ/h), cₖᵣ(t) = Σ aₖᵣ·d₁/(h·(1 − F₀(s−))) and
 * bₖᵣ = cₖᵣ(∞) − cₖᵣ(t), the sum over groups r and times of (aₖᵣ + (1 − q)bₖᵣ)(aₗᵣ + (1 − q)bₗᵣ)·dF₀/hᵣ for this kind
 * and of q²bₖᵣbₗᵣ·dF₂ᵣ/hᵣ for the others, q = (1 − F₀)/Sᵣ, both with corrections for ties.
 *
 * @param chiSquare statistic, ≥ 0
 * @param degreesOfFreedom groups less one
 * @param p probability of a statistic at least so large when the incidences are equal
 */
public record GrayTest(double chiSquare, int degreesOfFreedom, double p) {

    /**
     * The test.
     *
     * @param data subjects observed from time 0
     * @param kind event code whose incidence is compared
     * @param group 0 … groups−1 for each subject
     * @param groups number of groups, ≥ 2
     * @throws IllegalArgumentException if a group is empty or there is no event of this kind
     */
    public static GrayTest of(SurvivalTimes data, int kind, int[] group, int groups) {
        double[] exit = data.exit();
        int[] event = data.event();
        if (Arrays.stream(event).noneMatch(e -> e == kind)) {
            throw new IllegalArgumentException("data: no event of kind " + kind);
        }
        double[] times = data.eventTimes();
        int m = times.length;
        int[][] at = GroupCounts.atRisk(exit, group, groups, times);
        int[][] own = new int[m][groups];
        int[][] other = new int[m][groups];
        for (int i = 0; i < exit.length; i++) {
            if (event[i] > 0) {
                (event[i] == kind ? own : other)[Arrays.binarySearch(times, exit[i])][group[i]]++;
            }
        }
        Walk walk = new Walk(at, own, other, groups);
        double[] score = walk.forward();
        double[][] variance = walk.variance();
        int df = groups - 1;
        double chiSquare = GroupCounts.quadratic(score, variance);
        return new GrayTest(chiSquare, df, 1 - new ChiSquaredDistribution(df).cumulativeProbability(chiSquare));
    }

    /** Two passes over the event times: the score and the running sums, then the variance. */
    private static final class Walk {
        private final int[][] at;
        private final int[][] own;
        private final int[][] other;
        private final int groups;
        private final int m;
        private final double[][] before;
        private final double[][] after;
        private final double[] pooled;
        private final double[] h;
        private final double[][][] a;
        private final double[][][] c;

        Walk(int[][] at, int[][] own, int[][] other, int groups) {
            this.at = at;
            this.own = own;
            this.other = other;
            this.groups = groups;
            this.m = at.length;
            before = new double[m][groups];
            after = new double[m][groups];
            pooled = new double[m];
            h = new double[m];
            a = new double[m][groups - 1][groups];
            c = new double[m][groups - 1][groups];
        }

        double[] forward() {
            double[] survival = new double[groups];
            Arrays.fill(survival, 1);
            double[] incidence = new double[groups];
            double[] score = new double[groups - 1];
            double[][] running = new double[groups - 1][groups];
            double pooledBefore = 0;
            for (int j = 0; j < m; j++) {
                double weighted = 0;
                int d = 0;
                double[] r = new double[groups];
                for (int g = 0; g < groups; g++) {
                    before[j][g] = survival[g];
                    d += own[j][g];
                    if (at[j][g] > 0) {
                        h[j] += at[j][g] / survival[g];
                        r[g] = at[j][g] * (1 - incidence[g]) / survival[g];
                        weighted += r[g];
                    }
                }
                for (int g = 0; g < groups; g++) {
                    if (at[j][g] > 0) {
                        incidence[g] += survival[g] * own[j][g] / at[j][g];
                        survival[g] *= 1 - (double) (own[j][g] + other[j][g]) / at[j][g];
                    }
                    after[j][g] = survival[g];
                }
                for (int k = 0; k < groups - 1; k++) {
                    double hk = at[j][k] > 0 ? at[j][k] / before[j][k] : 0;
                    score[k] += own[j][k] - (d > 0 ? d * r[k] / weighted : 0);
                    for (int g = 0; g < groups; g++) {
                        double hg = at[j][g] > 0 ? at[j][g] / before[j][g] : 0;
                        a[j][k][g] = hg * ((k == g ? 1 : 0) - hk / h[j]);
                        running[k][g] += a[j][k][g] * d / (h[j] * (1 - pooledBefore));
                        c[j][k][g] = running[k][g];
                    }
                }
                pooledBefore += d / h[j];
                pooled[j] = pooledBefore;
            }
            return score;
        }

        double[][] variance() {
            double[][] variance = new double[groups - 1][groups - 1];
            for (int j = 0; j < m; j++) {
                int d = Arrays.stream(own[j]).sum();
                for (int g = 0; g < groups; g++) {
                    if (at[j][g] == 0) {
                        continue;
                    }
                    double s = before[j][g];
                    double q = after[j][g] > 0 ? (1 - pooled[j]) / after[j][g] : 0;
                    double keep = after[j][g] > 0 ? 1 - q : 1;
                    if (d > 0) {
                        double ties = d > 1 ? 1 - (d - 1) / (h[j] * s - 1) : 1;
                        add(variance, j, g, 1, keep, ties * s * d / (h[j] * at[j][g]));
                    }
                    if (other[j][g] > 0 && after[j][g] > 0) {
                        double ties = other[j][g] > 1 ? 1 - (other[j][g] - 1) / (at[j][g] - 1.0) : 1;
                        add(variance, j, g, 0, q, ties * s * s * other[j][g] / ((double) at[j][g] * at[j][g]));
                    }
                }
            }
            return variance;
        }

        private void add(double[][] variance, int j, int g, double ofA, double ofB, double weight) {
            for (int k = 0; k < groups - 1; k++) {
                double first = ofA * a[j][k][g] + ofB * (c[m - 1][k][g] - c[j][k][g]);
                for (int l = 0; l < groups - 1; l++) {
                    double second = ofA * a[j][l][g] + ofB * (c[m - 1][l][g] - c[j][l][g]);
                    variance[k][l] += first * second * weight;
                }
            }
        }
    }
}
