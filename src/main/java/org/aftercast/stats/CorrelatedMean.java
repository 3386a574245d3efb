package org.aftercast.stats;

/**
 * The mean of a correlated series with an interval that respects the correlation.
 *
 * <p>The variance of the mean is (2·ΣΓ_k − γ0)/n with Γ_k = γ(2k) + γ(2k+1) summed over the initial sequence that is
 * positive and made monotone [geyer1992]; the effective number is n·γ0 over that sum, at most n; the interval is Student's
 * with one less degrees of freedom.
 *
 * @param n number of values
 * @param mean their mean
 * @param sd their standard deviation (divisor n − 1); NaN below two values
 * @param effectiveN how many independent values they are worth, 1–n
 * @param low lower limit of the mean, NaN when the series is worth fewer than two independent values
 * @param high upper limit of the mean, or NaN
 */
public record CorrelatedMean(int n, double mean, double sd, double effectiveN, double low, double high) {

    /**
     * Computes it.
     *
     * @param x finite values in order of time, evenly spaced, at least one
     * @param level coverage of the interval, 0–1
     * @throws IllegalArgumentException if x is empty or holds a value that is not finite
     */
    public static CorrelatedMean of(double[] x, double level) {
        int n = x.length;
        if (n == 0 || !(level > 0 && level < 1)) {
            throw new IllegalArgumentException(
                    "x, level: " + n + " values, " + level + "; at least one value and a level within 0–1 are needed");
        }
        double mean = 0;
        for (int i = 0; i < n; i++) {
            if (!Double.isFinite(x[i])) {
                throw new IllegalArgumentException(
                        "x: value " + i + " is " + x[i] + "; only finite values are accepted");
            }
            mean += x[i] / n;
        }
        double g0 = covariance(x, mean, 0);
        if (n < 2 || !(g0 > 0)) {
            return new CorrelatedMean(n, mean, n < 2 ? Double.NaN : 0, 1, Double.NaN, Double.NaN);
        }
        double effective = Math.max(1, n * g0 / Math.max(g0, longRunVariance(x, mean, g0)));
        double sd = Math.sqrt(g0 * n / (n - 1));
        if (effective < 2) {
            return new CorrelatedMean(n, mean, sd, effective, Double.NaN, Double.NaN);
        }
        double reach = student((1 + level) / 2, effective - 1) * sd / Math.sqrt(effective);
        return new CorrelatedMean(n, mean, sd, effective, mean - reach, mean + reach);
    }

    private static double longRunVariance(double[] x, double mean, double g0) {
        double sum = -g0;
        double before = Double.POSITIVE_INFINITY;
        for (int k = 0; 2 * k + 1 < x.length; k++) {
            double pair = (k == 0 ? g0 : covariance(x, mean, 2 * k)) + covariance(x, mean, 2 * k + 1);
            if (!(pair > 0)) {
                break;
            }
            before = Math.min(before, pair);
            sum += 2 * before;
        }
        return sum;
    }

    private static double covariance(double[] x, double mean, int lag) {
        double sum = 0;
        for (int i = lag; i < x.length; i++) {
            sum += (x[i] - mean) * (x[i - lag] - mean);
        }
        return sum / x.length;
    }

    /** Quantile of Student's law by way of the beta law: t² = ν(1 − b)/b with b of Beta(ν/2, 1/2). */
    private static double student(double p, double degrees) {
        double b = BetaLaw.quantile(2 * (1 - p), degrees / 2, 0.5);
        return Math.sqrt(degrees * (1 - b) / b);
    }
}
