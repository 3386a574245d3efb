package org.aftercast.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.report.EstimateSection.Curve;
import org.aftercast.report.EstimateSection.FlowLine;
import org.aftercast.report.EstimateSection.RiskLine;
import org.aftercast.report.EstimateSection.ShareLine;

/** The figures of all animals together. Each takes its width, so that letters keep their size at every width. */
final class StudyFigures {

    private static final String[] CURVE_INKS = {Look.INK, Look.TEAL, Look.RUST, Look.FAINT_INK};
    private static final String[] CURVE_DASHES = {"none", "5 2", "1.5 1.5", "7 2 1.5 2"};

    private static final double FLOW_LINE_PT = 9;

    private StudyFigures() {}

    /** Survival against time, with interval, numbers at risk and marks where animals left our sight. */
    static Figure survival(EstimateSection estimate, double widthMm) {
        Sheet sheet = new Sheet(Look.mm(widthMm));
        double left = 46;
        double right = sheet.widthPt - 10;
        double top = 10;
        double height = Math.min(190, sheet.widthPt * 0.55);
        double endH = estimate.curves().stream().mapToDouble(Curve::endH).max().orElse(1);
        Scale hours = new Scale(0, Math.max(endH, 1e-3), left, right);
        Scale share = new Scale(0, 1, top + height, top);
        for (double tick : new double[] {0, 0.25, 0.5, 0.75, 1}) {
            sheet.line(left, share.pt(tick), right, share.pt(tick), Look.GRID, Look.HAIR_PT);
            sheet.text(
                    left - 4, share.pt(tick) + 2.3, Num.fixed(tick * 100, 0), Look.SMALL_PT, Mark.Anchor.END, Look.INK);
        }
        sheet.turned(12, top + height / 2, "alive, % of animals", Look.NORMAL_PT, Look.INK);
        boolean one = estimate.curves().size() == 1;
        int k = 0;
        for (Curve curve : estimate.curves()) {
            if (one) {
                interval(sheet, curve, hours, share);
            } else {
                intervalEdges(sheet, curve, hours, share, CURVE_INKS[k % 4]);
            }
            steps(sheet, curve, hours, share, CURVE_INKS[k % 4], CURVE_DASHES[k % 4]);
            k++;
        }
        if (estimate.horizonH() <= endH) {
            double x = hours.pt(estimate.horizonH());
            sheet.dashed(x, top, x, top + height, Look.FAINT_INK, Look.LINE_PT, "3 2");
        }
        double base = top + height;
        sheet.line(left, base, right, base, Look.INK, Look.HAIR_PT);
        Ticks ticks = Ticks.elapsedHours(0, hours.to() * 3600, widthMm < 120 ? 6 : 9);
        for (int i = 0; i < ticks.values().length; i++) {
            double x = hours.pt(ticks.values()[i] / 3600);
            sheet.line(x, base, x, base + 3, Look.INK, Look.HAIR_PT);
            sheet.text(x, base + 10, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.INK);
        }
        sheet.text((left + right) / 2, base + 20, "hours since release", Look.NORMAL_PT, Mark.Anchor.MIDDLE, Look.INK);
        double y = base + 33;
        sheet.text(4, y, "animals still watched", Look.SMALL_PT, Mark.Anchor.START, Look.FAINT_INK);
        k = 0;
        for (Curve curve : estimate.curves()) {
            y += 10;
            if (!one) {
                sheet.dashed(4, y - 2.3, 22, y - 2.3, CURVE_INKS[k % 4], Look.BOLD_PT, CURVE_DASHES[k % 4]);
            }
            for (int i = 0; i < ticks.values().length; i++) {
                double h = ticks.values()[i] / 3600;
                long atRisk =
                        Arrays.stream(curve.entryH()).filter(end -> end >= h).count();
                sheet.text(hours.pt(h), y, Long.toString(atRisk), Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.INK);
            }
            k++;
        }
        Legend legend = new Legend(sheet, left, right, y + 14);
        k = 0;
        for (Curve curve : estimate.curves()) {
            int at = k++;
            legend.item(
                    (curve.name().isEmpty() ? "all animals" : curve.name()) + " (" + curve.entryH().length
                            + " animals, " + counted(curve.deaths(), "death", "deaths") + ")",
                    18,
                    (x, b) -> sheet.dashed(
                            x, b - 2.3, x + 18, b - 2.3, CURVE_INKS[at % 4], Look.BOLD_PT, CURVE_DASHES[at % 4]));
        }
        if (one) {
            legend.item(estimate.curves().get(0).interval(), 14, (x, b) -> sheet.box(x, b - 7, 14, 9, Look.PALE_BLUE));
        }
        legend.item(
                "left our sight alive", 6, (x, b) -> sheet.line(x + 3, b - 6, x + 3, b + 1, Look.INK, Look.LINE_PT));
        return sheet.figure(
                "survival",
                legend.finish() - 4,
                "Share of animals alive against hours since release",
                describe(estimate));
    }

