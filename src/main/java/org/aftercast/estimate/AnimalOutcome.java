package org.aftercast.estimate;

import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/**
 * One animal as the estimate sees it.
 *
 * @param animal its name in the study
 * @param groups group columns (trip, vessel, hook location …) by name; text values
 * @param covariates numeric risk factors by name with the unit in the name (fightMin, airExposureS …)
 * @param fate what became of the animal
 * @param end how the record ended; shed and lost are censoring
 * @param atRiskH hours from the animal's release to death, or to the last certain sign of life; ≥ 0
 * @param probabilities fate probabilities, or null when the fate is taken as certain
 */
public record AnimalOutcome(
        String animal,
        Map<String, String> groups,
        Map<String, Double> covariates,
        AnimalFate fate,
        RecordEnd end,
        double atRiskH,
        @Nullable FateProbabilities probabilities) {

    public AnimalOutcome {
        groups = Map.copyOf(groups);
        covariates = Map.copyOf(covariates);
        if (!(atRiskH >= 0) || Double.isInfinite(atRiskH)) {
            throw new IllegalArgumentException(
                    "atRiskH: " + atRiskH + " for animal " + animal + " is not a number of hours ≥ 0");
        }
    }
}
