package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;

/**
 * Reads motion from a recording, in three passes over fixed frames:
 *
 * <ol>
 *   <li>{@link Scan}: where acceleration is present; depth and temperature by the second; then {@link Band}: the tailbeat
 *       band from evenly spread stretches;
 *   <li>{@link Blocks}: gravity and band-passed covariance by short blocks; then {@link BodyFrame};
 *   <li>{@link FrameMotion}: posture, activity and cycles in the body frame; then {@link BeatChoice}: which cycles are
 *       tailbeats.
 * </ol>
 */
public final class MotionReader {

    /** A small fish cruises at up to about this frequency. */
    private static final double FASTEST_USUAL_HZ = 4;

    private static final float SATURATED_QUALITY = 0.5f;

    private MotionReader() {}

    /**
     * Reads one recording. The result depends on the samples and the settings only, not on the number of threads.
     *
     * @param recording needs the three acceleration axes; depth or pressure and temperature are used when present
     * @param settings what is given; the rest is found from the data
     * @throws IllegalArgumentException if an acceleration axis is missing or the recording holds less than 2 s
     */
    public static MotionReading read(Recording recording, MotionSettings settings) {
        for (Channel axis : new Channel[] {Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z}) {
            if (!recording.has(axis)) {
                throw new IllegalArgumentException(
                        "recording: " + axis.columnName() + " is missing; motion needs all three acceleration axes");
            }
        }
        double rate = recording.clock().sampleRateHz();
        if (recording.durationS() < 2 || recording.samples().sampleCount() < 32) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT,
                    "recording: %.3g s with %d samples is too short; at least 2 s and 32 samples are needed",
                    recording.durationS(),
                    recording.samples().sampleCount()));
        }
        return read(recording, settings, new Frames(rate, recording.samples().sampleCount()));
    }

    static MotionReading read(Recording recording, MotionSettings settings, Frames frames) {
        double rate = recording.clock().sampleRateHz();
        List<String> notes = new ArrayList<>();
        Scan scan = Scan.of(recording, frames, settings);
        if (scan.bridgedSamples() > 0) {
            notes.add(String.format(
                    Locale.ROOT,
                    "%d missing samples in runs of at most %.2f s were bridged by straight lines.",
                    scan.bridgedSamples(),
                    settings.bridgeS()));
        }
        notes.addAll(scan.saturation().notes());
        Band band = Band.choose(recording, scan, settings);
        warnOfSampling(band, rate, settings, notes);
        String question = band.given() ? null : BeatPlausibility.question(band.cruiseHz(), settings.lengthM());
        if (question != null) {
            notes.add(question);
        }
        List<FrameBlock> bodyFrames = settings.mounts().isEmpty()
                ? new BodyFrame(Blocks.of(recording, frames, scan, band), scan.depthM(), notes)
                        .find(recording.durationS())
                : given(settings.mounts(), recording.durationS(), notes);
        double cutoff = Math.min(band.cruiseHz() / 3, 0.4 * rate);
        SwayCycles sway = new SwayCycles(usable(band, rate), rate);
        FrameMotion motion = new FrameMotion(recording, frames, scan, band, settings, bodyFrames, cutoff, sway);
        List<FrameMotion.Part> parts = IntStream.range(0, frames.count())
                .parallel()
                .mapToObj(motion::compute)
                .toList();
        return assemble(recording, settings, frames, scan, band, bodyFrames, cutoff, sway, parts, notes);
    }

    private static List<FrameBlock> given(List<MountPose> mounts, double durationS, List<String> notes) {
        List<FrameBlock> frames = new ArrayList<>();
        for (int i = 0; i < mounts.size(); i++) {
            MountPose mount = mounts.get(i);
            double to = i + 1 < mounts.size() ? mounts.get(i + 1).fromS() : durationS;
            if (!(mount.fromS() < durationS)) {
                throw new IllegalArgumentException(String.format(
                        Locale.ROOT,
                        "mounts: number %d starts at %.0f s; the recording ends at %.0f s",
                        i + 1,
                        mount.fromS(),
                        durationS));
            }
            frames.add(new FrameBlock(
                    mount.fromS(), Math.min(to, durationS), mount.rotation(), 0, 0, FrameBlock.Status.GIVEN));
        }
        notes.add("How the package sits was given, not estimated.");
        return frames;
    }

    /** A band that filters can be built for even when beats are refused. */
    private static Band usable(Band band, double rate) {
        double high = Math.min(band.highHz(), 0.45 * rate);
        double low = Math.min(band.lowHz(), high / 2);
        return new Band(low, high, Math.min(band.cruiseHz(), high), band.source(), band.refusal());
    }

    private static void warnOfSampling(Band band, double rate, MotionSettings settings, List<String> notes) {
        double perBeat = rate / band.cruiseHz();
        if (settings.lengthM() == null && !band.given() && rate < 4 * FASTEST_USUAL_HZ) {
            notes.add(String.format(
                    Locale.ROOT,
                    "At %.3g samples per second a beat faster than %.2g Hz would pass for a slower one; give the body length"
                            + " so that the program can refuse where such a beat is to be expected.",
                    rate,
                    rate / 2));
        }
        if (band.refusal() != null) {
            notes.add("No beats: " + band.refusal() + ".");
        } else if (perBeat < 10) {
            notes.add(String.format(
                    Locale.ROOT,
                    "Only %.1f samples per beat: beat amplitudes are less certain (below 10 samples a beat).",
                    perBeat));
        }
    }

    private static MotionReading assemble(
            Recording recording,
            MotionSettings settings,
            Frames frames,
            Scan scan,
            Band band,
            List<FrameBlock> bodyFrames,
            double cutoff,
            SwayCycles sway,
            List<FrameMotion.Part> parts,
            List<String> notes) {
        int seconds = frames.seconds();
        FrameMotion.Part whole = FrameMotion.Part.joined(frames, parts);
        float[] quality = whole.quality;
        double rate = recording.clock().sampleRateHz();
        BeatChoice choice = new BeatChoice(whole, rate, sway, band, settings, notes);
        BeatCheck check =
                BeatCheck.of(choice.beats(), whole.ridgeHz, whole.crossingHz, whole.waveRms, scan.depthM(), notes);
        Beats beats = check.beats();
        float[] beatHz = new float[seconds];
        float[] beatAmplitude = new float[seconds];
        Arrays.fill(beatHz, Float.NaN);
        Arrays.fill(beatAmplitude, Float.NaN);
        for (int i = 0; i < beats.count(); i++) {
            double end = beats.startS()[i] + beats.periodS()[i];
            int from = (int) Math.ceil(beats.startS()[i] - 0.5);
            for (int k = Math.max(0, from); k < seconds && k + 0.5 < end; k++) {
                beatHz[k] = 1 / beats.periodS()[i];
                beatAmplitude[k] = beats.amplitudeG()[i];
            }
        }
        lowerQualityNearGaps(quality, scan, frames, cutoff);
        scan.saturation().seconds().stream().forEach(k -> quality[k] = Math.min(quality[k], SATURATED_QUALITY));
        SecondTable table = new SecondTable(
                scan.depthM(),
                verticalSpeed(scan.depthM()),
                scan.tempC(),
                whole.pitchDeg,
                whole.rollDeg,
                whole.l1,
                whole.l2,
                whole.jerk,
                beatHz,
                beatAmplitude,
                whole.swayRms,
                whole.waveRms,
                quality);
        return new MotionReading(
                settings,
                band.lowHz(),
                band.highHz(),
                band.source(),
                cutoff,
                choice.noiseG(),
                bodyFrames,
                beats,
                table,
                notes,
                band.refusal(),
                check.agreement());
    }

    /** Halves the quality of seconds within one period of the posture filter of the end of a run. */
    private static void lowerQualityNearGaps(float[] quality, Scan scan, Frames frames, double cutoff) {
        int reach = (int) Math.ceil(1 / cutoff);
        for (SampleRange piece : scan.pieces()) {
            int first = frames.secondOfSample(piece.fromSample());
            int last = frames.secondOfSample(piece.toSample() - 1);
            for (int k = 0; k < reach; k++) {
                if (first + k <= last) {
                    quality[first + k] = Math.min(quality[first + k], 0.5f);
                }
                if (last - k >= first) {
                    quality[last - k] = Math.min(quality[last - k], 0.5f);
                }
            }
        }
    }

    /** Least-squares slope of depth over 11 seconds, m/s, positive down; NaN where fewer than 6 of them have depth. */
    static float[] verticalSpeed(float[] depthM) {
        float[] speed = new float[depthM.length];
        for (int k = 0; k < depthM.length; k++) {
            int n = 0;
            double st = 0;
            double sd = 0;
            double stt = 0;
            double std = 0;
            for (int j = Math.max(0, k - 5); j <= Math.min(depthM.length - 1, k + 5); j++) {
                double d = depthM[j];
                if (!Double.isNaN(d)) {
                    double t = j - k;
                    n++;
                    st += t;
                    sd += d;
                    stt += t * t;
                    std += t * d;
                }
            }
            double denominator = n * stt - st * st;
            speed[k] = n >= 6 && denominator > 0 ? (float) ((n * std - st * sd) / denominator) : Float.NaN;
        }
        return speed;
    }
}
