package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.report.EstimateSection.Curve;
import org.aftercast.report.EstimateSection.FlowLine;
import org.aftercast.report.EstimateSection.MethodNote;
import org.aftercast.report.EstimateSection.RiskLine;
import org.aftercast.report.EstimateSection.ShareLine;

/** The share that died, time to death, what makes it worse, who was tagged, and how the answer moves. */
final class EstimatePart {

    /** From this ratio of its limits on, an interval that crosses 1 is said to tell nothing. */
    private static final double WIDE = 100;

    private static final int MOST_NAMED = 60;

    private EstimatePart() {}

    static void write(StudyReport report, Html html) {
        EstimateSection estimate = report.estimate();
        if (estimate == null) {
            html.p("No estimate was made.");
            return;
        }
        headline(report, estimate, html);
        flow(estimate, html);
        robustness(estimate, html);
        time(estimate, html);
        blocks(estimate, EstimateSection.Place.ENDS_AND_GROUPS, html);
        risks(estimate, html);
        blocks(estimate, EstimateSection.Place.RISK, html);
        blocks(estimate, EstimateSection.Place.FURTHER, html);
        methods(estimate, html);
    }

    private static void blocks(EstimateSection estimate, EstimateSection.Place place, Html html) {
        for (EstimateSection.Block block : estimate.blocks()) {
            if (block.place() != place) {
                continue;
            }
            // the heading stays with its sentences and the first table; further tables may go to the next page as a
            // whole
            html.open("div", "class", "keep");
            if (!block.title().isEmpty()) {
                html.element("h3", block.title());
            }
            block.sentences().forEach(html::p);
            for (int i = 0; i < block.tables().size(); i++) {
                if (i > 0) {
                    html.close("div").open("div", "class", "keep");
                }
                EstimateSection.TextTable table = block.tables().get(i);
                List<List<Object>> rows = new ArrayList<>();
                table.rows().forEach(row -> rows.add(new ArrayList<Object>(row)));
                html.table(table.caption(), table.heads(), table.numeric(), rows);
            }
            html.close("div");
        }
    }

    private static void headline(StudyReport report, EstimateSection estimate, Html html) {
        ShareLine share = estimate.headline();
        if (share != null) {
            html.element(
                    "p",
                    "Every interval in this report is one of " + Num.fixed(share.level() * 100, 0)
                            + " %, unless it says otherwise.",
                    "class",
                    "names");
        }
        html.element("h3", "Share that died within " + Num.fixed(estimate.horizonH(), 0) + " h of release");
        if (share == null) {
            html.p("No share is stated. " + refusal(estimate));
        } else {
            String level = Num.fixed(share.level() * 100, 0);
            html.open("p", "class", "headline")
                    .open("strong")
                    .text(Num.percent(share.value()))
                    .close("strong")
                    .text(
                            Double.isNaN(share.low())
                                    ? ""
                                    : " (" + level + " % interval " + Num.percent(share.low()) + " to "
                                            + Num.percent(share.high()) + ")")
                    .close("p");
            if (!estimate.methods().isEmpty()) {
                html.p("How: " + estimate.methods().get(0).name() + ".");
            }
        }
        EstimateSection.Counts counts = estimate.counts();
        html.p("Counted as a death: " + estimate.deathRule() + ". Of "
                + StudyFigures.counted(counts.animals(), "animal", "animals") + ", " + counts.died()
                + " died by this rule within " + Num.fixed(estimate.horizonH(), 0) + " h, " + counts.alive()
                + " were known to be alive at " + Num.fixed(estimate.horizonH(), 0) + " h"
                + (counts.otherEnd() > 0 ? ", " + counts.otherEnd() + " met another end" : "")
                + (counts.unknown() > 0
                        ? ", and " + counts.unknown() + " left our sight or could not be decided before that"
                        : "")
                + ".");
        named(report, "Dead by this rule", estimate.who().died(), html);
        named(report, "Met another end", estimate.who().otherEnd(), html);
        named(report, "Not known to that hour", estimate.who().unknown(), html);
        html.list(estimate.remarks());
        if (share != null && !estimate.sameShareOtherIntervals().isEmpty()) {
            html.figure(
                    StudyFigures.shares(
                            "share-intervals",
                            "The share that died, with several intervals",
                            share,
                            estimate.sameShareOtherIntervals(),
                            StudyDocument.TEXT_WIDTH_MM),
                    "The same share with different intervals. They answer the same question under different conventions;"
                            + " the first is the one declared for this study.");
        }
    }

    /** Names of animals, each a link to its page; nothing for very many. */
    private static void named(StudyReport report, String what, List<String> names, Html html) {
        if (names.isEmpty() || names.size() > MOST_NAMED) {
            return;
        }
        html.open("p", "class", "names").text(what + ": ");
        for (int i = 0; i < names.size(); i++) {
            String name = names.get(i);
            html.text(i == 0 ? "" : ", ");
            report.animals().stream()
                    .filter(animal -> animal.name().equals(name))
                    .findFirst()
                    .ifPresentOrElse(
                            animal -> html.raw(Html.link("#" + StudyDocument.anchor(report, animal), name)
                                    .markup()),
                            () -> html.text(name));
        }
        html.text(".").close("p");
    }

    /** The headline's own reason: its method comes first. */
    private static String refusal(EstimateSection estimate) {
        String reason =
                estimate.methods().isEmpty() ? null : estimate.methods().get(0).refusal();
        return reason == null ? "" : reason;
    }

