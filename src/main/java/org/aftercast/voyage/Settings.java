package org.aftercast.voyage;

import org.aftercast.behaviour.BehaviourSettings;
import org.aftercast.fate.FateSettings;
import org.aftercast.motion.MotionSettings;

/**
 * Everything that can be adjusted about a reading. It is written into every result ({@code settings}); read back, it gives
 * the same reading to the last digit. Each part documents its names and units.
 *
 * @param motion body frame, posture, activity and tailbeats
 * @param behaviour bouts, events and recovery
 * @param fate how it ended
 */
public record Settings(MotionSettings motion, BehaviourSettings behaviour, FateSettings fate) {

    /** The defaults. */
    public static Settings defaults() {
        return new Settings(MotionSettings.defaults(), BehaviourSettings.defaults(), FateSettings.defaults());
    }
}