    private static String describe(EstimateSection estimate) {
        StringBuilder out = new StringBuilder();
        for (Curve curve : estimate.curves()) {
            double last = curve.survival().length == 0 ? 1 : curve.survival()[curve.survival().length - 1];
            out.append(curve.name().isEmpty() ? "All animals" : curve.name())
                    .append(": ")
                    .append(Num.percent(last))
                    .append(" alive at ")
                    .append(Num.fixed(curve.endH(), 1))
                    .append(" h, with ")
                    .append(counted(curve.deaths(), "death", "deaths"))
                    .append(". ");
        }
        return out.toString().trim();
    }

    private static void interval(Sheet sheet, Curve curve, Scale hours, Scale share) {
        int n = curve.timeH().length;
        for (int i = 0; i < n; i++) {
            if (Double.isNaN(curve.low()[i]) || Double.isNaN(curve.high()[i])) {
                continue;
            }
            double from = hours.clamped(curve.timeH()[i]);
            double to = hours.clamped(i + 1 < n ? curve.timeH()[i + 1] : curve.endH());
            double y = share.pt(curve.high()[i]);
            sheet.box(from, y, to - from, share.pt(curve.low()[i]) - y, Look.PALE_BLUE);
        }
    }

    private static void intervalEdges(Sheet sheet, Curve curve, Scale hours, Scale share, String ink) {
        for (double[] edge : List.of(curve.low(), curve.high())) {
            Sheet.Path path = new Sheet.Path();
            int n = curve.timeH().length;
            for (int i = 0; i < n; i++) {
                if (!Double.isNaN(edge[i])) {
                    path.move(hours.clamped(curve.timeH()[i]), share.pt(edge[i]));
                    path.line(hours.clamped(i + 1 < n ? curve.timeH()[i + 1] : curve.endH()), share.pt(edge[i]));
                }
            }
            sheet.stroke(path, ink, Look.HAIR_PT);
        }
    }

    private static void steps(Sheet sheet, Curve curve, Scale hours, Scale share, String ink, String dash) {
        Sheet.Path path = new Sheet.Path().move(hours.pt(0), share.pt(1));
        double level = 1;
        for (int i = 0; i < curve.timeH().length; i++) {
            double x = hours.clamped(curve.timeH()[i]);
            path.line(x, share.pt(level));
            level = curve.survival()[i];
            path.line(x, share.pt(level));
        }
        path.line(hours.clamped(curve.endH()), share.pt(level));
        sheet.stroke(path, ink, Look.BOLD_PT, dash);
        for (double at : curve.censoredH()) {
            double y = share.pt(levelAt(curve, at));
            double x = hours.clamped(at);
            sheet.line(x, y - 3.5, x, y + 3.5, ink, Look.LINE_PT);
        }
    }

    private static double levelAt(Curve curve, double hours) {
        double level = 1;
        for (int i = 0; i < curve.timeH().length && curve.timeH()[i] <= hours; i++) {
            level = curve.survival()[i];
        }
        return level;
    }

