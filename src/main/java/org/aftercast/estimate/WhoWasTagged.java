package org.aftercast.estimate;

import java.util.List;

/**
 * From the landing to the fate, as one table.
 *
 * @param stages in order; each later stage is part of an earlier one
 */
public record WhoWasTagged(List<Stage> stages) {

    public WhoWasTagged {
        stages = List.copyOf(stages);
    }

    /**
     * One line of the table.
     *
     * @param kind which stage
     * @param name what it is, in words
     * @param animals how many
     * @param ofKind the stage it is part of; itself for the first
     */
    public record Stage(Kind kind, String name, int animals, Kind ofKind) {}

    /** The stages. */
    public enum Kind {
        LANDED,
        DEAD_AT_VESSEL,
        NOT_TAGGED,
        TAGGED,
        NO_OUTCOME_YET,
        PACKAGE_RETRIEVED,
        FROM_WATER,
        FOUND_ASHORE,
        HANDED_IN,
        PACKAGE_LOST,
        SEARCH_ABANDONED,
        STILL_AT_SEA,
        USABLE,
        UNDECIDED,
        NO_RECORD,
        CANNOT_TELL,
        ALIVE,
        SHED,
        DIED,
        SCAVENGED,
        EATEN
    }
}
