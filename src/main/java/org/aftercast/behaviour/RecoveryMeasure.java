package org.aftercast.behaviour;

/** What is followed back to normal. */
public enum RecoveryMeasure {
    BEAT_FREQUENCY("beat frequency", "Hz", 1),
    BEAT_AMPLITUDE("beat amplitude", "g", 2),
    ACTIVITY("activity", "g", 2),
    ROLL_STEADINESS("roll steadiness", "°", 2),
    DEPTH_VARIABILITY("depth variability", "m", 4);

    private final String word;
    private final String unit;
    private final double looseness;

    RecoveryMeasure(String word, String unit, double looseness) {
        this.word = word;
        this.unit = unit;
        this.looseness = looseness;
    }

    /** The words used in results and on pages. */
    public String word() {
        return word;
    }

    /** Unit of the values. */
    public String unit() {
        return unit;
    }

    /** How much more it varies over the day, and departs at a release, than beat frequency does; our own estimate. */
    double looseness() {
        return looseness;
    }
}
