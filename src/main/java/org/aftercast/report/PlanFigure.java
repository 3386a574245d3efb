package org.aftercast.report;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.aftercast.estimate.Plan;

/** What a number of animals would show, for a proposal: half-width, power where two groups are planned, late deaths. */
public final class PlanFigure {

    private static final double PANEL_PT = 118;
    private static final double LEFT_PT = 44;

    private PlanFigure() {}

    /** Draws the plan, one panel below the other. */
    public static Figure draw(Plan plan, double widthMm) {
        Sheet sheet = new Sheet(Look.mm(widthMm));
        double[] animals = plan.rows().stream().mapToDouble(Plan.Row::animals).toArray();
        double y = 6;
        Double half = plan.question().halfWidth();
        y = panel(
                sheet,
                y,
                "half-width of the " + Num.fixed(plan.question().level() * 100, 0) + " % interval, points",
                animals,
                List.of(
                        plan.rows().stream()
                                .mapToDouble(r -> 100 * r.halfWidth())
                                .toArray(),
                        plan.rows().stream()
                                .mapToDouble(r -> 100 * r.halfWidthIfTagged())
                                .toArray()),
                List.of("usable animals", "animals tagged, some lost"),
                half == null ? Double.NaN : 100 * half,
                50,
                "animals");
        if (plan.rows().stream().anyMatch(r -> r.power() != null)) {
            List<Plan.Row> rows =
                    plan.rows().stream().filter(r -> r.power() != null).toList();
            y = panel(
                    sheet,
                    y,
                    "power to see the difference, %",
                    rows.stream().mapToDouble(Plan.Row::animals).toArray(),
                    List.of(rows.stream().mapToDouble(PlanFigure::power).toArray()),
                    List.of("half of the usable animals in each group"),
                    100 * plan.question().power(),
                    100,
                    "usable animals, both groups together");
        }
        if (!plan.recordLengths().isEmpty()) {
            y = panel(
                    sheet,
                    y,
                    "deaths that come later, %",
                    plan.recordLengths().stream()
                            .mapToDouble(Plan.RecordLength::hours)
                            .toArray(),
                    List.of(plan.recordLengths().stream()
                            .mapToDouble(r -> 100 * r.missed())
                            .toArray()),
                    List.of("missed by records of this length"),
                    Double.NaN,
                    100,
                    "length of the records, h");
        }
        return sheet.figure("plan", y, "What a number of animals would show", describe(plan));
    }

    private static double power(Plan.Row row) {
        Double power = row.power();
        return power == null ? Double.NaN : 100 * power;
    }

    /** One panel with a logarithmic axis of numbers, each marked; returns where the next begins. */
    private static double panel(
            Sheet sheet,
            double top,
            String title,
            double[] x,
            List<double[]> lines,
            List<String> names,
            double wanted,
            double most,
            String axis) {
        double right = sheet.widthPt - 10;
        double base = top + PANEL_PT;
        double highest = lines.stream().flatMapToDouble(Arrays::stream).max().orElse(1);
        double[] range = Ticks.niceRange(0, Math.min(most, highest * 1.05), 5);
        Scale across = new Scale(Math.log(x[0]), Math.log(x[x.length - 1]), LEFT_PT + 8, right - 8);
        Scale up = new Scale(0, range[1], base, top);
        Ticks ticks = Ticks.nice(0, range[1], 5);
        for (int i = 0; i < ticks.values().length; i++) {
            double y = up.pt(ticks.values()[i]);
            sheet.line(LEFT_PT, y, right, y, Look.GRID, Look.HAIR_PT);
            sheet.text(LEFT_PT - 4, y + 2.3, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.END, Look.INK);
        }
        sheet.turned(12, top + PANEL_PT / 2, title, Look.SMALL_PT, Look.INK);
        sheet.line(LEFT_PT, base, right, base, Look.INK, Look.HAIR_PT);
        double lastLabel = Double.NEGATIVE_INFINITY;
        for (double value : x) {
            double at = across.pt(Math.log(value));
            sheet.line(at, base, at, base + 3, Look.INK, Look.HAIR_PT);
            if (at - lastLabel > 14) {
                sheet.text(
                        at,
                        base + 10,
                        String.format(Locale.ROOT, "%.0f", value),
                        Look.SMALL_PT,
                        Mark.Anchor.MIDDLE,
                        Look.INK);
                lastLabel = at;
            }
        }
        sheet.text((LEFT_PT + right) / 2, base + 20, axis, Look.NORMAL_PT, Mark.Anchor.MIDDLE, Look.INK);
        if (!Double.isNaN(wanted) && wanted <= range[1]) {
            sheet.dashed(LEFT_PT, up.pt(wanted), right, up.pt(wanted), Look.RUST, Look.LINE_PT, "3 2");
            sheet.text(right - 2, up.pt(wanted) - 3, "wanted", Look.SMALL_PT, Mark.Anchor.END, Look.RUST);
        }
        for (int k = 0; k < lines.size(); k++) {
            double[] values = lines.get(k);
            Sheet.Path path = new Sheet.Path();
            for (int i = 0; i < x.length; i++) {
                double px = across.pt(Math.log(x[i]));
                double py = up.clamped(values[i]);
                if (i == 0) {
                    path.move(px, py);
                } else {
                    path.line(px, py);
                }
            }
            String ink = k == 0 ? Look.TEAL : Look.INK;
            sheet.stroke(path, ink, Look.BOLD_PT, k == 0 ? "none" : "5 2");
            for (int i = 0; i < x.length; i++) {
                sheet.shape(
                        Sheet.Path.circle(across.pt(Math.log(x[i])), up.clamped(values[i]), 2),
                        k == 0 ? ink : Look.PAPER,
                        ink,
                        Look.LINE_PT);
            }
        }
        Legend legend = new Legend(sheet, LEFT_PT, right, base + 32);
        for (int k = 0; k < names.size(); k++) {
            String ink = k == 0 ? Look.TEAL : Look.INK;
            String dash = k == 0 ? "none" : "5 2";
            legend.item(
                    names.get(k), 18, (at, b) -> sheet.dashed(at, b - 2.3, at + 18, b - 2.3, ink, Look.BOLD_PT, dash));
        }
        return legend.finish() + 10;
    }

    private static String describe(Plan plan) {
        StringBuilder out = new StringBuilder();
        for (Plan.Row row : plan.rows()) {
            out.append(row.animals())
                    .append(" usable animals: half-width ")
                    .append(Num.fixed(100 * row.halfWidth(), 1))
                    .append(" points. ");
        }
        return out.toString().trim();
    }
}
