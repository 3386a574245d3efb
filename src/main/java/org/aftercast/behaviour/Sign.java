package org.aftercast.behaviour;

/**
 * One thing seen in the record that speaks for or against a change.
 *
 * @param what what was measured
 * @param value the number, in the unit that {@link What} states
 * @param reference what it is compared with, same unit; {@code NaN} when there is nothing to compare
 * @param logOdds natural log-odds it adds for the change (negative: against)
 * @param fromS start of the stretch it was measured on, seconds from the first sample
 * @param toS end of that stretch
 */
public record Sign(What what, double value, double reference, double logOdds, double fromS, double toS) {

    /** What was measured. */
    public enum What {
        /** Hours without a tailbeat to the end; reference: longest earlier rest, h. */
        STILL_HOURS,
        /** The same where sampling is too slow for tailbeats: hours without movement; reference: longest earlier rest, h. */
        MOTIONLESS_HOURS,
        /** Smoothness of the movement left (1: sensor noise alone); reference: in earlier rests. */
        BREATHING,
        /** Sway in the stretch over sway in earlier rests. */
        QUIETER_THAN_REST,
        /** Minutes of movement after the stillness began; reference: angle of its pose from the swimming pose, degrees. */
        MOVED_LATER,
        /** Largest angle between ten-minute poses, degrees; reference: in earlier rests. */
        POSE_FIXED,
        /** Median angle between successive ten-minute poses in a stretch without a beat, degrees; reference: in earlier rests. */
        POSE_WANDERS,
        /** Angle of the pose from the animal's own swimming pose, degrees. */
        POSE_TURNED,
        /** Metres sunk without a beat right before; reference: speed in m/s. */
        SANK,
        /** Depth at which it came to lie, m; reference: depth of the site, m. */
        CAME_TO_SITE_DEPTH,
        /** Standard deviation of depth after the tide was taken out, m; reference: before, raw. */
        DEPTH_STEADY,
        /** Angle between the mean pose before and after, degrees; reference: spread before. */
        POSE_STEP,
        /** Natural logarithm of beat frequency after over before; reference: own spread. */
        BEAT_STEP,
        /** Beat frequency after the change, Hz; reference: usual for an animal of this length, Hz. */
        BEAT_FOR_LENGTH,
        /** Natural logarithm of beat amplitude after over before; reference: own spread. */
        AMPLITUDE_STEP,
        /** Mean temperature above what the depth would give, °C; reference: own spread about it. */
        WARM,
        /** Without depth: median temperature above the warmest minute before, °C; reference: that minute, °C. */
        WARMER_THAN_BEFORE,
        /** Spread of temperature about what the depth would give over the spread before; 1: follows as before. */
        TEMPERATURE_FOLLOWS,
        /** Size of the burst at the change; reference: largest burst elsewhere. */
        ATTACK,
        /** Share of seconds with depth; without depth a package afloat or on deck looks like one inside another animal. */
        NO_DEPTH,
        /** Hours over which the changed movement lasted. */
        CHANGED_HOURS;

        /** Whether it says that the package was warmer than the water. */
        public boolean isWarmth() {
            return this == WARM || this == WARMER_THAN_BEFORE;
        }
    }
}
