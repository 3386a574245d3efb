package org.aftercast.intake;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.aftercast.recording.SampleRange;

/** Rows in which any acceleration axis is missing; joined with the breaks of the clock they are the recording's gaps. */
final class MissingAxis {

    private final List<long[]> rows = new ArrayList<>();
    private long from = -1;
    private long seen;

    /**
     * Takes the next rows.
     *
     * @param axes the acceleration columns; may be none
     */
    void accept(float[][] axes, int count) {
        for (int i = 0; i < count; i++) {
            boolean missing = false;
            for (float[] axis : axes) {
                missing |= Float.isNaN(axis[i]);
            }
            if (missing != (from >= 0)) {
                turn(missing, seen + i);
            }
        }
        seen += count;
    }

    private void turn(boolean missing, long row) {
        if (missing) {
            from = row;
        } else {
            rows.add(new long[] {from, row});
            from = -1;
        }
    }

    /** Breaks of the clock and missing rows, in order, what touches joined. */
    List<SampleRange> gaps(Placement placement) {
        if (from >= 0) {
            turn(false, seen);
        }
        List<SampleRange> all = new ArrayList<>(placement.breaks());
        for (long[] run : rows) {
            long first = placement.sampleOf(run[0]);
            long last = placement.sampleOf(run[1] - 1);
            all.add(new SampleRange(first, last + 1));
        }
        all.sort(Comparator.comparingLong(SampleRange::fromSample));
        List<SampleRange> joined = new ArrayList<>();
        for (SampleRange range : all) {
            int end = joined.size() - 1;
            if (end >= 0 && range.fromSample() <= joined.get(end).toSample()) {
                SampleRange before = joined.get(end);
                joined.set(end, new SampleRange(before.fromSample(), Math.max(before.toSample(), range.toSample())));
            } else {
                joined.add(range);
            }
        }
        return joined;
    }
}
