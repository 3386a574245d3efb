package org.aftercast.estimate;

import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/**
 * One animal as the estimate sees it.
 *
 * @param animal its name in the study
 * @param groups group columns (trip, vessel, hook location …) by name; text values; kept in order of name, so that
 *     results do not depend on the run
 * @param covariates numeric risk factors by name with the unit in the name (fightMin, airExposureS …); finite
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
        groups = Collections.unmodifiableMap(new TreeMap<>(groups));
        covariates = Collections.unmodifiableMap(new TreeMap<>(covariates));
        if (!(atRiskH >= 0) || Double.isInfinite(atRiskH)) {
            throw new IllegalArgumentException(
                    "atRiskH: " + atRiskH + " for animal " + animal + " is not a number of hours ≥ 0");
        }
        for (Map.Entry<String, Double> covariate : covariates.entrySet()) {
            if (!Double.isFinite(covariate.getValue())) {
                throw new IllegalArgumentException("covariates: " + covariate.getKey() + " of animal " + animal + " is "
                        + covariate.getValue() + ", not a finite number");
            }
        }
    }

    /** Whether it died in any way while it was watched. */
    public boolean dead() {
        return fate == AnimalFate.DIED || fate == AnimalFate.DEAD_THEN_SCAVENGED || fate == AnimalFate.EATEN;
    }

    /** The same animal with another fate. */
    AnimalOutcome with(AnimalFate otherFate) {
        return new AnimalOutcome(animal, groups, covariates, otherFate, end, atRiskH, probabilities);
    }
}
