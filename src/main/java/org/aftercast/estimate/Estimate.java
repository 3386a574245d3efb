package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** Entry point: from one outcome per animal to what all of them say. */
public final class Estimate {

    private Estimate() {}

    /**
     * The estimate. Never fails on a hostile study: what cannot be said carries the reason in its
     * {@link Method#refusal}.
     *
     * @param animals one per tagged animal, any number
     * @param landed what was landed, or null when not recorded
     * @param settings the choices
     */
    public static EstimateResult of(
            List<AnimalOutcome> animals, @Nullable LandedCounts landed, EstimateSettings settings) {
        return new EstimateResult(
                settings,
                FlowAnalysis.of(animals, landed),
                HeadlineAnalysis.of(animals, landed, settings),
                TimeToDeathAnalysis.of(animals, settings));
    }
}
