package org.aftercast.motion;

import org.aftercast.signal.Butterworth;
import org.aftercast.signal.Ridge;
import org.aftercast.signal.RidgeFinder;
import org.aftercast.signal.RunningMean;
import org.aftercast.signal.Sections;
import org.aftercast.signal.ZeroPhase;

/**
 * Cycles of the sway in one run of samples.
 *
 * <p>The sway is averaged down to a working rate, the ridge of its wavelet amplitude follows the beat frequency, and the
 * signal is band-passed around the ridge by a bank of zero-phase filters half an octave apart, blended by where the ridge
 * stands. A cycle runs from one upward zero crossing to the next, with hysteresis of 0.3 of the local amplitude.
 *
 * <p>Its amplitude is half the range of the sway within the cycle. Taken straight from the wide band, noise would raise it;
 * taken from the narrow band, the harmonics that flatten or sharpen the wave would be lost. So the range is taken from the
 * narrow band (parabola through each extreme) and multiplied by a shape factor: the range of the wide-band cycle, averaged
 * by phase over a group of neighbouring cycles and rebuilt from three harmonics, over that of the narrow-band cycle treated
 * in the same way; it is then
 * divided by the gain of averaging and wide band at that frequency.
 */
final class SwayCycles {

    /** Bank filters reach from centre/1.8 to centre·1.8. */
    private static final double REACH = 1.8;

    /** Mean square of frequency over a flat band from 1/1.8 to 1.8, (b³ − a³)/(3(b − a)). */
    static final double MEAN_SQUARE_IN_REACH = (Math.pow(REACH, 3) - Math.pow(REACH, -3)) / (3 * (REACH - 1 / REACH));

    private static final double BANK_OCTAVES = 0.5;
    private static final float HYSTERESIS = 0.3f;
    private static final int SHAPE_GROUP = 32;
    private static final int HARMONICS = 3;
    private static final int PHASES = 48;

    private final double rateHz;
    private final Band band;
    private final int decimation;
    private final double workHz;
    private final double[] centres;
    private final Sections[] bank;
    private final Sections wide;
    private final double wideLow;
    private final double wideHigh;
    private final RidgeFinder ridges;

    SwayCycles(Band band, double rateHz) {
        this.rateHz = rateHz;
        this.band = band;
        this.decimation = decimation(band.highHz(), rateHz);
        this.workHz = rateHz / decimation;
        this.wideLow = band.lowHz();
        this.wideHigh = Math.min(band.highHz(), 0.45 * workHz);
        int n = Math.max(2, (int) Math.ceil(Math.log(wideHigh / wideLow) / Math.log(2) / BANK_OCTAVES) + 1);
        centres = new double[n];
        bank = new Sections[n];
        for (int k = 0; k < n; k++) {
            centres[k] = wideLow * Math.pow(wideHigh / wideLow, k / (double) (n - 1));
            double high = Math.min(centres[k] * REACH, 0.47 * workHz);
            bank[k] = Butterworth.bandPass(2, Math.min(centres[k] / REACH, 0.8 * high), high, workHz);
        }
        wide = Butterworth.bandPass(2, wideLow, wideHigh, workHz);
        ridges = new RidgeFinder(workHz, wideLow, wideHigh, band.given() ? Double.NaN : band.cruiseHz());
    }

    /** Samples averaged into one so that at least eight are left of the fastest beat. */
    static int decimation(double highHz, double rateHz) {
        return Math.max(1, (int) Math.floor(rateHz / (8 * highHz)));
    }

    /** Samples per working sample. */
    int decimation() {
        return decimation;
    }

    double workHz() {
        return workHz;
    }

    /** Seconds after which the slowest filter has settled. */
    double settleS() {
        return 4 / wideLow;
    }

    /** Share of the white noise in the whole band that one bank filter around {@code hz} lets through (power). */
    double narrowShare(double hz) {
        double narrow = Math.min(hz * REACH, 0.47 * workHz) - hz / REACH;
        return Math.max(0.02, Math.min(1, narrow / (wideHigh - wideLow)));
    }

    double bandwidthHz() {
        return wideHigh - wideLow;
    }

    /**
     * What one run of samples gives: cycles and, per working sample, the wide-band sway, and the ridge; and the upward
     * crossings of the wide band, which owe nothing to the ridge.
     */
    record Result(Candidates cycles, float[] wideSway, Ridge ridge, double[] crossingS, double offsetS) {}

    /** Averages a run down to the working rate. */
    float[] workingRate(float[] x) {
        return decimation == 1 ? x.clone() : Axes.averaged(x, decimation);
    }

