package org.aftercast.estimate;

/**
 * One measure of one animal over time after its release, thinned to medians of equal stretches.
 *
 * @param animal its name
 * @param measure what was followed, in the words of {@link AnimalRecovery#measure}
 * @param unit of the values
 * @param hours middle of each stretch, hours since the release, ≥ 0, finite
 * @param values median of each stretch, finite
 */
public record RecoveryTrack(String animal, String measure, String unit, double[] hours, double[] values) {

    public RecoveryTrack {
        if (hours.length != values.length) {
            throw new IllegalArgumentException(
                    "hours, values: " + hours.length + " and " + values.length + " for animal " + animal);
        }
        hours = hours.clone();
        values = values.clone();
        for (int i = 0; i < hours.length; i++) {
            if (!(hours[i] >= 0) || !Double.isFinite(hours[i]) || !Double.isFinite(values[i])) {
                throw new IllegalArgumentException(
                        "hours, values: point " + i + " of animal " + animal + " is " + hours[i] + ", " + values[i]);
            }
        }
    }
}
