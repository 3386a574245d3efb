package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The share that died by the declared horizon.
 *
 * @param method how it was obtained
 * @param kind which formula applied
 * @param horizonH hours after release
 * @param rule which deaths count, in words
 * @param counts where the animals stood at the horizon
 * @param who which animals are behind the counts
 * @param died the share, or null when refused
 * @param otherIntervals the same share with other intervals
 * @param eatenOtherWay the share when eaten animals are treated the other way, or null when refused
 * @param best if every animal with an unknown fate at the horizon were alive; null without animals
 * @param worst if every animal with an unknown fate at the horizon had died; null without animals
 * @param noDeaths what can be said when none died, or null
 * @param vessel deaths before release and the total, or null when nothing is known of the landings or refused
 */
public record Headline(
        Method method,
        Kind kind,
        double horizonH,
        String rule,
        Counts counts,
        Who who,
        @Nullable Share died,
        List<Share> otherIntervals,
        @Nullable Share eatenOtherWay,
        @Nullable Share best,
        @Nullable Share worst,
        @Nullable NoDeaths noDeaths,
        @Nullable VesselDeaths vessel) {

    public Headline {
        otherIntervals = List.copyOf(otherIntervals);
    }

    /** The same without the names of animals. */
    Headline withoutNames() {
        return new Headline(
                method,
                kind,
                horizonH,
                rule,
                counts,
                new Who(List.of(), List.of(), List.of()),
                died,
                otherIntervals,
                eatenOtherWay,
                best,
                worst,
                noDeaths,
                vessel);
    }

    /** Which formula applied. */
    public enum Kind {
        /** Every fate is known to the horizon: deaths over animals. */
        COUNT,
        /** Some animals were lost from sight before the horizon: 1 − survival curve. */
        SURVIVAL_CURVE,
        /** As before, and some animals met an end that does not count: cumulative incidence. */
        CUMULATIVE_INCIDENCE,
        /** No answer. */
        REFUSED
    }

    /**
     * Where the animals stood at the horizon.
     *
     * @param animals all
     * @param died deaths that count, by the horizon
     * @param otherEnd deaths that do not count, by the horizon
     * @param alive known alive at the horizon
     * @param unknown lost from sight, or undecided, before the horizon
     */
    public record Counts(int animals, int died, int otherEnd, int alive, int unknown) {}

    /**
     * Which animals are behind the counts, by name; those not named are known to be alive at the horizon.
     *
     * @param died deaths that count, by the horizon
     * @param otherEnd deaths that do not count, by the horizon
     * @param unknown lost from sight, or undecided, before the horizon
     */
    public record Who(List<String> died, List<String> otherEnd, List<String> unknown) {

        public Who {
            died = List.copyOf(died);
            otherEnd = List.copyOf(otherEnd);
            unknown = List.copyOf(unknown);
        }
    }

    /**
     * No animal died.
     *
     * @param animals known alive at the horizon
     * @param upperOneSided the largest share that none among so many leaves possible, one-sided
     * @param level one-sided coverage
     * @param threeOverN the rule of thumb: 3 / animals; close to the exact value at 95 %; null when above 1
     */
    public record NoDeaths(
            int animals,
            double upperOneSided,
            double level,
            @Nullable Double threeOverN) {}

    /**
     * Deaths before release, and the total.
     *
     * @param method how the total was obtained
     * @param atVessel share dead before release, of those landed
     * @param total at-vessel + (1 − at-vessel) × after release
     */
    public record VesselDeaths(Method method, Share atVessel, Share total) {}
}
