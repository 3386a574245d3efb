package org.aftercast.study;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What was done before an animal's release. The still poses calibrate the axes, the taps timed by GPS set the logger's
 * clock, the beacon must be heard in air, and the stop rule of welfare and permit decides whether it is released with a
 * package at all.
 *
 * @param animal the animal
 * @param stillPoses whether the logger was held still in its poses
 * @param tap1Utc first tap, by the GPS's time, or null
 * @param tap2Utc second tap, or null
 * @param tap3Utc third tap, or null
 * @param beaconHeardUtc when the beacon was heard in air, or null
 * @param stopRule what the stop rule says
 * @param permitCode the permit it is done under, or null
 * @param checklistNotes free text, or null
 */
public record Checklist(
        String animal,
        StillPoses stillPoses,
        @Nullable Instant tap1Utc,
        @Nullable Instant tap2Utc,
        @Nullable Instant tap3Utc,
        @Nullable Instant beaconHeardUtc,
        StopRule stopRule,
        @Nullable String permitCode,
        @Nullable String checklistNotes) {

    /** Whether the logger was held still in its poses. */
    public enum StillPoses {
        NOT_YET,
        DONE
    }

    /** What the stop rule of welfare and permit says. */
    public enum StopRule {
        /** Not looked at yet. */
        NOT_YET,
        /** The animal is fit to carry a package, and the permit covers it. */
        GO_AHEAD,
        /** No package on this animal. */
        STOP
    }

    public Checklist {
        tap1Utc = Rules.toMs(tap1Utc);
        tap2Utc = Rules.toMs(tap2Utc);
        tap3Utc = Rules.toMs(tap3Utc);
        beaconHeardUtc = Rules.toMs(beaconHeardUtc);
        new Rules()
                .name("animal", animal)
                .needed("stillPoses", stillPoses)
                .time("tap1Utc", tap1Utc)
                .time("tap2Utc", tap2Utc)
                .time("tap3Utc", tap3Utc)
                .order("tap2Utc", tap2Utc, "tap1Utc", tap1Utc)
                .order("tap3Utc", tap3Utc, "tap2Utc", tap2Utc)
                .time("beaconHeardUtc", beaconHeardUtc)
                .needed("stopRule", stopRule)
                .line("permitCode", permitCode)
                .note("checklistNotes", checklistNotes)
                .check();
    }

    /** Nothing done yet. */
    public static Checklist empty(String animal) {
        return new Checklist(animal, StillPoses.NOT_YET, null, null, null, null, StopRule.NOT_YET, null, null);
    }

    /** What is still to be done before the release; empty when all is done. */
    public List<String> missing() {
        List<String> missing = new ArrayList<>();
        if (stillPoses == StillPoses.NOT_YET) {
            missing.add("still poses");
        }
        int taps = (tap1Utc == null ? 0 : 1) + (tap2Utc == null ? 0 : 1) + (tap3Utc == null ? 0 : 1);
        if (taps < 3) {
            missing.add("taps timed by GPS (" + taps + " of 3)");
        }
        if (beaconHeardUtc == null) {
            missing.add("beacon heard in air");
        }
        if (stopRule == StopRule.NOT_YET) {
            missing.add("stop rule of welfare and permit");
        }
        return missing;
    }
}
