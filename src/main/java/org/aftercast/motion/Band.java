package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.aftercast.signal.Spectrum;
import org.jspecify.annotations.Nullable;

/**
 * The tailbeat band of one recording.
 *
 * @param lowHz lower edge
 * @param highHz upper edge
 * @param cruiseHz the animal's common beat frequency, from which posture cut-off and windows follow
 * @param source how it was chosen, one sentence
 * @param refusal why beats cannot be computed, or null
 */
record Band(
        double lowHz,
        double highHz,
        double cruiseHz,
        String source,
        @Nullable String refusal) {

    private static final String GIVEN = "given";

    /** Fewest samples per beat for a frequency (motion methods: default warning below 4). */
    static final double LEAST_SAMPLES_PER_BEAT = 4;

    private static final double LOWEST_HZ = 0.08;
    private static final double HIGHEST_HZ = 10;
    private static final int MOST_WINDOWS = 480;
    private static final double WINDOW_S = 60;
    /** Sway moves the animal across gravity; waves and breathing move it up and down as much or more. */
    private static final double LEAST_OVER_VERTICAL = 1.5;
    /** Peaks weaker than this share of the strong ones (power) do not vote. */
    private static final double LEAST_POWER_SHARE = 0.05;

    /** Whether the user gave the band; then cruiseHz is only its middle. */
    boolean given() {
        return source.equals(GIVEN);
    }

    static Band choose(Recording recording, Scan scan, MotionSettings settings) {
        double rate = recording.clock().sampleRateHz();
        Double low = settings.bandLowHz();
        Double high = settings.bandHighHz();
        double nyquistGuard = 0.45 * rate;
        if (low != null && high != null) {
            String refusal = high > nyquistGuard
                    ? String.format(
                            Locale.ROOT,
                            "the band up to %.3g Hz needs at least %.3g samples per second; the recording has %.3g",
                            high,
                            high / 0.45,
                            rate)
                    : low * LEAST_SAMPLES_PER_BEAT > rate ? tooSlow(low, rate) : null;
            return new Band(low, high, Math.sqrt(low * high), GIVEN, refusal);
        }
        double searchHigh = Math.min(HIGHEST_HZ, 0.48 * rate);
        Double length = settings.lengthM();
        double expected = length == null ? Double.NaN : BeatPlausibility.usualHz(length);
        if (expected > rate / LEAST_SAMPLES_PER_BEAT) {
            return new Band(
                    expected / 3, expected * 3, expected, "expected from the body length", tooSlow(expected, rate));
        }
        List<double[]> peaks = peaks(recording, scan, searchHigh, expected);
        double cruise = weightedMedian(peaks);
        if (cruise > rate / LEAST_SAMPLES_PER_BEAT) {
            return new Band(
                    cruise / 3,
                    nyquistGuard,
                    cruise,
                    "the commonest spectral peak of the recording",
                    tooSlow(cruise, rate));
        }
        if (Double.isNaN(cruise)) {
            double centre = Double.isNaN(expected) ? Math.min(1, rate / 8) : expected;
            return new Band(
                    Math.max(LOWEST_HZ, 0.3 * centre),
                    Math.min(nyquistGuard, 4 * centre),
                    centre,
                    Double.isNaN(expected)
                            ? "no steady beat found in the recording; the usual band around 1 Hz"
                            : "no steady beat found in the recording; expected from the body length",
                    null);
        }
        String source = String.format(
                Locale.ROOT,
                "around the commonest spectral peak of the recording, %.3g Hz (%d stretches of %.0f s looked at)",
                cruise,
                peaks.size(),
                WINDOW_S);
        if (across(peaks).isEmpty()) {
            source +=
                    "; in none of them did it move the animal more across gravity than along it, so it may be no tailbeat";
        }
        if (!Double.isNaN(expected)) {
            source += String.format(Locale.ROOT, ", body length speaks for about %.2g Hz", expected);
        }
        return new Band(
                Math.max(LOWEST_HZ / 2, 0.35 * cruise), Math.min(nyquistGuard, 4.5 * cruise), cruise, source, null);
    }

    private static String tooSlow(double hz, double rate) {
        return String.format(
                Locale.ROOT,
                "beats of %.3g Hz need at least %.0f samples each (%.3g per second); the recording has %.3g per second",
                hz,
                LEAST_SAMPLES_PER_BEAT,
                hz * LEAST_SAMPLES_PER_BEAT,
                rate);
    }

    /** Peak frequency and weight of evenly spread stretches. */
    private static List<double[]> peaks(Recording recording, Scan scan, double searchHigh, double expected) {
        double rate = recording.clock().sampleRateHz();
        int window = (int) Math.round(WINDOW_S * rate);
        List<SampleRange> windows = new ArrayList<>();
        long total = 0;
        for (SampleRange piece : scan.pieces()) {
            total += piece.sampleCount();
        }
        long stride = Math.max(window, total / MOST_WINDOWS);
        for (SampleRange piece : scan.pieces()) {
            if (piece.sampleCount() < window) {
                if (piece.sampleCount() >= window / 3 && piece.sampleCount() >= 64) {
                    windows.add(piece);
                }
                continue;
            }
            for (long at = piece.fromSample(); at + window <= piece.toSample(); at += stride) {
                windows.add(new SampleRange(at, at + window));
            }
        }
        List<double[]> all = IntStream.range(0, windows.size())
                .parallel()
                .mapToObj(i -> {
                    double[] p = peak(recording, windows.get(i), searchHigh, expected);
                    long middle = (windows.get(i).fromSample() + windows.get(i).toSample()) / 2;
                    int second = (int) Math.min(scan.depthM().length - 1, Math.round(middle / rate));
                    return new double[] {p[0], p[1], p[2], scan.depthM()[second]};
                })
                .filter(p -> p[1] > 0)
                .toList();
        List<double[]> across = across(all);
        return theDeeperHalf(theStronger(across.isEmpty() ? all : across));
    }

    private static List<double[]> across(List<double[]> peaks) {
        return peaks.stream().filter(p -> p[2] > LEAST_OVER_VERTICAL).toList();
    }

    /** Without the stretches whose peak is weak beside the strong ones: breathing of an animal at rest, say. */
    private static List<double[]> theStronger(List<double[]> peaks) {
        double[] power = peaks.stream().mapToDouble(p -> p[1]).sorted().toArray();
        if (power.length == 0) {
            return peaks;
        }
        double least = LEAST_POWER_SHARE * power[(int) (0.9 * (power.length - 1))];
        return peaks.stream().filter(p -> p[1] >= least).toList();
    }

    /** Where depth is known, the deeper half of the stretches: waves fade with depth, the beat does not. */
    private static List<double[]> theDeeperHalf(List<double[]> peaks) {
        double[] sorted = peaks.stream()
                .mapToDouble(p -> p[3])
                .filter(d -> !Double.isNaN(d))
                .sorted()
                .toArray();
        if (sorted.length < 8) {
            return peaks;
        }
        double limit = sorted[sorted.length / 2];
        return peaks.stream().filter(p -> Double.isNaN(p[3]) || p[3] >= limit).toList();
    }

    /** Frequency and power of the highest peak of a stretch (power 0: none), and its power over that along gravity. */
    private static double[] peak(Recording recording, SampleRange window, double searchHigh, double expected) {
        int averaged = Math.max(1, (int) (recording.clock().sampleRateHz() / (4 * searchHigh)));
        double rate = recording.clock().sampleRateHz() / averaged;
        Axes axes = Axes.read(recording.samples(), window).averaged(averaged);
        int segment = Math.max(32, axes.x().length / 2);
        // Only what moves across gravity: the sway does, heave in waves does not.
        double[][] across = components(axes);
        Spectrum first = Spectrum.welch(across[0], rate, segment);
        Spectrum second = Spectrum.welch(across[1], rate, segment);
        Spectrum vertical = Spectrum.welch(across[2], rate, segment);
        double step = first.stepHz();
        double[] trace = first.density();
        for (int k = 0; k < trace.length; k++) {
            trace[k] += second.density()[k];
        }
        // Height over the background, the median of the octave around, so that slow posture changes do not win.
        int best = -1;
        double bestHeight = 0;
        for (int k = 2; k < trace.length - 1; k++) {
            double hz = k * step;
            if (hz < LOWEST_HZ || hz > searchHigh) {
                continue;
            }
            if (trace[k] < trace[k - 1] || trace[k] < trace[k + 1]) {
                continue;
            }
            double background = median(trace, (int) (k / 2.0), Math.min(trace.length, 2 * k + 2));
            double height = trace[k] * hz / Math.max(background * hz, 1e-30);
            double power = trace[k] * hz;
            double score = power * Math.log(Math.max(1, height));
            if (!Double.isNaN(expected)) {
                double octaves = Math.log(hz / expected) / Math.log(2);
                score *= Math.exp(-0.5 * octaves * octaves / (0.9 * 0.9));
            }
            if (height > 6 && score > bestHeight) {
                best = k;
                bestHeight = score;
            }
        }
        if (best < 0) {
            return new double[] {Double.NaN, 0, 0};
        }
        Spectrum s = new Spectrum(step, trace);
        double hz = s.peakHz((best - 1.5) * step, (best + 1.5) * step);
        double over = 0;
        double along = 0;
        for (int k = best - 1; k <= best + 1; k++) {
            over += trace[k];
            along += vertical.density()[k];
        }
        return new double[] {
            Double.isNaN(hz) ? best * step : hz, trace[best] * best * step, over / Math.max(along, 1e-30)
        };
    }

    /** The two components of a stretch across its own mean gravity, and the one along it. */
    private static double[][] components(Axes axes) {
        int n = axes.x().length;
        double gx = 0;
        double gy = 0;
        double gz = 0;
        for (int i = 0; i < n; i++) {
            gx += axes.x()[i];
            gy += axes.y()[i];
            gz += axes.z()[i];
        }
        double[] r = Math.sqrt(gx * gx + gy * gy + gz * gz) > 0
                ? Posture.levelling(gx, gy, gz)
                : new double[] {1, 0, 0, 0, 1, 0, 0, 0, 1};
        double[][] across = new double[3][n];
        for (int i = 0; i < n; i++) {
            double x = axes.x()[i];
            double y = axes.y()[i];
            double z = axes.z()[i];
            across[0][i] = r[0] * x + r[1] * y + r[2] * z;
            across[1][i] = r[3] * x + r[4] * y + r[5] * z;
            across[2][i] = r[6] * x + r[7] * y + r[8] * z;
        }
        return across;
    }

    private static double median(double[] x, int from, int to) {
        double[] part = Arrays.copyOfRange(x, Math.max(1, from), Math.max(Math.max(1, from) + 1, to));
        Arrays.sort(part);
        return part[part.length / 2];
    }

    /** Median on the logarithmic scale of the commonest cluster (one octave wide) of peaks; NaN when there are none. */
    private static double weightedMedian(List<double[]> peaks) {
        if (peaks.isEmpty()) {
            return Double.NaN;
        }
        double[] hz = peaks.stream().mapToDouble(p -> p[0]).sorted().toArray();
        int bestFrom = 0;
        int bestTo = 0;
        for (int from = 0, to = 0; from < hz.length; from++) {
            while (to < hz.length && hz[to] <= 2 * hz[from]) {
                to++;
            }
            if (to - from > bestTo - bestFrom) {
                bestFrom = from;
                bestTo = to;
            }
        }
        return hz[(bestFrom + bestTo) / 2];
    }
}
