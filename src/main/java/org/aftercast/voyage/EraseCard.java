package org.aftercast.voyage;

import java.util.List;

/**
 * May the logger be erased? Only if every check says yes.
 *
 * @param checks what was looked at
 */
public record EraseCard(List<Check> checks) {

    public EraseCard {
        checks = List.copyOf(checks);
    }

    /**
     * One check.
     *
     * @param what what must hold
     * @param answer whether it does
     * @param note why, or what to do
     */
    public record Check(String what, Answer answer, String note) {}

    /** Outcome of a check. */
    public enum Answer {
        YES,
        NO
    }

    /** Whether every check says yes. */
    public Answer mayBeErased() {
        return checks.stream().allMatch(check -> check.answer() == Answer.YES) ? Answer.YES : Answer.NO;
    }
}
