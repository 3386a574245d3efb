package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.SampleRange;

/** Finds the runs of samples at which any acceleration axis is missing. */
final class GapFinder {

    private final List<SampleRange> gaps = new ArrayList<>();
    private long seen;
    private long from = -1;

    /** Takes the next {@code count} samples of each axis. */
    void accept(float[][] axes, int count) {
        for (int i = 0; i < count; i++) {
            boolean missing = false;
            for (float[] axis : axes) {
                missing |= Float.isNaN(axis[i]);
            }
            if (missing && from < 0) {
                from = seen + i;
            } else if (!missing && from >= 0) {
                gaps.add(new SampleRange(from, seen + i));
                from = -1;
            }
        }
        seen += count;
    }

    /** Ends the search. */
    List<SampleRange> finish() {
        if (from >= 0) {
            gaps.add(new SampleRange(from, seen));
            from = -1;
        }
        return gaps;
    }
}
