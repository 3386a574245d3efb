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
 * @param median hours until half had recovered; its parts are null when not reached; null without animals, when
 *     fewer than three recovered, or when one or two animals still watched drive the curve to one half
 * @param pooled typical time and its spread between animals; null when refused
 * @param common one curve for all animals at once, each with its own normal; null when there are no values over time
 */
public record RecoveryAcross(
        Method method,
        String measure,
        int animals,
        int notSeen,
        @Nullable SurvivalCurve notYetRecovered,
        SurvivalCurve.@Nullable Quantile median,
        @Nullable Pooled pooled,
        @Nullable Common common) {

    /**
     * One asymptotic curve with a random normal of each animal (maximum likelihood): y = N + (S − N)·exp(−rate·hours).
     *
     * @param method how; refused when the curve does not bend within the records
     * @param animals that entered
     * @param points that entered
     * @param unit of the values
     * @param start S, value at the release; null when refused
     * @param normal mean of N; null when refused
     * @param normalSd standard deviation of N between animals; null when refused
     * @param residualSd standard deviation around the curve; null when refused
     * @param backH hours until 80 % of the way back; null when refused
     * @param lowH lower limit, from the standard error of the log rate; null when refused
     * @param highH upper limit; null when refused
     */
    public record Common(
            Method method,
            int animals,
            int points,
            String unit,
            @Nullable Double start,
            @Nullable Double normal,
            @Nullable Double normalSd,
            @Nullable Double residualSd,
            @Nullable Double backH,
            @Nullable Double lowH,
            @Nullable Double highH) {}

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
