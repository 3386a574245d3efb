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
 * @param outcome how it ended
 * @param foundLatDeg where it was found, degrees, or null
 * @param foundLonDeg where it was found, degrees, or null
 * @param searchH hours at sea spent on it, or null
 * @param searchNm nautical miles run for it, or null
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
        @Nullable Double searchH,
        @Nullable Double searchNm,
        @Nullable String packageCondition,
        @Nullable String searchNotes) {

    /** How the notes of an outcome begin that was taken from the table of the search. */
    public static final String FROM_LOG = "From the search log";

    /** How records version 2 and tables of that time call {@link Outcome#ABANDONED}. */
    static final String EARLIER_WORD = "given-up";

    /** How a search ended. */
    public enum Outcome {
        /** Back in hand, taken from the water by those who sought it. */
        RETRIEVED,
        /** Back in hand, found ashore. */
        STRANDED,
        /** Back in hand, brought by somebody else. */
        HANDED_IN,
        /** Not found this time; it will be sought again. */
        NOT_FOUND,
        /** Not sought any longer: the package counts as lost. */
        ABANDONED;

        /** Whether the package is back, in whatever way. */
        public boolean inHand() {
            return this == RETRIEVED || this == STRANDED || this == HANDED_IN;
        }
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
                .within("searchH", searchH, 0, 10_000, "h")
                .within("searchNm", searchNm, 0, 100_000, "NM")
                .note("packageCondition", packageCondition)
                .note("searchNotes", searchNotes)
                .check();
    }

    /** Whether it was taken from the table of the search, not entered by a person. */
    public boolean takenFromLog() {
        return searchNotes != null && searchNotes.startsWith(FROM_LOG);
    }

    /** Of two searches for one package the one that counts: a package in hand stays in hand; else the later one. */
    public static SearchOutcome decisive(SearchOutcome a, SearchOutcome b) {
        if (a.outcome().inHand() && (!b.outcome().inHand() || a.number() > b.number())) {
            return a;
        }
        return b.outcome().inHand() || b.number() > a.number() ? b : a;
    }
}
