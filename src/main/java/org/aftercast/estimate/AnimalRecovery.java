package org.aftercast.estimate;

import org.jspecify.annotations.Nullable;

/**
 * How long one animal took to return to its own normal, by one measure.
 *
 * @param animal its name
 * @param measure what was followed, in words
 * @param hours to recovery, or hours watched without it when not seen to recover; ≥ 0
 * @param seen whether recovery was seen; otherwise it came later than {@code hours}
 * @param lowH lower limit of the hours, or null
 * @param highH upper limit of the hours, or null
 */
public record AnimalRecovery(
        String animal,
        String measure,
        double hours,
        Seen seen,
        @Nullable Double lowH,
        @Nullable Double highH) {

    /** Whether recovery was seen. */
    public enum Seen {
        RECOVERED,
        LATER_THAN
    }

    public AnimalRecovery {
        if (!(hours >= 0) || Double.isInfinite(hours)) {
            throw new IllegalArgumentException("hours: " + hours + " for animal " + animal + " is not ≥ 0");
        }
    }
}
