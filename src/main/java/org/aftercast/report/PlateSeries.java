package org.aftercast.report;

import java.util.Arrays;
import org.aftercast.motion.SecondTable;

/**
 * The one-per-second table thinned for drawing: the recording is cut into equal bins, and each bin keeps its lowest,
 * middle (median) and highest value, so that nothing short is lost and nothing is smoothed away.
 *
 * @param fromS start of the first bin in seconds from the first sample
 * @param binS width of a bin in seconds
 * @param depthM depth, metres
 * @param swayG root mean square of the band-passed sway, g
 * @param beatAmplitudeG beat amplitude, g
 * @param beatHz beat frequency, Hz
 * @param pitchDeg pitch, degrees
 * @param rollDeg roll, degrees; the middle is the median of the values turned to lie within 180° of the bin's mean
 *     direction, lowest and highest likewise
 * @param tempC temperature, °C
 */
public record PlateSeries(
        double fromS,
        double binS,
        Bins depthM,
        Bins swayG,
        Bins beatAmplitudeG,
        Bins beatHz,
        Bins pitchDeg,
        Bins rollDeg,
        Bins tempC) {

    /**
     * One channel, NaN where a bin has no value.
     *
     * @param low lowest
     * @param middle median
     * @param high highest
     */
    public record Bins(float[] low, float[] middle, float[] high) {

        /** The value below which a share of the bins' highest values lies, or NaN when there is no value at all. */
        double highQuantile(double share) {
            float[] sorted = high.clone();
            Arrays.sort(sorted); // NaN last
            int n = sorted.length;
            while (n > 0 && Float.isNaN(sorted[n - 1])) {
                n--;
            }
            return n == 0 ? Double.NaN : sorted[(int) Math.min(n - 1, Math.floor(share * n))];
        }

        /** Lowest and highest of all bins, or null when there is no value at all. */
        double @org.jspecify.annotations.Nullable [] range() {
            double least = Double.POSITIVE_INFINITY;
            double most = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < low.length; i++) {
                if (!Float.isNaN(low[i])) {
                    least = Math.min(least, low[i]);
                    most = Math.max(most, high[i]);
                }
            }
            return least <= most ? new double[] {least, most} : null;
        }
    }

    /** Number of bins. */
    public int count() {
        return depthM.middle.length;
    }

    /**
     * Thins a table.
     *
     * @param table one row a second
     * @param fromS first second to keep, ≥ 0
     * @param toS end, &gt; fromS; cut to the table's end
     * @param atMost largest number of bins, ≥ 1; fewer when there are fewer seconds
     */
    public static PlateSeries of(SecondTable table, double fromS, double toS, int atMost) {
        int first = Math.max(0, (int) Math.floor(fromS));
        int end = Math.min(table.seconds(), (int) Math.ceil(toS));
        if (end <= first || atMost < 1) {
            throw new IllegalArgumentException("fromS, toS, atMost: " + fromS + ", " + toS + ", " + atMost
                    + " leave nothing of a table of " + table.seconds() + " s");
        }
        int n = Math.min(atMost, end - first);
        double binS = (end - first) / (double) n;
        return new PlateSeries(
                first,
                binS,
                thin(table.depthM(), first, binS, n, Turning.NONE),
                thin(table.swayRmsG(), first, binS, n, Turning.NONE),
                thin(table.beatAmplitudeG(), first, binS, n, Turning.NONE),
                thin(table.beatHz(), first, binS, n, Turning.NONE),
                thin(table.pitchDeg(), first, binS, n, Turning.NONE),
                thin(table.rollDeg(), first, binS, n, Turning.CIRCLE),
                thin(table.tempC(), first, binS, n, Turning.NONE));
    }

    private enum Turning {
        NONE,
        CIRCLE
    }

    private static Bins thin(float[] values, int first, double binS, int n, Turning turning) {
        float[] low = new float[n];
        float[] middle = new float[n];
        float[] high = new float[n];
        float[] sorted = new float[(int) Math.ceil(binS) + 1];
        for (int b = 0; b < n; b++) {
            int from = first + (int) Math.round(b * binS);
            int to = Math.min(values.length, first + (int) Math.round((b + 1) * binS));
            int kept = 0;
            for (int i = from; i < to; i++) {
                if (!Float.isNaN(values[i])) {
                    sorted[kept++] = values[i];
                }
            }
            if (kept == 0) {
                low[b] = Float.NaN;
                middle[b] = Float.NaN;
                high[b] = Float.NaN;
                continue;
            }
            if (turning == Turning.CIRCLE) {
                unwrap(sorted, kept);
            }
            Arrays.sort(sorted, 0, kept);
            low[b] = sorted[0];
            middle[b] = (kept & 1) == 1 ? sorted[kept / 2] : (sorted[kept / 2 - 1] + sorted[kept / 2]) / 2;
            high[b] = sorted[kept - 1];
        }
        return new Bins(low, middle, high);
    }

    /** Turns angles by whole circles to within 180° of their mean direction. */
    private static void unwrap(float[] angles, int count) {
        double sin = 0;
        double cos = 0;
        for (int i = 0; i < count; i++) {
            sin += Math.sin(Math.toRadians(angles[i]));
            cos += Math.cos(Math.toRadians(angles[i]));
        }
        double mean = Math.toDegrees(Math.atan2(sin, cos));
        for (int i = 0; i < count; i++) {
            double off = angles[i] - mean;
            angles[i] = (float) (angles[i] - 360 * Math.rint(off / 360));
        }
    }
}
