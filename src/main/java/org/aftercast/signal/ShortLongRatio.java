package org.aftercast.signal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Onsets by the ratio of a short to a long running mean (STA/LTA, common in seismology).
 *
 * <p>Both windows end at the sample in question, so that the short one lies inside the long one; the ratio cannot exceed
 * long/short. For onsets the long mean is frozen while triggered, else a long event would raise its own yardstick.
 */
public final class ShortLongRatio {

    private ShortLongRatio() {}

    /**
     * One stretch in which the ratio was high.
     *
     * @param from first sample above the on-level
     * @param to one past the last sample before the ratio fell below the off-level
     * @param peakRatio highest ratio within, dimensionless
     */
    public record Trigger(int from, int to, double peakRatio) {}

    /**
     * Ratio at every sample.
     *
     * @param x non-negative samples (amplitudes or squares), no {@code NaN}
     * @param shortSamples short window, 1 ≤ short &lt; long
     * @param longSamples long window
     * @return dimensionless; {@code NaN} until the long window is full and where the long mean is 0
     * @throws IllegalArgumentException if a sample is negative or {@code NaN}, or the windows are outside their range
     */
    public static double[] ratio(double[] x, int shortSamples, int longSamples) {
        checkWindows(shortSamples, longSamples);
        double[] sum = cumulative(x);
        double[] ratio = new double[x.length];
        Arrays.fill(ratio, Double.NaN);
        for (int i = longSamples - 1; i < x.length; i++) {
            double longMean = (sum[i + 1] - sum[i + 1 - longSamples]) / longSamples;
            double shortMean = (sum[i + 1] - sum[i + 1 - shortSamples]) / shortSamples;
            ratio[i] = longMean > 0 ? shortMean / longMean : Double.NaN;
        }
        return ratio;
    }

    /**
     * Stretches between rising above {@code on} and falling below {@code off}. Here the long window ends where the short
     * one starts; it is frozen while triggered and may be half filled at the beginning of the series.
     *
     * @param x non-negative samples, no {@code NaN}
     * @param shortSamples short window
     * @param longSamples long window
     * @param on level that starts a stretch, &gt; off
     * @param off level that ends it, &gt; 0
     */
    public static List<Trigger> triggers(double[] x, int shortSamples, int longSamples, double on, double off) {
        checkWindows(shortSamples, longSamples);
        if (!(off > 0 && on > off)) {
            throw new IllegalArgumentException("on, off: " + on + ", " + off + " must satisfy on > off > 0");
        }
        double[] sum = cumulative(x);
        List<Trigger> found = new ArrayList<>();
        int from = -1;
        double peak = 0;
        double frozen = Double.NaN;
        for (int i = Math.max(longSamples / 2, shortSamples) + shortSamples - 1; i < x.length; i++) {
            int longFrom = Math.max(0, i + 1 - shortSamples - longSamples);
            double longMean = from >= 0
                    ? frozen
                    : (sum[i + 1 - shortSamples] - sum[longFrom]) / (i + 1 - shortSamples - longFrom);
            double ratio = (sum[i + 1] - sum[i + 1 - shortSamples]) / shortSamples / longMean;
            if (from < 0 && ratio > on) {
                from = i;
                frozen = longMean;
                peak = ratio;
            } else if (from >= 0) {
                peak = Math.max(peak, ratio);
                if (ratio < off) {
                    found.add(new Trigger(from, i, peak));
                    from = -1;
                }
            }
        }
        if (from >= 0) {
            found.add(new Trigger(from, x.length, peak));
        }
        return found;
    }

    private static void checkWindows(int shortSamples, int longSamples) {
        if (shortSamples < 1 || longSamples <= shortSamples) {
            throw new IllegalArgumentException("shortSamples, longSamples: " + shortSamples + ", " + longSamples
                    + " must satisfy 1 ≤ short < long");
        }
    }

    private static double[] cumulative(double[] x) {
        double[] sum = new double[x.length + 1];
        for (int i = 0; i < x.length; i++) {
            if (!(x[i] >= 0)) {
                throw new IllegalArgumentException("x: sample " + i + " is " + x[i] + ", only values ≥ 0 are accepted");
            }
            sum[i + 1] = sum[i] + x[i];
        }
        return sum;
    }
}
