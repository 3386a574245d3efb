package org.aftercast.search;

import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Draws a cloud's particles anew.
 *
 * <p>Systematic (Kitagawa 1996) when the effective number falls below half, then jittered: drift and hearing traits by the
 * kernel of Liu and West with a discount of 0.99 (h = 0.1, shrunk by √(1 − h²)), positions by a small kernel without
 * shrinking, so that two lobes are not drawn together.
 */
final class CloudRenewal {

    private static final double TRAIT_KERNEL = 0.1;
    private static final double LARGEST_JITTER_M = 400;

    private CloudRenewal() {}

    /** Draws the particles anew by weight; all weigh the same then. */
    static void resample(Cloud cloud, SplittableRandom random) {
        int n = cloud.size();
        int[] times = Resampling.systematic(cloud.weight, n, random.nextDouble());
        int[] from = new int[n];
        int at = 0;
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < times[i]; k++) {
                from[at++] = i;
            }
        }
        for (double[] array : cloud.arrays()) {
            double[] old = array.clone();
            for (int i = 0; i < n; i++) {
                array[i] = old[from[i]];
            }
        }
        boolean[] oldAshore = cloud.ashore.clone();
        for (int i = 0; i < n; i++) {
            cloud.ashore[i] = oldAshore[from[i]];
        }
        for (int r = 0; r < cloud.residuals.size(); r++) {
            float[] old = cloud.residuals.get(r);
            float[] moved = new float[n];
            for (int i = 0; i < n; i++) {
                moved[i] = old[from[i]];
            }
            cloud.residuals.set(r, moved);
        }
        Arrays.fill(cloud.weight, 1.0 / n);
        jitter(cloud, random);
    }

    private static void jitter(Cloud cloud, SplittableRandom random) {
        double keep = Math.sqrt(1 - TRAIT_KERNEL * TRAIT_KERNEL);
        for (double[] trait : new double[][] {
            cloud.currentEast,
            cloud.currentNorth,
            cloud.windFactor,
            cloud.leewayRad,
            cloud.marginDb,
            cloud.logSdDeg,
            cloud.compassRad,
            cloud.tideScale
        }) {
            double mean = cloud.mean(trait);
            double sd = cloud.sd(trait, mean);
            if (sd > 0) {
                for (int i = 0; i < trait.length; i++) {
                    trait[i] = mean + keep * (trait[i] - mean) + TRAIT_KERNEL * sd * random.nextGaussian();
                }
            }
        }
        double width = 0.5 * Resampling.kernelWidth(2, cloud.size());
        double jitterX = Math.min(LARGEST_JITTER_M, width * cloud.sd(cloud.x, cloud.mean(cloud.x)));
        double jitterY = Math.min(LARGEST_JITTER_M, width * cloud.sd(cloud.y, cloud.mean(cloud.y)));
        for (int i = 0; i < cloud.x.length; i++) {
            double newX = cloud.x[i] + jitterX * random.nextGaussian();
            double newY = cloud.y[i] + jitterY * random.nextGaussian();
            if (!cloud.land().isLand(newX, newY)) {
                cloud.x[i] = newX;
                cloud.y[i] = newY;
            }
            cloud.windFactor[i] = Math.max(0, cloud.windFactor[i]);
        }
    }
}
