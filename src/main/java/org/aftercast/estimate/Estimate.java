package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/** Entry point: from one outcome per animal to what all of them say. */
public final class Estimate {

    private Estimate() {}

    /** As {@link #of(List, LandedCounts, PackageReturns, List, List, EstimateSettings)} without recovery. */
    public static EstimateResult of(
            List<AnimalOutcome> animals, @Nullable LandedCounts landed, EstimateSettings settings) {
        return of(animals, landed, PackageReturns.unknown(), List.of(), List.of(), settings);
    }

    /** As {@link #of(List, LandedCounts, PackageReturns, List, List, EstimateSettings)}, nothing known of searches. */
    public static EstimateResult of(
            List<AnimalOutcome> animals,
            @Nullable LandedCounts landed,
            List<AnimalRecovery> recoveries,
            List<RecoveryTrack> tracks,
            EstimateSettings settings) {
        return of(animals, landed, PackageReturns.unknown(), recoveries, tracks, settings);
    }

    /**
     * The estimate. Never fails on a hostile study: what cannot be said carries the reason in its
     * {@link Method#refusal}.
     *
     * @param animals one per tagged animal, any number
     * @param landed what was landed, or null when not recorded
     * @param returns how packages came back
     * @param recoveries recovery times, any number, one per animal and measure
     * @param tracks the measures over time, where they are at hand
     * @param settings the choices
     */
    public static EstimateResult of(
            List<AnimalOutcome> animals,
            @Nullable LandedCounts landed,
            PackageReturns returns,
            List<AnimalRecovery> recoveries,
            List<RecoveryTrack> tracks,
            EstimateSettings settings) {
        Headline headline = HeadlineAnalysis.of(animals, landed, settings);
        return new EstimateResult(
                settings,
                animals.size(),
                FlowAnalysis.of(animals, landed, returns),
                headline,
                ClusterAnalysis.of(animals, settings),
                TimeToDeathAnalysis.of(animals, settings),
                CompetingAnalysis.of(animals, settings),
                GroupAnalysis.of(animals, settings),
                RiskAnalysis.of(animals, settings),
                UncertainAnalysis.of(animals, settings),
                RecoveryAnalysis.of(recoveries, tracks, animals, settings),
                RobustnessAnalysis.of(animals, settings, headline),
                ScalingAnalysis.of(animals, settings, headline),
                LongTermAnalysis.of(animals, settings),
                limits(animals, landed, settings));
    }

    private static List<String> limits(
            List<AnimalOutcome> animals, @Nullable LandedCounts landed, EstimateSettings settings) {
        List<String> limits = new ArrayList<>();
        limits.add("The result holds for the place, season, gear and handling of this study.");
        limits.add("Whether the package itself harms the animal cannot be seen from tagged animals alone.");
        limits.add("Deaths after the last record are not counted: the headline ends at "
                + Text.number(settings.horizonH()) + " h.");
        long gone = animals.stream()
                .filter(a -> a.end() == RecordEnd.SHED_EARLY || a.end() == RecordEnd.PACKAGE_LOST)
                .filter(a -> !a.dead() && a.atRiskH() < settings.horizonH())
                .count();
        if (gone > 0) {
            limits.add(Text.animals((int) gone) + " lost from sight by shedding or loss: if that is more likely for"
                    + " dying animals, no method can repair it; the bounds show how far it could go.");
        }
        if (settings.clusterBy() == null) {
            limits.add("Animals are taken as independent; animals of one trip may share their fate.");
        }
        String misfit = landed == null ? null : landed.misfit(animals.size());
        if (misfit != null) {
            limits.add(misfit + " Nothing is said of deaths before the release.");
        }
        return limits;
    }
}
