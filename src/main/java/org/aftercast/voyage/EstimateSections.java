package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.EatenRule;
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
import org.aftercast.stats.ReaderAgreement;
import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/** The estimate of {@code estimate} as the section of a report. */
final class EstimateSections {

    private EstimateSections() {}

    static EstimateSection of(
            EstimateResult result,
            List<AnimalOutcome> animals,
            List<String> remarks,
            @Nullable ReaderAgreement readers) {
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
                    + level(none.level()) + ").");
        }
        Headline.VesselDeaths vessel = headline.vessel();
        if (vessel != null) {
            words.add("Dead before release: " + percent(vessel.atVessel().value()) + " of those landed ("
                    + level(vessel.atVessel().level()) + " interval "
                    + percent(vessel.atVessel().low()) + " to "
                    + percent(vessel.atVessel().high())
                    + "). Together with the deaths after release: "
                    + percent(vessel.total().value()) + " ("
                    + percent(vessel.total().low()) + " to "
                    + percent(vessel.total().high()) + ").");
        }
        Share other = headline.eatenOtherWay();
        if (died != null && other != null && Math.abs(other.value() - died.value()) > 1e-9) {
            words.add((result.settings().deaths().eaten() == EatenRule.COUNTS
                            ? "If animals that were eaten alive did not count as killed by the catch, the share would be "
                            : "If animals that were eaten alive counted as killed by the catch, the share would be ")
                    + percent(other.value())
                    + " (" + percent(other.low()) + " to " + percent(other.high()) + ").");
        }
        Share best = headline.best();
        Share worst = headline.worst();
        if (best != null && worst != null && counts.unknown() > 0) {
            words.add("If every animal that is not known to the horizon were alive, the share would be "
                    + percent(best.value()) + "; if every one had died, " + percent(worst.value()) + ".");
        }
        for (Robustness.Row row : result.robustness().rows()) {
            if (row.died() == null && died != null) {
                words.add("No answer with " + row.what() + ".");
            }
        }
        result.limits().forEach(words::add);
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
                EstimateBlocks.of(result, readers),
                new EstimateSection.Who(
                        headline.who().died(),
                        headline.who().otherEnd(),
                        headline.who().unknown()),
                methods(result, readers),
                words);
    }

    private static ShareLine line(String label, Share share, @Nullable String remark) {
        return new ShareLine(label, share.value(), share.low(), share.high(), share.level(), share.interval(), remark);
    }

    private static List<ShareLine> robustness(EstimateResult result) {
        List<ShareLine> out = new ArrayList<>();
        Share headline = result.headline().died();
        Share best = result.headline().best();
        Share worst = result.headline().worst();
        if (headline != null
                && best != null
                && worst != null
                && result.headline().counts().unknown() > 0) {
            out.add(line("every unknown animal alive", best, points(best.value() - headline.value())));
            out.add(line("every unknown animal dead", worst, points(worst.value() - headline.value())));
        }
        for (Robustness.Row row : result.robustness().rows()) {
            Share died = row.died();
            Double change = row.change();
            if (died != null && row.question() != Robustness.Question.INTERVAL) {
                out.add(line(row.what(), died, change == null ? null : points(change)));
            }
        }
        Share fishery = result.scaledUp().fishery();
        if (fishery != null) {
            out.add(line("groups weighted by their share of the fishery", fishery, moved(fishery, headline)));
        }
        ClusterCheck clusters = result.clusters();
        Share clustered = clusters == null ? null : clusters.died();
        if (clusters != null && clustered != null) {
            out.add(line(
                    "animals of one " + ColumnWords.name(clusters.column()) + " drawn together",
                    clustered,
                    moved(clustered, headline)));
        }
        Share imputed = result.uncertainFates().imputed();
        if (imputed != null && result.uncertainFates().inDoubt() > 0) {
            out.add(line(
                    "fates drawn by their probabilities ("
                            + result.uncertainFates().inDoubt() + " in doubt)",
                    imputed,
                    moved(imputed, headline)));
        }
        return out;
    }

    private static @Nullable String moved(Share share, @Nullable Share headline) {
        return headline == null ? null : points(share.value() - headline.value());
    }

    private static String points(double change) {
        double tenths = Math.rint(Math.abs(change) * 1000) / 10;
        return (tenths == 0 ? "±" : change > 0 ? "+" : "−")
                + java.math.BigDecimal.valueOf(tenths)
                        .setScale(1, java.math.RoundingMode.HALF_EVEN)
                        .toPlainString()
                + " points";
    }

    private static List<EstimateSection.RiskLine> risks(RiskFactors risks) {
        List<EstimateSection.RiskLine> out = new ArrayList<>();
        for (RiskFactors.Model model : risks.models()) {
            for (RiskFactors.Term term : model.terms()) {
                out.add(risk(model, term, "odds of dying by the horizon"));
            }
            for (RiskFactors.Term term : model.hazards()) {
                out.add(risk(model, term, "rate of dying over time"));
            }
        }
        return out;
    }

    private static EstimateSection.RiskLine risk(RiskFactors.Model model, RiskFactors.Term term, String kind) {
        Double high = term.high();
        String against = term.against();
        String together = model.columns().size() < 2
                ? ""
                : " (with "
                        + String.join(
                                ", ",
                                model.columns().stream()
                                        .filter(c -> !term.name().equals(c)
                                                && !term.name().startsWith(c + " ="))
                                        .map(ColumnWords::name)
                                        .toList())
                        + ")";
        return new EstimateSection.RiskLine(
                ColumnWords.of(term.name())
                        + (against.equals("one less") ? " more" : ", against " + ColumnWords.inPlaceOfNames(against))
                        + together,
                term.ratio(),
                term.low(),
                high == null ? Double.POSITIVE_INFINITY : high,
                kind,
                term.p(),
                model.animals(),
                model.deaths(),
                model.caution());
    }

    private static List<EstimateSection.RecoveryAcross> recovery(List<RecoveryAcross> measures) {
        List<EstimateSection.RecoveryAcross> out = new ArrayList<>();
        for (RecoveryAcross measure : measures) {
            RecoveryAcross.Pooled pooled = measure.pooled();
            RecoveryAcross.Common common = measure.common();
            Double back = common == null ? null : common.backH();
            Double lowBack = common == null ? null : common.lowH();
            Double highBack = common == null ? null : common.highH();
            SurvivalCurve.Quantile median = measure.median();
            Double half = median == null ? null : median.time();
            Double halfLow = median == null ? null : median.low();
            Double halfHigh = median == null ? null : median.high();
            String medianWords = median == null
                    ? "no time by which half had recovered: too few animals were seen to recover"
                    : half == null
                            ? "fewer than half could be shown to have recovered"
                            : "half had recovered by " + hours(half) + " ("
                                    + (halfLow == null ? "no lower limit" : hours(halfLow)) + " to "
                                    + (halfHigh == null ? "no upper limit" : hours(halfHigh)) + ")";
            out.add(new EstimateSection.RecoveryAcross(
                    measure.measure(),
                    half == null ? Double.NaN : half,
                    half == null || halfLow == null ? Double.NaN : halfLow,
                    half == null ? Double.NaN : halfHigh == null ? Double.POSITIVE_INFINITY : halfHigh,
                    measure.method().name(),
                    measure.animals(),
                    measure.notSeen(),
                    medianWords
                            + (pooled == null
                                    ? "; no typical time, because fewer than 3 animals were seen to recover with limits"
                                    : "; typical of the " + pooled.animals() + " that were timed "
                                            + hours(pooled.typicalH())
                                            + " (" + hours(pooled.lowH()) + " to " + hours(pooled.highH())
                                            + "), a further one of them " + hours(pooled.nextLowH()) + " to "
                                            + hours(pooled.nextHighH()))
                            + (back == null || lowBack == null || highBack == null
                                    ? ""
                                    : "; one curve for all animals at once: 80 % of the way back by " + hours(back)
                                            + " (" + hours(lowBack) + " to " + hours(highBack) + ")")));
        }
        return out;
    }

    private static String hours(double hours) {
        if (hours < 1.5) {
            return Math.round(hours * 60) + " min";
        }
        if (hours > 1000) {
            return "more than 1000 h";
        }
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
                "Kaplan–Meier with " + level(curve.level()) + " log-log interval",
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

    static List<MethodNote> methods(EstimateResult result, @Nullable ReaderAgreement readers) {
        List<MethodNote> out = new ArrayList<>();
        out.add(note("Share that died", result.headline().method()));
        Headline.VesselDeaths vessel = result.headline().vessel();
        if (vessel != null) {
            out.add(note("Deaths before and after release", vessel.method()));
        }
        out.add(note("Survival over time", result.timeToDeath().method()));
        out.add(note("Ends that rule out each other", result.competing().method()));
        result.groups().forEach(group -> out.add(note("By " + ColumnWords.name(group.column()), group.method())));
        if (!result.riskFactors().models().isEmpty()) {
            if (result.riskFactors().models().stream().anyMatch(m -> m.method().refusal() == null)) {
                out.add(note("What makes it worse", result.riskFactors().method()));
            }
            result.riskFactors().models().forEach(model -> out.add(note("Each model", model.method())));
            if (result.riskFactors().models().size() > 1) {
                out.add(note(
                        "Comparing the models", result.riskFactors().averaging().method()));
            }
        }
        out.add(note("Doubtful fates", result.uncertainFates().method()));
        if (readers != null) {
            out.add(new MethodNote(
                    EstimateBlocks.READERS,
                    "Cohen's kappa with its large-sample standard error, Gwet's AC1",
                    List.of(
                            "Each reader judged without knowing the other's verdict.",
                            "The animals that two readers judged stand for the others.",
                            "Agreement is not truth: both readers can be wrong together."),
                    null));
        }
        ClusterCheck clusters = result.clusters();
        if (clusters != null) {
            out.add(note("Animals of one " + ColumnWords.name(clusters.column()), clusters.method()));
        }
        result.recovery().forEach(measure -> out.add(note("Recovery", measure.method())));
        for (RecoveryAcross measure : result.recovery()) {
            RecoveryAcross.Common common = measure.common();
            if (common != null) {
                out.add(note("Recovery of " + measure.measure() + ", all animals at once", common.method()));
            }
        }
        if (!result.scaledUp().strata().isEmpty()) {
            out.add(note("Carried over to the fishery", result.scaledUp().method()));
        }
        if (result.settings().controls() != null) {
            out.add(note("Above control animals", result.scaledUp().controls().method()));
        }
        if (result.settings().released() != null) {
            out.add(note("In numbers of animals", result.scaledUp().inNumbers().method()));
        }
        out.add(note("The long run", result.longTerm().method()));
        out.removeIf(note -> note.assumptions().isEmpty() && note.refusal() == null);
        return out.stream().distinct().toList();
    }

    private static MethodNote note(String topic, Method method) {
        return new MethodNote(topic, method.name(), method.assumptions(), method.refusal());
    }

    /** Per cent with one decimal; what is neither 0 nor 1 is never shown as such. */
    static String percent(double share) {
        if (share > 0 && share < 0.0005) {
            return "< 0.1 %";
        }
        if (share > 0.9995 && share < 1) {
            return "> 99.9 %";
        }
        return java.math.BigDecimal.valueOf(share * 100)
                        .setScale(1, java.math.RoundingMode.HALF_EVEN)
                        .toPlainString()
                + " %";
    }

    /** A level such as 95 %, without decimals where it has none. */
    static String level(double level) {
        return java.math.BigDecimal.valueOf(level * 100)
                        .setScale(2, java.math.RoundingMode.HALF_EVEN)
                        .stripTrailingZeros()
                        .toPlainString()
                + " %";
    }
}
