package org.aftercast.signal;

import java.util.Arrays;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * The strongest oscillation at every moment: the ridge of the wavelet amplitude over frequency.
 *
 * <p>Amplitudes (see {@link Morlet#amplitude}) on a logarithmic grid of frequencies; the ridge is the path with the
 * largest sum of normalised squared amplitude less a penalty for changing frequency (dynamic programming), so that noise
 * does not make it jump. Steps are coarser than samples because the analytic signal is band-limited: the inverse
 * transform is taken at the reduced rate directly.
 *
 * @param stepS seconds between steps; step k stands at k·stepS after the first sample
 * @param hz ridge frequency at each step
 * @param amplitude amplitude of the oscillation at each step, in the unit of the signal
 */
public record Ridge(double stepS, float[] hz, float[] amplitude) {

    private static final int VOICES_PER_OCTAVE = 8;
    /** Cost of moving by one voice between neighbouring steps, as a share of the largest possible gain of one step. */
    private static final float MOVE_COST = 0.15f;
    /** Farthest move between neighbouring steps, in voices. */
    private static final int REACH = 2;

    /**
     * Finds the ridge.
     *
     * @param x samples, finite, at least 16
     * @param sampleRateHz samples per second
     * @param lowHz lowest frequency looked at, &gt; 0
     * @param highHz highest frequency looked at, lowHz &lt; highHz &lt; sampleRateHz/2
     * @param favouredHz frequency that is favoured where two oscillations run at once (a wave and its overtone, say): power
     *     one octave away counts e^(−1/2); NaN favours none
     * @throws IllegalArgumentException if an argument is outside its range
     */
    public static Ridge of(float[] x, double sampleRateHz, double lowHz, double highHz, double favouredHz) {
        if (x.length < 16) {
            throw new IllegalArgumentException("x: " + x.length + " samples, at least 16 are needed");
        }
        if (!(lowHz > 0 && highHz > lowHz && highHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException(
                    "lowHz, highHz: " + lowHz + ", " + highHz + " is not a band below " + sampleRateHz / 2 + " Hz");
        }
        double[] grid = grid(lowHz, highHz);
        int padded = Fourier.powerOfTwo(x.length + (int) Math.ceil(3 * sampleRateHz / lowHz));
        // Reduced length: the highest wavelet reaches 2.1 times its centre frequency.
        int reduced = padded;
        while (reduced > 16 && reduced / 2.0 / padded * sampleRateHz > 2.1 * highHz) {
            reduced /= 2;
        }
        double[] spectrum = new double[2 * padded];
        for (int i = 0; i < x.length; i++) {
            spectrum[i] = x[i];
        }
        Fourier.ofLength(padded).realForwardFull(spectrum);
        double stepS = padded / (double) reduced / sampleRateHz;
        int stepCount = Math.min(reduced, (int) Math.floor((x.length - 1) / (sampleRateHz * stepS)) + 1);
        float[][] power = new float[grid.length][];
        DoubleFFT_1D inverse = Fourier.ofLength(reduced);
        double[] part = new double[2 * reduced];
        for (int j = 0; j < grid.length; j++) {
            power[j] = power(spectrum, padded, part, inverse, reduced, sampleRateHz, grid[j], stepCount);
        }
        int[] path = bestPath(power, weights(grid, favouredHz), stepCount);
        float[] hz = new float[stepCount];
        float[] amplitude = new float[stepCount];
        for (int t = 0; t < stepCount; t++) {
            int j = path[t];
            hz[t] = (float) (grid[j] * Math.pow(2, vertex(power, j, t) / VOICES_PER_OCTAVE));
            amplitude[t] = (float) Math.sqrt(power[j][t]);
        }
        return new Ridge(stepS, hz, amplitude);
    }

    /** Index of the step nearest to a time, clamped to the ridge. */
    public int stepAt(double seconds) {
        return (int) Math.max(0, Math.min(hz.length - 1, Math.round(seconds / stepS)));
    }

    private static double[] grid(double lowHz, double highHz) {
        int n = (int) Math.ceil(VOICES_PER_OCTAVE * Math.log(highHz / lowHz) / Math.log(2)) + 1;
        double[] grid = new double[n];
        for (int j = 0; j < n; j++) {
            grid[j] = lowHz * Math.pow(highHz / lowHz, j / (double) (n - 1));
        }
        return grid;
    }

    private static float[] power(
            double[] spectrum,
            int padded,
            double[] part,
            DoubleFFT_1D inverse,
            int reduced,
            double sampleRateHz,
            double hz,
            int stepCount) {
        Arrays.fill(part, 0);
        double perBin = sampleRateHz / padded / hz;
        int from = Math.max(1, (int) Math.ceil(0.001 / perBin));
        int to = Math.min(reduced - 1, (int) Math.floor(2.1 / perBin));
        for (int k = from; k <= to; k++) {
            double d = Morlet.OMEGA0 * (k * perBin - 1);
            double w = 2 * Math.exp(-d * d / 2);
            part[2 * k] = w * spectrum[2 * k];
            part[2 * k + 1] = w * spectrum[2 * k + 1];
        }
        inverse.complexInverse(part, false);
        float[] power = new float[stepCount];
        double scale = 1.0 / padded;
        for (int t = 0; t < stepCount; t++) {
            double re = part[2 * t] * scale;
            double im = part[2 * t + 1] * scale;
            power[t] = (float) (re * re + im * im);
        }
        return power;
    }

    private static float[] weights(double[] grid, double favouredHz) {
        float[] weight = new float[grid.length];
        for (int j = 0; j < grid.length; j++) {
            double octaves = Math.log(grid[j] / favouredHz) / Math.log(2);
            weight[j] = Double.isNaN(favouredHz) ? 1 : (float) Math.exp(-0.5 * octaves * octaves);
        }
        return weight;
    }

    private static int[] bestPath(float[][] power, float[] weight, int stepCount) {
        int n = power.length;
        byte[][] from = new byte[stepCount][n];
        float[] score = new float[n];
        float[] next = new float[n];
        for (int t = 0; t < stepCount; t++) {
            float top = 0;
            for (int j = 0; j < n; j++) {
                top = Math.max(top, power[j][t] * weight[j]);
            }
            float scale = top > 0 ? 1 / top : 0;
            float best = Float.NEGATIVE_INFINITY;
            for (int j = 0; j < n; j++) {
                int arg = j;
                float value = score[j];
                for (int m = 1; m <= REACH; m++) {
                    if (j - m >= 0 && score[j - m] - m * MOVE_COST > value) {
                        value = score[j - m] - m * MOVE_COST;
                        arg = j - m;
                    }
                    if (j + m < n && score[j + m] - m * MOVE_COST > value) {
                        value = score[j + m] - m * MOVE_COST;
                        arg = j + m;
                    }
                }
                next[j] = value + power[j][t] * weight[j] * scale;
                from[t][j] = (byte) (arg - j);
                best = Math.max(best, next[j]);
            }
            for (int j = 0; j < n; j++) {
                score[j] = next[j] - best;
            }
        }
        int[] path = new int[stepCount];
        int j = 0;
        for (int k = 1; k < n; k++) {
            if (score[k] > score[j]) {
                j = k;
            }
        }
        for (int t = stepCount - 1; t >= 0; t--) {
            path[t] = j;
            j += from[t][j];
        }
        return path;
    }

    /** Offset in voices of the parabola through the power at j−1, j, j+1; 0 at an edge or where it does not peak. */
    private static double vertex(float[][] power, int j, int t) {
        if (j == 0 || j == power.length - 1) {
            return 0;
        }
        double left = power[j - 1][t];
        double mid = power[j][t];
        double right = power[j + 1][t];
        double curve = left - 2 * mid + right;
        return curve < 0 ? Math.max(-0.5, Math.min(0.5, 0.5 * (left - right) / curve)) : 0;
    }
}
