package org.aftercast.signal;

import java.util.Arrays;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Follows the strongest oscillation of a signal: the ridge of the wavelet amplitude over frequency.
 *
 * <p>Amplitudes (see {@link Morlet#amplitude}, here in single precision) on a logarithmic grid of frequencies; the ridge
 * is the path with the largest sum of normalised squared amplitude less a penalty for changing frequency (dynamic
 * programming), so that noise does not make it jump. Steps are coarser than samples because the analytic signal is
 * band-limited: the inverse transform is taken at the reduced rate directly.
 *
 * <p>One finder serves any number of threads and runs; it keeps the wavelets of the lengths it has met.
 */
public final class RidgeFinder {

    private static final int VOICES_PER_OCTAVE = 8;
    /** Cost of moving by one voice between neighbouring steps, as a share of the largest possible gain of one step. */
    private static final float MOVE_COST = 0.15f;
    /**
     * Where a wavelet is cut off, as a multiple of its centre frequency: exp(−(6·0.8)²/2) = 1e−5 of its peak is left there.
     */
    private static final double CUT = 1.8;
    /** Farthest move between neighbouring steps, in voices. */
    private static final int REACH = 2;

    private static final int LEAST_SAMPLES = 16;

    private final double sampleRateHz;
    private final double lowHz;
    private final double[] grid;
    private final float[] favour;
    private final Map<Integer, Wavelets> byLength = new ConcurrentHashMap<>();

    /** The wavelets of all frequencies for one padded length: for each the points of its inverse and its weights by bin. */
    private record Wavelets(int[] points, float[][] weight) {}

    /**
     * A finder for one sample rate and band.
     *
     * @param sampleRateHz samples per second
     * @param lowHz lowest frequency looked at, &gt; 0
     * @param highHz highest frequency looked at, lowHz &lt; highHz &lt; sampleRateHz/2
     * @param favouredHz frequency that is favoured where two oscillations run at once (a wave and its overtone, say): power
     *     one octave away counts e^(−1/2); NaN favours none
     * @throws IllegalArgumentException if an argument is outside its range
     */
    public RidgeFinder(double sampleRateHz, double lowHz, double highHz, double favouredHz) {
        if (!(lowHz > 0 && highHz > lowHz && highHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException(
                    "lowHz, highHz: " + lowHz + ", " + highHz + " is not a band below " + sampleRateHz / 2 + " Hz");
        }
        this.sampleRateHz = sampleRateHz;
        this.lowHz = lowHz;
        this.grid = grid(lowHz, highHz);
        this.favour = new float[grid.length];
        for (int j = 0; j < grid.length; j++) {
            double octaves = Math.log(grid[j] / favouredHz) / Math.log(2);
            favour[j] = Double.isNaN(favouredHz) ? 1 : (float) Math.exp(-0.5 * octaves * octaves);
        }
    }

    /**
     * Finds the ridge of one run.
     *
     * @param x samples, finite, at least 16
     * @throws IllegalArgumentException if there are fewer
     */
    public Ridge find(float[] x) {
        if (x.length < LEAST_SAMPLES) {
            throw new IllegalArgumentException(
                    "x: " + x.length + " samples, at least " + LEAST_SAMPLES + " are needed");
        }
        int padded = Fourier.powerOfTwo(x.length + (int) Math.ceil(3 * sampleRateHz / lowHz));
        Wavelets wavelets = byLength.computeIfAbsent(padded, this::wavelets);
        float[] spectrum = new float[2 * padded];
        System.arraycopy(x, 0, spectrum, 0, x.length);
        Fourier.singleOfLength(padded).realForwardFull(spectrum);
        int stepPoints = wavelets.points[grid.length - 1];
        double stepS = padded / (double) stepPoints / sampleRateHz;
        int steps = Math.min(stepPoints, (int) Math.floor((x.length - 1) / (sampleRateHz * stepS)) + 1);
        int n = grid.length;
        float[] power = new float[steps * n];
        for (int j = 0; j < n; j++) {
            power(spectrum, padded, wavelets.points[j], wavelets.weight[j], stepPoints, power, j);
        }
        int[] path = bestPath(power, steps);
        float[] hz = new float[steps];
        float[] amplitude = new float[steps];
        for (int t = 0; t < steps; t++) {
            int j = path[t];
            hz[t] = (float) (grid[j] * Math.pow(2, vertex(power, t * n, j) / VOICES_PER_OCTAVE));
            amplitude[t] = (float) Math.sqrt(power[t * n + j]);
        }
        return new Ridge(stepS, hz, amplitude);
    }

    private static double[] grid(double lowHz, double highHz) {
        int n = (int) Math.ceil(VOICES_PER_OCTAVE * Math.log(highHz / lowHz) / Math.log(2)) + 1;
        double[] grid = new double[n];
        for (int j = 0; j < n; j++) {
            grid[j] = lowHz * Math.pow(highHz / lowHz, j / (double) (n - 1));
        }
        return grid;
    }

    private Wavelets wavelets(int padded) {
        int[] points = new int[grid.length];
        float[][] weight = new float[grid.length][];
        for (int j = 0; j < grid.length; j++) {
            points[j] = reduced(padded, grid[j]);
            double perBin = sampleRateHz / padded / grid[j];
            int end = Math.min(points[j], (int) Math.floor(CUT / perBin) + 1);
            weight[j] = new float[Math.max(1, end)];
            for (int k = 1; k < end; k++) {
                double d = Morlet.OMEGA0 * (k * perBin - 1);
                weight[j][k] = (float) (2 * Math.exp(-d * d / 2));
            }
        }
        return new Wavelets(points, weight);
    }

    /** Smallest power of two of points at whose rate a wavelet of this frequency still fits. */
    private int reduced(int padded, double hz) {
        int reduced = padded;
        while (reduced > LEAST_SAMPLES && reduced / 2.0 / padded * sampleRateHz > CUT * hz) {
            reduced /= 2;
        }
        return reduced;
    }

    /**
     * Squared amplitude at one frequency for every step, into every n-th place from {@code j}. Low frequencies are
     * transformed at a lower rate still; between their points the power, which is smooth there, is drawn straight.
     */
    private void power(float[] spectrum, int padded, int points, float[] weight, int stepPoints, float[] into, int j) {
        float[] part = new float[2 * points];
        for (int k = 1; k < weight.length; k++) {
            part[2 * k] = weight[k] * spectrum[2 * k];
            part[2 * k + 1] = weight[k] * spectrum[2 * k + 1];
        }
        Fourier.singleOfLength(points).complexInverse(part, false);
        int n = grid.length;
        int steps = into.length / n;
        float scale = 1f / padded;
        int stride = stepPoints / points;
        float left = square(part, 0, scale);
        for (int i = 0, t = 0; t < steps; i++) {
            float right = i + 1 < points ? square(part, i + 1, scale) : left;
            float slope = (right - left) / stride;
            for (int s = 0; s < stride && t < steps; s++, t++) {
                into[t * n + j] = left + s * slope;
            }
            left = right;
        }
    }

    private static float square(float[] z, int at, float scale) {
        float re = z[2 * at] * scale;
        float im = z[2 * at + 1] * scale;
        return re * re + im * im;
    }

    /** The voice at each step of the best path; scores are kept so that the way back needs no notes. */
    private int[] bestPath(float[] power, int steps) {
        int n = grid.length;
        int width = n + 2 * REACH; // a margin that no path enters
        float[] score = new float[(steps + 1) * width];
        Arrays.fill(score, Float.NEGATIVE_INFINITY);
        Arrays.fill(score, REACH, REACH + n, 0);
        float[] gain = new float[n];
        for (int t = 0; t < steps; t++) {
            float top = 0;
            for (int j = 0; j < n; j++) {
                gain[j] = power[t * n + j] * favour[j];
                top = Math.max(top, gain[j]);
            }
            float scale = top > 0 ? 1 / top : 0;
            int before = t * width + REACH;
            int here = before + width;
            float best = Float.NEGATIVE_INFINITY;
            for (int j = 0; j < n; j++) {
                int at = before + j;
                float near = Math.max(score[at - 1], score[at + 1]) - MOVE_COST;
                float far = Math.max(score[at - 2], score[at + 2]) - 2 * MOVE_COST;
                float value = Math.max(score[at], Math.max(near, far)) + gain[j] * scale;
                score[here + j] = value;
                best = Math.max(best, value);
            }
            for (int j = 0; j < n; j++) {
                score[here + j] -= best;
            }
        }
        int[] path = new int[steps];
        int j = 0;
        int last = steps * width + REACH;
        for (int k = 1; k < n; k++) {
            if (score[last + k] > score[last + j]) {
                j = k;
            }
        }
        for (int t = steps - 1; t >= 0; t--) {
            path[t] = j;
            j += move(score, t * width + REACH + j);
        }
        return path;
    }

    /** The move that led to a voice: the smallest among equals. */
    private static int move(float[] score, int at) {
        int move = 0;
        float value = score[at];
        for (int m = 1; m <= REACH; m++) {
            for (int side = -m; side <= m; side += 2 * m) {
                float other = score[at + side] - m * MOVE_COST;
                if (other > value) {
                    value = other;
                    move = side;
                }
            }
        }
        return move;
    }

    /** Offset in voices of the parabola through the power at j−1, j, j+1; 0 at an edge or where it does not peak. */
    private double vertex(float[] power, int row, int j) {
        if (j == 0 || j == grid.length - 1) {
            return 0;
        }
        double left = power[row + j - 1];
        double mid = power[row + j];
        double right = power[row + j + 1];
        double curve = left - 2 * mid + right;
        return curve < 0 ? Math.max(-0.5, Math.min(0.5, 0.5 * (left - right) / curve)) : 0;
    }
}
