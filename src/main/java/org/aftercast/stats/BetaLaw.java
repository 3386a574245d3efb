package org.aftercast.stats;

import org.hipparchus.special.Beta;
import org.hipparchus.special.Gamma;

/** The beta law on 0–1: distribution function and quantile. */
public final class BetaLaw {

    private BetaLaw() {}

    /**
     * P(X ≤ x) for X ~ Beta(a, b): the regularised incomplete beta function.
     *
     * @param x any number; below 0 gives 0, above 1 gives 1
     * @param a &gt; 0
     * @param b &gt; 0
     */
    public static double below(double x, double a, double b) {
        if (x <= 0) {
            return 0;
        }
        if (x >= 1) {
            return 1;
        }
        return Beta.regularizedBeta(x, a, b);
    }

    /**
     * The quantile: the x with P(X ≤ x) = p. Safeguarded Newton steps inside a bracket.
     *
     * @param p 0–1
     * @param a &gt; 0
     * @param b &gt; 0
     * @return 0–1, to about 1e−13 relative
     * @throws IllegalArgumentException if an argument is out of range
     */
    public static double quantile(double p, double a, double b) {
        if (!(p >= 0 && p <= 1 && a > 0 && b > 0)) {
            throw new IllegalArgumentException("p: " + p + " must be 0–1 and a: " + a + ", b: " + b + " above 0");
        }
        if (p == 0 || p == 1) {
            return p;
        }
        double logNorm = Gamma.logGamma(a + b) - Gamma.logGamma(a) - Gamma.logGamma(b);
        double low = 0;
        double high = 1;
        double x = a / (a + b);
        for (int step = 0; step < 200; step++) {
            double error = below(x, a, b) - p;
            if (error == 0) {
                return x;
            }
            if (error > 0) {
                high = x;
            } else {
                low = x;
            }
            double density = Math.exp(logNorm + (a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x));
            double next = x - error / density;
            if (!(next > low && next < high)) {
                // far into the lower tail halving the exponent is quicker than halving the number
                next = low > 0 || high > 1e-3 ? (low + high) / 2 : high * 1e-3;
            }
            if (Math.abs(next - x) <= 1e-15 * Math.max(x, next)) {
                return next;
            }
            x = next;
        }
        return x;
    }
}
