package org.aftercast.behaviour;

/**
 * One moment with its uncertainty.
 *
 * @param atS best estimate, seconds from the first sample
 * @param lowS earliest, ≤ atS
 * @param highS latest, ≥ atS
 * @param how how it was found
 * @param note one sentence with numbers
 */
public record Moment(double atS, double lowS, double highS, How how, String note) {

    /** How a moment was found. */
    public enum How {
        /** Given by a person. */
        GIVEN,
        /** Found in the record. */
        FOUND,
        /** Not seen: the record begins after it, or ends before it. */
        NOT_SEEN
    }

    public Moment {
        if (!(lowS <= atS && atS <= highS)) {
            throw new IllegalArgumentException("moment: " + lowS + ", " + atS + ", " + highS + " are not in order");
        }
    }
}
