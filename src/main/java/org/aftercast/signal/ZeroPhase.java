package org.aftercast.signal;

import java.util.Arrays;

/**
 * Filtering forward and backward, so that nothing is shifted in time.
 *
 * <p>The array is extended at both ends by odd reflection ({@code 2·x[0] − x[k]}), each pass starts from the steady state
 * of its first value, and the extension is dropped again [gustafsson1996 describes the end conditions]. The gain is the
 * square of a single pass.
 */
public final class ZeroPhase {

    private ZeroPhase() {}

    /**
     * Filters into a new array.
     *
     * @param x samples, finite, at least 2
     * @param filter the sections
     * @param padSamples length of the extension; it is shortened to x.length − 1
     * @return filtered samples, same length
     * @throws IllegalArgumentException if x has fewer than 2 samples or holds NaN or an infinity
     */
    public static double[] filter(double[] x, Sections filter, int padSamples) {
        checkLength(x.length);
        int n = x.length;
        int pad = Math.min(Math.max(padSamples, 0), n - 1);
        double[] y = new double[n + 2 * pad];
        for (int i = 0; i < n; i++) {
            if (!Double.isFinite(x[i])) {
                throw new IllegalArgumentException(
                        "x: sample " + i + " is " + x[i] + "; only finite samples are accepted");
            }
            y[pad + i] = x[i];
        }
        for (int k = 1; k <= pad; k++) {
            y[pad - k] = 2 * x[0] - x[k];
            y[pad + n - 1 + k] = 2 * x[n - 1] - x[n - 1 - k];
        }
        filter.run(y, 0, y.length, 1);
        filter.run(y, 0, y.length, -1);
        double[] result = new double[n];
        System.arraycopy(y, pad, result, 0, n);
        return result;
    }

    /**
     * As {@link #filter(double[], Sections, int)} for single precision (state in double precision); samples must be
     * finite, which is not checked here.
     */
    public static float[] filter(float[] x, Sections filter, int padSamples) {
        float[] y = reflected(x, padSamples);
        filter.run(y, 0, y.length, 1);
        filter.run(y, 0, y.length, -1);
        return middle(y, x.length);
    }

    /**
     * As {@link #filter(float[], Sections, int)} for three arrays of one length at a time, which is faster: the same bits.
     *
     * @return the three filtered arrays, in order
     */
    public static float[][] filter(float[] x, float[] y, float[] z, Sections filter, int padSamples) {
        float[][] all = {reflected(x, padSamples), reflected(y, padSamples), reflected(z, padSamples)};
        if (all[1].length != all[0].length || all[2].length != all[0].length) {
            throw new IllegalArgumentException("x, y, z: lengths " + x.length + ", " + y.length + ", " + z.length
                    + " differ; three arrays of one length are needed");
        }
        int n = all[0].length;
        filter.run(all[0], all[1], all[2], 0, n, 1);
        filter.run(all[0], all[1], all[2], 0, n, -1);
        for (int c = 0; c < 3; c++) {
            all[c] = middle(all[c], x.length);
        }
        return all;
    }

    private static float[] reflected(float[] x, int padSamples) {
        checkLength(x.length);
        int n = x.length;
        int pad = Math.min(Math.max(padSamples, 0), n - 1);
        float[] y = new float[n + 2 * pad];
        System.arraycopy(x, 0, y, pad, n);
        for (int k = 1; k <= pad; k++) {
            y[pad - k] = 2 * x[0] - x[k];
            y[pad + n - 1 + k] = 2 * x[n - 1] - x[n - 1 - k];
        }
        return y;
    }

    private static float[] middle(float[] y, int n) {
        int pad = (y.length - n) / 2;
        return Arrays.copyOfRange(y, pad, pad + n);
    }

    private static void checkLength(int length) {
        if (length < 2) {
            throw new IllegalArgumentException("x: " + length + " samples, at least 2 are needed");
        }
    }
}
