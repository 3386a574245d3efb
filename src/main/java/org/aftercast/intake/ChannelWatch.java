package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleRange;

/**
 * Watches one channel row by row: least and greatest value, values outside what any sensor measures (taken out), and for
 * acceleration the runs at full scale.
 *
 * <p>Full scale: a greatest (or least) value of at least {@value #LEAST_FULL_SCALE_G} g that stands in
 * {@value #RUN_ROWS} or more consecutive rows. Logger ranges begin at ±2 g (common practice, no source).
 */
final class ChannelWatch {

    private static final double LEAST_FULL_SCALE_G = 1.9;
    private static final int RUN_ROWS = 3;
    private static final int MOST_FLAGS = 100;
    /** Air pressure at sea stays within 870 and 1085 mbar (records, from memory). */
    private static final float LEAST_AIR_DBAR = 8.5f;

    /** Some depth at the end, or a sensor that reads a little high. */
    private static final float MOST_AIR_DBAR = 12.5f;

    private final Channel channel;
    private final float least;
    private final float greatest;

    private float min = Float.POSITIVE_INFINITY;
    private float max = Float.NEGATIVE_INFINITY;
    private long present;
    private long implausible;
    private long firstImplausibleRow = -1;
    private float firstImplausible;
    private float first = Float.NaN;
    private float last = Float.NaN;
    private final Sketch sketch = new Sketch();
    private final Extreme top = new Extreme();
    private final Extreme bottom = new Extreme();

    /** Runs of rows at the extreme seen so far. */
    private static final class Extreme {
        private final List<long[]> runs = new ArrayList<>();
        private long runCount;
        private long from = -1;
        private long last = -2;

        void restart(long row) {
            runs.clear();
            runCount = 0;
            from = row;
            last = row;
        }

        void hit(long row) {
            if (row == last + 1) {
                last = row;
                return;
            }
            end();
            from = row;
            last = row;
        }

        void end() {
            if (from >= 0 && last - from + 1 >= RUN_ROWS) {
                runCount++;
                if (runs.size() < MOST_FLAGS) {
                    runs.add(new long[] {from, last + 1});
                }
            }
            from = -1;
        }
    }

    ChannelWatch(Channel channel) {
        this.channel = channel;
        switch (Unit.Quantity.of(channel)) {
            case ACCELERATION -> {
                least = -400;
                greatest = 400;
            }
            case DEPTH -> {
                least = -100;
                greatest = 11_000;
            }
            case PRESSURE -> {
                least = -100;
                greatest = 11_500;
            }
            default -> {
                least = -40;
                greatest = 85;
            }
        }
    }

    /** Looks at {@code count} rows and replaces implausible values by {@code NaN}. */
    void accept(float[] values, int count, long firstRow) {
        for (int i = 0; i < count; i++) {
            float v = values[i];
            if (v >= max || v <= min) {
                if (v < least || v > greatest) {
                    values[i] = Float.NaN;
                    if (implausible++ == 0) {
                        firstImplausibleRow = firstRow + i;
                        firstImplausible = v;
                    }
                    continue;
                }
                extreme(v, firstRow + i);
            }
            if (!Float.isNaN(v)) {
                last = v;
                if (present++ == 0) {
                    first = v;
                }
            }
        }
        sketch.accept(values, count);
    }

    private void extreme(float v, long row) {
        if (v > max) {
            max = v;
            top.restart(row);
        } else if (v == max) {
            top.hit(row);
        }
        if (v < min) {
            min = v;
            bottom.restart(row);
        } else if (v == min) {
            bottom.hit(row);
        }
    }

    /** Least value, or NaN if there was none. */
    float min() {
        return present == 0 ? Float.NaN : min;
    }

    /** Greatest value, or NaN if there was none. */
    float max() {
        return present == 0 ? Float.NaN : max;
    }

    /** Number of values that are present. */
    long present() {
        return present;
    }

    /** Number of values taken out. */
    long implausible() {
        return implausible;
    }

    /** What was seen, for people. */
    ChannelSummary summary() {
        return new ChannelSummary(channel, present, first, last, min(), max(), sketch.line());
    }

    /** What was found, as flags on the grid. */
    List<Flag> flags(Placement placement) {
        List<Flag> flags = new ArrayList<>();
        if (implausible > 0) {
            long at = placement.sampleOf(firstImplausibleRow);
            flags.add(new Flag(
                    Flag.Kind.IMPLAUSIBLE,
                    new SampleRange(at, at + 1),
                    String.format(
                            Locale.ROOT,
                            "%s: %d values outside %s to %s %s were taken as missing, the first is %s",
                            channel.columnName(),
                            implausible,
                            least,
                            greatest,
                            channel.unit(),
                            firstImplausible)));
        }
        if (channel.isAcceleration() && present > 0 && min < max) {
            clipped(top, max, placement, flags);
            clipped(bottom, min, placement, flags);
        }
        return flags;
    }

    /**
     * A pressure that never goes below about one atmosphere (10.1325 dbar, the standard atmosphere of the 10th General
     * Conference on Weights and Measures, 1954) probably counts the air too.
     */
    Optional<Flag> absolutePressure() {
        if (present == 0 || min < LEAST_AIR_DBAR || min > MOST_AIR_DBAR) {
            return Optional.empty();
        }
        return Optional.of(new Flag(
                Flag.Kind.ASSUMED,
                null,
                String.format(
                        Locale.ROOT,
                        "%s never goes below %.2f dbar, about one atmosphere (10.13 dbar): if the sensor counts the air too,"
                                + " every depth is about 10 m too great; the layout's pressureZero mends that",
                        channel.columnName(),
                        min)));
    }

    private void clipped(Extreme extreme, float value, Placement placement, List<Flag> flags) {
        extreme.end();
        if (Math.abs(value) < LEAST_FULL_SCALE_G) {
            return;
        }
        for (long[] run : extreme.runs) {
            long from = placement.sampleOf(run[0]);
            long to = placement.sampleOf(run[1] - 1) + 1;
            flags.add(new Flag(
                    Flag.Kind.CLIPPED,
                    new SampleRange(from, to),
                    String.format(Locale.ROOT, "%s stays at %.4g g, its full scale", channel.columnName(), value)));
        }
        if (extreme.runCount > extreme.runs.size()) {
            flags.add(new Flag(
                    Flag.Kind.CLIPPED,
                    null,
                    String.format(
                            Locale.ROOT,
                            "%s stays at %.4g g in %d runs altogether",
                            channel.columnName(),
                            value,
                            extreme.runCount)));
        }
    }
}
