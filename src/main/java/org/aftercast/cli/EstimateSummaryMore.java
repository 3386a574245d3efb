package org.aftercast.cli;

import static org.aftercast.cli.EstimateSummary.number;
import static org.aftercast.cli.EstimateSummary.percent;
import static org.aftercast.cli.EstimateSummary.share;
import static org.aftercast.cli.EstimateSummary.shortShare;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.CompetingEnds;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.GroupComparison;
import org.aftercast.estimate.LongTerm;
import org.aftercast.estimate.Method;
import org.aftercast.estimate.RecoveryAcross;
import org.aftercast.estimate.RiskFactors;
import org.aftercast.estimate.ScaledUp;
import org.aftercast.estimate.Share;
import org.aftercast.estimate.UncertainFates;
import org.aftercast.report.EstimateSection;
import org.jspecify.annotations.Nullable;

/** The parts of the summary that are printed only where there is something to say. */
final class EstimateSummaryMore {

    private EstimateSummaryMore() {}

    static void competing(CompetingEnds competing, List<String> out) {
        if (competing.method().withoutAnswer()) {
            return;
        }
        title("How they ended (one end rules out the other)", out);
        for (CompetingEnds.End end : competing.ends()) {
            Share share = end.byHorizon();
            Double naive = end.ifOthersWereCensored();
            out.add(String.format(
                    Locale.ROOT,
                    "  %-24s %s%s",
                    end.name(),
                    share == null ? "no answer" : shortShare(share),
                    naive == null ? "" : "   ignoring the other end it would read " + percent(naive)));
        }
    }

    static void groups(EstimateResult result, List<String> out) {
        for (GroupComparison comparison : result.groups()) {
            title("By " + comparison.column(), out);
            if (refused(comparison.method(), out)) {
                continue;
            }
            for (GroupComparison.Group group : comparison.groups()) {
                Share died = group.died();
                out.add(String.format(
                        Locale.ROOT,
                        "  %-20s %3d of %3d died  %s",
                        group.name(),
                        group.counts().died(),
                        group.counts().animals(),
                        died == null ? "no answer: " + group.refusal() : shortShare(died)));
            }
            GroupComparison.TwoGroups two = comparison.two();
            if (two != null) {
                out.add(String.format(
                        Locale.ROOT,
                        "  difference, %s less %s: %s (%s to %s); if there is none, so large a one has p = %s (Fisher)%s%s",
                        comparison.groups().get(0).name(),
                        comparison.groups().get(1).name(),
                        percent(two.difference()),
                        percent(two.low()),
                        percent(two.high()),
                        p(two.fisherP()),
                        other(two.boschlooP(), "Boschloo"),
                        other(two.barnardP(), "Barnard")));
            }
            GroupComparison.Test test = comparison.logRank();
            if (test != null) {
                out.add("  over time: p = " + p(test.p()) + " (log-rank)");
            }
            GroupComparison.Test gray = comparison.gray();
            if (gray != null) {
                out.add("  with ends that rule out each other: p = " + p(gray.p()) + " (Gray)");
            }
            if (comparison.withoutValue() > 0) {
                out.add("  " + comparison.withoutValue() + " left out, for which the group is not known");
            }
        }
    }

