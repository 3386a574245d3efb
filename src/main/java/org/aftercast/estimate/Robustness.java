package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How the headline moves with what was decided.
 *
 * @param rows one per question
 */
public record Robustness(List<Row> rows) {

    public Robustness {
        rows = List.copyOf(rows);
    }

    /** The same without the names of animals left out. */
    Robustness withoutNames() {
        return new Robustness(rows.stream()
                .map(row -> row.question() == Question.LEAVE_ONE_OUT
                        ? new Row(row.question(), row.what().replaceFirst(" \\(.*\\)$", ""), row.died(), row.change())
                        : row)
                .toList());
    }

    /** What was changed. */
    public enum Question {
        UNDECIDED_FATES,
        LOST_PACKAGES,
        EARLY_SHEDDING,
        DEATHS_THAT_COUNT,
        LEAVE_ONE_OUT,
        PRIOR,
        INTERVAL
    }

    /**
     * One change.
     *
     * @param question what was changed
     * @param what in words
     * @param died the headline then, or null when refused
     * @param change its value less the headline's; null when either is refused
     */
    public record Row(
            Question question,
            String what,
            @Nullable Share died,
            @Nullable Double change) {}
}
