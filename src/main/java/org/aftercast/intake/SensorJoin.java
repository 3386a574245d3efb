package org.aftercast.intake;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.aftercast.recording.SampleSource;

/**
 * Joins sensors that came in files of their own: the fastest sets the grid, every sample of the others goes to the
 * nearest grid point in time, and between them their channels are missing.
 */
final class SensorJoin implements SampleSource {

    private final SampleSource main;
    private final Map<Channel, Joined> joined = new EnumMap<>(Channel.class);
    private final Set<Channel> channels = EnumSet.noneOf(Channel.class);

    /**
     * A slower sensor on the main grid.
     *
     * @param source its own samples
     * @param firstAt place of its first sample on the main grid, in samples
     * @param step main samples from one of its samples to the next, ≥ 1
     */
    private record Joined(SampleSource source, double firstAt, double step) {
        long place(long sample) {
            return Math.round(firstAt + sample * step);
        }
    }

    private SensorJoin(SampleSource main) {
        this.main = main;
        channels.addAll(main.channels());
    }

    /**
     * The recording of one sensor or several.
     *
     * @throws ImportException if their clocks cannot be brought together
     */
    static Recording recording(String sha256, List<SensorRows> sensors) throws ImportException {
        List<Placement> placements = new ArrayList<>();
        List<SampleSource> sources = new ArrayList<>();
        int fastest = 0;
        for (int s = 0; s < sensors.size(); s++) {
            SensorRows sensor = sensors.get(s);
            Placement placement = sensor.intake().finish();
            placements.add(placement);
            sources.add(new GridSource(
                    sensor.store(),
                    placement,
                    sensor.channels(),
                    sensor.intake().surfaces()));
            if (placement.clock().sampleRateHz()
                    > placements.get(fastest).clock().sampleRateHz()) {
                fastest = s;
            }
        }
        Placement main = placements.get(fastest);
        List<Flag> flags = new ArrayList<>(main.flags());
        if (sensors.size() == 1) {
            return new Recording(sha256, main.clock(), sources.get(0), gaps(sensors.get(0), main), flags);
        }
        SensorJoin join = new SensorJoin(sources.get(fastest));
        for (int s = 0; s < sensors.size(); s++) {
            if (s != fastest) {
                flags.addAll(join.add(sensors.get(s), placements.get(s), sources.get(s), main));
            }
        }
        if (Arrays.stream(sensors.get(fastest).channels()).noneMatch(Channel::isAcceleration)
                && join.channels.contains(Channel.ACCELERATION_X)) {
            throw new ImportException(
                    sensors.get(fastest).file(),
                    0,
                    0,
                    "is sampled faster than the acceleration",
                    "an acceleration file at the highest rate of all");
        }
        return new Recording(sha256, main.clock(), join, gaps(sensors.get(fastest), main), flags);
    }

    private static List<SampleRange> gaps(SensorRows sensor, Placement placement) {
        return sensor.intake().gaps(placement);
    }

    private List<Flag> add(SensorRows sensor, Placement placement, SampleSource source, Placement mainPlacement)
            throws ImportException {
        SampleClock clock = placement.clock();
        SampleClock mainClock = mainPlacement.clock();
        if ((clock.startUtc() == null) != (mainClock.startUtc() == null)) {
            throw new ImportException(
                    sensor.file(),
                    0,
                    0,
                    "one of the files to be joined has a time of day and the other none",
                    "files that all carry a date and time, or all count from the same start");
        }
        double offsetS = 0;
        if (clock.startUtc() != null && mainClock.startUtc() != null) {
            offsetS = java.time.Duration.between(mainClock.startUtc(), clock.startUtc())
                            .toNanos()
                    / 1e9;
        }
        double step = mainClock.sampleRateHz() / clock.sampleRateHz();
        Joined part = new Joined(source, offsetS * mainClock.sampleRateHz(), step);
        for (Channel channel : source.channels()) {
            if (!channels.add(channel)) {
                throw new ImportException(
                        sensor.file(),
                        0,
                        0,
                        "carries " + channel.columnName() + ", which another of the files to be joined carries too",
                        "each channel in one sensor's files");
            }
            joined.put(channel, part);
        }
        long outside = 0;
        long last = source.sampleCount() - 1;
        if (part.place(0) < 0) {
            outside += Math.min(last + 1, (long) Math.ceil(-part.firstAt() / step));
        }
        if (part.place(last) >= sampleCount()) {
            outside += Math.min(last + 1, (long) Math.ceil((part.place(last) - sampleCount() + 1) / step));
        }
        List<Flag> flags = new ArrayList<>(placement.flags().stream()
                .map(flag -> new Flag(flag.kind(), null, sensor.file() + ": " + flag.note()))
                .toList());
        flags.add(new Flag(
                Flag.Kind.ASSUMED,
                null,
                String.format(
                        Locale.ROOT,
                        "%s: joined by time, %.6g Hz onto %.6g Hz, each sample at the nearest grid point",
                        sensor.file(),
                        clock.sampleRateHz(),
                        mainClock.sampleRateHz())));
        if (outside > 0) {
            flags.add(new Flag(
                    Flag.Kind.ASSUMED,
                    null,
                    sensor.file() + ": " + outside
                            + " samples before the start or after the end of the main file were left out"));
        }
        return flags;
    }

    @Override
    public long sampleCount() {
        return main.sampleCount();
    }

    @Override
    public Set<Channel> channels() {
        return Collections.unmodifiableSet(channels);
    }

    @Override
    public void read(Channel channel, long fromSample, int count, float[] into, int at) {
        Joined part = joined.get(channel);
        if (part == null) {
            main.read(channel, fromSample, count, into, at);
            return;
        }
        if (fromSample < 0 || count < 0 || fromSample + count > sampleCount()) {
            throw new IllegalArgumentException("fromSample, count: " + fromSample + ", " + count
                    + " reaches outside the recording of " + sampleCount() + " samples");
        }
        Arrays.fill(into, at, at + count, Float.NaN);
        long end = fromSample + count;
        long first = Math.max(0, (long) Math.floor((fromSample - part.firstAt()) / part.step()) - 1);
        long last =
                Math.min(part.source().sampleCount() - 1, (long) Math.ceil((end - part.firstAt()) / part.step()) + 1);
        if (last < first) {
            return;
        }
        float[] slow = new float[(int) (last - first + 1)];
        part.source().read(channel, first, slow.length, slow, 0);
        for (int i = 0; i < slow.length; i++) {
            long place = part.place(first + i);
            if (place >= fromSample && place < end) {
                into[at + (int) (place - fromSample)] = slow[i];
            }
        }
    }
}
