package org.aftercast.search;

import java.util.SplittableRandom;

/** The plain sums of resampling (Kitagawa 1996; Arulampalam 2002; Musso, Oudjane and Le Gland 2001). */
final class Resampling {

    private Resampling() {}

    /** Effective number of particles, 1/Σw² for weights that add up to 1. */
    static double effective(double[] weights) {
        double squares = 0;
        for (double w : weights) {
            squares += w * w;
        }
        return 1 / squares;
    }

    /**
     * Systematic resampling: how often each particle is taken.
     *
     * @param weights add up to 1
     * @param count how many are drawn
     * @param start the first comb tooth as a share of the spacing, 0 ≤ start &lt; 1
     */
    static int[] systematic(double[] weights, int count, double start) {
        int[] times = new int[weights.length];
        double sum = weights[0];
        int i = 0;
        for (int k = 0; k < count; k++) {
            double tooth = (start + k) / count;
            while (tooth > sum && i < weights.length - 1) {
                sum += weights[++i];
            }
            times[i]++;
        }
        return times;
    }

    /** Width of the regularising kernel, (4/(n+2))^(1/(n+4)) N^(−1/(n+4)), in standard deviations. */
    static double kernelWidth(int dimensions, double particles) {
        double power = 1.0 / (dimensions + 4);
        return Math.pow(4.0 / (dimensions + 2), power) * Math.pow(particles, -power);
    }

    /** √(scale/χ²): with scale ν − 2 it makes a normal draw Student's t with ν degrees of freedom and standard deviation 1. */
    static double heavyTail(SplittableRandom random, double degrees, double scale) {
        // χ² with ν degrees = 2 Γ(ν/2), by Marsaglia and Tsang's squeeze.
        double d = degrees / 2 - 1.0 / 3;
        double c = 1 / Math.sqrt(9 * d);
        while (true) {
            double z = random.nextGaussian();
            double v = 1 + c * z;
            if (v > 0) {
                v = v * v * v;
                if (Math.log(random.nextDouble()) < z * z / 2 + d - d * v + d * Math.log(v)) {
                    return Math.sqrt(scale / (2 * d * v));
                }
            }
        }
    }
}