    /** A row per line: a dot at the share and a bar from limit to limit. The first line is set off as the headline. */
    static Figure shares(
            String name,
            String title,
            @org.jspecify.annotations.Nullable ShareLine headline,
            List<ShareLine> lines,
            double widthMm) {
        List<ShareLine> rows = new ArrayList<>();
        if (headline != null) {
            rows.add(headline);
        }
        rows.addAll(lines);
        double most = rows.stream()
                .mapToDouble(r -> Double.isNaN(r.high()) ? r.value() : r.high())
                .max()
                .orElse(1);
        double[] range = Ticks.niceRange(0, Math.max(0.05, Math.min(1, most)) * 100, 5);
        Forest forest = new Forest(widthMm, 0, Math.min(100, range[1]), "% of animals that died");
        for (int i = 0; i < rows.size(); i++) {
            ShareLine row = rows.get(i);
            boolean first = i == 0 && headline != null;
            String numbers = Double.isNaN(row.low())
                    ? Num.percent(row.value())
                    : Num.percent(row.value()) + " (" + Num.percent(row.low()).replace(" %", "") + " to "
                            + Num.percent(row.high()) + ")";
            String label = row.interval().isEmpty() || row.label().contains(row.interval())
                    ? row.label()
                    : row.label().isEmpty() ? row.interval() : row.label() + " · " + row.interval();
            forest.row(
                    label,
                    row.value() * 100,
                    row.low() * 100,
                    row.high() * 100,
                    numbers,
                    first ? Forest.Emphasis.HEADLINE : Forest.Emphasis.PLAIN);
        }
        return forest.figure(name, title);
    }

    /** The share under other choices. Intervals of the headline's own kind are not named again. */
    static Figure choices(EstimateSection estimate, double widthMm) {
        ShareLine headline = estimate.headline();
        List<ShareLine> lines = new ArrayList<>();
        for (ShareLine line : estimate.robustness()) {
            lines.add(new ShareLine(
                    line.label(), line.value(), line.low(), line.high(), line.level(), "", line.remark()));
        }
        ShareLine first = headline == null
                ? null
                : new ShareLine(
                        headline.label(),
                        headline.value(),
                        headline.low(),
                        headline.high(),
                        headline.level(),
                        "",
                        headline.remark());
        return shares("robustness", "The share under other choices", first, lines, widthMm);
    }

    /** Recovery of every animal, one row each, arrows where it was not complete when the record ended. */
    static Figure recovery(String measure, List<AnimalRecovery> rows, double widthMm) {
        double most = 0.1;
        for (AnimalRecovery row : rows) {
            AnimalSection.RecoveryLine line = row.line();
            most = Math.max(most, Double.isNaN(line.hours()) ? 0 : line.hours());
            if (Double.isFinite(line.highH())) {
                most = Math.max(most, Math.min(line.highH(), 4 * Math.max(1, line.hours())));
            }
        }
        double[] range = Ticks.niceRange(0, most, 6);
        Forest forest = new Forest(widthMm, 0, range[1], "hours since release");
        for (AnimalRecovery row : rows) {
            AnimalSection.RecoveryLine line = row.line();
            switch (line.outcome()) {
                case RECOVERED ->
                    forest.row(
                            row.animal(),
                            line.hours(),
                            line.lowH(),
                            line.highH(),
                            PlainWords.duration(line.hours()) + within(line),
                            Forest.Emphasis.PLAIN);
                case NOT_WITHIN_RECORD ->
                    forest.row(
                            row.animal(),
                            line.hours(),
                            line.hours(),
                            Double.POSITIVE_INFINITY,
                            "more than " + PlainWords.duration(line.hours()),
                            Forest.Emphasis.OPEN);
                case NOTHING_TO_RECOVER, CANNOT_TELL -> {
                    // named in words beside the figure
                }
            }
        }
        return forest.figure(
                "recovery-" + measure.toLowerCase(java.util.Locale.ROOT).replaceAll("[^a-z0-9]+", "-"),
                "Recovery of each animal: " + measure);
    }

    /** Whether the animal has a row in the figure of recovery. */
    static boolean hasRow(AnimalRecovery row) {
        return row.line().outcome() == AnimalSection.RecoveryOutcome.RECOVERED
                || row.line().outcome() == AnimalSection.RecoveryOutcome.NOT_WITHIN_RECORD;
    }

    private static String within(AnimalSection.RecoveryLine line) {
        return Double.isNaN(line.lowH()) ? "" : " (" + PlainWords.durations(line.lowH(), line.highH()) + ")";
    }

