package org.aftercast.behaviour;

import java.util.List;

/**
 * All measures side by side.
 *
 * @param measures one entry a measure
 * @param headline the one that is quoted: of beat frequency, amplitude and activity the one that shows a disturbance most
 *     clearly, else beat frequency
 * @param firstRestFromH hours from the release to the first rest on the bottom; {@code NaN} when there is none
 * @param firstRestMin its length in minutes; {@code NaN}
 * @param statement what the measures say together, for people
 */
public record RecoveryReading(
        List<Recovery> measures, Recovery headline, double firstRestFromH, double firstRestMin, String statement) {

    public RecoveryReading {
        measures = List.copyOf(measures);
    }
}
