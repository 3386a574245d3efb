package org.aftercast.motion;

/**
 * Tailbeats, one entry per beat in time order, as parallel arrays (no object per beat).
 *
 * @param startS start of each beat in seconds from the first sample of the recording
 * @param periodS period of each beat in seconds
 * @param amplitudeG half the peak-to-peak sway acceleration within the beat, in g, corrected for filter loss
 * @param peakToPeakG peak-to-peak sway acceleration within the beat, in g, as measured
 * @param confidence 0–1: how sure it is that this is a tailbeat
 */
public record Beats(double[] startS, float[] periodS, float[] amplitudeG, float[] peakToPeakG, float[] confidence) {

    public Beats {
        int n = startS.length;
        if (periodS.length != n || amplitudeG.length != n || peakToPeakG.length != n || confidence.length != n) {
            throw new IllegalArgumentException("beats: the arrays differ in length");
        }
    }

    /** Number of beats. */
    public int count() {
        return startS.length;
    }
}
