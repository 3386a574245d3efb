package org.aftercast.behaviour;

/** What an animal or its package is doing over a stretch of time. */
public enum BoutKind {
    /** At or near the surface with little or no tailbeat. */
    WEAK_AT_SURFACE("weak-at-surface"),
    /** Going down steadily without swimming. */
    DESCENDING("descending"),
    /** Still, but with the small periodic movements of breathing, or followed by swimming again. */
    RESTING("resting"),
    /** Tailbeats. */
    SWIMMING("swimming"),
    /** No movement at all, posture fixed. */
    MOTIONLESS("motionless"),
    /** Package moving with another animal. */
    INSIDE_PREDATOR("inside-predator"),
    /** Package at the surface, off the animal. */
    AFLOAT("afloat");

    private final String word;

    BoutKind(String word) {
        this.word = word;
    }

    /** The word used in results and on pages. */
    public String word() {
        return word;
    }
}
