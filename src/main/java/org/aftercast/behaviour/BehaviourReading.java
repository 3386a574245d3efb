package org.aftercast.behaviour;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What the animal did, and what {@code fate} needs to judge how it ended. Times are seconds from the first sample.
 *
 * @param settings as given
 * @param inputs as given
 * @param release when the animal was let go
 * @param detachment when the package came off; {@code NOT_SEEN} at the end of the record when it stayed on
 * @param afloatFromS when the package reached the surface, or the end of the record
 * @param floatPoseStepDeg angle between the poses before and afloat, degrees; {@code NaN} when not seen
 * @param riseMps speed of the rise to the surface, m/s; {@code NaN} when none was seen
 * @param bouts in order; seconds on deck, or between detachment and surface, belong to none
 * @param events in order of onset
 * @param burstThreshold activity that starts a burst, multiples of the animal's own swimming median; {@code NaN} when it
 *     swam too little for bursts to be judged
 * @param falseBurstsPerDay seconds a day without bursts that would reach it: an upper bound of false bursts
 * @param recovery return to normal
 * @param minutes features by the minute
 * @param normal the animal's own yardsticks
 * @param still stillness that lasts to the end, or null when it moves at the end
 * @param otherBody the most likely moment from which another body moved the package, however weak, or null
 * @param lastOwnBeatS end of the last bout of swimming that is the animal's own: the last certain sign of life; the release
 *     when it never swam
 * @param notes warnings and assumptions, one sentence each
 */
public record BehaviourReading(
        BehaviourSettings settings,
        BehaviourInputs inputs,
        Moment release,
        Moment detachment,
        double afloatFromS,
        double floatPoseStepDeg,
        double riseMps,
        List<Bout> bouts,
        List<Event> events,
        double burstThreshold,
        double falseBurstsPerDay,
        RecoveryReading recovery,
        MinuteTable minutes,
        OwnNormal normal,
        @Nullable Turning still,
        @Nullable Turning otherBody,
        double lastOwnBeatS,
        List<String> notes) {

    public BehaviourReading {
        bouts = List.copyOf(bouts);
        events = List.copyOf(events);
        notes = List.copyOf(notes);
    }
}
