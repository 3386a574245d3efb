package org.aftercast.study;

import java.time.DateTimeException;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/**
 * What holds for the whole study.
 *
 * @param id always {@code study}: there is one per folder
 * @param title one line
 * @param species common or scientific name, or null
 * @param site where, in words, or null
 * @param timeZone zone in which local times are shown, for example {@code Europe/London}
 * @param latDeg latitude of the site in degrees, −90 to 90, or null
 * @param lonDeg longitude in degrees, −180 to 180, or null
 * @param bottomRest whether the species can lie on the bottom and breathe
 * @param catchDeathH hours after the animal's release within which a death counts as caused by the catch, &gt; 0 to 8760;
 *     declared before the data are seen
 * @param catchDeathRule the declared rule in words (what else must hold), or null
 * @param horizonH hours after release for which mortality is estimated, &gt; 0 to 8760
 * @param frequencySpacingKHz least distance between two beacons' frequencies, 0 to 1000 kHz
 * @param packageMassLimitPercent package weight in air against the animal's above which a warning is given, percent
 * @param origin whether the animals are real or invented
 * @param notes free text, or null
 */
public record StudyInfo(
        String id,
        String title,
        @Nullable String species,
        @Nullable String site,
        String timeZone,
        @Nullable Double latDeg,
        @Nullable Double lonDeg,
        BottomRest bottomRest,
        double catchDeathH,
        @Nullable String catchDeathRule,
        double horizonH,
        double frequencySpacingKHz,
        double packageMassLimitPercent,
        Origin origin,
        @Nullable String notes) {

    /** The one key. */
    public static final String ID = "study";

    /** Whether the species can rest on the bottom. */
    public enum BottomRest {
        /** It can lie still and breathe. */
        CAN_REST,
        /** It must swim to breathe; stillness is a sign of death. */
        NEVER_RESTS,
        /** Not known. */
        UNKNOWN
    }

    /** Whether the animals are real. */
    public enum Origin {
        /** Observed in the field. */
        OBSERVED,
        /** Invented; every page and report says so. */
        INVENTED
    }

    public StudyInfo {
        Rules rules = new Rules()
                .needed("title", title)
                .line("title", title)
                .line("species", species)
                .line("site", site)
                .needed("timeZone", timeZone)
                .position("latDeg", latDeg, "lonDeg", lonDeg)
                .within("catchDeathH", catchDeathH, 1e-3, 8760, "h")
                .note("catchDeathRule", catchDeathRule)
                .within("horizonH", horizonH, 1e-3, 8760, "h")
                .within("frequencySpacingKHz", frequencySpacingKHz, 0, 1000, "kHz")
                .within("packageMassLimitPercent", packageMassLimitPercent, 0.01, 100, "%")
                .note("notes", notes);
        if (!ID.equals(id)) {
            rules.add("id", "must be \"" + ID + "\"");
        }
        try {
            if (timeZone != null) {
                ZoneId.of(timeZone);
            }
        } catch (DateTimeException unknown) {
            rules.add("timeZone", "\"" + timeZone + "\" is not a known zone; accepted: such as Europe/London or UTC");
        }
        rules.check();
    }

    /** An empty study of this title: UTC, no place, 24 h for both declared times, 10 kHz apart, 2 % of the animal. */
    public static StudyInfo titled(String title) {
        return new StudyInfo(
                ID,
                title,
                null,
                null,
                "UTC",
                null,
                null,
                BottomRest.UNKNOWN,
                24,
                null,
                24,
                10,
                2,
                Origin.OBSERVED,
                null);
    }
}
