package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.CompetingEnds;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.Method;
import org.aftercast.estimate.RecoveryAcross;
import org.aftercast.estimate.RiskFactors;
import org.aftercast.estimate.Robustness;
import org.aftercast.estimate.Share;
import org.aftercast.estimate.TimeToDeath;
import org.aftercast.estimate.WhoWasTagged;
import org.aftercast.report.EstimateSection;
import org.aftercast.report.EstimateSection.Curve;
import org.aftercast.report.EstimateSection.FlowLine;
import org.aftercast.report.EstimateSection.MethodNote;
import org.aftercast.report.EstimateSection.ShareLine;
import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/** The estimate of {@code estimate} as the section of a report. */
final class EstimateSections {

    private EstimateSections() {}

    static EstimateSection of(EstimateResult result, List<AnimalOutcome> animals, List<String> remarks) {
        Headline headline = result.headline();
        Headline.Counts counts = headline.counts();
        Share died = headline.died();
        List<ShareLine> others = new ArrayList<>();
        headline.otherIntervals().forEach(share -> others.add(line("same share", share, null)));
        List<String> words = new ArrayList<>(remarks);
        Headline.NoDeaths none = headline.noDeaths();
        if (none != null) {
            words.add("No animal died. Among " + none.animals() + " known to be alive at the horizon, a share of up to "
                    + percent(none.upperOneSided()) + " could still have gone unseen (one-sided "
                    + percent(none.level()) + ").");
        }
        for (CompetingEnds.End end : result.competing().ends()) {
            Share by = end.byHorizon();
            if (by != null && end.animals() > 0) {
                words.add("Share that met this end by then (the other end taken into account): " + end.name() + " "
                        + percent(by.value()) + " (" + percent(by.low()) + " to " + percent(by.high()) + ").");
            }
        }
        result.limits().forEach(words::add);
        Headline.VesselDeaths vessel = headline.vessel();
        if (vessel != null) {
            words.add(
                    "Dead before release: " + percent(vessel.atVessel().value()) + " of those landed. Together with the"
                            + " deaths after release: " + percent(vessel.total().value()) + " ("
                            + percent(vessel.total().low()) + " to "
                            + percent(vessel.total().high()) + ").");
        }
        return new EstimateSection(
                headline.horizonH(),
                headline.rule(),
                died == null ? null : line("declared answer", died, null),
                new EstimateSection.Counts(
                        counts.animals(), counts.died(), counts.otherEnd(), counts.alive(), counts.unknown()),
                others,
                robustness(result),
                curves(result.timeToDeath(), animals),
                flow(result.whoWasTagged()),
                risks(result.riskFactors()),
                recovery(result.recovery()),
                methods(result),
                words);
    }

    private static ShareLine line(String label, Share share, @Nullable String remark) {
        return new ShareLine(label, share.value(), share.low(), share.high(), share.level(), share.interval(), remark);
    }

    private static List<ShareLine> robustness(EstimateResult result) {
        List<ShareLine> out = new ArrayList<>();
        for (Robustness.Row row : result.robustness().rows()) {
            Share died = row.died();
            Double change = row.change();
            if (died != null && row.question() != Robustness.Question.INTERVAL) {
                out.add(line(
                        row.what(),
                        died,
                        change == null
                                ? null
                                : (change >= 0 ? "+" : "−")
                                        + percent(Math.abs(change)).replace(" %", " percentage points")));
            }
        }
        Share fishery = result.scaledUp().fishery();
        if (fishery != null) {
            out.add(line("scaled up to the fishery", fishery, "groups weighted by their share of the fishery"));
        }
        ClusterCheck clusters = result.clusters();
        Share clustered = clusters == null ? null : clusters.died();
        if (clusters != null && clustered != null) {
            out.add(line("animals of one " + clusters.column() + " drawn together", clustered, null));
        }
        Share imputed = result.uncertainFates().imputed();
        if (imputed != null && result.uncertainFates().inDoubt() > 0) {
            out.add(line(
                    "fates drawn by their probabilities",
                    imputed,
                    result.uncertainFates().inDoubt() + " animals in doubt; "
                            + result.uncertainFates().calibration()));
        }
        return out;
    }

    private static List<EstimateSection.RiskLine> risks(RiskFactors risks) {
        List<EstimateSection.RiskLine> out = new ArrayList<>();
        for (RiskFactors.Model model : risks.models()) {
            for (RiskFactors.Term term : model.terms()) {
                Double high = term.high();
                out.add(new EstimateSection.RiskLine(
                        ColumnWords.of(term.name()) + (term.against().isEmpty() ? "" : ", against " + term.against()),
                        term.ratio(),
                        term.low(),
                        high == null ? Double.POSITIVE_INFINITY : high,
                        "odds ratio: " + model.method().name(),
                        term.p(),
                        model.animals(),
                        model.deaths(),
                        model.caution()));
            }
        }
        return out;
    }

