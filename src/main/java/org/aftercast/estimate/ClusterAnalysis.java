package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.stats.Bootstrap;
import org.aftercast.stats.Interval;
import org.jspecify.annotations.Nullable;

/** Draws whole clusters with replacement. */
final class ClusterAnalysis {

    /** Fewer clusters than this cannot show how clusters differ; common practice, no source. */
    private static final int FEWEST = 5;

    private static final int FEW = 20;
    private static final String NAME = "Bootstrap of whole clusters, percentile interval";

    private ClusterAnalysis() {}

    static @Nullable ClusterCheck of(List<AnimalOutcome> animals, EstimateSettings settings) {
        String column = settings.clusterBy();
        if (column == null) {
            return null;
        }
        Map<String, List<Integer>> members = new LinkedHashMap<>();
        int without = 0;
        for (int i = 0; i < animals.size(); i++) {
            String cluster = animals.get(i).groups().get(column);
            if (cluster == null) {
                without++;
            } else {
                members.computeIfAbsent(cluster, c -> new ArrayList<>()).add(i);
            }
        }
        int clusters = members.size();
        if (without > 0) {
            return refused(column, clusters, Text.animals(without) + " without a value in the column " + column + ".");
        }
        if (clusters < FEWEST) {
            return refused(
                    column,
                    clusters,
                    "There are only " + clusters + " groups in " + column + "; fewer than " + FEWEST
                            + " cannot show how much groups differ.");
        }
        Headline.Counts counts = HeadlineAnalysis.counts(animals, settings.horizonH(), settings.deaths());
        if (counts.died() == 0 || counts.died() == counts.animals()) {
            return refused(
                    column,
                    clusters,
                    (counts.died() == 0 ? "No animal died" : "Every animal died")
                            + ": drawing again from these animals always gives the same.");
        }
        HorizonShare share = new HorizonShare(animals, settings.horizonH(), settings.deaths());
        int n = animals.size();
        int[][] byCluster = members.values().stream().map(ClusterAnalysis::ints).toArray(int[][]::new);
        int[] weight = new int[n];
        Bootstrap whole = Bootstrap.of(
                clusters,
                drawn -> {
                    Arrays.fill(weight, 0);
                    for (int c : drawn) {
                        for (int i : byCluster[c]) {
                            weight[i]++;
                        }
                    }
                    return share.of(weight);
                },
                settings.replicates(),
                settings.seed());
        Bootstrap single = Bootstrap.of(
                n,
                drawn -> {
                    Arrays.fill(weight, 0);
                    for (int i : drawn) {
                        weight[i]++;
                    }
                    return share.of(weight);
                },
                settings.replicates(),
                settings.seed() + 1);
        if (!Double.isFinite(whole.estimate()) || whole.replicates().length < settings.replicates() / 2) {
            return refused(
                    column,
                    clusters,
                    "In most resamples nobody was watched to the horizon, so that there is no share.");
        }
        Interval limits = whole.percentile(settings.level());
        if (limits.width() < 1e-9) {
            return refused(
                    column,
                    clusters,
                    "Every " + column
                            + " has the same share of deaths, so that drawing whole groups always gives the same;"
                            + " an interval without width would say more than these animals can.");
        }
        List<String> assumptions = new ArrayList<>();
        assumptions.add("Animals with another " + column + " are independent; animals with the same " + column
                + " need not be.");
        if (clusters < FEW) {
            assumptions.add("With " + clusters + " groups the interval tends to be too narrow.");
        }
        double plain = single.variance();
        return new ClusterCheck(
                Method.used(NAME, assumptions),
                column,
                clusters,
                Share.of(whole.estimate(), limits, settings.level(), "cluster bootstrap"),
                plain > 0 ? whole.variance() / plain : null,
                whole.failed());
    }

    private static int[] ints(List<Integer> list) {
        return list.stream().mapToInt(i -> i).toArray();
    }

    private static ClusterCheck refused(String column, int clusters, String reason) {
        return new ClusterCheck(Method.refused(NAME, reason), column, clusters, null, null, 0);
    }
}
