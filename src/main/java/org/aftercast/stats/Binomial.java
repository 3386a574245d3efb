package org.aftercast.stats;

import org.hipparchus.special.Gamma;

/** Binomial probabilities. */
public final class Binomial {

    private Binomial() {}

    /**
     * P(X = 0) … P(X = n).
     *
     * @param n ≥ 0
     * @param p 0–1
     */
    public static double[] probabilities(int n, double p) {
        if (n < 0 || !(p >= 0 && p <= 1)) {
            throw new IllegalArgumentException("n: " + n + " must be ≥ 0 and p: " + p + " within 0–1");
        }
        double[] result = new double[n + 1];
        if (p == 0 || p == 1) {
            result[p == 0 ? 0 : n] = 1;
            return result;
        }
        double logP = Math.log(p);
        double logQ = Math.log1p(-p);
        double all = Gamma.logGamma(n + 1.0);
        for (int k = 0; k <= n; k++) {
            result[k] =
                    Math.exp(all - Gamma.logGamma(k + 1.0) - Gamma.logGamma(n - k + 1.0) + k * logP + (n - k) * logQ);
        }
        return result;
    }

    /** P(X ≥ k) for X binomial(n, p). */
    public static double atLeast(int k, int n, double p) {
        if (k <= 0) {
            return 1;
        }
        return k > n ? 0 : BetaLaw.below(p, k, n - k + 1.0);
    }
}
