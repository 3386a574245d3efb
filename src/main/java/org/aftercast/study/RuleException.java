package org.aftercast.study;

import java.util.List;
import java.util.stream.Collectors;

/** A record that breaks its rules; lists every broken rule with the field concerned. */
public final class RuleException extends IllegalArgumentException {

    private static final long serialVersionUID = 1L;

    /**
     * One broken rule.
     *
     * @param field the record's component, which is also the column of the capture table
     * @param problem value found and what would be accepted
     */
    public record Problem(String field, String problem) {
        @Override
        public String toString() {
            return field + ": " + problem;
        }
    }

    private final transient List<Problem> problems;

    RuleException(List<Problem> problems) {
        super(problems.stream().map(Problem::toString).collect(Collectors.joining("; ")));
        this.problems = List.copyOf(problems);
    }

    /** Every broken rule, in the order of the fields. */
    public List<Problem> problems() {
        return problems;
    }

    /** Every broken rule as a line. */
    public List<String> lines() {
        return problems.stream().map(Problem::toString).toList();
    }
}
