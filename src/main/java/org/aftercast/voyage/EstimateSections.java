package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.Method;
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
                robustness(headline),
                curves(result.timeToDeath(), animals),
                flow(result.whoWasTagged()),
                List.of(),
                List.of(),
                methods(result),
                words);
    }

    private static ShareLine line(String label, Share share, @Nullable String remark) {
        return new ShareLine(label, share.value(), share.low(), share.high(), share.level(), share.interval(), remark);
    }

    private static List<ShareLine> robustness(Headline headline) {
        List<ShareLine> out = new ArrayList<>();
        Share other = headline.eatenOtherWay();
        if (other != null) {
            out.add(line("animals eaten alive counted the other way", other, "the other rule for which deaths count"));
        }
        Share best = headline.best();
        if (best != null && headline.counts().unknown() > 0) {
            out.add(line(
                    "every unknown fate alive",
                    best,
                    "lower bound: " + headline.counts().unknown() + " animals"));
        }
        Share worst = headline.worst();
        if (worst != null && headline.counts().unknown() > 0) {
            out.add(line(
                    "every unknown fate dead",
                    worst,
                    "upper bound: " + headline.counts().unknown() + " animals"));
        }
        return out;
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
        return out;
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
