package org.aftercast.stats;

import java.util.SplittableRandom;

/** Seeded draws from laws that the standard generator lacks. */
public final class RandomDraws {

    private final SplittableRandom random;

    /** Draws that depend on the seed alone. */
    public RandomDraws(long seed) {
        random = new SplittableRandom(seed);
    }

    /** Uniform on [0, 1). */
    public double uniform() {
        return random.nextDouble();
    }

    /** Standard normal, by the polar method. */
    public double normal() {
        while (true) {
            double u = 2 * random.nextDouble() - 1;
            double v = 2 * random.nextDouble() - 1;
            double s = u * u + v * v;
            if (s > 0 && s < 1) {
                return u * Math.sqrt(-2 * Math.log(s) / s);
            }
        }
    }

    /**
     * Gamma with scale 1, by rejection from a cubed normal (key {@code marsaglia2000}).
     *
     * @param shape above 0
     */
    public double gamma(double shape) {
        if (!(shape > 0)) {
            throw new IllegalArgumentException("shape: " + shape + " is not above 0");
        }
        if (shape < 1) {
            // Gamma(a) = Gamma(a + 1)·U^(1/a)
            return gamma(shape + 1) * Math.pow(1 - random.nextDouble(), 1 / shape);
        }
        double d = shape - 1.0 / 3;
        double c = 1 / Math.sqrt(9 * d);
        while (true) {
            double x = normal();
            double cube = 1 + c * x;
            if (cube <= 0) {
                continue;
            }
            double v = cube * cube * cube;
            double u = 1 - random.nextDouble();
            if (Math.log(u) < x * x / 2 + d - d * v + d * Math.log(v)) {
                return d * v;
            }
        }
    }

    /**
     * Beta on 0–1.
     *
     * @param a above 0
     * @param b above 0
     */
    public double beta(double a, double b) {
        double x = gamma(a);
        double y = gamma(b);
        return x + y > 0 ? x / (x + y) : a / (a + b);
    }
}
