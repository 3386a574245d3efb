package org.aftercast.search;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Looks for something that comes back at a steady pace in one narrow band: power by Goertzel's recursion in Hann windows of
 * 24 and 48 ms (near the best for tones of 15 and 30 ms: half a decibel is lost against a filter that knows the length),
 * a quarter of a window apart, at pitches 0.6 window bandwidths apart; each pitch divided by its own noise (median/ln 2, as
 * noise power is exponential); moments that are loud at all pitches at once (engine, knocks) turned down; then every
 * period folded over the whole recording by the fast folding algorithm (a tree of shifted sums; from memory).
 *
 * <p>A fold of n periods of noise has a mean that is Gamma(n)/n. A detection is a fold that noise would reach once in a
 * thousand recordings, all pitches, windows, periods and phases counted, and that stands out of its own other phases: the
 * beat of two engine tones swells and ebbs, so that its loudest phase does not stand alone.
 */
final class PingFold {

    static final double[] WINDOWS_S = {0.024, 0.048};
    private static final double FALSE_ALARM = 1e-3;
    private static final double PITCH_STEP = 0.6;
    private static final int LEAST_PINGS = 5;
    private static final float MOST = 30;

    /**
     * Powers in one kind of window.
     *
     * @param size samples of a window
     * @param hop samples between windows
     * @param lowHz first pitch
     * @param stepHz between pitches
     * @param power by pitch and window
     * @param noise by pitch
     * @param all how loud each window is at all pitches, 1 on average
     */
    record Powers(
            int size,
            int hop,
            double sampleRateHz,
            double lowHz,
            double stepHz,
            double[][] power,
            double[] noise,
            double[] all) {
        double hopS() {
            return hop / sampleRateHz;
        }

        int windows() {
            return all.length;
        }
    }

    /**
     * A fold that stands out.
     *
     * @param centreS middle of the first ping after the start of the sound
     * @param pings periods folded
     */
    record Found(double pitchHz, double periodS, double centreS, int pings) {}

    private PingFold() {}

    static Powers powers(float[] x, double rate, PingMeter.Settings settings, double windowS) {
        int hop = Math.max(1, (int) Math.round(windowS * rate / 4));
        int size = 4 * hop;
        int windows = x.length < size ? 0 : (x.length - size) / hop + 1;
        double stepHz = PITCH_STEP * rate / size;
        int pitches = (int) Math.floor((settings.highHz() - settings.lowHz()) / stepHz) + 1;
        double[] hann = hann(size);
        double[][] power = new double[pitches][windows];
        double[] block = new double[size];
        for (int t = 0; t < windows; t++) {
            for (int i = 0; i < size; i++) {
                block[i] = x[t * hop + i] * hann[i];
            }
            for (int f = 0; f < pitches; f++) {
                power[f][t] = PingMeter.goertzelPower(block, (settings.lowHz() + f * stepHz) / rate);
            }
        }
        double[] noise = new double[pitches];
        for (int f = 0; f < pitches; f++) {
            noise[f] = Math.max(1e-30, median(power[f]) / Math.log(2));
        }
        double[] all = new double[windows];
        double[] column = new double[pitches];
        for (int t = 0; t < windows; t++) {
            for (int f = 0; f < pitches; f++) {
                column[f] = power[f][t] / noise[f];
            }
            all[t] = median(column) / Math.log(2);
        }
        return new Powers(size, hop, rate, settings.lowHz(), stepHz, power, noise, all);
    }

    static double[] hann(int size) {
        double[] window = new double[size];
        for (int i = 0; i < size; i++) {
            window[i] = 0.5 - 0.5 * Math.cos(2 * Math.PI * i / size);
        }
        return window;
    }

