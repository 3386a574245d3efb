package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * From groups of tagged animals to the fishery, and the share above that of control animals.
 *
 * @param method how the fishery's share was obtained
 * @param strata each group with its share of the fishery
 * @param fishery posterior mean with equal tails, or null when refused or not asked for
 * @param weightedShare Σ weight · deaths/animals, without a prior; null when refused
 * @param seFixedWeights its standard error when the weights are known; null when refused
 * @param seAllWeights its standard error with the uncertainty of the weights; null when refused
 * @param controls control animals taken off (Abbott); its parts are null when not asked for or refused
 * @param inNumbers dead animals among those released; without an answer when not asked for or refused
 */
public record ScaledUp(
        Method method,
        List<Stratum> strata,
        @Nullable Share fishery,
        @Nullable Double weightedShare,
        @Nullable Double seFixedWeights,
        @Nullable Double seAllWeights,
        ControlAdjusted controls,
        InNumbers inNumbers) {

    public ScaledUp {
        strata = List.copyOf(strata);
    }

    /**
     * One group.
     *
     * @param name value in the column
     * @param weight share of the fishery, 0–1
     * @param died deaths that count by the horizon
     * @param animals with a known fate at the horizon
     * @param share posterior mean with Jeffreys limits
     */
    public record Stratum(
            String name,
            double weight,
            int died,
            int animals,
            @Nullable Share share) {}

    /**
     * Mortality above that of control animals: (m − c)/(1 − c).
     *
     * @param method how it was obtained
     * @param control share of the control animals that died, or null
     * @param adjusted share above the controls', 0 when below; or null
     */
    public record ControlAdjusted(
            Method method,
            @Nullable Share control,
            @Nullable Share adjusted) {}

    /**
     * Dead animals among those that the fishery released.
     *
     * @param method how they were counted
     * @param dead the answer: with weighted groups where shares of groups were given, else with the declared share; or
     *     null
     * @param otherwise the same with other shares; empty without an answer
     */
    public record InNumbers(Method method, @Nullable Dead dead, List<Dead> otherwise) {

        public InNumbers {
            otherwise = List.copyOf(otherwise);
        }
    }

    /**
     * A number of dead animals.
     *
     * @param share which share was laid on the number released
     * @param dead share times the number released
     * @param low lower limit, ≥ 0
     * @param high upper limit
     * @param level wanted coverage
     */
    public record Dead(String share, double dead, double low, double high, double level) {}
}
