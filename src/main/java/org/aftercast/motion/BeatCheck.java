package org.aftercast.motion;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Questions asked of beats after they were found: whether a second method shows the same frequency, and whether they could
 * be waves. Neither removes a beat; both lower its confidence and are said in a note.
 *
 * @param beats the beats with their confidence after the questions
 * @param agreement share of the beats at which both methods agree; NaN without beats
 */
record BeatCheck(Beats beats, double agreement) {

    /** Frequencies within this factor agree. */
    private static final double NEAR = 1.15;

    private static final double LEAST_AGREEMENT = 0.9;
    private static final float WHEN_APART = 0.5f;
    private static final float WHEN_PERHAPS_WAVES = 0.2f;
    /** Seconds either side over which the frequency of crossings is a median. */
    private static final int AROUND_S = 3;

    private static final double WAVE_LOW_HZ = 0.1;
    private static final double WAVE_HIGH_HZ = 0.7;
    private static final double GRAVITY = 9.81;
    private static final double LEAST_WAVE_SHARE = 0.01;

    static BeatCheck of(
            Beats beats, float[] ridgeHz, float[] crossingHz, float[] waveRmsG, float[] depthM, List<String> notes) {
        int n = beats.count();
        float[] confidence = beats.confidence().clone();
        int agree = 0;
        int waves = 0;
        for (int i = 0; i < n; i++) {
            int k = (int) Math.min(ridgeHz.length - 1, Math.max(0, beats.startS()[i] + beats.periodS()[i] / 2));
            double ratio = around(crossingHz, k) / ridgeHz[k];
            if (ratio <= NEAR && ratio >= 1 / NEAR) {
                agree++;
            } else {
                confidence[i] *= WHEN_APART;
            }
            if (perhapsWave(1 / beats.periodS()[i], beats.amplitudeG()[i], waveRmsG[k], depthM[k])) {
                confidence[i] = Math.min(confidence[i], WHEN_PERHAPS_WAVES);
                waves++;
            }
        }
        double agreement = n == 0 ? Double.NaN : agree / (double) n;
        if (agreement < LEAST_AGREEMENT) {
            notes.add(String.format(
                    Locale.ROOT,
                    "Cycles of the whole band and the wavelet ridge show the same beat frequency (within 15 %%) at only"
                            + " %.0f %% of the beats; the others have half their confidence.",
                    100 * agreement));
        }
        if (waves > 0.01 * n) {
            notes.add(String.format(
                    Locale.ROOT,
                    "%.1f %% of the beats are near the surface, slow as waves, and no stronger sideways than up and down:"
                            + " they may be waves or the boat's motion (confidence at most 0.2).",
                    100.0 * waves / n));
        }
        return new BeatCheck(
                new Beats(beats.startS(), beats.periodS(), beats.amplitudeG(), beats.peakToPeakG(), confidence),
                agreement);
    }

    /** Median over some seconds around; NaN when none is known. */
    private static double around(float[] x, int k) {
        float[] near = Arrays.copyOfRange(x, Math.max(0, k - AROUND_S), Math.min(x.length, k + AROUND_S + 1));
        Arrays.sort(near); // NaN last
        int known = near.length;
        while (known > 0 && Float.isNaN(near[known - 1])) {
            known--;
        }
        return known == 0 ? Double.NaN : near[known / 2];
    }

    /**
     * Whether vertical motion at wave frequencies is as strong as the beat, where waves still reach: in deep water their
     * motion fades as exp(−(2πf)²z/g), and below one hundredth of it waves do not count. Unknown depth is no objection.
     */
    static boolean perhapsWave(double hz, double amplitudeG, double waveRmsG, double depthM) {
        if (hz < WAVE_LOW_HZ || hz > WAVE_HIGH_HZ || !(Math.sqrt(2) * waveRmsG >= amplitudeG)) {
            return false;
        }
        double omega = 2 * Math.PI * hz;
        return !(Math.exp(-omega * omega * depthM / GRAVITY) < LEAST_WAVE_SHARE);
    }
}
