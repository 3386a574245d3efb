package org.aftercast.estimate;

import java.util.LinkedHashSet;
import java.util.List;
import org.aftercast.stats.BinomialInterval;
import org.jspecify.annotations.Nullable;

/**
 * The choices behind an estimate.
 *
 * @param horizonH hours after release to which the headline speaks, above 0
 * @param furtherHorizonsH further hours at which survival is tabled, ascending
 * @param interval interval of the headline
 * @param level wanted coverage, above 0 and below 1
 * @param deaths which deaths count as caused by the catch
 * @param clusterBy group column whose members are not independent (trip, vessel, angler), or null
 * @param groupBy group columns to compare
 * @param seed of every random draw
 * @param replicates bootstrap replicates and posterior draws, ≥ 100
 */
public record EstimateSettings(
        double horizonH,
        List<Double> furtherHorizonsH,
        BinomialInterval interval,
        double level,
        DeathRule deaths,
        @Nullable String clusterBy,
        List<String> groupBy,
        long seed,
        int replicates) {

    public EstimateSettings {
        furtherHorizonsH = List.copyOf(furtherHorizonsH);
        groupBy = List.copyOf(groupBy);
        if (!(horizonH > 0 && horizonH < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("horizonH: " + horizonH + " is not a number of hours above 0");
        }
        for (double further : furtherHorizonsH) {
            if (!(further > 0 && further < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException(
                        "furtherHorizonsH: " + further + " is not a number of hours above 0");
            }
        }
        if (!(level > 0 && level < 1)) {
            throw new IllegalArgumentException("level: " + level + " is not between 0 and 1");
        }
        if (replicates < 100) {
            throw new IllegalArgumentException("replicates: " + replicates + " is below 100");
        }
    }

    /** 24 h, Clopper–Pearson 95 %, every death while watched counts, 10 000 replicates. */
    public static EstimateSettings defaults() {
        return new EstimateSettings(
                24,
                List.of(6.0, 12.0, 48.0),
                BinomialInterval.CLOPPER_PEARSON,
                0.95,
                new DeathRule(EatenRule.COUNTS, null),
                null,
                List.of(),
                20260101L,
                10_000);
    }

    /** The same with another rule of which deaths count. */
    public EstimateSettings withDeaths(DeathRule rule) {
        return new EstimateSettings(
                horizonH, furtherHorizonsH, interval, level, rule, clusterBy, groupBy, seed, replicates);
    }

    /** The same with another horizon. */
    public EstimateSettings withHorizonH(double hours) {
        return new EstimateSettings(
                hours, furtherHorizonsH, interval, level, deaths, clusterBy, groupBy, seed, replicates);
    }

    /** Every column that these settings name, without repetition. */
    public List<String> columnsNamed() {
        LinkedHashSet<String> named = new LinkedHashSet<>(groupBy);
        if (clusterBy != null) {
            named.add(clusterBy);
        }
        return List.copyOf(named);
    }
}
