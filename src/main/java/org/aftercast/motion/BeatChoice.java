package org.aftercast.motion;

import java.util.Arrays;
import java.util.List;

/**
 * From cycles to tailbeats: the noise floor, the smallest amplitude that counts, and runs.
 *
 * <p>A beat needs an amplitude above k times the noise that its own filter lets through, judged over a run: a run of
 * cycles with steady period counts when its mean amplitude is above the threshold, and each of its cycles is above half of
 * it; a single cycle is never a beat. Cycles below a set share of the animal's own usual amplitude are not beats either
 * (the small movements of breathing at rest).
 */
final class BeatChoice {

    /** A beat is at least this share of the animal's own upper-quartile amplitude. */
    private static final double LEAST_RELATIVE = 0.15;

    private static final int LEAST_RUN = 2;

    private final double noiseG;
    private final Beats beats;

    BeatChoice(
            FrameMotion.Part motion,
            double rateHz,
            SwayCycles sway,
            Band band,
            MotionSettings settings,
            List<String> notes) {
        int window = FrameMotion.noiseWindowS(band);
        Double given = settings.noiseG();
        this.noiseG = given != null
                ? given
                : noise(
                        motion.swayRms,
                        motion.ridgeAmplitude,
                        motion.roughG,
                        rateHz,
                        sway.bandwidthHz(),
                        window,
                        notes);
        this.beats = choose(motion.cycles, sway, settings.noiseMultiple());
    }

    double noiseG() {
        return noiseG;
    }

    Beats beats() {
        return beats;
    }

    /**
     * In-band noise: from windows without a steady oscillation when there are any, else what the roughness between
     * samples implies (white noise), which is a lower bound on what the sea adds.
     */
    private static double noise(
            float[] swayRms,
            float[] ridgeAmplitude,
            float[] roughG,
            double rateHz,
            double bandwidthHz,
            int window,
            List<String> notes) {
        int n = swayRms.length / window;
        double[] still = new double[n];
        double[] strong = new double[n];
        double[] rough = new double[n];
        int stills = 0;
        int strongs = 0;
        int roughs = 0;
        for (int w = 0; w < n; w++) {
            double power = 0;
            double ridge = 0;
            double roughest = 0;
            boolean whole = true;
            for (int k = w * window; k < (w + 1) * window; k++) {
                whole &= !Float.isNaN(swayRms[k]) && !Float.isNaN(roughG[k]);
                power += swayRms[k] * swayRms[k];
                ridge += ridgeAmplitude[k] * ridgeAmplitude[k] / 2;
                roughest += roughG[k] * roughG[k];
            }
            if (!whole) {
                continue;
            }
            rough[roughs++] = Math.sqrt(roughest / window);
            double rms = Math.sqrt(power / window);
            if (ridge > 0.7 * power) {
                strong[strongs++] = rms;
            } else if (ridge < 0.55 * power) {
                still[stills++] = rms;
            }
        }
        double white = Double.NaN;
        if (roughs > 0) {
            double[] sorted = Arrays.copyOf(rough, roughs);
            Arrays.sort(sorted);
            white = sorted[(int) (0.1 * (roughs - 1))] * Math.sqrt(2 * bandwidthHz / rateHz);
        }
        double[] quiet = Arrays.copyOf(still, stills);
        Arrays.sort(quiet);
        double usual = Double.POSITIVE_INFINITY;
        if (strongs > 0) {
            double[] sorted = Arrays.copyOf(strong, strongs);
            Arrays.sort(sorted);
            usual = sorted[strongs / 2];
        }
        int kept = 0;
        while (kept < stills && quiet[kept] < 0.6 * usual) {
            kept++;
        }
        if (kept >= 5) {
            return quiet[kept / 3];
        }
        notes.add(
                "The animal was never still long enough to measure the noise in the beat band; the noise is inferred from"
                        + " the roughness between samples and may be too low.");
        return white;
    }

