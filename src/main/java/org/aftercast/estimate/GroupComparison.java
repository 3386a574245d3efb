package org.aftercast.estimate;

import java.util.List;
import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/**
 * Groups side by side.
 *
 * @param method how they were compared
 * @param column the group column
 * @param groups each group, by name
 * @param withoutValue animals without a value in the column, left out
 * @param two comparison of exactly two groups by the fates known to the horizon, or null
 * @param logRank test of equal survival over the whole time, or null when there is none
 * @param gray test of equal cumulative incidence of the deaths that count, when others compete; or null
 */
public record GroupComparison(
        Method method,
        String column,
        List<Group> groups,
        int withoutValue,
        @Nullable TwoGroups two,
        @Nullable Test logRank,
        @Nullable Test gray) {

    public GroupComparison {
        groups = List.copyOf(groups);
    }

    /**
     * One group.
     *
     * @param name value in the column
     * @param counts where its animals stood at the horizon
     * @param died share that died by the horizon, or null when refused
     * @param refusal why there is no share, or null
     * @param survival survival curve of the deaths that count (hours); null without animals
     */
    public record Group(
            String name,
            Headline.Counts counts,
            @Nullable Share died,
            @Nullable String refusal,
            @Nullable SurvivalCurve survival) {}

    /**
     * Two groups, animals with a known fate at the horizon only.
     *
     * @param difference share in the first less share in the second
     * @param low lower limit (Newcombe's, from the two Wilson intervals)
     * @param high upper limit
     * @param fisherP Fisher's exact test, two-sided
     * @param boschlooP Boschloo's test, two-sided; null above 200 animals a group
     * @param barnardP Barnard's test, two-sided; null above 200 animals a group
     */
    public record TwoGroups(
            double difference,
            double low,
            double high,
            double fisherP,
            @Nullable Double boschlooP,
            @Nullable Double barnardP) {}

    /**
     * A test.
     *
     * @param chiSquare statistic
     * @param degreesOfFreedom its degrees of freedom
     * @param p probability of a statistic at least so large when the groups are equal
     */
    public record Test(double chiSquare, int degreesOfFreedom, double p) {}
}