    static void risk(RiskFactors risk, List<String> out) {
        if (risk.models().isEmpty()) {
            return;
        }
        title("What makes it worse (above 1: more die)", out);
        for (RiskFactors.Model model : risk.models()) {
            out.add("  " + String.join(" + ", model.columns()) + ": " + model.deaths() + " deaths among "
                    + model.animals() + " animals");
            if (model.method().withoutAnswer()) {
                out.add("    no answer: " + model.method().refusal());
                continue;
            }
            for (RiskFactors.Term term : model.terms()) {
                Double high = term.high();
                out.add(String.format(
                        Locale.ROOT,
                        "    %-28s odds of dying × %.2f (%.2f to %s) against %s, p = %s",
                        term.name(),
                        term.ratio(),
                        term.low(),
                        high == null ? "no limit" : String.format(Locale.ROOT, "%.2f", high),
                        term.against(),
                        p(term.p())));
            }
            for (RiskFactors.Term term : model.hazards()) {
                Double high = term.high();
                out.add(String.format(
                        Locale.ROOT,
                        "    %-28s rate of dying over time × %.2f (%.2f to %s), p = %s",
                        term.name(),
                        term.ratio(),
                        term.low(),
                        high == null ? "no limit" : String.format(Locale.ROOT, "%.2f", high),
                        p(term.p())));
            }
            for (RiskFactors.Prediction prediction : model.predictions()) {
                out.add(String.format(
                        Locale.ROOT,
                        "    %-28s risk of dying %s (%s to %s)",
                        prediction.animal(),
                        percent(prediction.risk()),
                        percent(prediction.low()),
                        percent(prediction.high())));
            }
            if (model.caution() != null) {
                out.add("    " + model.caution());
            }
        }
        if (risk.averaging().method().withoutAnswer()) {
            out.add("  comparing the models: " + risk.averaging().method().refusal());
        } else {
            for (RiskFactors.Row row : risk.averaging().rows()) {
                out.add(String.format(
                        Locale.ROOT,
                        "    weight %.3f  %s",
                        row.weight(),
                        row.columns().isEmpty() ? "(no column)" : String.join(" + ", row.columns())));
            }
            for (RiskFactors.AveragedTerm term : risk.averaging().terms()) {
                out.add(String.format(
                        Locale.ROOT,
                        "    averaged log odds ratio of %s: %.3f (se %.3f) over all models, %.3f (se %.3f) over those with it",
                        term.name(),
                        term.full(),
                        term.fullSe(),
                        term.conditional(),
                        term.conditionalSe()));
            }
        }
    }

    static void uncertain(UncertainFates fates, List<String> out) {
        if (fates.method().withoutAnswer()) {
            return;
        }
        title("With the doubt about each fate carried through", out);
        out.add("  " + fates.withProbabilities() + " animals carry probabilities, " + fates.inDoubt() + " in doubt");
        line("mixture over the possible numbers of deaths", fates.mixture(), out);
        if (fates.mixture() == null) {
            out.add("    (animals may have left our sight before the horizon; only drawn fates allow for that)");
        }
        line("fates drawn many times", fates.imputed(), out);
        line("if all in doubt are alive", fates.allDoubtfulAlive(), out);
        line("if all in doubt died", fates.allDoubtfulDead(), out);
        out.add("  " + fates.calibration());
    }

    static void clusters(@Nullable ClusterCheck clusters, List<String> out) {
        if (clusters == null) {
            return;
        }
        title("Drawing whole groups of " + clusters.column() + " instead of single animals", out);
        Share died = clusters.died();
        Double effect = clusters.designEffect();
        if (died == null) {
            refused(clusters.method(), out);
        } else {
            out.add("  " + share(died));
            if (effect != null) {
                out.add(String.format(Locale.ROOT, "  the variance is %.2f times that of independent animals", effect));
            }
        }
    }

    static void scaled(ScaledUp scaled, List<String> out) {
        Share fishery = scaled.fishery();
        if (!scaled.strata().isEmpty()) {
            title("Carried over to the fishery", out);
            for (ScaledUp.Stratum stratum : scaled.strata()) {
                out.add(String.format(
                        Locale.ROOT,
                        "  %-20s weight %s, %d of %d died",
                        stratum.name(),
                        percent(stratum.weight()),
                        stratum.died(),
                        stratum.animals()));
            }
            if (fishery == null) {
                refused(scaled.method(), out);
            } else {
                out.add("  " + share(fishery));
            }
        }
    }

    static void controls(EstimateResult result, List<String> out) {
        EstimateSettings.Controls given = result.settings().controls();
        if (given == null) {
            return;
        }
        title("Above the control animals", out);
        ScaledUp.ControlAdjusted controls = result.scaledUp().controls();
        Share control = controls.control();
        out.add("  controls: " + given.died() + " of " + given.animals() + " died"
                + (control == null ? "" : "  " + shortShare(control)));
        Share adjusted = controls.adjusted();
        if (adjusted == null) {
            refused(controls.method(), out);
        } else {
            out.add("  left for the catch: " + share(adjusted));
        }
    }

    static void inNumbers(EstimateResult result, List<String> out) {
        EstimateSettings.ReleasedCatch released = result.settings().released();
        if (released == null) {
            return;
        }
        String what = released.what();
        title(
                String.format(Locale.ROOT, "Dead among %.0f released", released.animals())
                        + (what == null ? "" : ", " + what)
                        + String.format(
                                Locale.ROOT,
                                " (with %.0f %% intervals)",
                                100 * result.settings().level()),
                out);
        ScaledUp.InNumbers numbers = result.scaledUp().inNumbers();
        ScaledUp.Dead dead = numbers.dead();
        if (dead == null) {
            refused(numbers.method(), out);
            return;
        }
        dead(dead, out);
        numbers.otherwise().forEach(other -> dead(other, out));
    }

