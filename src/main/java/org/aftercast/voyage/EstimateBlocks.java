package org.aftercast.voyage;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.CompetingEnds;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.GroupComparison;
import org.aftercast.estimate.LongTerm;
import org.aftercast.estimate.RiskFactors;
import org.aftercast.estimate.ScaledUp;
import org.aftercast.estimate.Share;
import org.aftercast.estimate.TimeToDeath;
import org.aftercast.estimate.UncertainFates;
import org.aftercast.report.EstimateSection;
import org.aftercast.report.EstimateSection.Block;
import org.aftercast.report.EstimateSection.Place;
import org.aftercast.report.EstimateSection.TextTable;
import org.aftercast.stats.ReaderAgreement;
import org.jspecify.annotations.Nullable;

/** The parts of an estimate that a report shows as sentences and tables. What was not asked for is left out. */
final class EstimateBlocks {

    static final String READERS = "How the readers agree";

    private static final String NONE = "–";

    private EstimateBlocks() {}

    /**
     * The parts in order.
     *
     * @param readers how first and second readers agree, or null while no animal has both verdicts
     */
    static List<Block> of(EstimateResult result, @Nullable ReaderAgreement readers) {
        List<Block> out = new ArrayList<>();
        horizons(result.timeToDeath(), out);
        competing(result.competing(), result.headline().horizonH(), out);
        result.groups().forEach(group -> group(group, result.settings().level(), out));
        risk(result.riskFactors(), out);
        uncertain(result.uncertainFates(), out);
        readers(readers, out);
        clusters(result.clusters(), out);
        fishery(result.scaledUp(), out);
        controls(result, out);
        inNumbers(result, out);
        longTerm(result.longTerm(), out);
        return out;
    }

    private static void horizons(TimeToDeath time, List<Block> out) {
        List<List<String>> rows = new ArrayList<>();
        for (TimeToDeath.AtHorizon row : time.horizons()) {
            Share alive = row.survival();
            rows.add(List.of(
                    Decimals.number(row.hours()),
                    Integer.toString(row.stillWatched()),
                    Integer.toString(row.diedBefore()),
                    alive == null ? NONE : percent(alive.value()),
                    alive == null ? String.valueOf(row.remark()) : limits(alive)));
        }
        if (rows.isEmpty()) {
            return;
        }
        List<String> sentences = new ArrayList<>();
        if (time.restrictedMean() != null) {
            sentences.add(
                    "Within the first " + Decimals.number(time.restrictedMean().until())
                            + " h after release an animal was alive for "
                            + Decimals.fixed(time.restrictedMean().mean(), 1) + " h on average (standard error "
                            + Decimals.fixed(time.restrictedMean().se(), 1) + " h).");
        }
        out.add(new Block(
                Place.ENDS_AND_GROUPS,
                "",
                sentences,
                List.of(new TextTable(
                        "Share alive at chosen times.",
                        List.of("hours", "still watched", "dead so far", "alive", "95 % interval").stream()
                                .map(head -> head.startsWith("95") ? levelOf(time) + " interval" : head)
                                .toList(),
                        List.of(0, 1, 2, 3, 4),
                        rows))));
    }

    private static String levelOf(TimeToDeath time) {
        return time.curve() == null ? "" : EstimateSections.level(time.curve().level());
    }