    /** One animal's recovery of one measure. */
    record AnimalRecovery(String animal, AnimalSection.RecoveryLine line) {}

    /** Ratios on a logarithmic axis; 1 means that the factor changes nothing. */
    static Figure risks(List<RiskLine> rows, double widthMm) {
        double widest = 2;
        for (RiskLine row : rows) {
            for (double v : new double[] {row.ratio(), row.low(), row.high()}) {
                if (v > 0 && Double.isFinite(v)) {
                    widest = Math.max(widest, Math.max(v, 1 / v));
                }
            }
        }
        double decades = Math.min(3, Math.ceil(Math.log10(widest) * 2) / 2);
        Forest forest = new Forest(widthMm, -decades, decades, "times the odds or rate of death (1: no difference)");
        forest.logarithmic();
        for (RiskLine row : rows) {
            forest.row(
                    row.factor() + (row.kind().startsWith("rate") ? " · over time" : ""),
                    Math.log10(row.ratio()),
                    Math.log10(row.low()),
                    Math.log10(row.high()),
                    Num.significant(row.ratio()) + " (" + limits(row) + ")",
                    Forest.Emphasis.PLAIN);
        }
        return forest.figure("risks", "How each factor changes the odds and the rate of dying");
    }

    /** Limits of a ratio in words. */
    static String limits(RiskLine row) {
        return Double.isInfinite(row.high())
                ? Num.significant(row.low()) + ", no upper limit"
                : Num.significant(row.low()) + " to " + Num.significant(row.high());
    }

    /** From the landing to the fate: one bar per stage, each as long as its number of animals, parts indented. */
    static Figure flow(List<FlowLine> lines, double widthMm) {
        Sheet sheet = new Sheet(Look.mm(widthMm));
        double labelPt = 0;
        int most = 1;
        for (FlowLine line : lines) {
            labelPt = Math.max(labelPt, TextWidth.pt(line.name(), Look.NORMAL_PT) + 9 * line.depth());
            most = Math.max(most, line.animals());
        }
        double left = Math.min(labelPt + 14, sheet.widthPt * 0.55);
        Scale count = new Scale(0, most, left, sheet.widthPt - 24);
        double y = 6;
        for (FlowLine line : lines) {
            double indent = 9.0 * line.depth();
            List<String> words = TextWidth.broken(line.name(), Look.NORMAL_PT, left - indent - 8);
            for (int k = 0; k < words.size(); k++) {
                sheet.text(
                        4 + indent,
                        y + 10 + k * FLOW_LINE_PT,
                        words.get(k),
                        Look.NORMAL_PT,
                        Mark.Anchor.START,
                        Look.INK);
            }
            if (line.depth() > 0) {
                sheet.stroke(
                        new Sheet.Path()
                                .move(indent - 3, y)
                                .line(indent - 3, y + 7.5)
                                .line(indent + 2, y + 7.5),
                        Look.RULE,
                        Look.HAIR_PT);
            }
            double width = count.pt(line.animals()) - left;
            switch (Math.min(line.depth(), 2)) {
                case 0 -> sheet.box(left, y + 2, width, 10, Look.INK);
                case 1 -> sheet.box(left, y + 2, width, 10, Look.TEAL);
                default -> {
                    sheet.box(left, y + 2, width, 10, Look.PALE_BLUE);
                    sheet.hatch(left, y + 2, width, 10, Sheet.Hatch.RISING, Look.TEAL, 3);
                }
            }
            sheet.text(
                    left + width + 4,
                    y + 10,
                    Integer.toString(line.animals()),
                    Look.NORMAL_PT,
                    Mark.Anchor.START,
                    Look.INK);
            y += 16 + (words.size() - 1) * FLOW_LINE_PT;
        }
        StringBuilder words = new StringBuilder();
        lines.forEach(line ->
                words.append(line.name()).append(": ").append(line.animals()).append(". "));
        return sheet.figure(
                "flow", y + 4, "From the landing to the fate", words.toString().trim());
    }

    static String counted(int count, String one, String many) {
        return count == 1 ? "1 " + one : count + " " + many;
    }
}
