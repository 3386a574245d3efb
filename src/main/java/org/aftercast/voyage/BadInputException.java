package org.aftercast.voyage;

import java.util.List;

/** Input that cannot be used: says what, where, and what would be accepted. Nothing was changed. */
public final class BadInputException extends Exception {

    private static final long serialVersionUID = 1L;

    private final List<String> problems;

    /** One problem, one sentence. */
    public BadInputException(String problem) {
        this(List.of(problem));
    }

    /**
     * Several problems, each a sentence that names file, line and column where it can.
     *
     * @param problems at least one
     */
    public BadInputException(List<String> problems) {
        super(String.join(System.lineSeparator(), problems));
        this.problems = List.copyOf(problems);
    }

    /** The problems in order of occurrence. */
    public List<String> problems() {
        return problems;
    }
}