    private Beats choose(Candidates c, SwayCycles sway, double multiple) {
        float[] share = new float[c.count];
        double floor = Double.isNaN(noiseG) ? 0 : noiseG;
        for (int i = 0; i < c.count; i++) {
            double narrowNoise = floor * Math.sqrt(sway.narrowShare(1 / c.periodS[i]));
            share[i] = narrowNoise > 0 ? (float) (c.amplitudeG[i] / (multiple * narrowNoise)) : Float.MAX_VALUE;
        }
        double least = LEAST_RELATIVE * usualAmplitude(c, share);
        boolean[] keep = new boolean[c.count];
        int i = 0;
        while (i < c.count) {
            if (!eligible(c, share, i, least)) {
                i++;
                continue;
            }
            int j = i + 1;
            double sum = Math.min(share[i], 1e6);
            while (j < c.count && eligible(c, share, j, least) && follows(c, j)) {
                sum += Math.min(share[j], 1e6);
                j++;
            }
            if (j - i >= LEAST_RUN && sum / (j - i) >= 1) {
                Arrays.fill(keep, i, j, true);
            } else if (j - i >= LEAST_RUN) {
                keepStrongStretches(share, keep, i, j);
            }
            i = j;
        }
        return collect(c, keep, share, multiple);
    }

    private static boolean eligible(Candidates c, float[] share, int i, double least) {
        return share[i] >= 0.5 && c.amplitudeG[i] >= least;
    }

    /** Whether cycle i starts where cycle i−1 ended, and its period is within a factor 1.8 of it. */
    private static boolean follows(Candidates c, int i) {
        double gap = c.startS[i] - (c.startS[i - 1] + c.periodS[i - 1]);
        double ratio = c.periodS[i] / c.periodS[i - 1];
        return Math.abs(gap) < 0.25 * c.periodS[i] && ratio < 1.8 && ratio > 1 / 1.8;
    }

    /** Within a run that is weak on the whole, keeps stretches of at least three cycles above the threshold. */
    private static void keepStrongStretches(float[] share, boolean[] keep, int from, int to) {
        int i = from;
        while (i < to) {
            int j = i;
            while (j < to && share[j] >= 1) {
                j++;
            }
            if (j - i >= 3) {
                Arrays.fill(keep, i, j, true);
            }
            i = Math.max(j, i + 1);
        }
    }

    /** Upper quartile of the amplitudes of cycles clear of the noise; 0 when there are none. */
    private static double usualAmplitude(Candidates c, float[] share) {
        double[] clear = new double[c.count];
        int n = 0;
        for (int i = 0; i < c.count; i++) {
            if (share[i] >= 1) {
                clear[n++] = c.amplitudeG[i];
            }
        }
        if (n == 0) {
            return 0;
        }
        double[] sorted = Arrays.copyOf(clear, n);
        Arrays.sort(sorted);
        return sorted[(int) (0.75 * (n - 1))];
    }

    private static Beats collect(Candidates c, boolean[] keep, float[] share, double multiple) {
        int n = 0;
        for (boolean k : keep) {
            n += k ? 1 : 0;
        }
        double[] start = new double[n];
        float[] period = new float[n];
        float[] amplitude = new float[n];
        float[] peakToPeak = new float[n];
        float[] confidence = new float[n];
        int at = 0;
        for (int i = 0; i < c.count; i++) {
            if (!keep[i]) {
                continue;
            }
            start[at] = c.startS[i];
            period[at] = c.periodS[i];
            amplitude[at] = (float) lessNoise(c.amplitudeG[i], share[i] * multiple);
            peakToPeak[at] = c.peakToPeakG[i];
            double off = Math.abs(Math.log(c.periodS[i] * c.ridgeHz[i]));
            double strength = 1 - Math.exp(-1.5 * Math.min(share[i], 10) * Math.min(share[i], 10));
            confidence[at] = (float) (strength * Math.exp(-2 * off * off / 0.09 / 4));
            at++;
        }
        return new Beats(start, period, amplitude, peakToPeak, confidence);
    }

    /**
     * Takes the noise out of an amplitude. The extreme of A·cos(ωt) with a little noise n beside it is A + n + n'²/(2Aω²),
     * so the mean is raised by σ'²/(2Aω²), where σ'²/ω² = σ²·m and m is the mean square of frequency over ω² in the band
     * that follows the beat; undone as A = R·√(1 − m·σ²/R²), which agrees to first order.
     *
     * @param ratio amplitude over σ
     */
    private static double lessNoise(double amplitude, double ratio) {
        double m = SwayCycles.MEAN_SQUARE_IN_REACH;
        return ratio > 1.5 * Math.sqrt(m) ? amplitude * Math.sqrt(1 - m / (ratio * ratio)) : amplitude;
    }
}
