package org.aftercast.behaviour;

import java.util.List;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * What must be known beside the motion. Null means not known.
 *
 * @param durationS length of the recording in seconds, &gt; 0
 * @param sampleRateHz acceleration samples a second, &gt; 0
 * @param gaps runs without acceleration
 * @param releaseS when the animal was let go, seconds from the first sample; found from the record when null
 * @param detachS when the package came off, likewise; found when null
 * @param restsOnBottom whether it can lie still
 * @param lengthM body length, m
 * @param siteDepthM water depth at the release, m
 * @param sun sun times
 */
public record BehaviourInputs(
        double durationS,
        double sampleRateHz,
        List<SampleRange> gaps,
        @Nullable Double releaseS,
        @Nullable Double detachS,
        RestsOnBottom restsOnBottom,
        @Nullable Double lengthM,
        @Nullable Double siteDepthM,
        @Nullable SunTimes sun) {

    public BehaviourInputs {
        gaps = List.copyOf(gaps);
        if (!(durationS > 0) || Double.isInfinite(durationS)) {
            throw new IllegalArgumentException("durationS: " + durationS + " must be above 0 s");
        }
        if (!(sampleRateHz > 0) || Double.isInfinite(sampleRateHz)) {
            throw new IllegalArgumentException("sampleRateHz: " + sampleRateHz + " must be above 0 Hz");
        }
        if (releaseS != null && !(releaseS >= 0 && releaseS < durationS)) {
            throw new IllegalArgumentException(
                    "releaseS: " + releaseS + " is outside the recording, 0–" + durationS + " s");
        }
        if (detachS != null && !(detachS > (releaseS == null ? 0 : releaseS))) {
            throw new IllegalArgumentException("detachS: " + detachS + " s must come after the release");
        }
        if (lengthM != null && !(lengthM > 0)) {
            throw new IllegalArgumentException("lengthM: " + lengthM + " must be above 0 m");
        }
        if (siteDepthM != null && !(siteDepthM > 0)) {
            throw new IllegalArgumentException("siteDepthM: " + siteDepthM + " must be above 0 m");
        }
    }

    /** Nothing known but the recording itself. */
    public static BehaviourInputs of(double durationS, double sampleRateHz) {
        return new BehaviourInputs(
                durationS, sampleRateHz, List.of(), null, null, RestsOnBottom.UNKNOWN, null, null, null);
    }

    /** The same with another answer to whether it can lie still. */
    public BehaviourInputs with(RestsOnBottom rests) {
        return new BehaviourInputs(durationS, sampleRateHz, gaps, releaseS, detachS, rests, lengthM, siteDepthM, sun);
    }

    /** The same with given release and detachment. */
    public BehaviourInputs with(@Nullable Double release, @Nullable Double detach) {
        return new BehaviourInputs(
                durationS, sampleRateHz, gaps, release, detach, restsOnBottom, lengthM, siteDepthM, sun);
    }
}
