package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.aftercast.intake.DownloadLayout.PressureZero;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/** Takes parsed blocks in order: zone, plausibility, clock check, row store. Serves one recording and one thread. */
final class RowIntake {

    private String file;
    private ColumnPlan plan;
    private final DownloadLayout layout;
    private final ImportOptions options;
    private final RowStore store;
    private final @Nullable ZoneShift zone;
    private final ClockCheck clock;
    private final ChannelWatch[] watches;
    private final Map<Channel, SurfaceWatch> surfaceWatches = new EnumMap<>(Channel.class);
    private final MissingAxis missing = new MissingAxis();
    private final int[] axes;
    private final List<Flag> cutOff = new ArrayList<>();
    private boolean someCarryOffset;
    private boolean someLackOffset;
    private long rows;
    private long lastLine;

    RowIntake(String file, ColumnPlan plan, ImportOptions options, RowStore store) throws ImportException {
        this.file = file;
        this.plan = plan;
        this.layout = plan.layout;
        this.options = options;
        this.store = store;
        TimeForm time = layout.time();
        this.zone = time.kind().isCalendar() ? zoneShift(file, zoneName()) : null;
        this.clock = new ClockCheck(time, options.rateHz() != null ? options.rateHz() : time.rateHz());
        this.watches = new ChannelWatch[plan.channels.length];
        for (int c = 0; c < watches.length; c++) {
            watches[c] = new ChannelWatch(plan.channels[c]);
            if (zeroKind() == PressureZero.Kind.SHALLOWEST && isVertical(plan.channels[c])) {
                surfaceWatches.put(plan.channels[c], new SurfaceWatch());
            }
        }
        this.axes = java.util.stream.IntStream.range(0, plan.channels.length)
                .filter(c -> plan.channels[c].isAcceleration())
                .toArray();
    }

    /** The blocks that follow come from another file, which continues the one before. */
    void continueWith(String nextFile, ColumnPlan nextPlan) throws ImportException {
        if (!java.util.Arrays.equals(nextPlan.channels, plan.channels)) {
            throw new ImportException(
                    nextFile,
                    0,
                    0,
                    "carries other channels than " + file + ", which it should continue",
                    "files with the same channels");
        }
        file = nextFile;
        plan = nextPlan;
    }

    private @Nullable String zoneName() {
        return options.zone() != null ? options.zone() : layout.time().zone();
    }

    private static ZoneShift zoneShift(String file, @Nullable String name) throws ImportException {
        try {
            return new ZoneShift((name == null ? ZoneOffset.UTC : ZoneId.of(name)).getRules());
        } catch (DateTimeException unknown) {
            throw new ImportException(
                    file,
                    0,
                    0,
                    "time zone " + NumberText.quote(String.valueOf(name)) + " is not known",
                    "an IANA zone such as Europe/London, or an offset such as +02:00");
        }
    }

    /**
     * Takes the next block.
     *
     * @param firstLine line of the file on which the block begins
     */
    void accept(RowBlock block, long firstLine) throws IOException {
        someCarryOffset |= block.someCarryOffset;
        someLackOffset |= block.someLackOffset;
        int column = timeField();
        if (zone != null && someCarryOffset && someLackOffset) {
            throw new ImportException(
                    file,
                    firstLine,
                    column,
                    "some times carry an offset from UTC and some do not",
                    "the same form of time in every row");
        }
        for (int i = 0; i < block.rows; i++) {
            long line = firstLine + block.lineInBlock[i];
            try {
                long stamp = block.stamps[i];
                if (zone != null && !someCarryOffset) {
                    stamp = zone.toUtc(stamp);
                }
                clock.accept(stamp);
            } catch (RowProblem problem) {
                throw new ImportException(file, line, column, problem.problem, problem.accepted);
            }
        }
        for (int c = 0; c < watches.length; c++) {
            watches[c].accept(block.values[c], block.rows, rows);
            SurfaceWatch surface = surfaceWatches.get(plan.channels[c]);
            if (surface != null) {
                surface.accept(block.values[c], block.rows);
            }
        }
        float[][] axisValues = new float[axes.length][];
        for (int a = 0; a < axes.length; a++) {
            axisValues[a] = block.values[axes[a]];
        }
        missing.accept(axisValues, block.rows);
        rows += block.rows;
        lastLine = firstLine + block.lines - 1;
        if (block.cutOff) {
            cutOff.add(new Flag(
                    Flag.Kind.ASSUMED,
                    null,
                    "line " + lastLine + " of " + Path.of(file).getFileName() + " was cut off and is left out"));
        }
        store.append(block);
    }

