package org.aftercast.search;

/**
 * What may have become of the package, as far as silence and pings tell: probabilities that add up to 1. The beacon is mute
 * under water, so a ping before the planned detachment means it came off early, and silence after it can mean that it
 * is still attached, inside a predator, ashore or dead. Where a planned detachment lies after the start, every particle has
 * its own time of coming off, so that pings and silence move place and fate together. How the rest of silence is shared is
 * judgement (0.4, 0.2, 0.4 of what cannot be heard; 0.33, 0.67 of predator and dead where attachment is reckoned): only
 * what is heard or not enters, no biology.
 *
 * @param adrift afloat and sending
 * @param ashore held at the shore and sending
 * @param stillAttached under water on the animal
 * @param insidePredator under water inside another animal
 * @param beaconDead afloat or ashore but silent
 * @param shedEarly whether a ping was heard before the planned detachment
 * @param shedEarlyChance chance that it came off well before the planned time; 0 where no detachment was planned after the
 *     start
 */
public record BeaconState(
        double adrift,
        double ashore,
        double stillAttached,
        double insidePredator,
        double beaconDead,
        ShedEarly shedEarly,
        double shedEarlyChance) {

    /** Whether a ping was heard before the planned detachment. */
    public enum ShedEarly {
        /** No planned detachment is known. */
        NOT_KNOWN,
        /** No. */
        NO,
        /** One report before it: could be false. */
        ONE_REPORT,
        /** Two or more reports before it. */
        YES
    }
}
