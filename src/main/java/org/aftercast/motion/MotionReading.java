package org.aftercast.motion;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Everything that motion says about one recording.
 *
 * @param settings as given
 * @param bandLowHz lower edge of the tailbeat band that was used, Hz
 * @param bandHighHz upper edge, Hz
 * @param bandSource how the band was chosen, one sentence
 * @param postureCutoffHz cut-off of the low-pass that separates static from dynamic acceleration, Hz
 * @param noiseG in-band noise of the sway (standard deviation), g; NaN when the animal was never still and none given
 * @param frames body frame by stretch, in order, covering the recording
 * @param beats the tailbeats
 * @param seconds the one-per-second table
 * @param notes warnings and assumptions, one sentence each
 * @param beatRefusal why no beats were computed (sampling too slow, say), or null
 * @param methodAgreement share of the seconds with beats in which cycles of the whole band and the wavelet ridge show the
 *     same frequency within 15 %; NaN without beats
 */
public record MotionReading(
        MotionSettings settings,
        double bandLowHz,
        double bandHighHz,
        String bandSource,
        double postureCutoffHz,
        double noiseG,
        List<FrameBlock> frames,
        Beats beats,
        SecondTable seconds,
        List<String> notes,
        @Nullable String beatRefusal,
        double methodAgreement) {

    public MotionReading {
        frames = List.copyOf(frames);
        notes = List.copyOf(notes);
    }
}