    long rows() {
        return rows;
    }

    ChannelWatch[] watches() {
        return watches;
    }

    /** Ends the check of the clock; the flags of the channels follow those of the clock. */
    Placement finish() throws ImportException {
        if (rows == 0) {
            throw new ImportException(
                    file,
                    layout.text().firstDataLine(),
                    0,
                    "there is no row with values",
                    "at least one row after the header");
        }
        Placement placement;
        try {
            Instant start = options.startUtc() != null
                    ? options.startUtc()
                    : layout.time().startUtc();
            placement = clock.finish(start, layout.clock());
        } catch (RowProblem problem) {
            throw new ImportException(file, lastLine, timeField(), problem.problem, problem.accepted);
        }
        List<Flag> flags = new ArrayList<>(placement.flags());
        if (zone != null && !someCarryOffset && zoneName() == null) {
            flags.add(new Flag(Flag.Kind.ASSUMED, null, "the times carry no zone; they were taken as UTC"));
        }
        if (layout.calibration() != null) {
            flags.add(new Flag(
                    Flag.Kind.CALIBRATED,
                    null,
                    "acceleration offsets " + layout.calibration().offsetG() + " g and gains "
                            + layout.calibration().gain() + " were applied"));
        }
        flags.addAll(cutOff);
        surfaces()
                .forEach((channel, surface) -> flags.add(new Flag(
                        Flag.Kind.CALIBRATED,
                        null,
                        channel.columnName() + ": " + surface + " " + channel.unit() + " at the surface was subtracted"
                                + (zeroKind() == PressureZero.Kind.SHALLOWEST ? " (its 1st percentile)" : ""))));
        for (int c = 0; c < watches.length; c++) {
            flags.addAll(watches[c].flags(placement));
            if (plan.channels[c] == Channel.PRESSURE && !surfaces().containsKey(Channel.PRESSURE)) {
                watches[c].absolutePressure().ifPresent(flags::add);
            }
        }
        return new Placement(placement.clock(), placement.runs(), placement.sampleCount(), List.copyOf(flags));
    }

    private PressureZero.@Nullable Kind zeroKind() {
        return layout.pressureZero() == null ? null : layout.pressureZero().kind();
    }

    static boolean isVertical(Channel channel) {
        return channel == Channel.DEPTH || channel == Channel.PRESSURE;
    }

    /** What each channel shows at the surface, to be subtracted. */
    Map<Channel, Float> surfaces() {
        Map<Channel, Float> surfaces = new EnumMap<>(Channel.class);
        surfaceWatches.forEach((channel, watch) -> surfaces.put(channel, watch.surface()));
        PressureZero zero = layout.pressureZero();
        if (zero != null && zero.surface() != null) {
            for (Channel channel : plan.channels) {
                if (isVertical(channel)) {
                    surfaces.put(channel, zero.surface().floatValue());
                }
            }
        }
        return surfaces;
    }

    /** The runs of samples without acceleration. */
    List<SampleRange> gaps(Placement placement) {
        return missing.gaps(placement);
    }

    private int timeField() {
        if (layout.time().kind() == TimeKind.NONE) {
            return 0;
        }
        for (int f = 0; f < plan.role.length; f++) {
            if (plan.role[f] == ColumnPlan.TIME) {
                return f + 1;
            }
        }
        return 0;
    }
}