    /** Finds the cycles of a run; null when the run is too short to hold two. */
    @org.jspecify.annotations.Nullable
    Result find(float[] sway) {
        float[] work = workingRate(sway);
        if (work.length < Math.max(32, 3 * workHz / band.cruiseHz())) {
            return null;
        }
        int pad = (int) Math.ceil(settleS() * workHz);
        float[] wideSway = ZeroPhase.filter(work, wide, pad);
        Ridge ridge = ridges.find(wideSway);
        float[] narrow = follow(wideSway, ridge, pad);
        double offsetS = (decimation - 1) / 2.0 / rateHz;
        Candidates cycles = cycles(narrow, ridge);
        shape(cycles, wideSway, narrow);
        return new Result(cycles, wideSway, ridge, crossings(wideSway), offsetS);
    }

    /** Upward zero crossings in seconds, with hysteresis of 0.3·√2 of the root mean square of ten seconds around. */
    private double[] crossings(float[] y) {
        int window = Math.max(8, (int) Math.round(10 * workHz));
        double[] found = new double[16];
        int n = 0;
        double crossing = Double.NaN;
        boolean low = false;
        float h = 0;
        for (int i = 1; i < y.length; i++) {
            if (i % window == 1) {
                double sum = 0;
                int end = Math.min(y.length, i + window);
                for (int k = i; k < end; k++) {
                    sum += y[k] * y[k];
                }
                h = (float) (HYSTERESIS * Math.sqrt(2 * sum / (end - i)));
            }
            if (y[i - 1] < 0 && y[i] >= 0) {
                crossing = i - 1 + y[i - 1] / (double) (y[i - 1] - y[i]);
            }
            if (y[i] < -h) {
                low = true;
            } else if (low && y[i] > h && !Double.isNaN(crossing)) {
                low = false;
                if (n == found.length) {
                    found = java.util.Arrays.copyOf(found, 2 * n);
                }
                found[n++] = crossing / workHz;
            }
        }
        return java.util.Arrays.copyOf(found, n);
    }

    /** Position of a frequency in the bank, 0 to n−1. */
    private double bankPosition(double hz) {
        double at = (centres.length - 1) * Math.log(hz / wideLow) / Math.log(wideHigh / wideLow);
        return Math.max(0, Math.min(centres.length - 1, at));
    }

    private float[] follow(float[] work, Ridge ridge, int pad) {
        int steps = ridge.hz().length;
        float[] position = new float[steps];
        boolean[] needed = new boolean[centres.length];
        for (int t = 0; t < steps; t++) {
            position[t] = (float) bankPosition(ridge.hz()[t]);
            needed[(int) position[t]] = true;
            needed[Math.min(centres.length - 1, (int) position[t] + 1)] = true;
        }
        float[] where = new float[work.length];
        double perSample = 1 / (ridge.stepS() * workHz);
        for (int i = 0; i < where.length; i++) {
            double at = i * perSample;
            int t = Math.min(steps - 1, (int) at);
            int u = Math.min(steps - 1, t + 1);
            where[i] = (float) (position[t] + (position[u] - position[t]) * (at - t));
        }
        float[] sum = new float[work.length];
        for (int k = 0; k < centres.length; k++) {
            if (!needed[k]) {
                continue;
            }
            float[] passed = ZeroPhase.filter(work, bank[k], pad);
            for (int i = 0; i < sum.length; i++) {
                float weight = Math.max(0, 1 - Math.abs(where[i] - k));
                sum[i] += weight * passed[i];
            }
        }
        return sum;
    }

    private Candidates cycles(float[] y, Ridge ridge) {
        Candidates found = new Candidates();
        float[] amplitude = ridge.amplitude();
        double perSample = 1 / (ridge.stepS() * workHz);
        double start = Double.NaN;
        double crossing = Double.NaN;
        boolean low = false;
        for (int i = 1; i < y.length; i++) {
            float h = HYSTERESIS * amplitude[Math.min(amplitude.length - 1, (int) (i * perSample + 0.5))];
            if (y[i - 1] < 0 && y[i] >= 0) {
                crossing = i - 1 + y[i - 1] / (double) (y[i - 1] - y[i]);
            }
            if (y[i] < -h) {
                low = true;
            } else if (low && y[i] > h && y[i] > 0) {
                low = false;
                if (!Double.isNaN(start) && !Double.isNaN(crossing)) {
                    add(found, y, ridge, start, crossing);
                }
                start = crossing;
            }
        }
        return found;
    }

