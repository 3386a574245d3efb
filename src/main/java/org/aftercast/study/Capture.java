package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * How one animal was caught and handled. Everything but the animal may be unknown (null).
 *
 * @param animal the animal's name
 * @param trip trip, one line
 * @param vessel vessel or its code
 * @param anglerCode code of the angler, never a name
 * @param handlerCode code of who handled the animal
 * @param gear gear and bait in words
 * @param hookType kind of hook
 * @param hookLocation where the hook sat
 * @param hookLeft whether the hook stayed in
 * @param bleeding how much blood was seen
 * @param hookedUtc when the fight began
 * @param fightMin length of the fight in minutes, 0–1440
 * @param airExposureS time in air in seconds, 0–7200
 * @param captureDepthM depth at which it was hooked in metres, 0–2000
 * @param barotrauma signs of pressure injury
 * @param lengthM length in metres, 0.01–20
 * @param massKg mass in kilograms, 0.001–5000, measured or from a length–mass relation
 * @param sex sex
 * @param reflexesTested number of reflexes tested, 0–20
 * @param reflexesMissing number of those that were absent
 * @param injuryScore 0 none, 1 slight, 2 moderate, 3 severe
 * @param waterTempC temperature of the water at the surface in °C, −2 to 40
 * @param captureLatDeg latitude of capture in degrees
 * @param captureLonDeg longitude of capture in degrees
 * @param captureNotes free text
 */
public record Capture(
        String animal,
        @Nullable String trip,
        @Nullable String vessel,
        @Nullable String anglerCode,
        @Nullable String handlerCode,
        @Nullable String gear,
        @Nullable HookType hookType,
        @Nullable HookLocation hookLocation,
        @Nullable HookLeft hookLeft,
        @Nullable Bleeding bleeding,
        @Nullable Instant hookedUtc,
        @Nullable Double fightMin,
        @Nullable Double airExposureS,
        @Nullable Double captureDepthM,
        @Nullable Barotrauma barotrauma,
        @Nullable Double lengthM,
        @Nullable Double massKg,
        @Nullable Sex sex,
        @Nullable Integer reflexesTested,
        @Nullable Integer reflexesMissing,
        @Nullable Integer injuryScore,
        @Nullable Double waterTempC,
        @Nullable Double captureLatDeg,
        @Nullable Double captureLonDeg,
        @Nullable String captureNotes) {

    /** Kind of hook. */
    public enum HookType {
        J_HOOK,
        CIRCLE,
        TREBLE,
        OTHER
    }

    /** Where the hook sat, from shallow to deep, and outside. */
    public enum HookLocation {
        JAW,
        MOUTH,
        GILLS,
        THROAT,
        GUT,
        OUTSIDE
    }

    /** Whether the hook stayed in. */
    public enum HookLeft {
        LEFT_IN,
        TAKEN_OUT
    }

    /** How much blood was seen. */
    public enum Bleeding {
        NONE,
        SLIGHT,
        HEAVY
    }

    /** Signs of pressure injury. */
    public enum Barotrauma {
        NONE,
        SIGNS,
        DOES_NOT_APPLY
    }

    /** Sex. */
    public enum Sex {
        FEMALE,
        MALE,
        UNKNOWN
    }

    public Capture {
        hookedUtc = Rules.toMs(hookedUtc);
        Rules rules = new Rules()
                .name("animal", animal)
                .line("trip", trip)
                .line("vessel", vessel)
                .line("anglerCode", anglerCode)
                .line("handlerCode", handlerCode)
                .line("gear", gear)
                .time("hookedUtc", hookedUtc)
                .within("fightMin", fightMin, 0, 1440, "min")
                .within("airExposureS", airExposureS, 0, 7200, "s")
                .within("captureDepthM", captureDepthM, 0, 2000, "m")
                .within("lengthM", lengthM, 0.01, 20, "m")
                .within("massKg", massKg, 0.001, 5000, "kg")
                .within("reflexesTested", reflexesTested, 0, 20, "")
                .within("reflexesMissing", reflexesMissing, 0, 20, "")
                .within("injuryScore", injuryScore, 0, 3, "")
                .within("waterTempC", waterTempC, -2, 40, "°C")
                .position("captureLatDeg", captureLatDeg, "captureLonDeg", captureLonDeg)
                .note("captureNotes", captureNotes);
        if (reflexesMissing != null && (reflexesTested == null || reflexesMissing > reflexesTested)) {
            rules.add("reflexesMissing", reflexesMissing + " are missing of " + reflexesTested + " tested");
        }
        rules.check();
    }
}
