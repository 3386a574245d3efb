package org.aftercast.fate;

/** The one-word call, derived from {@link AnimalFate} and {@link RecordEnd}. */
public enum FateCall {
    SURVIVED,
    DIED,
    EATEN,
    SHED,
    UNDECIDED;

    /**
     * Derives the one-word call.
     *
     * @param animal what became of the animal
     * @param end how the record ended
     * @return {@code DIED} also for an animal that was scavenged after death; {@code SHED} only for an animal that was
     *     alive when its package came off early
     */
    public static FateCall of(AnimalFate animal, RecordEnd end) {
        return switch (animal) {
            case DIED, DEAD_THEN_SCAVENGED -> DIED;
            case EATEN -> EATEN;
            case UNDECIDED -> UNDECIDED;
            case ALIVE_AT_END -> end == RecordEnd.SHED_EARLY ? SHED : SURVIVED;
        };
    }
}
