package org.aftercast.intake;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.aftercast.intake.DownloadLayout.ClockNotes;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * Checks the time stamps of all rows in order and places the rows on an even grid.
 *
 * <p>A logger samples at the beat of its oscillator, so rows that follow one another without a break are consecutive
 * samples, however coarse their stamps are. Stamps serve to find breaks, to measure the rate over the whole recording,
 * and to place what follows a break. Memory grows with the number of breaks and with one knot in
 * {@value #KNOT_ROWS} rows, not with the rows.
 *
 * <ul>
 *   <li>period: from the first {@value #HEAD_ROWS} rows, mean of the steps that lie within half to one and a half times
 *       their median; in the end the span of all unbroken runs over their rows
 *   <li>break: a step of more than 1.5 periods; where stamps are coarser than that, a stamp more than 1.5 periods later
 *       than counting rows predicts
 *   <li>a stamp equal to the one before it is a repeated row and left out, unless one row in five or more shares its
 *       stamp: then the rows are spread evenly over the stamp
 *   <li>a stamp before the one before it is refused
 * </ul>
 */
final class ClockCheck {

    private static final int HEAD_ROWS = 8192;
    private static final int KNOT_ROWS = 8192;
    private static final int MOST_RUNS = 1_000_000;
    private static final long LONGEST_BREAK_NS = 60L * 86_400 * StampText.SECOND;

    private final TimeForm time;
    private final @Nullable Double statedRateHz;

    private long[] headStamps = new long[256];
    private int headRows;
    private boolean started;

    private double periodNs;
    private boolean coarse;
    private long stepNs;

    private final List<OpenRun> runs = new ArrayList<>();
    private final List<long[]> knots = new ArrayList<>();
    private OpenRun run = new OpenRun(0, 0, false);
    private long rows;
    private long previousNs;
    private double anchorNs;
    private long anchorRow;
    private boolean sawChange;
    private long repeated;
    private long firstRepeatedRow = -1;
    private long uneven;
    private double worstUnevenNs;

    /** A run under construction; a and b are the rows between which its length is measured. */
    private static final class OpenRun {
        final long firstRow;
        double startNs;
        final boolean breakBefore;
        long rows;
        long aRow = -1;
        long aNs;
        long bRow = -1;
        long bNs;

        OpenRun(long firstRow, double startNs, boolean breakBefore) {
            this.firstRow = firstRow;
            this.startNs = startNs;
            this.breakBefore = breakBefore;
        }

        void mark(long row, long ns) {
            if (aRow < 0) {
                aRow = row;
                aNs = ns;
            }
            bRow = row;
            bNs = ns;
        }
    }

    /**
     * A check for one recording.
     *
     * @param time how stamps are to be read
     * @param statedRateHz rate in hertz as stated by layout or person, or null
     */
    ClockCheck(TimeForm time, @Nullable Double statedRateHz) {
        this.time = time;
        this.statedRateHz = statedRateHz;
    }

    /**
     * Takes the next row.
     *
     * @param stampNs stamp in nanoseconds; ignored when rows carry none
     * @throws RowProblem if time runs backwards; its line is meaningless
     */
    void accept(long stampNs) throws RowProblem {
        if (time.kind() == TimeKind.NONE) {
            rows++;
            return;
        }
        if (started) {
            place(stampNs);
            return;
        }
        if (headRows > 0 && stampNs < headStamps[headRows - 1]) {
            throw backwards(stampNs, headStamps[headRows - 1]);
        }
        if (headRows == headStamps.length) {
            headStamps = Arrays.copyOf(headStamps, headRows * 2);
        }
        headStamps[headRows++] = stampNs;
        if (headRows == HEAD_ROWS) {
            start();
        }
    }

    /** Rows taken so far. */
    long rows() {
        return started || time.kind() == TimeKind.NONE ? rows : headRows;
    }

    private void start() throws RowProblem {
        started = true;
        measureHead();
        for (int i = 0; i < headRows; i++) {
            place(headStamps[i]);
        }
    }

    /** Period, and whether stamps are too coarse to tell neighbouring rows apart. */
    private void measureHead() {
        if (time.kind() == TimeKind.SAMPLE_NUMBER) {
            periodNs = StampText.SECOND; // counters count in whole numbers, kept as seconds
            return;
        }
        long[] steps = new long[Math.max(0, headRows - 1)];
        int positive = 0;
        int shared = 0;
        for (int i = 1; i < headRows; i++) {
            long step = headStamps[i] - headStamps[i - 1];
            if (step > 0) {
                steps[positive++] = step;
            } else {
                shared++;
            }
        }
        if (positive == 0) {
            periodNs = statedRateHz == null ? 0 : StampText.SECOND / statedRateHz;
            coarse = shared > 0;
            stepNs = StampText.SECOND;
            return;
        }
        Arrays.sort(steps, 0, positive);
        long median = steps[positive / 2];
        stepNs = steps[0];
        boolean grouped = shared * 5L >= headRows;
        // Mean over usual steps, counting the rows that share a stamp; the first stamp may have lost rows, so it is
        // left out.
        double span = 0;
        long spanRows = 0;
        int groupStart = -1;
        for (int i = 1; i < headRows; i++) {
            long step = headStamps[i] - headStamps[i - 1];
            if (step == 0) {
                continue;
            }
            if (groupStart > 0 || !grouped) {
                int since = grouped ? groupStart : i - 1;
                if (step >= 0.5 * median && step <= 1.5 * median) {
                    span += step;
                    spanRows += grouped ? i - since : 1;
                }
            }
            groupStart = i;
        }
        if (spanRows == 0) {
            span = headStamps[headRows - 1] - headStamps[0];
            spanRows = headRows - 1L;
        }
        periodNs = span / spanRows;
        int wild = 0;
        for (int i = 0; i < positive; i++) {
            wild += Math.abs(steps[i] - periodNs) > 0.45 * periodNs && steps[i] < 3 * periodNs ? 1 : 0;
        }
        coarse = grouped || wild * 10L > positive;
    }

    private void place(long stampNs) throws RowProblem {
        long row = rows++;
        if (row == 0) {
            run = new OpenRun(0, stampNs, false);
            anchorNs = stampNs;
            anchorRow = 0;
            if (!coarse) {
                run.mark(0, stampNs);
            }
            run.rows = 1;
            previousNs = stampNs;
            return;
        }
        long step = stampNs - previousNs;
        if (step < 0) {
            throw backwards(stampNs, previousNs);
        }
        if (coarse) {
            placeCoarse(row, stampNs, step);
        } else {
            placeFine(row, stampNs, step);
        }
        previousNs = stampNs;
        if (row % KNOT_ROWS == 0 && (!coarse || step > 0) && run.rows > 0) {
            knots.add(new long[] {row, stampNs});
        }
    }

    private void placeFine(long row, long stampNs, long step) throws RowProblem {
        if (step == 0) {
            if (firstRepeatedRow < 0) {
                firstRepeatedRow = row;
            }
            repeated++;
            if (run.rows > 0) {
                close();
                run = new OpenRun(row + 1, stampNs, false);
            } else {
                run = new OpenRun(row + 1, stampNs, run.breakBefore);
            }
            return;
        }
        if (step > 1.5 * periodNs && periodNs > 0) {
            checkBreak(step, stampNs);
            if (run.rows > 0) {
                close();
            }
            run = new OpenRun(row, stampNs, true);
        } else {
            double off = Math.abs(step - periodNs);
            if (off > 0.1 * periodNs) {
                uneven++;
                worstUnevenNs = Math.max(worstUnevenNs, off);
            }
            if (run.rows == 0) {
                run.startNs = stampNs;
            }
        }
        run.mark(row, stampNs);
        run.rows++;
    }

    private void placeCoarse(long row, long stampNs, long step) throws RowProblem {
        if (step > 0) {
            double predicted = anchorNs + (row - anchorRow) * periodNs;
            if (!sawChange) {
                // The first stamp may lack rows: count back from the first change.
                sawChange = true;
                run.startNs = Math.max(run.startNs, stampNs - (row - run.firstRow) * periodNs);
                anchorNs = stampNs;
            } else if (stampNs - predicted > 1.5 * periodNs) {
                checkBreak((long) (stampNs - predicted), stampNs);
                close();
                run = new OpenRun(row, stampNs, true);
                anchorNs = stampNs;
            } else {
                double off = predicted - stampNs - periodNs;
                if (off > 0.5 * periodNs) {
                    uneven++;
                    worstUnevenNs = Math.max(worstUnevenNs, off);
                }
                anchorNs = Math.max((double) stampNs, Math.min(predicted, stampNs + periodNs));
            }
            anchorRow = row;
            run.mark(row, stampNs);
        }
        run.rows++;
    }

    private void checkBreak(long step, long stampNs) throws RowProblem {
        if (step > LONGEST_BREAK_NS) {
            throw new RowProblem(
                    0,
                    0,
                    "the time jumps ahead by " + step / (86_400L * StampText.SECOND) + " days, from "
                            + shown(previousNs) + " to " + shown(stampNs),
                    "breaks of at most 60 days; split the file there, or mend the stamp");
        }
    }

    private void close() throws RowProblem {
        if (runs.size() >= MOST_RUNS) {
            throw new RowProblem(
                    0,
                    0,
                    "the stamps break or repeat more than " + MOST_RUNS + " times",
                    "rows at a steady rate, one stamp each");
        }
        runs.add(run);
    }

    private RowProblem backwards(long stampNs, long beforeNs) {
        return new RowProblem(
                0,
                0,
                "time runs backwards: " + shown(stampNs) + " after " + shown(beforeNs),
                "rows in order of time; split the file where the logger's clock was set");
    }

    private String shown(long ns) {
        if (time.kind().isAbsolute()) {
            return Instant.ofEpochSecond(Math.floorDiv(ns, StampText.SECOND), Math.floorMod(ns, StampText.SECOND))
                    .toString();
        }
        String number = java.math.BigDecimal.valueOf(ns, 9).stripTrailingZeros().toPlainString();
        return time.kind() == TimeKind.SAMPLE_NUMBER ? "sample " + number : number + " s";
    }

    /**
     * Ends the check.
     *
     * @param startUtc instant of the first sample as given, or null
     * @param notes what is known about the clock, or null
     * @throws RowProblem if the rate cannot be told or the grid would be too long
     */
    Placement finish(@Nullable Instant startUtc, @Nullable ClockNotes notes) throws RowProblem {
        List<Flag> flags = new ArrayList<>();
        if (time.kind() == TimeKind.NONE) {
            if (statedRateHz == null) {
                throw noRate();
            }
            SampleClock clock = corrected(startUtc, statedRateHz, notes, flags);
            return new Placement(clock, List.of(new Placement.Run(0, rows, 0)), rows, flags);
        }
        if (!started) {
            start();
        }
        if (run.rows > 0) {
            close();
        }
        double period = finalPeriodNs();
        double startNs = runs.get(0).startNs;
        List<Placement.Run> placed = new ArrayList<>(runs.size());
        long next = 0;
        for (OpenRun open : runs) {
            long sample = next;
            if (open.breakBefore) {
                sample = Math.max(next + 1, Math.round((open.startNs - startNs) / period));
            }
            placed.add(new Placement.Run(open.firstRow, open.rows, sample));
            next = sample + open.rows;
        }
        if (next > Integer.MAX_VALUE - 16L) {
            throw new RowProblem(0, 0, "the recording would have " + next + " samples", "at most 2147483631 samples");
        }
        double rateHz;
        Instant start;
        if (time.kind() == TimeKind.SAMPLE_NUMBER) {
            if (statedRateHz == null) {
                throw noRate();
            }
            rateHz = statedRateHz;
            start = startUtc;
        } else {
            rateHz = StampText.SECOND / period;
            start = time.kind().isAbsolute() ? instant(Math.round(startNs)) : startUtc;
        }
        if (!(rateHz <= 10_000)) {
            throw new RowProblem(
                    0, 0, "the stamps give " + rateHz + " samples a second", "at most 10000 samples a second");
        }
        Placement bare = new Placement(new SampleClock(start, rateHz), placed, next, flags);
        report(bare, startNs, period, flags);
        return new Placement(corrected(start, rateHz, notes, flags), placed, next, flags);
    }

    private static Instant instant(long ns) {
        return Instant.ofEpochSecond(Math.floorDiv(ns, StampText.SECOND), Math.floorMod(ns, StampText.SECOND));
    }

    private static RowProblem noRate() {
        return new RowProblem(0, 0, "the sample rate is not known", "a rate, in the layout or with --rate-hz");
    }

    /** Span over rows of all runs; a round rate is taken when the stamps cannot tell it apart over the whole recording. */
    private double finalPeriodNs() throws RowProblem {
        if (time.kind() == TimeKind.SAMPLE_NUMBER) {
            return periodNs;
        }
        double span = 0;
        long spanRows = 0;
        for (OpenRun open : runs) {
            span += open.bNs - open.aNs;
            spanRows += open.bRow - open.aRow;
        }
        if (spanRows == 0 || span <= 0) {
            if (statedRateHz != null) {
                return StampText.SECOND / statedRateHz;
            }
            if (periodNs > 0) {
                return periodNs;
            }
            throw noRate();
        }
        double measured = span / spanRows;
        double leeway = 0.5 * measured + (coarse ? Math.max((double) stepNs, measured) : 0);
        double[] round = {
            statedRateHz == null ? Double.NaN : StampText.SECOND / statedRateHz,
            StampText.SECOND / Math.max(1.0, Math.rint(StampText.SECOND / measured)),
            Math.max(1, Math.rint(measured / 1e6)) * 1e6,
            Math.max(1, Math.rint(measured / StampText.SECOND)) * StampText.SECOND
        };
        for (double candidate : round) {
            if (Math.abs(candidate - measured) * spanRows <= leeway) {
                return candidate;
            }
        }
        return measured;
    }

    private void report(Placement placement, double startNs, double period, List<Flag> flags) {
        if (repeated > 0) {
            long at = placement.sampleOf(firstRepeatedRow);
            flags.add(new Flag(
                    Flag.Kind.REPEATED_TIME,
                    new SampleRange(at, at + 1),
                    repeated + (repeated == 1 ? " row repeats" : " rows repeat")
                            + " the time of the row before; the later row was left out"));
        }
        if (coarse && sawChange) {
            flags.add(new Flag(
                    Flag.Kind.SPREAD_WITHIN_STAMP,
                    null,
                    text(
                            "several rows share one time stamp; rows were spread evenly at %.6g Hz",
                            StampText.SECOND / period)));
        }
        double worst = 0;
        for (long[] knot : knots) {
            double onGrid = startNs + placement.sampleOf(knot[0]) * period;
            worst = Math.max(worst, Math.abs(knot[1] - onGrid));
        }
        double allowed = period + (coarse ? stepNs : 0);
        if (uneven > 0 || worst > allowed) {
            StringBuilder note = new StringBuilder();
            if (uneven > 0) {
                note.append(text(
                        "%d steps differ from the even interval of %.6g ms by more than a tenth, at most by %.6g ms",
                        uneven, period / 1e6, worstUnevenNs / 1e6));
            }
            if (worst > allowed) {
                note.append(note.isEmpty() ? "" : "; ");
                note.append(text("stamps wander from the even grid by up to %.3f s", worst / 1e9));
            }
            flags.add(new Flag(Flag.Kind.RATE_JITTER, null, note.toString()));
        }
        double rateHz = placement.clock().sampleRateHz();
        if (statedRateHz != null && Math.abs(statedRateHz / rateHz - 1) > 1e-3) {
            flags.add(new Flag(
                    Flag.Kind.RATE_DIFFERS,
                    null,
                    text(
                            "the stamps give %.6g Hz where %.6g Hz was stated; the stamps were followed",
                            rateHz, statedRateHz)));
        }
    }

    /** Applies set-time and read-out notes: true = setTrue + (logger − setLogger) · (true span / logger span). */
    private static SampleClock corrected(
            @Nullable Instant start, double rateHz, @Nullable ClockNotes notes, List<Flag> flags) {
        if (notes == null || start == null) {
            if (notes != null) {
                flags.add(new Flag(
                        Flag.Kind.ASSUMED, null, "clock notes were given but the recording has no time of day"));
            }
            return new SampleClock(start, rateHz);
        }
        Instant logger = notes.setLogger();
        Instant truth = notes.setTrue();
        double stretch = 1;
        if (logger == null || truth == null) {
            logger = notes.readLogger();
            truth = notes.readTrue();
        } else if (notes.readLogger() != null && notes.readTrue() != null) {
            stretch = seconds(truth, notes.readTrue()) / seconds(logger, notes.readLogger());
        }
        if (logger == null || truth == null) {
            throw new IllegalStateException("clock notes hold at least one pair");
        }
        double sinceSet = seconds(logger, start) * stretch;
        Instant trueStart = truth.plusNanos(Math.round(sinceSet * 1e9));
        flags.add(new Flag(
                Flag.Kind.CLOCK_CORRECTED,
                null,
                text(
                        "start moved by %.3f s, rate multiplied by %.9f (drift %.3f s a day)",
                        seconds(start, trueStart), 1 / stretch, (1 / stretch - 1) * 86_400)));
        return new SampleClock(trueStart, rateHz / stretch);
    }

    private static double seconds(Instant from, Instant to) {
        return (to.getEpochSecond() - from.getEpochSecond()) + (to.getNano() - from.getNano()) / 1e9;
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
