package org.aftercast.report;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Everything a report says, as values: the one input of every document, figure file and data bundle. The same value gives
 * the same bytes.
 *
 * @param about the study
 * @param animals in the study's order, all of them, retrieved or not
 * @param estimate what all animals together say, or null when there is no estimate
 * @param plan what was planned, and what came of it, or null when the study keeps no plan
 * @param madeWith how the report came about
 */
public record StudyReport(
        About about,
        List<AnimalSection> animals,
        @Nullable EstimateSection estimate,
        @Nullable PlanSection plan,
        MadeWith madeWith) {

    public StudyReport {
        animals = List.copyOf(animals);
    }

    /** Whether the animals are real. */
    public enum Origin {
        OBSERVED,
        INVENTED
    }

    /**
     * The study.
     *
     * @param title one line
     * @param species common or scientific name, or null
     * @param scientificName Latin name for data exchange, or null when not known
     * @param site where, in words, or null
     * @param latDeg latitude of the site in degrees, or null
     * @param lonDeg longitude of the site in degrees, or null
     * @param zone for clock times
     * @param origin real or invented; invented data are labelled on every page
     * @param authors for the citation; may be empty
     * @param licence of the data, as an SPDX identifier such as {@code CC-BY-4.0}, or null when not decided
     * @param asOf date of the last change to the data; dates the documents
     * @param notes free text, or null
     */
    public record About(
            String title,
            @Nullable String species,
            @Nullable String scientificName,
            @Nullable String site,
            @Nullable Double latDeg,
            @Nullable Double lonDeg,
            ZoneId zone,
            Origin origin,
            List<String> authors,
            @Nullable String licence,
            LocalDate asOf,
            @Nullable String notes) {

        public About {
            authors = List.copyOf(authors);
        }
    }

    /**
     * How the report came about.
     *
     * @param softwareVersion of the program
     * @param components other versions that matter, name and version
     * @param settingsJson all settings, as JSON text
     * @param seed of everything random
     * @param changeCount number of entries in the study's history
     * @param lastChangeUtc the last of them, or null for none
     */
    public record MadeWith(
            String softwareVersion,
            List<NameAndValue> components,
            String settingsJson,
            long seed,
            long changeCount,
            @Nullable Instant lastChangeUtc) {

        public MadeWith {
            components = List.copyOf(components);
        }
    }

    /** A pair for a table. */
    public record NameAndValue(String name, String value) {}
}
