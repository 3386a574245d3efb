package org.aftercast.stats;

/** How many independent samples a correlated series is worth: n (1 − ρ)/(1 + ρ) for first-order autocorrelation ρ. */
public final class EffectiveN {

    private EffectiveN() {}

    /**
     * Effective number of samples.
     *
     * @param n number of samples, ≥ 1
     * @param lagOne autocorrelation at lag one, −1 &lt; ρ &lt; 1
     * @return for ρ &lt; 0 more than n
     */
    public static double of(int n, double lagOne) {
        if (n < 1 || !(lagOne > -1 && lagOne < 1)) {
            throw new IllegalArgumentException(
                    "n, lagOne: " + n + ", " + lagOne + " must satisfy n ≥ 1, −1 < lagOne < 1");
        }
        return n * (1 - lagOne) / (1 + lagOne);
    }

    /**
     * Sample autocorrelation at lag one about the mean: Σ(x[i]−m)(x[i+1]−m) / Σ(x[i]−m)².
     *
     * @param x finite samples
     * @return −1–1; 0 for fewer than two samples or a constant series
     */
    public static double lagOne(double[] x) {
        double mean = 0;
        for (double v : x) {
            mean += v / x.length;
        }
        double above = 0;
        double below = 0;
        for (int i = 0; i < x.length; i++) {
            below += (x[i] - mean) * (x[i] - mean);
            if (i > 0) {
                above += (x[i] - mean) * (x[i - 1] - mean);
            }
        }
        return below > 0 ? above / below : 0;
    }
}