    private static List<EstimateSection.RecoveryAcross> recovery(List<RecoveryAcross> measures) {
        List<EstimateSection.RecoveryAcross> out = new ArrayList<>();
        for (RecoveryAcross measure : measures) {
            RecoveryAcross.Pooled pooled = measure.pooled();
            SurvivalCurve.Quantile median = measure.median();
            Double half = median == null ? null : median.time();
            String medianWords = half == null
                    ? "half of the animals had not recovered while watched"
                    : "half had recovered by " + hours(half);
            out.add(new EstimateSection.RecoveryAcross(
                    measure.measure(),
                    pooled == null ? Double.NaN : pooled.typicalH(),
                    pooled == null ? Double.NaN : pooled.lowH(),
                    pooled == null ? Double.NaN : pooled.highH(),
                    measure.method().name(),
                    measure.animals(),
                    measure.notSeen(),
                    medianWords
                            + (pooled == null
                                    ? ""
                                    : "; a further animal would need " + hours(pooled.nextLowH()) + " to "
                                            + hours(pooled.nextHighH()))));
        }
        return out;
    }

    private static String hours(double hours) {
        return java.math.BigDecimal.valueOf(hours)
                        .setScale(1, java.math.RoundingMode.HALF_EVEN)
                        .toPlainString()
                + " h";
    }

    private static List<Curve> curves(TimeToDeath time, List<AnimalOutcome> animals) {
        SurvivalCurve curve = time.curve();
        if (curve == null || animals.isEmpty()) {
            return List.of();
        }
        int n = curve.steps().size();
        double[] at = new double[n];
        double[] survival = new double[n];
        double[] low = new double[n];
        double[] high = new double[n];
        for (int i = 0; i < n; i++) {
            SurvivalCurve.Step step = curve.steps().get(i);
            Double lower = step.low();
            Double upper = step.high();
            at[i] = step.time();
            survival[i] = step.survival();
            low[i] = lower == null ? Double.NaN : lower;
            high[i] = upper == null ? Double.NaN : upper;
        }
        double[] ends = animals.stream().mapToDouble(AnimalOutcome::atRiskH).toArray();
        double[] censored = animals.stream()
                .filter(animal -> !deathAt(curve, animal))
                .mapToDouble(AnimalOutcome::atRiskH)
                .sorted()
                .toArray();
        return List.of(new Curve(
                "",
                at,
                survival,
                low,
                high,
                censored,
                ends,
                curve.lastTime(),
                "Kaplan–Meier with " + percent(curve.level()) + " log-log interval",
                curve.events()));
    }

    private static boolean deathAt(SurvivalCurve curve, AnimalOutcome animal) {
        boolean dead = switch (animal.fate()) {
            case DIED, EATEN, DEAD_THEN_SCAVENGED -> true;
            case ALIVE_AT_END, UNDECIDED -> false;
        };
        return dead && curve.steps().stream().anyMatch(step -> step.time() == animal.atRiskH());
    }

    private static List<FlowLine> flow(WhoWasTagged tagged) {
        Map<WhoWasTagged.Kind, Integer> depth = new LinkedHashMap<>();
        List<FlowLine> out = new ArrayList<>();
        for (WhoWasTagged.Stage stage : tagged.stages()) {
            int d = stage.ofKind() == stage.kind() ? 0 : depth.getOrDefault(stage.ofKind(), 0) + 1;
            depth.put(stage.kind(), d);
            out.add(new FlowLine(stage.name(), stage.animals(), d));
        }
        return out;
    }

    private static List<MethodNote> methods(EstimateResult result) {
        List<MethodNote> out = new ArrayList<>();
        out.add(note(result.headline().method()));
        Headline.VesselDeaths vessel = result.headline().vessel();
        if (vessel != null) {
            out.add(note(vessel.method()));
        }
        out.add(note(result.timeToDeath().method()));
        out.add(note(result.competing().method()));
        result.groups().forEach(group -> out.add(note(group.method())));
        if (!result.riskFactors().models().isEmpty()) {
            if (result.riskFactors().models().stream().anyMatch(m -> m.method().refusal() == null)) {
                out.add(note(result.riskFactors().method()));
            }
            result.riskFactors().models().forEach(model -> out.add(note(model.method())));
        }
        out.add(note(result.uncertainFates().method()));
        ClusterCheck clusters = result.clusters();
        if (clusters != null) {
            out.add(note(clusters.method()));
        }
        result.recovery().forEach(measure -> out.add(note(measure.method())));
        if (!result.scaledUp().strata().isEmpty()) {
            out.add(note(result.scaledUp().method()));
        }
        out.removeIf(note -> note.assumptions().isEmpty() && note.refusal() == null);
        return out.stream().distinct().toList();
    }

    static MethodNote note(Method method) {
        return new MethodNote(method.name(), method.assumptions(), method.refusal());
    }

    static String percent(double share) {
        return java.math.BigDecimal.valueOf(share * 100)
                        .setScale(1, java.math.RoundingMode.HALF_EVEN)
                        .stripTrailingZeros()
                        .toPlainString()
                + " %";
    }
}
