package org.aftercast.estimate;

import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/**
 * Recovery times of all animals by one measure.
 *
 * @param method how it was obtained
 * @param measure what was followed
 * @param animals with an answer for this measure
 * @param notSeen of these, animals not seen to recover: kept as "later than"
 * @param notYetRecovered share not yet recovered by hours after release; null without animals
 * @param median hours until half had recovered; its parts are null when not reached; null without animals
 * @param pooled typical time and its spread between animals; null when refused
 */
public record RecoveryAcross(
        Method method,
        String measure,
        int animals,
        int notSeen,
        @Nullable SurvivalCurve notYetRecovered,
        SurvivalCurve.@Nullable Quantile median,
        @Nullable Pooled pooled) {

    /**
     * Log-times put together in two stages: each animal's own fit, then a random effect of the animal.
     *
     * @param animals that entered: recovered, with limits
     * @param typicalH geometric mean in hours
     * @param lowH lower limit (Knapp and Hartung)
     * @param highH upper limit
     * @param nextLowH lower limit for a new animal
     * @param nextHighH upper limit for a new animal
     * @param betweenSdLog standard deviation between animals of the natural log of the hours (restricted maximum
     *     likelihood)
     * @param iSquared share of the variation that is between animals
     */
    public record Pooled(
            int animals,
            double typicalH,
            double lowH,
            double highH,
            double nextLowH,
            double nextHighH,
            double betweenSdLog,
            double iSquared) {}
}
