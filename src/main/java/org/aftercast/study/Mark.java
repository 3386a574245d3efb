package org.aftercast.study;

import org.aftercast.behaviour.BoutKind;
import org.jspecify.annotations.Nullable;

/**
 * What a person marked on a stretch of a recording: another kind than the reading says, a remark, or both. The reading
 * itself is not changed.
 *
 * @param recordingSha256 the recording
 * @param number 1, 2 … for one recording
 * @param startS start in seconds from the first sample, ≥ 0
 * @param endS end, not before the start
 * @param kind the kind it is in the person's eyes, or null
 * @param remark in words, or null
 */
public record Mark(
        String recordingSha256,
        int number,
        double startS,
        double endS,
        @Nullable BoutKind kind,
        @Nullable String remark) {

    private static final double LONGEST_S = 1e9;

    public Mark {
        Rules rules = new Rules()
                .sha256("recordingSha256", recordingSha256)
                .within("number", number, 1, 1_000_000, "")
                .within("startS", startS, 0, LONGEST_S, "s")
                .within("endS", endS, startS, LONGEST_S, "s")
                .note("remark", remark);
        if (kind == null && remark == null) {
            rules.add("remark", "is missing: a mark gives a kind, a remark or both");
        }
        rules.check();
    }
}