    private static void competing(CompetingEnds competing, double horizonH, List<Block> out) {
        if (competing.method().withoutAnswer()) {
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        for (CompetingEnds.End end : competing.ends()) {
            Share share = end.byHorizon();
            Double naive = end.ifOthersWereCensored();
            rows.add(List.of(
                    end.name(),
                    Integer.toString(end.animals()),
                    share == null ? NONE : percent(share.value()),
                    share == null ? NONE : limits(share),
                    naive == null ? NONE : percent(naive)));
        }
        out.add(new Block(
                Place.ENDS_AND_GROUPS,
                "How they ended",
                List.of(
                        "One end rules out the other: an animal that was eaten can no longer die otherwise. The last column"
                                + " shows what would be read if that were ignored; it is too high whenever both ends occur."),
                List.of(new TextTable(
                        "Share that met each end within " + Decimals.number(horizonH)
                                + " h, whatever the rule on deaths.",
                        List.of("end", "animals", "share", "interval", "ignoring the other end"),
                        List.of(1, 2, 3, 4),
                        rows))));
    }

    private static boolean notDeathsByAnimals(GroupComparison.Group group) {
        Share died = group.died();
        int animals = group.counts().animals();
        return died != null
                && animals > 0
                && Math.abs(died.value() - (double) group.counts().died() / animals) > 5e-4;
    }

    private static void group(GroupComparison comparison, double level, List<Block> out) {
        String column = ColumnWords.name(comparison.column());
        String refusal = comparison.method().refusal();
        if (refusal != null) {
            out.add(new Block(Place.ENDS_AND_GROUPS, "By " + column, List.of("No comparison. " + refusal), List.of()));
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        for (GroupComparison.Group group : comparison.groups()) {
            Share died = group.died();
            rows.add(List.of(
                    group.name(),
                    group.counts().died() + " of " + group.counts().animals(),
                    died == null ? NONE : percent(died.value()),
                    died == null ? String.valueOf(group.refusal()) : limits(died)));
        }
        List<String> sentences = new ArrayList<>();
        GroupComparison.TwoGroups two = comparison.two();
        if (two != null) {
            sentences.add(
                    "Difference of the shares, " + comparison.groups().get(0).name() + " less "
                            + comparison.groups().get(1).name() + ", among animals known to the horizon: "
                            + points(two.difference()) + " (" + EstimateSections.level(level) + " interval "
                            + points(two.low()) + " to " + points(two.high())
                            + "). If the groups were alike, a difference at least so large would come about with"
                            + " p " + p(two.fisherP()) + " (Fisher's exact test)"
                            + other(two.boschlooP(), "Boschloo's")
                            + other(two.barnardP(), "Barnard's") + ".");
        }
        GroupComparison.Test logRank = comparison.logRank();
        if (logRank != null) {
            sentences.add("Over the whole time: p " + p(logRank.p()) + " (log-rank test).");
        }
        GroupComparison.Test gray = comparison.gray();
        if (gray != null) {
            sentences.add("With ends that rule out each other: p " + p(gray.p()) + " (Gray's test).");
        }
        List<String> byCurve = comparison.groups().stream()
                .filter(EstimateBlocks::notDeathsByAnimals)
                .map(GroupComparison.Group::name)
                .toList();
        if (!byCurve.isEmpty()) {
            sentences.add("The share of " + String.join(", ", byCurve) + " is read from the survival curve, not deaths"
                    + " divided by animals: some animals left our sight before the horizon.");
        }
        if (comparison.withoutValue() > 0) {
            sentences.add(comparison.withoutValue() + " left out, for which the group is not known.");
        }
        out.add(new Block(
                Place.ENDS_AND_GROUPS,
                "By " + column,
                sentences,
                List.of(new TextTable(
                        "Share that died in each group.",
                        List.of(column, "died", "share", "interval"),
                        List.of(1, 2, 3),
                        rows))));
    }

    private static String other(@Nullable Double value, String test) {
        return value == null ? "" : ", p " + p(value) + " (" + test + ")";
    }

    private static void risk(RiskFactors risk, List<Block> out) {
        List<String> sentences = new ArrayList<>();
        List<List<String>> predicted = new ArrayList<>();
        for (RiskFactors.Model model : risk.models()) {
            String name = String.join(
                    " with ",
                    model.columns().stream()
                            .map((Function<String, String>) ColumnWords::name)
                            .toList());
            if (model.method().refusal() != null) {
                sentences.add(capital(name) + ": no answer. " + model.method().refusal());
            }
            for (RiskFactors.Prediction prediction : model.predictions()) {
                predicted.add(List.of(
                        ColumnWords.withUnit(prediction.animal()),
                        percent(prediction.risk()),
                        percent(prediction.low()) + " to " + percent(prediction.high())));
            }
        }
        List<TextTable> tables = new ArrayList<>();
        if (!predicted.isEmpty()) {
            tables.add(new TextTable(
                    "Risk of dying by the horizon that the models give for such an animal. The penalty pulls risks toward"
                            + " one half; the intercept was corrected for that.",
                    List.of("an animal with", "risk", "interval"),
                    List.of(1, 2),
                    predicted));
        }
        String refused = risk.averaging().method().refusal();
        if (refused != null && risk.models().size() > 1) {
            sentences.add("The models were not compared. " + refused);
        } else if (refused == null) {
            List<List<String>> rows = new ArrayList<>();
            for (RiskFactors.Row row : risk.averaging().rows()) {
                rows.add(List.of(
                        row.columns().isEmpty()
                                ? "no factor"
                                : String.join(
                                        " + ",
                                        row.columns().stream()
                                                .map(ColumnWords::name)
                                                .toList()),
                        Decimals.fixed(row.aicc(), 2),
                        Decimals.fixed(row.weight(), 3)));
            }
            tables.add(new TextTable(
                    "The declared models compared on the " + risk.averaging().animals()
                            + " animals with every factor (ordinary likelihood).",
                    List.of("model", "AICc", "weight"),
                    List.of(1, 2),
                    rows));
            List<List<String>> averaged = new ArrayList<>();
            for (RiskFactors.AveragedTerm term : risk.averaging().terms()) {
                averaged.add(List.of(
                        ColumnWords.of(term.name()),
                        Decimals.fixed(term.full(), 3) + " (" + Decimals.fixed(term.fullSe(), 3) + ")",
                        Decimals.fixed(term.conditional(), 3) + " (" + Decimals.fixed(term.conditionalSe(), 3) + ")",
                        Decimals.fixed(term.importance(), 3)));
            }
            tables.add(new TextTable(
                    "Natural log of the odds ratios averaged over these models, with standard errors: over all models (0"
                            + " where a model lacks the factor), and over those that hold it.",
                    List.of("factor", "over all models", "where present", "sum of weights"),
                    List.of(1, 2, 3),
                    averaged));
        }
        if (!sentences.isEmpty() || !tables.isEmpty()) {
            out.add(new Block(Place.RISK, risk.models().isEmpty() ? "What makes it worse" : "", sentences, tables));
        }
    }

    private static void uncertain(UncertainFates fates, List<Block> out) {
        if (fates.method().withoutAnswer() || fates.inDoubt() == 0) {
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        share(rows, "every possible number of deaths weighed (mixture of Jeffreys intervals)", fates.mixture());
        share(rows, "fates drawn many times (multiple imputation)", fates.imputed());
        share(rows, "every animal in doubt alive", fates.allDoubtfulAlive());
        share(rows, "every animal in doubt dead", fates.allDoubtfulDead());
        List<String> sentences = new ArrayList<>();
        sentences.add(fates.withProbabilities() + " animals carry probabilities instead of a verdict; for "
                + fates.inDoubt() + " of them no ending has 99 % or more. " + fates.calibration());
        if (fates.mixture() == null) {
            sentences.add("The mixture over the possible numbers of deaths gives no answer, because animals may have"
                    + " left our sight before the horizon; drawing the fates allows for that.");
        }
        out.add(new Block(
                Place.FURTHER,
                "With the doubt about each fate carried through",
                sentences,
                List.of(table("Share that died, with doubtful fates.", rows))));
    }

    private static void readers(@Nullable ReaderAgreement readers, List<Block> out) {
        if (readers == null) {
            return;
        }
        Double kappa = readers.kappa();
        Double se = readers.kappaSe();
        out.add(new Block(
                Place.FURTHER,
                READERS,
                List.of("Two readers judged " + readers.subjects() + (readers.subjects() == 1 ? " animal" : " animals")
                        + " without seeing each other's verdict. They agreed on "
                        + Math.round(readers.agreement() * readers.subjects()) + " of them ("
                        + percent(readers.agreement()) + ")"
                        + ". Cohen's kappa "
                        + (kappa == null || se == null
                                ? "cannot be told, because only one fate was named"
                                : Decimals.fixed(kappa, 2) + " (standard error " + Decimals.fixed(se, 2) + ")")
                        + "; Gwet's AC1 " + Decimals.fixed(readers.ac1(), 2)
                        + ". Kappa misleads when nearly all animals meet one fate; AC1 does not."),
                List.of()));
    }

    private static void clusters(@Nullable ClusterCheck clusters, List<Block> out) {
        if (clusters == null) {
            return;
        }
        Share died = clusters.died();
        Double effect = clusters.designEffect();
        String refusal = clusters.method().refusal();
        String column = ColumnWords.name(clusters.column());
        out.add(new Block(
                Place.FURTHER,
                "Animals of one " + column + " may share their fate",
                died == null || effect == null
                        ? List.of("No answer. " + (refusal == null ? "" : refusal))
                        : List.of("Drawing whole groups of one " + column + " (" + clusters.clusters()
                                + " of them) instead of single animals gives " + percent(died.value()) + " ("
                                + limits(died) + "). The variance is " + Decimals.fixed(effect, 2)
                                + " times that of independent animals"
                                + (effect < 1 ? "; below 1 by chance, with so few groups." : ".")),
                List.of()));
    }

    private static void fishery(ScaledUp scaled, List<Block> out) {
        if (scaled.strata().isEmpty()) {
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        for (ScaledUp.Stratum stratum : scaled.strata()) {
            Share share = stratum.share();
            rows.add(List.of(
                    stratum.name(),
                    percent(stratum.weight()),
                    stratum.died() + " of " + stratum.animals(),
                    share == null ? NONE : percent(share.value()),
                    share == null ? NONE : limits(share)));
        }
        Share fishery = scaled.fishery();
        String refusal = scaled.method().refusal();
        out.add(new Block(
                Place.FURTHER,
                "Carried over to the fishery",
                List.of(
                        fishery == null
                                ? "No answer. " + (refusal == null ? "" : refusal)
                                : "Weighted by the shares of the groups in the fishery, " + percent(fishery.value())
                                        + " die (" + limits(fishery) + ")."),
                List.of(new TextTable(
                        "Each group with its share of the fishery (Jeffreys posterior mean and interval).",
                        List.of("group", "share of the fishery", "died", "share that died", "interval"),
                        List.of(1, 2, 3, 4),
                        rows))));
    }

    private static void controls(EstimateResult result, List<Block> out) {
        EstimateSettings.Controls given = result.settings().controls();
        if (given == null) {
            return;
        }
        ScaledUp.ControlAdjusted controls = result.scaledUp().controls();
        Share adjusted = controls.adjusted();
        Share control = controls.control();
        Share died = result.headline().died();
        List<String> sentences = new ArrayList<>();
        String counted = "Of " + given.animals()
                + " control animals (handled, tagged and watched alike, but not caught) " + given.died() + " died";
        sentences.add(
                control == null
                        ? counted + "."
                        : counted + ": " + percent(control.value()) + " (" + limits(control) + ").");
        if (adjusted == null || died == null) {
            sentences.add("No answer. " + controls.method().refusal());
        } else {
            sentences.add("Taking this off the share that died leaves " + percent(adjusted.value()) + " ("
                    + limits(adjusted) + ") for the catch; without controls it reads " + percent(died.value()) + " ("
                    + limits(died) + ").");
        }
        out.add(new Block(Place.FURTHER, "Above control animals", sentences, List.of()));
    }

    private static void inNumbers(EstimateResult result, List<Block> out) {
        EstimateSettings.ReleasedCatch released = result.settings().released();
        if (released == null) {
            return;
        }
        ScaledUp.InNumbers numbers = result.scaledUp().inNumbers();
        ScaledUp.Dead dead = numbers.dead();
        Double low = released.low();
        Double high = released.high();
        String what = released.what();
        String of = whole(released.animals()) + " animals released"
                + (low == null || high == null ? "" : " (" + whole(low) + " to " + whole(high) + ")")
                + (what == null ? "" : ", " + what);
        if (dead == null) {
            out.add(new Block(
                    Place.FURTHER,
                    EstimateSection.IN_NUMBERS,
                    List.of("Number released: " + of + ". No answer. "
                            + numbers.method().refusal()),
                    List.of()));
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        rows.add(row(dead));
        numbers.otherwise().forEach(other -> rows.add(row(other)));
        out.add(new Block(
                Place.FURTHER,
                EstimateSection.IN_NUMBERS,
                List.of(deadOf(result, of, dead)),
                List.of(new TextTable(
                        "Dead among those released, with the share that was used.",
                        List.of("share", "dead animals", "interval"),
                        List.of(1, 2),
                        rows))));
    }

    /** The number with the share it comes from: that of the fishery's groups differs from that of the study. */
    static String deadOf(EstimateResult result, String of, ScaledUp.Dead dead) {
        String within = " within " + Decimals.number(result.headline().horizonH()) + " h";
        String interval = " (" + EstimateSections.level(dead.level()) + " interval " + whole(dead.low()) + " to "
                + whole(dead.high()) + ")";
        EstimateSettings.ScaleUp groups = result.settings().scaleUp();
        Share fishery = result.scaledUp().fishery();
        if (groups == null || fishery == null) {
            return "Of " + of + ", about " + whole(dead.dead()) + " die" + within + interval
                    + ", if the share of this study holds for them.";
        }
        Share here = result.headline().died();
        return "The fishery does not catch the groups by " + ColumnWords.name(groups.column())
                + " in the shares of this study. Weighted to the fishery, about " + whole(100 * fishery.value())
                + " in 100 die" + within
                + (here == null ? "" : " (in this study, about " + whole(100 * here.value()) + ")") + ": of " + of
                + ", about " + whole(dead.dead()) + interval
                + ", if animals of each group fare in the fishery as they did here.";
    }

    private static List<String> row(ScaledUp.Dead dead) {
        return List.of(dead.share(), whole(dead.dead()), whole(dead.low()) + " to " + whole(dead.high()));
    }

    /** Animals without fractions, thousands set apart; three figures are all that such a number carries. */
    static String whole(double animals) {
        BigDecimal rounded = animals >= 1000
                ? BigDecimal.valueOf(animals).round(new java.math.MathContext(3, RoundingMode.HALF_EVEN))
                : BigDecimal.valueOf(animals).setScale(0, RoundingMode.HALF_EVEN);
        return rounded.setScale(0, RoundingMode.HALF_EVEN)
                .toPlainString()
                .replaceAll("(?<=\\d)(?=(\\d{3})+$)", "\u00a0");
    }

    private static void longTerm(LongTerm curve, List<Block> out) {
        Double hurt = curve.hurtShare();
        if (hurt == null) {
            return;
        }
        Double half = curve.halfTimeH();
        out.add(new Block(
                Place.FURTHER,
                "The long run",
                List.of("If some animals are hurt by the catch and die of it with time while the rest lives on, "
                        + percent(hurt) + " are hurt"
                        + (half == null ? "" : ", and half of these have died by " + Decimals.number(half) + " h")
                        + ". No interval is given: few deaths fix such a curve poorly. "
                        + (curve.remark() == null ? "" : curve.remark())),
                List.of()));
    }

    // ---- words

    private static void share(List<List<String>> rows, String what, @Nullable Share share) {
        if (share != null) {
            rows.add(List.of(what, percent(share.value()), limits(share)));
        }
    }

    private static TextTable table(String caption, List<List<String>> rows) {
        return new TextTable(caption, List.of("how", "share", "interval"), List.of(1, 2), rows);
    }

    private static String percent(double share) {
        return EstimateSections.percent(share);
    }

    private static String limits(Share share) {
        return percent(share.low()) + " to " + percent(share.high());
    }

    private static String points(double difference) {
        return (difference < 0 ? "−" : "+") + Decimals.fixed(Math.abs(difference) * 100, 1) + " points";
    }

    private static String p(double value) {
        return value < 0.0005 ? "< 0.001" : "= " + Decimals.fixed(value, 3);
    }

    static String capital(String words) {
        return words.isEmpty() ? words : Character.toUpperCase(words.charAt(0)) + words.substring(1);
    }
}
