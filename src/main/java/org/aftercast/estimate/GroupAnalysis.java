package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.stats.GrayTest;
import org.aftercast.stats.Interval;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.LogRank;
import org.aftercast.stats.SurvivalTimes;
import org.aftercast.stats.TwoByTwo;
import org.jspecify.annotations.Nullable;

/** Compares the groups of one column. */
final class GroupAnalysis {

    private static final int MOST_GROUPS = 12;
    private static final int LARGEST_EXACT = 200;
    private static final String NAME = "Groups side by side";

    private GroupAnalysis() {}

    static List<GroupComparison> of(List<AnimalOutcome> animals, EstimateSettings settings) {
        return settings.groupBy().stream()
                .map(column -> compare(column, animals, settings))
                .toList();
    }

    private static GroupComparison compare(String column, List<AnimalOutcome> animals, EstimateSettings settings) {
        Map<String, List<AnimalOutcome>> members = new TreeMap<>();
        int without = 0;
        for (AnimalOutcome animal : animals) {
            String value = animal.groups().get(column);
            if (value == null) {
                without++;
            } else {
                members.computeIfAbsent(value, v -> new ArrayList<>()).add(animal);
            }
        }
        if (members.size() < 2 || members.size() > MOST_GROUPS) {
            String reason = members.size() < 2
                    ? "The column " + column + " has " + (members.isEmpty() ? "no group" : "one group only")
                            + "; a comparison needs two."
                    : "The column " + column + " has " + members.size() + " groups; more than " + MOST_GROUPS
                            + " cannot be told apart here. Is it a measure?";
            return new GroupComparison(Method.refused(NAME, reason), column, List.of(), without, null, null, null);
        }
        List<GroupComparison.Group> groups = new ArrayList<>();
        members.forEach((name, list) -> groups.add(group(name, list, settings)));
        List<AnimalOutcome> together = new ArrayList<>();
        int[] index = index(members, together);
        SurvivalTimes events = HeadlineAnalysis.primaryOnly(together, settings.deaths());
        SurvivalTimes all = HeadlineAnalysis.times(together, settings.deaths());
        boolean competing = Arrays.stream(all.event()).anyMatch(code -> code == 2);
        List<String> assumptions = new ArrayList<>(List.of(
                "The groups were declared before looking at the fates.",
                "A difference between groups need not be caused by what names them: the groups may differ in other"
                        + " ways.",
                "The more columns are compared, the more likely is a small p by chance."));
        return new GroupComparison(
                Method.used(NAME + ": exact tests at the horizon, log-rank test over time", assumptions),
                column,
                groups,
                without,
                groups.size() == 2 ? two(groups.get(0), groups.get(1), settings) : null,
                logRank(events, index, groups.size()),
                competing ? gray(all, index, groups.size()) : null);
    }

    private static GroupComparison.Group group(String name, List<AnimalOutcome> list, EstimateSettings settings) {
        HeadlineAnalysis.Answer answer = HeadlineAnalysis.answer(list, settings, settings.deaths());
        return new GroupComparison.Group(
                name,
                HeadlineAnalysis.counts(list, settings.horizonH(), settings.deaths()),
                answer.died(),
                answer.method().refusal(),
                KaplanMeier.of(HeadlineAnalysis.primaryOnly(list, settings.deaths()), settings.level()));
    }

    private static int[] index(Map<String, List<AnimalOutcome>> members, List<AnimalOutcome> together) {
        List<Integer> index = new ArrayList<>();
        int g = 0;
        for (List<AnimalOutcome> list : members.values()) {
            for (AnimalOutcome animal : list) {
                together.add(animal);
                index.add(g);
            }
            g++;
        }
        return index.stream().mapToInt(i -> i).toArray();
    }

    private static GroupComparison.@Nullable TwoGroups two(
            GroupComparison.Group first, GroupComparison.Group second, EstimateSettings settings) {
        int n1 = first.counts().animals() - first.counts().unknown();
        int n2 = second.counts().animals() - second.counts().unknown();
        if (n1 == 0 || n2 == 0) {
            return null;
        }
        TwoByTwo table = new TwoByTwo(first.counts().died(), n1, second.counts().died(), n2);
        Interval limits = table.difference(settings.level());
        boolean exact = n1 <= LARGEST_EXACT && n2 <= LARGEST_EXACT;
        return new GroupComparison.TwoGroups(
                (double) table.x1() / n1 - (double) table.x2() / n2,
                limits.low(),
                limits.high(),
                table.fisher(),
                exact ? table.boschloo() : null,
                exact ? table.barnard() : null);
    }

    private static GroupComparison.@Nullable Test logRank(SurvivalTimes events, int[] index, int groups) {
        try {
            LogRank test = LogRank.of(events, index, groups, 0);
            return new GroupComparison.Test(test.chiSquare(), test.degreesOfFreedom(), test.p());
        } catch (IllegalArgumentException noEventOrNoOverlap) {
            return null;
        }
    }

    private static GroupComparison.@Nullable Test gray(SurvivalTimes all, int[] index, int groups) {
        try {
            GrayTest test = GrayTest.of(all, 1, index, groups);
            return new GroupComparison.Test(test.chiSquare(), test.degreesOfFreedom(), test.p());
        } catch (IllegalArgumentException noEventOrNoOverlap) {
            return null;
        }
    }
}
