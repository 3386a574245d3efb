package org.aftercast.stats;

/**
 * A closed interval.
 *
 * @param low lower limit, ≤ high; −∞ allowed
 * @param high upper limit; +∞ allowed
 */
public record Interval(double low, double high) {

    public Interval {
        if (!(low <= high)) {
            throw new IllegalArgumentException("low: " + low + " is not ≤ high: " + high);
        }
    }

    /** Whether {@code value} lies in it, limits included. */
    public boolean holds(double value) {
        return low <= value && value <= high;
    }

    /** {@code high − low}. */
    public double width() {
        return high - low;
    }

    /** The interval of {@code 1 − value}: limits swapped. */
    public Interval complement() {
        return new Interval(1 - high, 1 - low);
    }
}
