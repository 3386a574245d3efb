package org.aftercast.signal;

import java.util.Arrays;

/**
 * Outlier score that a few outliers cannot spoil: z = 0.6745 (x − median) / MAD, where MAD is the median absolute
 * deviation from the median. Values above 3.5 are usually flagged. Source: {@code iglewicz1993}.
 */
public final class RobustZ {

    /** Flag above this size, after the source. */
    public static final double USUAL_LIMIT = 3.5;

    private static final double FACTOR = 0.6745;

    private RobustZ() {}

    /**
     * Score of every sample.
     *
     * @param x samples; {@code NaN} is left out of the median and scores {@code NaN}; at least one finite sample
     * @return dimensionless; where MAD is 0 (more than half of the samples equal) a sample scores 0 at the median and
     *     ±infinity elsewhere
     * @throws IllegalArgumentException if no sample is finite
     */
    public static double[] scores(double[] x) {
        double centre = median(x);
        double mad = medianAbsoluteDeviation(x);
        double[] z = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            double d = x[i] - centre;
            if (Double.isNaN(d)) {
                z[i] = Double.NaN;
            } else if (mad > 0) {
                z[i] = FACTOR * d / mad;
            } else {
                z[i] = d == 0 ? 0 : Math.copySign(Double.POSITIVE_INFINITY, d);
            }
        }
        return z;
    }

    /**
     * Median of the samples that are not {@code NaN}; the mean of the two middle ones for an even count.
     *
     * @throws IllegalArgumentException if there is none
     */
    public static double median(double[] x) {
        double[] sorted = finite(x);
        int n = sorted.length;
        return n % 2 == 1 ? sorted[n / 2] : 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]);
    }

    /**
     * Median absolute deviation from the median, unscaled, in units of {@code x}.
     *
     * @throws IllegalArgumentException if no sample is finite
     */
    public static double medianAbsoluteDeviation(double[] x) {
        double centre = median(x);
        double[] d = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            d[i] = Math.abs(x[i] - centre);
        }
        return median(d);
    }

    private static double[] finite(double[] x) {
        double[] kept = new double[x.length];
        int n = 0;
        for (double v : x) {
            if (!Double.isNaN(v)) {
                kept[n++] = v;
            }
        }
        if (n == 0) {
            throw new IllegalArgumentException("x: none of " + x.length + " samples is a number");
        }
        kept = Arrays.copyOf(kept, n);
        Arrays.sort(kept);
        return kept;
    }
}
