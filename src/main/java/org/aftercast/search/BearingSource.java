package org.aftercast.search;

/** How a bearing was measured: it decides the correction to true. */
public enum BearingSource {
    /** Already true. */
    TRUE("true"),
    /** A hand compass: declination, and no deviation card (the card belongs to the boat's compass). */
    HAND_COMPASS("hand compass"),
    /** From the bow, with the heading of the boat's magnetic compass: deviation and declination. */
    BOW_AND_COMPASS("from the bow with the boat's compass"),
    /** From the bow, with a true heading (satellite compass, gyro). */
    BOW_AND_TRUE_HEADING("from the bow with a true heading"),
    /** From the bow, with the course over ground while under way: set and leeway are in it. */
    BOW_AND_COURSE("from the bow with the course over ground");

    private final String words;

    BearingSource(String words) {
        this.words = words;
    }

    /** In words. */
    public String words() {
        return words;
    }

    /** Whether a heading or course is needed with it. */
    public boolean needsHeading() {
        return this == BOW_AND_COMPASS || this == BOW_AND_TRUE_HEADING || this == BOW_AND_COURSE;
    }
}
