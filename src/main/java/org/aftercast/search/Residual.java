package org.aftercast.search;

import java.time.Instant;

/**
 * How one bearing agrees with everything known now.
 *
 * @param number of the observation, from 0 in order of entry
 * @param time when it was taken
 * @param trueBearingDeg the bearing, corrected to true
 * @param how the correction in words
 * @param meanDeg mean angle from where the package was to the bearing, −180 to 180, clockwise positive
 * @param backShare probability that it was the back of the antenna
 * @param wildShare probability that it meant nothing
 * @param verdict what to do with it
 */
public record Residual(
        int number,
        Instant time,
        double trueBearingDeg,
        String how,
        double meanDeg,
        double backShare,
        double wildShare,
        Verdict verdict) {

    /** What to do with a bearing. */
    public enum Verdict {
        /** Agrees. */
        AGREES,
        /** Likely the back of the antenna. */
        LIKELY_BACK,
        /** Likely wrong: take it again, ask which frequency was tuned. */
        LIKELY_WRONG
    }
}
