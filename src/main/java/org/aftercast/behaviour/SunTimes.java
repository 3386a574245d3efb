package org.aftercast.behaviour;

/**
 * Sun times at the place of release.
 *
 * @param sunriseS sunrises in seconds from the first sample, in order; may be negative
 * @param sunsetS sunsets in seconds from the first sample, in order
 */
public record SunTimes(double[] sunriseS, double[] sunsetS) {

    /** Whether the sun is up: the last of the two before {@code atS} was a sunrise, or the first after it is a sunset. */
    public boolean isUp(double atS) {
        double rise = Double.NEGATIVE_INFINITY;
        double set = Double.NEGATIVE_INFINITY;
        double nextRise = Double.POSITIVE_INFINITY;
        double nextSet = Double.POSITIVE_INFINITY;
        for (double s : sunriseS) {
            rise = s <= atS ? Math.max(rise, s) : rise;
            nextRise = s > atS ? Math.min(nextRise, s) : nextRise;
        }
        for (double s : sunsetS) {
            set = s <= atS ? Math.max(set, s) : set;
            nextSet = s > atS ? Math.min(nextSet, s) : nextSet;
        }
        return rise == set ? nextSet < nextRise : rise > set;
    }
}
