package org.aftercast.signal;

import java.util.Arrays;

/**
 * Local maxima and their prominences.
 *
 * @param at index of each peak; the middle (rounded down) of a flat top
 * @param prominence height above the higher of the two lowest points that separate the peak from higher ground (or from
 *     the end of the array)
 */
public record Peaks(int[] at, double[] prominence) {

    /**
     * Finds every sample (or flat run) that is higher than both neighbours; the ends are never peaks.
     *
     * @param x samples, without NaN
     */
    public static Peaks of(double[] x) {
        int[] found = new int[x.length];
        int n = 0;
        int i = 1;
        while (i < x.length - 1) {
            if (x[i] > x[i - 1]) {
                int j = i;
                while (j + 1 < x.length && x[j + 1] == x[i]) {
                    j++;
                }
                if (j < x.length - 1 && x[j + 1] < x[i]) {
                    found[n++] = (i + j) / 2;
                }
                i = j;
            }
            i++;
        }
        int[] at = Arrays.copyOf(found, n);
        double[] prominence = new double[n];
        for (int k = 0; k < n; k++) {
            prominence[k] = x[at[k]] - Math.max(lowest(x, at[k], -1), lowest(x, at[k], 1));
        }
        return new Peaks(at, prominence);
    }

    /** Lowest sample on the way from a peak to the first higher sample (or the end). */
    private static double lowest(double[] x, int peak, int step) {
        double low = x[peak];
        for (int i = peak; i >= 0 && i < x.length && x[i] <= x[peak]; i += step) {
            low = Math.min(low, x[i]);
        }
        return low;
    }
}
