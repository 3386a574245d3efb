package org.aftercast.search;

import java.time.Instant;
import java.util.List;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * What the boat is advised to do next. Cautions and the turn-back time come first and are never overridden.
 *
 * @param time now
 * @param cautions what to hold against this advice before following it
 * @param turnBackAt latest time to turn for home from here, or null when it cannot be told
 * @param turnBackReason what sets it, or what is missing to tell it
 * @param action what to do
 * @param leg where to go, or null
 * @param reason why, in a sentence or two
 * @param gainStep gain step to listen with on arrival, 1 the highest
 * @param gainReason why, and what hearing there means for the distance
 * @param pattern a pattern that can be run in place of single legs while silent, or null
 * @param detectionOddsSoFar chance that a sounding beacon where the forecast has it would have been heard by now
 */
public record Advice(
        Instant time,
        List<String> cautions,
        @Nullable Instant turnBackAt,
        String turnBackReason,
        Action action,
        @Nullable Leg leg,
        String reason,
        int gainStep,
        String gainReason,
        @Nullable Pattern pattern,
        double detectionOddsSoFar) {

    /** What to do. */
    public enum Action {
        /** Go home now. */
        TURN_BACK,
        /** Run the leg, stop, turn the antenna once. */
        RUN_LEG,
        /** Listen here: nothing better can be reached. */
        LISTEN_HERE,
        /** Go to where it should be seen and look. */
        GO_AND_LOOK,
        /** It should be in sight: the last approach. */
        LAST_APPROACH
    }

    /**
     * A leg.
     *
     * @param courseDeg true course in degrees
     * @param distanceM length in metres
     * @param to its end
     * @param arrival when it ends at the boat's speed
     * @param chanceOfHearing chance of hearing the beacon there at the highest gain
     * @param bitsPerHour expected information, per hour of running and listening
     */
    public record Leg(
            double courseDeg,
            double distanceM,
            Position to,
            Instant arrival,
            double chanceOfHearing,
            double bitsPerHour) {}

    /**
     * A pattern.
     *
     * @param spacingM distance between its tracks in metres
     * @param reason why this one
     * @param turns its turning points over the ground, moving with the drift; cut before land
     */
    public record Pattern(SearchPattern.Kind kind, double spacingM, String reason, List<SearchPattern.Turn> turns) {}

    public Advice {
        cautions = List.copyOf(cautions);
    }
}
