package org.aftercast.fate;

/**
 * When it happened: seconds from the first sample.
 *
 * @param lowS earliest
 * @param midS best estimate
 * @param highS latest
 */
public record ChangeTime(double lowS, double midS, double highS) {

    public ChangeTime {
        if (!(lowS <= midS && midS <= highS)) {
            throw new IllegalArgumentException(
                    "change time: " + lowS + ", " + midS + ", " + highS + " is not in order");
        }
    }
}
