package org.aftercast.recording;

import org.jspecify.annotations.Nullable;

/**
 * Something about a recording that whoever uses it must know.
 *
 * @param kind what was noticed
 * @param where the samples concerned, or null when it concerns the whole recording
 * @param note one sentence for people, with numbers and units
 */
public record Flag(Kind kind, @Nullable SampleRange where, String note) {

    /** What was noticed. */
    public enum Kind {
        /** An axis at its full scale: true acceleration was at least this large. */
        CLIPPED,
        /** The same time stood on two rows; the later row was left out. */
        REPEATED_TIME,
        /** Samples came at uneven intervals; placed on the even grid. */
        RATE_JITTER,
        /** The measured rate differs from the stated one. */
        RATE_DIFFERS,
        /** Several rows shared one time stamp and were spread evenly. */
        SPREAD_WITHIN_STAMP,
        /** The clock was corrected for an offset or a drift that was given. */
        CLOCK_CORRECTED,
        /** A value outside what the sensor can measure was replaced by a missing sample. */
        IMPLAUSIBLE,
        /** A calibration was applied. */
        CALIBRATED,
        /** Something else that the layout or the guess had to assume. */
        ASSUMED
    }
}
