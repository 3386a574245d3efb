package org.aftercast.evaluation;

import java.util.Arrays;
import org.aftercast.motion.Beats;
import org.aftercast.sim.TrueKind;
import org.aftercast.sim.Truth;

/**
 * Beats found against true beats, one to one. "Start" is a convention (a rising or a falling zero crossing), so the phase
 * between the two conventions is measured first, as the circular mean over the recording, and taken out; a found beat then
 * matches a true one whose start lies within 0.35 of its period. Only seconds of swimming count; true beats weaker than
 * three times the in-band noise may be found or not.
 *
 * @param matched true beats found
 * @param missed true beats not found
 * @param wrong beats found where there is none
 * @param frequencyBias mean relative difference of single frequencies
 * @param medianFrequencyError relative difference of the two medians, absolute
 * @param amplitudeBias median relative difference of single amplitudes
 * @param inPhase length of the mean phase vector, 1 when found beats keep step with true ones
 */
record BeatScore(
        int matched,
        int missed,
        int wrong,
        double frequencyBias,
        double medianFrequencyError,
        double amplitudeBias,
        double inPhase) {

    private static final double WITHIN = 0.35;
    private static final double WEAK = 3;

    double f1() {
        return matched == 0 ? 0 : 2.0 * matched / (2.0 * matched + missed + wrong);
    }

    static BeatScore of(Truth truth, Beats found) {
        double[] start = truth.beatStartS();
        float[] period = truth.beatPeriodS();
        int n = start.length;
        double weakG = WEAK * truth.inBandNoiseG();
        boolean[] counts = new boolean[n];
        for (int k = 0; k < n; k++) {
            counts[k] = swimming(truth, start[k]) && swimming(truth, start[k] + period[k]);
        }
        double sin = 0;
        double cos = 0;
        int phases = 0;
        for (int i = 0; i < found.count(); i++) {
            int k = at(start, found.startS()[i]);
            if (k >= 0 && counts[k] && found.startS()[i] < start[k] + period[k]) {
                double q = 2 * Math.PI * (found.startS()[i] - start[k]) / period[k];
                sin += Math.sin(q);
                cos += Math.cos(q);
                phases++;
            }
        }
        double shift = Math.atan2(sin, cos) / (2 * Math.PI);
        int[] takenBy = new int[n];
        Arrays.fill(takenBy, -1);
        int wrong = 0;
        for (int i = 0; i < found.count(); i++) {
            double aligned = found.startS()[i] - shift * found.periodS()[i];
            double middle = found.startS()[i] + found.periodS()[i] / 2;
            if (!swimming(truth, found.startS()[i]) || !swimming(truth, middle)) {
                continue;
            }
            int k = nearest(start, aligned);
            boolean near = k >= 0 && Math.abs(aligned - start[k]) <= WITHIN * period[k];
            if (near && takenBy[k] < 0) {
                takenBy[k] = i;
            } else if (!(near && truth.beatAmplitudeG()[k] < weakG)) {
                wrong++;
            }
        }
        int matched = 0;
        int missed = 0;
        double frequency = 0;
        double[] amplitude = new double[n];
        double[] foundHz = new double[n];
        double[] trueHz = new double[n];
        for (int k = 0; k < n; k++) {
            if (!counts[k]) {
                continue;
            }
            int i = takenBy[k];
            if (i < 0) {
                missed += truth.beatAmplitudeG()[k] >= weakG ? 1 : 0;
                continue;
            }
            foundHz[matched] = 1 / found.periodS()[i];
            trueHz[matched] = 1 / period[k];
            frequency += foundHz[matched] / trueHz[matched] - 1;
            amplitude[matched] = found.amplitudeG()[i] / truth.beatAmplitudeG()[k] - 1;
            matched++;
        }
        double trueMedian = median(trueHz, matched);
        return new BeatScore(
                matched,
                missed,
                wrong,
                frequency / matched,
                Math.abs(median(foundHz, matched) / trueMedian - 1),
                median(amplitude, matched),
                phases == 0 ? 0 : Math.hypot(sin, cos) / phases);
    }

    /** Whether the second of this time is one of swimming and no gap is near. */
    private static boolean swimming(Truth truth, double atS) {
        int second = (int) atS;
        if (second < 0 || second >= truth.kindBySecond().length || truth.kindAt(second) != TrueKind.SWIMMING) {
            return false;
        }
        double rateHz = truth.scenario().logger().sampleRateHz();
        return truth.gaps().stream()
                .noneMatch(gap -> atS > gap.fromSample() / rateHz - 5 && atS < gap.toSample() / rateHz + 5);
    }

    private static int at(double[] start, double time) {
        int k = Arrays.binarySearch(start, time);
        return k >= 0 ? k : -k - 2;
    }

    private static int nearest(double[] start, double time) {
        int k = at(start, time);
        if (k + 1 < start.length && (k < 0 || start[k + 1] - time < time - start[k])) {
            return k + 1;
        }
        return k;
    }

    static double median(double[] values, int n) {
        if (n == 0) {
            return Double.NaN;
        }
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }
}
