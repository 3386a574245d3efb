package org.aftercast.estimate;

import java.util.List;
import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/**
 * Survival over time, all deaths that count against everything else as the end of watching.
 *
 * @param method how it was obtained
 * @param curve one row per death time (times in hours), or null when refused
 * @param horizons survival at the declared hours
 * @param censored why animals left our sight, with how many
 * @param median median time to death in hours; its parts are null when not reached; null when refused
 * @param restrictedMean mean hours alive up to the horizon, or null when the curve does not reach it
 */
public record TimeToDeath(
        Method method,
        @Nullable SurvivalCurve curve,
        List<AtHorizon> horizons,
        List<Censored> censored,
        SurvivalCurve.@Nullable Quantile median,
        SurvivalCurve.@Nullable RestrictedMean restrictedMean) {

    public TimeToDeath {
        horizons = List.copyOf(horizons);
        censored = List.copyOf(censored);
    }

    /**
     * Survival at one time.
     *
     * @param hours after release
     * @param stillWatched animals whose time at risk is at least so long
     * @param diedBefore deaths that count up to then
     * @param survival share alive with its interval; null when no animal was watched so long
     * @param remark why there is no answer, or null
     */
    public record AtHorizon(
            double hours,
            int stillWatched,
            int diedBefore,
            @Nullable Share survival,
            @Nullable String remark) {}

    /**
     * Animals that left our sight for one reason.
     *
     * @param reason in words
     * @param animals how many
     * @param earliestH the earliest, hours after release
     * @param latestH the latest, hours after release
     */
    public record Censored(String reason, int animals, double earliestH, double latestH) {}
}
