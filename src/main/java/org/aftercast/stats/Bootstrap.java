package org.aftercast.stats;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.function.ToDoubleFunction;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * The bootstrap: drawing units with replacement and looking at how a statistic moves (key {@code davison1997}).
 *
 * @param estimate of the data themselves
 * @param replicates the statistic in each resample, ascending; resamples in which it is not a number are left out
 * @param failed resamples left out
 */
public record Bootstrap(double estimate, double[] replicates, int failed) {

    /**
     * Draws.
     *
     * @param units number of units (animals, or clusters of animals), ≥ 1
     * @param statistic of the units drawn, given by index, with repetition
     * @param draws number of resamples, ≥ 1
     * @param seed of the draws
     */
    public static Bootstrap of(int units, ToDoubleFunction<int[]> statistic, int draws, long seed) {
        if (units < 1 || draws < 1) {
            throw new IllegalArgumentException("units: " + units + " and draws: " + draws + " must be ≥ 1");
        }
        SplittableRandom random = new SplittableRandom(seed);
        int[] drawn = new int[units];
        Arrays.setAll(drawn, i -> i);
        double estimate = statistic.applyAsDouble(drawn);
        double[] replicates = new double[draws];
        int kept = 0;
        for (int b = 0; b < draws; b++) {
            for (int i = 0; i < units; i++) {
                drawn[i] = random.nextInt(units);
            }
            double value = statistic.applyAsDouble(drawn);
            if (Double.isFinite(value)) {
                replicates[kept++] = value;
            }
        }
        double[] sorted = Arrays.copyOf(replicates, kept);
        Arrays.sort(sorted);
        return new Bootstrap(estimate, sorted, draws - kept);
    }

    /** Variance of the replicates. */
    public double variance() {
        double mean = Arrays.stream(replicates).average().orElse(0);
        double sum = 0;
        for (double value : replicates) {
            sum += (value - mean) * (value - mean);
        }
        return replicates.length > 1 ? sum / (replicates.length - 1) : 0;
    }

    /** Percentile interval; quantiles at (n + 1)·p, interpolated. */
    public Interval percentile(double level) {
        return new Interval(quantile((1 - level) / 2), quantile(1 - (1 - level) / 2));
    }

    /**
     * Bias-corrected and accelerated interval.
     *
     * @param influence of each unit on the statistic (its own scale does not matter): (n − 1)·(mean − value without the
     *     unit), or the derivative by the unit's weight
     * @param level coverage
     */
    public Interval bca(double[] influence, double level) {
        NormalDistribution normal = new NormalDistribution();
        double below = 0;
        for (double value : replicates) {
            below += value < estimate ? 1 : 0;
        }
        double z0 = normal.inverseCumulativeProbability(Math.min(1 - 1e-9, Math.max(1e-9, below / replicates.length)));
        double cubes = 0;
        double squares = 0;
        for (double value : influence) {
            cubes += Math.pow(value, 3);
            squares += value * value;
        }
        double a = squares > 0 ? cubes / (6 * Math.pow(squares, 1.5)) : 0;
        double z = normal.inverseCumulativeProbability(1 - (1 - level) / 2);
        return new Interval(
                quantile(normal.cumulativeProbability(z0 + (z0 - z) / (1 - a * (z0 - z)))),
                quantile(normal.cumulativeProbability(z0 + (z0 + z) / (1 - a * (z0 + z)))));
    }

    private double quantile(double p) {
        int n = replicates.length;
        if (n == 0) {
            throw new IllegalArgumentException("replicates: the statistic was not a number in any resample");
        }
        double position = (n + 1) * p;
        int below = (int) Math.floor(position);
        if (below < 1) {
            return replicates[0];
        }
        if (below >= n) {
            return replicates[n - 1];
        }
        return replicates[below - 1] + (position - below) * (replicates[below] - replicates[below - 1]);
    }
}