    /** Best of all folds, or null if noise could have made it. */
    static @Nullable Found search(Powers[] all, PingMeter.Settings settings) {
        Best best = new Best();
        double trials = 0;
        for (Powers powers : all) {
            double shortest = 60 / settings.mostPerMinute() / powers.hopS();
            double longest = 60 / settings.leastPerMinute() / powers.hopS();
            float[] q = new float[powers.windows()];
            for (int f = 0; f < powers.power.length; f++) {
                for (int t = 0; t < q.length; t++) {
                    // One knock must not make a fold: a window counts at most 30 times the noise.
                    q[t] = (float) Math.min(MOST, powers.power[f][t] / powers.noise[f] / Math.max(1, powers.all[t]));
                }
                for (int period = Math.max(4, (int) Math.floor(shortest)); period <= longest; period++) {
                    int rows = q.length / period;
                    if (rows < LEAST_PINGS) {
                        break;
                    }
                    int padded = Integer.highestOneBit(Math.max(1, rows - 1)) << 1;
                    fold(q, period, rows, padded, best, powers, f);
                    trials += (double) rows * period / 4;
                }
            }
        }
        Powers of = best.powers;
        if (of == null || !standsOut(best, of, trials)) {
            return null;
        }
        double periodS = best.period * of.hopS();
        double centreS = (best.phase * of.hop + of.size / 2.0) / of.sampleRateHz;
        return new Found(of.lowHz + best.pitch * of.stepHz, periodS, centreS % periodS, best.rows);
    }

    private static final class Best {
        private double score;
        private @Nullable Powers powers;
        private int pitch;
        private double period;
        private int phase;
        private int rows;
        private double mean;
        private float[] one = new float[0];
        private float[] other = new float[0];
    }

    /**
     * Folds at all periods from {@code period} to {@code period} + 1: row s of the tree's last level is the fold at period +
     * s/(padded − 1).
     */
    private static void fold(float[] q, int period, int rows, int padded, Best best, Powers powers, int pitch) {
        int cells = padded * period;
        if (best.one.length < cells) {
            best.one = new float[cells];
            best.other = new float[cells];
        }
        float[] from = best.one;
        float[] to = best.other;
        System.arraycopy(q, 0, from, 0, rows * period);
        Arrays.fill(from, rows * period, cells, 0);
        for (int length = 1; length < padded; length *= 2) {
            for (int start = 0; start < padded; start += 2 * length) {
                for (int s = 0; s < 2 * length; s++) {
                    int head = (start + s / 2) * period;
                    int tail = (start + length + s / 2) * period;
                    int out = (start + s) * period;
                    int shift = ((s + 1) / 2) % period;
                    int first = period - shift;
                    for (int j = 0; j < first; j++) {
                        to[out + j] = from[head + j] + from[tail + j + shift];
                    }
                    for (int j = first; j < period; j++) {
                        to[out + j] = from[head + j] + from[tail + j - first];
                    }
                }
            }
            float[] swap = from;
            from = to;
            to = swap;
        }
        float most = 0;
        int at = 0;
        for (int i = 0; i < cells; i++) {
            if (from[i] > most) {
                most = from[i];
                at = i;
            }
        }
        double mean = most / (double) rows;
        // Wilson and Hilferty's cube root makes folds of different length comparable.
        double score = 3 * Math.sqrt(rows) * (Math.cbrt(mean) - 1 + 1.0 / (9 * rows));
        if (score > best.score) {
            best.score = score;
            best.powers = powers;
            best.pitch = pitch;
            int row = at / period;
            best.period = period + (padded > 1 ? row / (padded - 1.0) : 0);
            best.phase = at % period;
            best.rows = rows;
            best.mean = mean;
        }
    }

    private static boolean standsOut(Best best, Powers powers, double trials) {
        double threshold = new GammaDistribution(best.rows, 1.0 / best.rows)
                .inverseCumulativeProbability(1 - FALSE_ALARM / trials);
        if (!(best.mean > threshold)) {
            return false;
        }
        int bins = (int) Math.floor(best.period);
        double[] sum = new double[bins];
        int[] count = new int[bins];
        double[] power = powers.power[best.pitch];
        for (int t = 0; t < power.length; t++) {
            int bin = (int) (t % best.period);
            if (bin < bins) {
                sum[bin] += Math.min(MOST, power[t] / powers.noise[best.pitch] / Math.max(1, powers.all[t]));
                count[bin]++;
            }
        }
        double[] means = new double[bins];
        for (int bin = 0; bin < bins; bin++) {
            means[bin] = sum[bin] / Math.max(1, count[bin]);
        }
        double middle = median(means);
        double[] off = new double[bins];
        for (int bin = 0; bin < bins; bin++) {
            off[bin] = Math.abs(means[bin] - middle);
        }
        return best.mean - middle > 5.5 * 1.4826 * median(off);
    }

    static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int n = sorted.length;
        return n == 0 ? 0 : n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }
}
