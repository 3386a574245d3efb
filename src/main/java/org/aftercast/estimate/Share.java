package org.aftercast.estimate;

import org.aftercast.stats.Interval;

/**
 * A share with its interval.
 *
 * @param value 0–1
 * @param low lower limit, 0–1
 * @param high upper limit, 0–1
 * @param level wanted coverage of the interval (0.95)
 * @param interval name of the interval
 */
public record Share(double value, double low, double high, double level, String interval) {

    public Share {
        if (!(value >= 0 && value <= 1 && low >= 0 && low <= high && high <= 1)) {
            throw new IllegalArgumentException("value: " + value + " with " + low + "–" + high + " is not a share");
        }
    }

    static Share of(double value, Interval limits, double level, String interval) {
        return new Share(
                Math.min(1, Math.max(0, value)),
                Math.max(0, Math.min(1, limits.low())),
                Math.min(1, Math.max(0, limits.high())),
                level,
                interval);
    }
}
