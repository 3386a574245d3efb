package org.aftercast.behaviour;

/** What is followed back to normal. */
public enum RecoveryMeasure {
    BEAT_FREQUENCY("beat frequency", "Hz"),
    BEAT_AMPLITUDE("beat amplitude", "g"),
    ACTIVITY("activity", "g"),
    ROLL_STEADINESS("roll steadiness", "°"),
    DEPTH_VARIABILITY("depth variability", "m");

    private final String word;
    private final String unit;

    RecoveryMeasure(String word, String unit) {
        this.word = word;
        this.unit = unit;
    }

    /** The words used in results and on pages. */
    public String word() {
        return word;
    }

    /** Unit of the values. */
    public String unit() {
        return unit;
    }
}
