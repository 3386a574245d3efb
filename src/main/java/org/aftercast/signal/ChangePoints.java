package org.aftercast.signal;

import java.util.Arrays;

/**
 * Where the mean of one or several series steps: exact search with pruning (PELT).
 *
 * <p>Minimises Σ over segments of (Σ over series of the sum of squares about the segment's mean) + β per change, by
 * F(t) = min over τ of F(τ) + C(τ+1..t) + β with F(0) = −β. A τ that cannot win again is dropped: F(τ) + C ≥ F(t) (the
 * constant K is 0 for a squared cost). With a least length m, the drop takes effect m samples later, so that the result
 * stays exact. Ties go to the earliest change.
 *
 * <p>Cost: between linear and quadratic in the number of samples. Source: {@code killick2012}.
 */
public final class ChangePoints {

    private ChangePoints() {}

    /**
     * The pieces found.
     *
     * @param starts index of the first sample of each piece; {@code starts[0] == 0}
     * @param means {@code means[piece][series]}
     * @param residualSumOfSquares about the pieces' means, over all series, squared units of the series
     * @param penalisedCost residual sum of squares plus β for each change
     */
    public record Segments(int[] starts, double[][] means, double residualSumOfSquares, double penalisedCost) {

        /** Number of changes: pieces − 1. */
        public int changes() {
            return starts.length - 1;
        }
    }

    /**
     * Mean shifts of one series.
     *
     * @param x samples, finite, at least one
     * @param penalty β ≥ 0 in squared units of {@code x}
     * @param leastLength shortest piece in samples, ≥ 1
     * @throws IllegalArgumentException if a sample is not finite, or an argument is outside its range
     */
    public static Segments find(double[] x, double penalty, int leastLength) {
        return find(new double[][] {x}, penalty, leastLength);
    }

    /**
     * Mean shifts common to several series of the same length (bring them to one scale first).
     *
     * @param series {@code series[which][sample]}, finite; at least one series and one sample
     * @param penalty β ≥ 0 in squared units of the series
     * @param leastLength shortest piece in samples, ≥ 1; a series shorter than 2 × this is one piece
     * @throws IllegalArgumentException if a sample is not finite, lengths differ, or an argument is outside its range
     */
    public static Segments find(double[][] series, double penalty, int leastLength) {
        if (series.length == 0 || series[0].length == 0) {
            throw new IllegalArgumentException("series: empty, at least one sample is needed");
        }
        if (!(penalty >= 0)) {
            throw new IllegalArgumentException("penalty: " + penalty + " must be at least 0");
        }
        if (leastLength < 1) {
            throw new IllegalArgumentException("leastLength: " + leastLength + " must be at least 1");
        }
        int n = series[0].length;
        double[][] sum = new double[series.length][n + 1];
        double[] squares = new double[n + 1];
        for (int s = 0; s < series.length; s++) {
            double[] x = series[s];
            if (x.length != n) {
                throw new IllegalArgumentException(
                        "series: number " + s + " has " + x.length + " samples where the first has " + n);
            }
            double centre = x[0]; // sums about a sample of the series keep digits
            for (int i = 0; i < n; i++) {
                if (!Double.isFinite(x[i])) {
                    throw new IllegalArgumentException("series: sample " + i + " of number " + s + " is " + x[i]
                            + ", only finite values are accepted");
                }
                double d = x[i] - centre;
                sum[s][i + 1] = sum[s][i] + d;
                squares[i + 1] += d * d;
            }
        }
        for (int i = 0; i < n; i++) {
            squares[i + 1] += squares[i];
        }
        int[] previous = search(sum, squares, penalty, Math.min(leastLength, n), n);
        int[] starts = trace(previous, n);
        double[][] means = new double[starts.length][series.length];
        double rss = 0;
        for (int p = 0; p < starts.length; p++) {
            int to = p + 1 < starts.length ? starts[p + 1] : n;
            rss += cost(sum, squares, starts[p], to);
            for (int s = 0; s < series.length; s++) {
                means[p][s] = series[s][0] + (sum[s][to] - sum[s][starts[p]]) / (to - starts[p]);
            }
        }
        return new Segments(starts, means, rss, rss + penalty * (starts.length - 1));
    }

