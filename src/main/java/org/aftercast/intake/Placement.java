package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;

/**
 * Where the rows of a download stand on the even grid.
 *
 * @param clock start and rate of the grid
 * @param runs runs of rows, in order; rows outside any run are left out
 * @param sampleCount length of the grid
 * @param flags what the clock check found
 */
record Placement(SampleClock clock, List<Run> runs, long sampleCount, List<Flag> flags) {

    /**
     * Consecutive rows on consecutive samples.
     *
     * @param firstRow first row, from 0
     * @param rows number of rows
     * @param firstSample sample of the first row
     */
    record Run(long firstRow, long rows, long firstSample) {}

    /** Index of the first run that ends after a sample. */
    int firstRunReaching(long sample) {
        int low = 0;
        int high = runs.size();
        while (low < high) {
            int middle = (low + high) >>> 1;
            Run run = runs.get(middle);
            if (run.firstSample() + run.rows() <= sample) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** The samples between the runs. */
    List<SampleRange> breaks() {
        List<SampleRange> breaks = new ArrayList<>();
        long next = 0;
        for (Run run : runs) {
            if (run.firstSample() > next) {
                breaks.add(new SampleRange(next, run.firstSample()));
            }
            next = run.firstSample() + run.rows();
        }
        return breaks;
    }

    /** The sample of a row, or of the next row that has one. */
    long sampleOf(long row) {
        int low = 0;
        int high = runs.size() - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (runs.get(middle).firstRow() <= row) {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        Run run = runs.get(low);
        long within = Math.max(0, Math.min(row - run.firstRow(), run.rows() - 1));
        return run.firstSample() + within;
    }
}
