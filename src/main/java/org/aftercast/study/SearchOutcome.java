package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * How one search for one package ended.
 *
 * @param animal the animal that carried the package
 * @param number 1, 2 … for one animal
 * @param startedUtc when the search began, or null
 * @param endedUtc when it ended, or null
 * @param outcome found or not
 * @param foundLatDeg where it was found, degrees, or null
 * @param foundLonDeg where it was found, degrees, or null
 * @param packageCondition tooth marks, scratches, water inside …, in words, or null
 * @param searchNotes free text, or null
 */
public record SearchOutcome(
        String animal,
        int number,
        @Nullable Instant startedUtc,
        @Nullable Instant endedUtc,
        Outcome outcome,
        @Nullable Double foundLatDeg,
        @Nullable Double foundLonDeg,
        @Nullable String packageCondition,
        @Nullable String searchNotes) {

    /** How a search ended. */
    public enum Outcome {
        /** The package is back in hand. */
        RETRIEVED,
        /** Not found this time; it will be sought again. */
        NOT_FOUND,
        /** Given up: the package counts as lost. */
        GIVEN_UP
    }

    public SearchOutcome {
        startedUtc = Rules.toMs(startedUtc);
        endedUtc = Rules.toMs(endedUtc);
        new Rules()
                .name("animal", animal)
                .within("number", number, 1, 10_000, "")
                .time("startedUtc", startedUtc)
                .time("endedUtc", endedUtc)
                .order("endedUtc", endedUtc, "startedUtc", startedUtc)
                .needed("outcome", outcome)
                .position("foundLatDeg", foundLatDeg, "foundLonDeg", foundLonDeg)
                .note("packageCondition", packageCondition)
                .note("searchNotes", searchNotes)
                .check();
    }

    /** Of two searches for one package the one that counts: a package in hand stays in hand; else the later one. */
    public static SearchOutcome decisive(SearchOutcome a, SearchOutcome b) {
        if (a.outcome() == Outcome.RETRIEVED) {
            return a;
        }
        return b.outcome() == Outcome.RETRIEVED || b.number() > a.number() ? b : a;
    }
}
