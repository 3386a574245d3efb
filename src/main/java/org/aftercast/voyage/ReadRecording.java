package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.behaviour.BehaviourInputs;
import org.aftercast.behaviour.BehaviourReader;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.SunTimes;
import org.aftercast.fate.FateInputs;
import org.aftercast.fate.FateReader;
import org.aftercast.fate.FateReading;
import org.aftercast.motion.Beats;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionReading;
import org.aftercast.recording.Recording;
import org.jspecify.annotations.Nullable;

/**
 * Reads one recording: motion, then behaviour, then fate. This is the whole path from samples to result; the rooms that do
 * the work are {@code motion}, {@code behaviour} and {@code fate}.
 */
public final class ReadRecording {

    private ReadRecording() {}

    /**
     * Reads.
     *
     * @param recording the recording
     * @param context what is known about the animal
     * @param settings what can be adjusted
     * @throws BadInputException if times are given for a recording without time of day, or lie outside it
     */
    public static Reading read(Recording recording, ReadContext context, Settings settings) throws BadInputException {
        Double releaseS = seconds("release", recording, context.releaseUtc());
        Double detachS = seconds("detachment", recording, context.detachUtc());
        if (detachS != null && detachS > recording.durationS()) {
            detachS = null; // it stayed on to the end of the record
        }
        checkOrder(recording, releaseS, detachS);
        MotionReading motion = MotionReader.read(recording, settings.motion());
        BehaviourReading behaviour = BehaviourReader.read(
                motion,
                new BehaviourInputs(
                        recording.durationS(),
                        recording.clock().sampleRateHz(),
                        recording.gaps(),
                        releaseS,
                        detachS,
                        context.restsOnBottom(),
                        settings.motion().lengthM(),
                        context.siteDepthM(),
                        sun(recording, context)),
                settings.behaviour());
        Double plannedS = seconds("planned detachment", recording, context.plannedDetachUtc());
        FateReading fate = FateReader.read(
                behaviour,
                new FateInputs(plannedS, context.recordEnd(), context.sightings(), context.yardstick()),
                settings.fate());
        Reading.About about = new Reading.About(
                recording.sourceSha256(),
                recording.clock(),
                recording.samples().sampleCount(),
                new ArrayList<>(recording.samples().channels()),
                recording.gaps(),
                recording.flags());
        return new Reading(Version.current(), settings, about, motion, own(motion.beats(), behaviour), behaviour, fate);
    }

    /** Seconds from the first sample to an instant; null when there is no instant. */
    private static @Nullable Double seconds(String what, Recording recording, @Nullable Instant instant)
            throws BadInputException {
        if (instant == null) {
            return null;
        }
        Instant start = recording.clock().startUtc();
        if (start == null) {
            throw new BadInputException("The " + what + " is given as " + instant
                    + ", but the recording carries no time of day; accepted: a recording with a start (--start), or no "
                    + what + " time, and it is looked for in the record.");
        }
        return Duration.between(start, instant).toNanos() / 1e9;
    }

    private static void checkOrder(Recording recording, @Nullable Double releaseS, @Nullable Double detachS)
            throws BadInputException {
        if (releaseS != null && (releaseS < 0 || releaseS >= recording.durationS())) {
            Instant start = recording.clock().startUtc();
            throw new BadInputException("The release lies "
                    + (releaseS < 0 ? "before the recording begins" : "after the recording ends")
                    + "; accepted: a time from "
                    + start + " to " + recording.clock().instantAt(recording.durationS()) + ".");
        }
        if (releaseS != null && detachS != null && detachS <= releaseS) {
            throw new BadInputException("The detachment does not come after the release; accepted: a later time.");
        }
    }

    private static @Nullable SunTimes sun(Recording recording, ReadContext context) {
        Instant start = recording.clock().startUtc();
        Double latitude = context.latitudeDeg();
        Double longitude = context.longitudeDeg();
        if (start == null || latitude == null || longitude == null) {
            return null;
        }
        return SunOverRecording.times(start, recording.durationS(), latitude, longitude);
    }

    /** The animal's own beats. */
    static Beats own(Beats all, BehaviourReading behaviour) {
        double from = behaviour.release().atS();
        double to = behaviour.detachment().atS();
        List<Bout> bouts = behaviour.bouts();
        boolean[] keep = new boolean[all.count()];
        int kept = 0;
        int b = 0;
        for (int i = 0; i < keep.length; i++) {
            double at = all.startS()[i];
            while (b < bouts.size() && bouts.get(b).endS() <= at) {
                b++;
            }
            BoutKind kind = b < bouts.size() && bouts.get(b).startS() <= at
                    ? bouts.get(b).kind()
                    : null;
            keep[i] = at >= from
                    && at < to
                    && kind != BoutKind.AFLOAT
                    && kind != BoutKind.INSIDE_PREDATOR
                    && kind != BoutKind.MOTIONLESS;
            kept += keep[i] ? 1 : 0;
        }
        double[] start = new double[kept];
        float[] period = new float[kept];
        float[] amplitude = new float[kept];
        float[] peakToPeak = new float[kept];
        float[] confidence = new float[kept];
        for (int i = 0, k = 0; i < keep.length; i++) {
            if (keep[i]) {
                start[k] = all.startS()[i];
                period[k] = all.periodS()[i];
                amplitude[k] = all.amplitudeG()[i];
                peakToPeak[k] = all.peakToPeakG()[i];
                confidence[k++] = all.confidence()[i];
            }
        }
        return new Beats(start, period, amplitude, peakToPeak, confidence);
    }
}
