package org.aftercast.voyage;

import java.util.Locale;
import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;

/** The words by which a table names a fate and the end of a record. */
final class FateWords {

    static final String FATES = "survived, died, eaten, shed, undecided, scavenged, lost; or the animal's fate alone"
            + " (alive-at-end, died, eaten, dead-then-scavenged, undecided) with a column recordEnd";
    static final String ENDS = "planned-detachment, shed-early, logger-stopped, flooded, package-lost";

    private static final Map<String, AnimalFate> FATE = Map.ofEntries(
            Map.entry("survived", AnimalFate.ALIVE_AT_END),
            Map.entry("alive", AnimalFate.ALIVE_AT_END),
            Map.entry("aliveatend", AnimalFate.ALIVE_AT_END),
            Map.entry("shed", AnimalFate.ALIVE_AT_END),
            Map.entry("died", AnimalFate.DIED),
            Map.entry("dead", AnimalFate.DIED),
            Map.entry("eaten", AnimalFate.EATEN),
            Map.entry("scavenged", AnimalFate.DEAD_THEN_SCAVENGED),
            Map.entry("deadthenscavenged", AnimalFate.DEAD_THEN_SCAVENGED),
            Map.entry("undecided", AnimalFate.UNDECIDED),
            Map.entry("lost", AnimalFate.UNDECIDED));

    private static final Map<String, RecordEnd> END = Map.ofEntries(
            Map.entry("planneddetachment", RecordEnd.PLANNED_DETACHMENT),
            Map.entry("planned", RecordEnd.PLANNED_DETACHMENT),
            Map.entry("shedearly", RecordEnd.SHED_EARLY),
            Map.entry("shed", RecordEnd.SHED_EARLY),
            Map.entry("loggerstopped", RecordEnd.LOGGER_STOPPED),
            Map.entry("stopped", RecordEnd.LOGGER_STOPPED),
            Map.entry("flooded", RecordEnd.FLOODED),
            Map.entry("packagelost", RecordEnd.PACKAGE_LOST),
            Map.entry("lost", RecordEnd.PACKAGE_LOST));

    private FateWords() {}

    /** What a row says. */
    record Reading(AnimalFate animal, RecordEnd end) {

        /** Nothing was ever seen of an animal whose package was lost: its time at risk is 0. */
        boolean timeMayBeBlank() {
            return end == RecordEnd.PACKAGE_LOST && animal == AnimalFate.UNDECIDED;
        }
    }

    /** A word that is not one of ours, or two that contradict each other. */
    static final class BadWord extends Exception {

        private static final long serialVersionUID = 1L;
        private final boolean inEnd;
        private final String problem;
        private final String accepted;

        BadWord(boolean inEnd, String problem, String accepted) {
            super(problem);
            this.inEnd = inEnd;
            this.problem = problem;
            this.accepted = accepted;
        }

        boolean inEnd() {
            return inEnd;
        }

        String problem() {
            return problem;
        }

        String accepted() {
            return accepted;
        }
    }

    /**
     * Reads a fate and, if the cell is not blank, a record's end. Without one the end follows from the word: shed →
     * shed early, lost → package lost, all others → planned detachment.
     */
    static Reading read(String fateCell, String endCell) throws BadWord {
        String word = key(fateCell);
        AnimalFate fate = FATE.get(word);
        if (fate == null) {
            throw new BadWord(false, fateCell.isEmpty() ? "no fate" : "\"" + fateCell + "\" is not a fate", FATES);
        }
        RecordEnd implied = switch (word) {
            case "shed" -> RecordEnd.SHED_EARLY;
            case "lost" -> RecordEnd.PACKAGE_LOST;
            default -> RecordEnd.PLANNED_DETACHMENT;
        };
        if (endCell.isEmpty()) {
            return new Reading(fate, implied);
        }
        RecordEnd end = END.get(key(endCell));
        if (end == null) {
            throw new BadWord(true, "\"" + endCell + "\" is not a record's end", ENDS);
        }
        if ((word.equals("shed") || word.equals("lost")) && end != implied) {
            throw new BadWord(
                    true,
                    "the fate \"" + fateCell + "\" and the record's end \"" + endCell + "\" contradict",
                    "one end");
        }
        if (word.equals("survived") && end == RecordEnd.SHED_EARLY) {
            throw new BadWord(
                    true,
                    "the fate \"survived\" and the record's end \"" + endCell + "\" contradict",
                    "shed, or alive-at-end with shed-early");
        }
        return new Reading(fate, end);
    }

    private static String key(String cell) {
        return cell.toLowerCase(Locale.ROOT).replaceAll("[ _-]", "");
    }
}
