package org.aftercast.search;

/**
 * What may have become of the package, as far as silence and pings tell: probabilities that add up to 1. The beacon is mute
 * under water, so a ping before the planned detachment means it came off early, and silence after it can mean that it
 * is still attached, inside a predator, ashore or dead. How silence is shared between those is judgement (0.4, 0.2, 0.4 of
 * what cannot be heard): only what is heard or not enters, no biology.
 *
 * @param adrift afloat and sending
 * @param ashore held at the shore and sending
 * @param stillAttached under water on the animal
 * @param insidePredator under water inside another animal
 * @param beaconDead afloat or ashore but silent
 * @param shedEarly whether a ping was heard before the planned detachment
 */
public record BeaconState(
        double adrift,
        double ashore,
        double stillAttached,
        double insidePredator,
        double beaconDead,
        ShedEarly shedEarly) {

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
