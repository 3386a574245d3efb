package org.aftercast.search;

/**
 * Loudness at one heading of a sweep.
 *
 * @param headingDeg where the antenna pointed, in degrees, in the sweep's own reference
 * @param loudnessDb loudness in decibels on any fixed scale (all points of a sweep at one gain); NaN when not heard
 * @param kind whether the loudness can be believed
 */
public record SweepPoint(double headingDeg, double loudnessDb, Kind kind) {

    /** Whether a loudness can be believed. */
    public enum Kind {
        /** A loudness. */
        HEARD,
        /** As loud as the receiver gets: the true loudness is at least this. */
        SATURATED,
        /** Not heard: the loudness is below the faintest heard. */
        NOT_HEARD
    }

    public SweepPoint {
        if (!Double.isFinite(headingDeg)) {
            throw new IllegalArgumentException("headingDeg: " + headingDeg + " must be a finite number");
        }
        if ((kind == Kind.NOT_HEARD) != Double.isNaN(loudnessDb)) {
            throw new IllegalArgumentException(
                    "loudnessDb: give a number when heard, none when not (" + kind + ", " + loudnessDb + ")");
        }
    }
}