    private static void flow(EstimateSection estimate, Html html) {
        if (estimate.flow().isEmpty()) {
            return;
        }
        html.element("h3", "Who was tagged");
        html.figure(
                StudyFigures.flow(estimate.flow(), StudyDocument.TEXT_WIDTH_MM),
                "From the landing to the fate. Indented stages are parts of the stage above them.");
        List<List<Object>> rows = new ArrayList<>();
        for (FlowLine line : estimate.flow()) {
            rows.add(List.of("\u2003".repeat(line.depth()) + line.name(), line.animals()));
        }
        html.table("The same as a table.", List.of("stage", "animals"), List.of(1), rows);
    }

    private static void time(EstimateSection estimate, Html html) {
        if (estimate.curves().isEmpty()) {
            return;
        }
        html.element("h3", "When they died");
        html.figure(
                StudyFigures.survival(estimate, StudyDocument.TEXT_WIDTH_MM),
                "Share of animals alive against hours since release. A short upright line marks an animal that left our"
                        + " sight alive; from then on it says nothing more.");
        for (Curve curve : estimate.curves()) {
            List<List<Object>> rows = new ArrayList<>();
            for (int i = 0; i < curve.timeH().length; i++) {
                double h = curve.timeH()[i];
                long atRisk = java.util.Arrays.stream(curve.entryH())
                        .filter(end -> end >= h)
                        .count();
                rows.add(List.of(
                        Num.fixed(h, h < 1 ? 2 : 1),
                        atRisk,
                        tenths(curve.survival()[i]),
                        Double.isNaN(curve.low()[i])
                                ? Num.NONE
                                : tenths(curve.low()[i]) + " to " + tenths(curve.high()[i])));
            }
            if (!rows.isEmpty()) {
                html.table(
                        "Each time of death" + (curve.name().isEmpty() ? "" : ", " + curve.name()) + ". "
                                + curve.interval() + ".",
                        List.of("hours", "watched just before", "alive from then on", "interval"),
                        List.of(0, 1, 2, 3),
                        rows);
            }
        }
    }

    /** Per cent in a table: one decimal in every row. */
    private static String tenths(double share) {
        return Num.fixed(100 * share, 1) + " %";
    }

    private static void risks(EstimateSection estimate, Html html) {
        if (estimate.risks().isEmpty()) {
            return;
        }
        html.element("h3", "What makes it worse");
        html.figure(
                StudyFigures.risks(estimate.risks(), StudyDocument.TEXT_WIDTH_MM),
                "How many times higher the odds, or over time the rate, of death are per step of each factor. Odds are"
                        + " deaths to survivors, not a share. An interval that crosses 1 means that these"
                        + " data do not tell whether the factor matters.");
        List<List<Object>> rows = new ArrayList<>();
        for (RiskLine line : estimate.risks()) {
            rows.add(List.of(
                    line.factor(),
                    line.kind(),
                    Num.significant(line.ratio()),
                    StudyFigures.limits(line),
                    line.p() < 0.0005 ? "< 0.001" : Num.fixed(line.p(), 3),
                    line.deaths() + " of " + line.animals()));
        }
        html.table(
                "How many times higher the odds of dying by the horizon (Firth's logistic regression), and the rate of dying"
                        + " over time (Firth's proportional hazards), are per step; limits from the profile of the"
                        + " penalised likelihood. The last column counts the deaths and animals behind the odds.",
                List.of("factor", "what", "times", "interval", "p", "deaths"),
                List.of(2, 3, 4, 5),
                rows);
        html.list(estimate.risks().stream()
                .filter(EstimatePart::tellsNothing)
                .map(line -> RecoveryPart.capital(line.factor()) + ", " + line.kind() + ": anything from "
                        + StudyFigures.limits(line) + " times is compatible, so these data do not tell.")
                .toList());
        html.list(estimate.risks().stream()
                .filter(line -> line.remark() != null)
                .map(line -> RecoveryPart.capital(line.factor()) + ": " + line.remark())
                .distinct()
                .toList());
    }

    /** An interval that crosses 1 and spans a factor of 100 or more. */
    private static boolean tellsNothing(RiskLine line) {
        return line.low() < 1 && line.high() > 1 && line.high() >= WIDE * line.low();
    }

    private static void robustness(EstimateSection estimate, Html html) {
        if (estimate.robustness().isEmpty()) {
            return;
        }
        html.open("div", "class", "page").element("h3", "How the answer moves when a choice is made differently");
        html.figure(
                StudyFigures.choices(estimate, StudyDocument.TEXT_WIDTH_MM),
                "The first row is the declared answer; each further row changes one thing.");
        List<List<Object>> rows = new ArrayList<>();
        for (ShareLine line : estimate.robustness()) {
            String remark = line.remark();
            rows.add(List.of(
                    line.label(),
                    tenths(line.value()),
                    Double.isNaN(line.low()) ? Num.NONE : tenths(line.low()) + " to " + tenths(line.high()),
                    remark == null ? "" : remark));
        }
        html.table(
                "The share under other choices.",
                List.of("changed", "share", "interval", "moves by"),
                List.of(1, 2, 3),
                rows);
        html.close("div");
    }

    private static void methods(EstimateSection estimate, Html html) {
        html.element("h3", "What each of these methods assumes");
        for (MethodNote method : estimate.methods()) {
            html.open("div", "class", "method").element("h4", method.topic() + ": " + method.name());
            String refusal = method.refusal();
            if (refusal != null) {
                html.p("Gave no answer here: " + refusal);
            }
            html.list(method.assumptions()).close("div");
        }
    }
}
