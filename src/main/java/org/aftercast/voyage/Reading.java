package org.aftercast.voyage;

import java.util.List;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.fate.FateReading;
import org.aftercast.motion.Beats;
import org.aftercast.motion.MotionReading;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;

/**
 * Everything computed from one recording.
 *
 * @param softwareVersion version that computed it
 * @param settings settings it was computed with
 * @param recording what was read
 * @param motion beats, posture, activity, as found over the whole recording
 * @param beats the animal's own beats: those between release and detachment, outside the stretches in which the package
 *     was afloat, motionless or inside another animal
 * @param behaviour bouts, events, recovery
 * @param fate how it ended
 */
public record Reading(
        String softwareVersion,
        Settings settings,
        About recording,
        MotionReading motion,
        Beats beats,
        BehaviourReading behaviour,
        FateReading fate) {

    /**
     * The recording without its samples.
     *
     * @param sha256 SHA-256 of the raw download
     * @param clock start and rate
     * @param sampleCount samples on the grid
     * @param channels what was recorded
     * @param gaps runs without acceleration
     * @param flags what must be known about it
     */
    public record About(
            String sha256,
            SampleClock clock,
            long sampleCount,
            List<Channel> channels,
            List<SampleRange> gaps,
            List<Flag> flags) {

        public About {
            channels = List.copyOf(channels);
            gaps = List.copyOf(gaps);
            flags = List.copyOf(flags);
        }

        /** Length in seconds. */
        public double durationS() {
            return sampleCount / clock.sampleRateHz();
        }
    }

    /** Hours from the animal's release to its death, or to the last certain sign of life; ≥ 0. */
    public double atRiskH() {
        double release = behaviour.release().atS();
        double end = fate.changeAtS() == null
                ? fate.lastCertainSignOfLifeS()
                : fate.changeAtS().midS();
        return Math.max(0, (end - release) / 3600);
    }
}