    private static void dead(ScaledUp.Dead row, List<String> out) {
        out.add(String.format(
                Locale.ROOT, "  %-46s %.0f  (%.0f to %.0f)", row.share(), row.dead(), row.low(), row.high()));
    }

    static void recovery(List<RecoveryAcross> recovery, List<String> out) {
        for (RecoveryAcross across : recovery) {
            title("Recovery of " + across.measure(), out);
            out.add("  " + across.animals() + " animals, " + across.notSeen() + " of them with a lower limit only");
            if (across.median() == null) {
                out.add("  when half had recovered cannot be told: too few animals were seen to recover");
            } else if (across.median().time() != null) {
                out.add("  half had recovered by " + number(across.median().time()) + " h");
            } else {
                out.add("  fewer than half could be shown to have recovered");
            }
            RecoveryAcross.Pooled pooled = across.pooled();
            if (pooled != null) {
                out.add(String.format(
                        Locale.ROOT,
                        "  typical time %s h (%s to %s); a further animal %s to %s h",
                        number(pooled.typicalH()),
                        number(pooled.lowH()),
                        number(pooled.highH()),
                        number(pooled.nextLowH()),
                        number(pooled.nextHighH())));
            }
            if (pooled == null) {
                out.add("  no typical time: fewer than 3 animals were seen to recover with limits");
            }
            RecoveryAcross.Common common = across.common();
            if (common != null) {
                Double back = common.backH();
                Double low = common.lowH();
                Double high = common.highH();
                out.add(
                        back == null || low == null || high == null
                                ? "  one curve for all animals: no answer: "
                                        + common.method().refusal()
                                : "  one curve for all animals: 80 % of the way back by " + number(back) + " h ("
                                        + number(low) + " to " + number(high) + ")");
            }
        }
    }

    static void longTerm(LongTerm curve, List<String> out) {
        Double hurt = curve.hurtShare();
        if (hurt == null) {
            return;
        }
        Double half = curve.halfTimeH();
        title("The long run, if some are hurt and die of it while the rest lives on", out);
        out.add("  hurt " + percent(hurt) + (half == null ? "" : ", half of them dead by " + number(half) + " h")
                + " (no interval: few deaths fix such a curve poorly)");
        if (curve.remark() != null) {
            out.add("  " + curve.remark());
        }
    }

    private static String other(@Nullable Double p, String test) {
        return p == null ? "" : ", " + p(p) + " (" + test + ")";
    }

    /** A part that only a study has, as sentences and tables of text. */
    static void block(EstimateSection.Block block, List<String> out) {
        title(block.title(), out);
        block.sentences().forEach(sentence -> out.add("  " + sentence));
        for (EstimateSection.TextTable table : block.tables()) {
            out.add("  " + table.caption());
            int columns = table.heads().size();
            int[] wide = new int[columns];
            List<List<String>> rows = new ArrayList<>();
            rows.add(table.heads());
            rows.addAll(table.rows());
            rows.forEach(row -> {
                for (int i = 0; i < columns; i++) {
                    wide[i] = Math.max(wide[i], row.get(i).length());
                }
            });
            for (List<String> row : rows) {
                StringBuilder line = new StringBuilder("   ");
                for (int i = 0; i < columns; i++) {
                    String space = " ".repeat(wide[i] - row.get(i).length());
                    boolean right = table.numeric().contains(i);
                    line.append("  ")
                            .append(right ? space : "")
                            .append(row.get(i))
                            .append(right ? "" : space);
                }
                out.add(line.toString().stripTrailing());
            }
        }
    }

    private static void title(String words, List<String> out) {
        out.add("");
        out.add(words);
    }

    private static boolean refused(Method method, List<String> out) {
        if (method.withoutAnswer()) {
            out.add("  No answer. " + method.refusal());
        }
        return method.withoutAnswer();
    }

    private static void line(String what, @Nullable Share share, List<String> out) {
        out.add(String.format(Locale.ROOT, "  %-46s %s", what, share == null ? "no answer" : shortShare(share)));
    }

    private static String p(double p) {
        return p < 0.0005 ? "below 0.001" : String.format(Locale.ROOT, "%.3f", p);
    }
}