    private void add(Candidates found, float[] y, Ridge ridge, double from, double to) {
        double period = (to - from) / workHz;
        double ridgeHz = ridge.hz()[ridge.stepAt((from + to) / 2 / workHz)];
        double hz = 1 / period;
        if (!(hz > wideLow / 1.4 && hz < wideHigh * 1.4 && hz * period > 0) || hz > 2 * ridgeHz || hz < 0.5 * ridgeHz) {
            return;
        }
        int first = (int) Math.ceil(from);
        int last = Math.min(y.length - 1, (int) Math.floor(to));
        int top = first;
        int bottom = first;
        for (int i = first; i <= last; i++) {
            if (y[i] > y[top]) {
                top = i;
            }
            if (y[i] < y[bottom]) {
                bottom = i;
            }
        }
        double range = refined(y, top) - refined(y, bottom);
        found.add(from / workHz, period, range / 2 / gain(hz), range, ridgeHz);
    }

    /** Gain of averaging and wide band at a beat frequency. */
    private double gain(double hz) {
        double wideGain = Math.pow(wide.gain(2 * Math.PI * hz / workHz), 2);
        double mean = decimation == 1 ? 1 : RunningMean.gain(decimation, hz, rateHz);
        return Math.max(0.1, wideGain * mean);
    }

    /** Multiplies the amplitudes by the shape factor of their group of neighbouring cycles. */
    private void shape(Candidates c, float[] wideSway, float[] narrow) {
        for (int from = 0; from < c.count; from += SHAPE_GROUP) {
            int to = Math.min(c.count, from + SHAPE_GROUP);
            // The last group reaches back so that it, too, averages over enough cycles.
            double factor = shapeFactor(c, Math.max(0, to - SHAPE_GROUP), to, wideSway, narrow);
            scale(c, from, to, factor);
        }
    }

    private static void scale(Candidates c, int from, int to, double factor) {
        for (int i = from; i < to; i++) {
            c.amplitudeG[i] *= (float) factor;
            c.peakToPeakG[i] *= (float) factor;
        }
    }

    private double shapeFactor(Candidates c, int from, int to, float[] wideSway, float[] narrow) {
        double[] broad = new double[PHASES];
        double[] slim = new double[PHASES];
        for (int i = from; i < to; i++) {
            double start = c.startS[i] * workHz;
            double length = c.periodS[i] * workHz;
            for (int p = 0; p < PHASES; p++) {
                double at = start + length * p / PHASES;
                broad[p] += at(wideSway, at);
                slim[p] += at(narrow, at);
            }
        }
        double factor = range(overtones(broad)) / Math.max(1e-12, range(overtones(slim)));
        return Math.max(0.6, Math.min(1.6, factor));
    }

    /** A cycle rebuilt from its first three harmonics: what is left of noise after averaging stays out of the range. */
    private static double[] overtones(double[] cycle) {
        double[] rebuilt = new double[PHASES];
        for (int k = 1; k <= HARMONICS; k++) {
            double cos = 0;
            double sin = 0;
            for (int p = 0; p < PHASES; p++) {
                cos += cycle[p] * Math.cos(2 * Math.PI * k * p / PHASES);
                sin += cycle[p] * Math.sin(2 * Math.PI * k * p / PHASES);
            }
            for (int p = 0; p < PHASES; p++) {
                double angle = 2 * Math.PI * k * p / PHASES;
                rebuilt[p] += 2.0 / PHASES * (cos * Math.cos(angle) + sin * Math.sin(angle));
            }
        }
        return rebuilt;
    }

    private static double at(float[] y, double where) {
        int i = Math.max(0, Math.min(y.length - 2, (int) where));
        double part = Math.max(0, Math.min(1, where - i));
        return y[i] + (y[i + 1] - y[i]) * part;
    }

    private static double range(double[] y) {
        double top = Double.NEGATIVE_INFINITY;
        double bottom = Double.POSITIVE_INFINITY;
        for (double v : y) {
            top = Math.max(top, v);
            bottom = Math.min(bottom, v);
        }
        return top - bottom;
    }

    private static double refined(float[] y, int i) {
        if (i <= 0 || i >= y.length - 1) {
            return y[i];
        }
        double left = y[i - 1];
        double mid = y[i];
        double right = y[i + 1];
        double curve = left - 2 * mid + right;
        if (curve == 0 || (mid - left) * (mid - right) < 0) {
            return mid;
        }
        double shift = 0.5 * (left - right) / curve;
        return Math.abs(shift) <= 1 ? mid - 0.25 * (left - right) * shift : mid;
    }
}