    /**
     * Noise standard deviation from first differences: 1.4826 · MAD(differences) / √2; unaffected by a few steps.
     *
     * @param x at least two finite samples
     * @return in units of {@code x}; 0 when more than half of the differences are equal
     */
    public static double differenceNoise(double[] x) {
        if (x.length < 2) {
            throw new IllegalArgumentException("x: " + x.length + " samples, at least 2 are needed");
        }
        double[] d = new double[x.length - 1];
        for (int i = 0; i < d.length; i++) {
            d[i] = x[i + 1] - x[i];
        }
        return 1.4826 * RobustZ.medianAbsoluteDeviation(d) / Math.sqrt(2);
    }

    /**
     * The usual penalty 2 σ² ln n, inflated for first-order autocorrelation ρ by (1+ρ)/(1−ρ)² when σ comes from
     * {@link #differenceNoise} (which then estimates σ√(1−ρ)).
     *
     * @param noise standard deviation from differences, ≥ 0
     * @param n number of samples, ≥ 2
     * @param lagOne autocorrelation at lag one, 0 ≤ ρ &lt; 1; 0 for white noise
     */
    public static double penalty(double noise, int n, double lagOne) {
        if (!(noise >= 0) || n < 2 || !(lagOne >= 0 && lagOne < 1)) {
            throw new IllegalArgumentException("noise, n, lagOne: " + noise + ", " + n + ", " + lagOne
                    + " must satisfy noise ≥ 0, n ≥ 2, 0 ≤ lagOne < 1");
        }
        return 2 * noise * noise * Math.log(n) * (1 + lagOne) / ((1 - lagOne) * (1 - lagOne));
    }

    private static int[] search(double[][] sum, double[] squares, double penalty, int least, int n) {
        double[] best = new double[n + 1];
        int[] previous = new int[n + 1];
        int[] dropAt = new int[n + 1]; // sample from which a candidate is no longer needed
        Arrays.fill(best, Double.POSITIVE_INFINITY);
        Arrays.fill(dropAt, Integer.MAX_VALUE);
        best[0] = -penalty;
        int[] open = new int[n + 1];
        int opened = 0;
        for (int t = least; t <= n; t++) {
            int fresh = t - least;
            if (Double.isFinite(best[fresh])) {
                open[opened++] = fresh;
            }
            int kept = 0;
            for (int c = 0; c < opened; c++) {
                if (dropAt[open[c]] > t) {
                    open[kept++] = open[c];
                }
            }
            opened = kept;
            for (int c = 0; c < opened; c++) {
                double f = best[open[c]] + cost(sum, squares, open[c], t) + penalty;
                if (f < best[t]) {
                    best[t] = f;
                    previous[t] = open[c];
                }
            }
            for (int c = 0; c < opened; c++) {
                int tau = open[c];
                if (dropAt[tau] == Integer.MAX_VALUE && best[tau] + cost(sum, squares, tau, t) > best[t]) {
                    dropAt[tau] = t + least;
                }
            }
        }
        return previous;
    }

    private static int[] trace(int[] previous, int n) {
        int pieces = 0;
        for (int t = n; t > 0; t = previous[t]) {
            pieces++;
        }
        int[] starts = new int[pieces];
        for (int t = n; t > 0; t = previous[t]) {
            starts[--pieces] = previous[t];
        }
        return starts;
    }

    /** Sum of squares about the mean of samples from..to−1, over all series; never below 0. */
    private static double cost(double[][] sum, double[] squares, int from, int to) {
        double c = squares[to] - squares[from];
        for (double[] s : sum) {
            double d = s[to] - s[from];
            c -= d * d / (to - from);
        }
        return Math.max(0, c);
    }
}
