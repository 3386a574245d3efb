package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The moment the animal is let go, with which package, and when the package is meant to come off. A row without
 * {@code releasedUtc} is a plan.
 *
 * @param animal the animal's name
 * @param packageSerial the package it carries, or null for an animal released without
 * @param releasedUtc when it was let go, or null when that is still to come
 * @param releaseLatDeg latitude in degrees, or null
 * @param releaseLonDeg longitude in degrees, or null
 * @param siteDepthM depth of the water there in metres, 0–11 000, or null
 * @param releaseState how it went, or null
 * @param plannedDetachmentUtc when the package is meant to come off, or null
 */
public record Release(
        String animal,
        @Nullable String packageSerial,
        @Nullable Instant releasedUtc,
        @Nullable Double releaseLatDeg,
        @Nullable Double releaseLonDeg,
        @Nullable Double siteDepthM,
        @Nullable ReleaseState releaseState,
        @Nullable Instant plannedDetachmentUtc) {

    /** How the animal went. */
    public enum ReleaseState {
        SWAM_OFF_STRONGLY,
        SWAM_OFF,
        SWAM_OFF_WEAKLY,
        FLOATED,
        SANK,
        NOT_SEEN
    }

    public Release {
        releasedUtc = Rules.toMs(releasedUtc);
        plannedDetachmentUtc = Rules.toMs(plannedDetachmentUtc);
        new Rules()
                .name("animal", animal)
                .optionalName("packageSerial", packageSerial)
                .time("releasedUtc", releasedUtc)
                .position("releaseLatDeg", releaseLatDeg, "releaseLonDeg", releaseLonDeg)
                .within("siteDepthM", siteDepthM, 0, 11_000, "m")
                .time("plannedDetachmentUtc", plannedDetachmentUtc)
                .order("plannedDetachmentUtc", plannedDetachmentUtc, "releasedUtc", releasedUtc)
                .check();
    }

    /** A release at which nobody noted the depth of the water. */
    public Release(
            String animal,
            @Nullable String packageSerial,
            @Nullable Instant releasedUtc,
            @Nullable Double releaseLatDeg,
            @Nullable Double releaseLonDeg,
            @Nullable ReleaseState releaseState,
            @Nullable Instant plannedDetachmentUtc) {
        this(
                animal,
                packageSerial,
                releasedUtc,
                releaseLatDeg,
                releaseLonDeg,
                null,
                releaseState,
                plannedDetachmentUtc);
    }
}
