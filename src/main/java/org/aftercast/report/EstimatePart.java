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

    private EstimatePart() {}

    static void write(StudyReport report, Html html) {
        EstimateSection estimate = report.estimate();
        if (estimate == null) {
            html.p("No estimate was made.");
            return;
        }
        headline(estimate, html);
        flow(estimate, html);
        time(estimate, html);
        risks(estimate, html);
        robustness(estimate, html);
        methods(estimate, html);
    }

    private static void headline(EstimateSection estimate, Html html) {
        html.element("h3", "Share that died within " + Num.fixed(estimate.horizonH(), 0) + " h of release");
        ShareLine share = estimate.headline();
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
                                            + Num.percent(share.high()) + "; " + share.interval() + ")")
                    .close("p");
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
        estimate.remarks().forEach(html::p);
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
            rows.add(List.of("  ".repeat(line.depth()) + line.name(), line.animals()));
        }
        html.table("From the landing to the fate.", List.of("stage", "animals"), List.of(1), rows);
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
                        Num.percent(curve.survival()[i]),
                        Double.isNaN(curve.low()[i])
                                ? Num.NONE
                                : Num.percent(curve.low()[i]) + " to " + Num.percent(curve.high()[i])));
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

    private static void risks(EstimateSection estimate, Html html) {
        if (estimate.risks().isEmpty()) {
            return;
        }
        html.element("h3", "What makes it worse");
        html.figure(
                StudyFigures.risks(estimate.risks(), StudyDocument.TEXT_WIDTH_MM),
                "How the odds of dying change per step of each factor. An interval that crosses 1 means that these data"
                        + " do not tell whether the factor matters.");
        List<List<Object>> rows = new ArrayList<>();
        for (RiskLine line : estimate.risks()) {
            String remark = line.remark();
            rows.add(List.of(
                    line.factor(),
                    Num.significant(line.ratio()),
                    Num.significant(line.low()) + " to " + Num.significant(line.high()),
                    line.p() < 0.0005 ? "< 0.001" : Num.fixed(line.p(), 3),
                    line.deaths() + " of " + line.animals(),
                    line.kind() + (remark == null ? "" : ". " + remark)));
        }
        html.table(
                "Risk factors.",
                List.of("factor", "times the odds", "interval", "p", "deaths", "method and remarks"),
                List.of(1, 2, 3, 4),
                rows);
    }

    private static void robustness(EstimateSection estimate, Html html) {
        if (estimate.robustness().isEmpty()) {
            return;
        }
        html.element("h3", "How the answer moves when a choice is made differently");
        html.figure(
                StudyFigures.shares(
                        "robustness",
                        "The share under other choices",
                        estimate.headline(),
                        estimate.robustness(),
                        StudyDocument.TEXT_WIDTH_MM),
                "The first row is the declared answer; each further row changes one thing.");
        List<List<Object>> rows = new ArrayList<>();
        for (ShareLine line : estimate.robustness()) {
            String remark = line.remark();
            rows.add(List.of(
                    line.label(),
                    Num.percent(line.value()),
                    Double.isNaN(line.low()) ? Num.NONE : Num.percent(line.low()) + " to " + Num.percent(line.high()),
                    remark == null ? "" : remark));
        }
        html.table(
                "The share under other choices.",
                List.of("changed", "share", "interval", "remark"),
                List.of(1, 2),
                rows);
    }

    private static void methods(EstimateSection estimate, Html html) {
        html.element("h3", "What each of these methods assumes");
        for (MethodNote method : estimate.methods()) {
            html.open("div", "class", "method").element("h4", RecoveryPart.capital(method.name()));
            String refusal = method.refusal();
            if (refusal != null) {
                html.p("Gave no answer here: " + refusal);
            }
            html.list(method.assumptions()).close("div");
        }
    }
}
