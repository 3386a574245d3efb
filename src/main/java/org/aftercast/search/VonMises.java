package org.aftercast.search;

/**
 * The von Mises distribution of an angle: exp(κ cos φ)/(2π I₀(κ)).
 *
 * <p>Mean resultant length A and concentration κ: A = exp(−σ²/2) for a standard deviation σ; Lenth (1981): κ⁻¹ = 2(1−A) +
 * (1−A)²(0.48794 − 0.82905 A − 1.3915 A²)/A (source key lenth1981).
 */
public final class VonMises {

    private static final double[] SMALL = {0.0360768, 0.2659732, 1.2067492, 3.0899424, 3.5156229, 1};
    private static final double[] LARGE = {
        -0.01647633, 0.02635537, -0.02057706, 0.00916281, -0.00157565, 0.00225319, 0.01328592, 0.39894228
    };

    private VonMises() {}

    /** κ from a mean resultant length A, 0 &lt; A &lt; 1. */
    public static double concentration(double resultantLength) {
        double a = resultantLength;
        if (!(a > 0 && a < 1)) {
            throw new IllegalArgumentException("resultantLength: " + a + " is outside 0–1");
        }
        double rest = 1 - a;
        return 1 / (2 * rest + rest * rest * (0.48794 - 0.82905 * a - 1.3915 * a * a) / a);
    }

    /** κ of a standard deviation in degrees, 0 &lt; sd ≤ 90. */
    public static double concentrationOfSd(double sdDeg) {
        if (!(sdDeg > 0 && sdDeg <= 90)) {
            throw new IllegalArgumentException("sdDeg: " + sdDeg + " is outside 0–90");
        }
        double sd = Math.toRadians(sdDeg);
        return concentration(Math.exp(-sd * sd / 2));
    }

    /**
     * κ from few bearings freed of its bias (Best and Fisher 1981, from memory): max(κ − 2/(nκ), 0) below 2, else κ (n−1)³/(n³
     * + n).
     */
    public static double unbiased(double concentration, int count) {
        double n = count;
        return concentration < 2
                ? Math.max(concentration - 2 / (n * concentration), 0)
                : concentration * (n - 1) * (n - 1) * (n - 1) / (n * n * n + n);
    }

    /** Density per radian at an angle with this cosine from the mean. */
    static double density(double cosine, double kappa) {
        return Math.exp(kappa * (cosine - 1)) / (2 * Math.PI * scaledBessel(kappa));
    }

    /** e^(−x) I₀(x), x ≥ 0, to 2·10⁻⁷ (Abramowitz and Stegun 9.8.1 and 9.8.2; source key abramowitz1964). */
    static double scaledBessel(double x) {
        if (x < 3.75) {
            double t2 = (x / 3.75) * (x / 3.75);
            double sum = 0.0045813;
            for (double c : SMALL) {
                sum = sum * t2 + c;
            }
            return Math.exp(-x) * sum;
        }
        double t = 3.75 / x;
        double sum = 0.00392377;
        for (double c : LARGE) {
            sum = sum * t + c;
        }
        return sum / Math.sqrt(x);
    }
}
