package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;

/** Rows of a label, an estimate with its interval on a shared axis, and the numbers in words. */
final class Forest {

    /** How a row stands out. */
    enum Emphasis {
        PLAIN,
        HEADLINE,
        OPEN
    }

    private record Row(String label, double value, double low, double high, String numbers, Emphasis emphasis) {}

    private static final double ROW_PT = 12.5;
    /** With less room for a decade only its whole powers are marked. */
    private static final double FINE_TICKS_PT = 40;

    private final Sheet sheet;
    private final double low;
    private final double high;
    private final String axis;
    private final List<Row> rows = new ArrayList<>();
    private boolean logs;

    Forest(double widthMm, double low, double high, String axis) {
        this.sheet = new Sheet(Look.mm(widthMm));
        this.low = low;
        this.high = high;
        this.axis = axis;
    }

    /** The axis carries decimal logarithms of ratios, and a line stands at 1. */
    void logarithmic() {
        logs = true;
    }

    void row(String label, double value, double lowValue, double highValue, String numbers, Emphasis emphasis) {
        rows.add(new Row(label, value, lowValue, highValue, numbers, emphasis));
    }

    Figure figure(String name, String title) {
        double labelPt = 20;
        double numberPt = 20;
        for (Row row : rows) {
            labelPt = Math.max(labelPt, TextWidth.pt(row.label, Look.NORMAL_PT));
            numberPt = Math.max(numberPt, TextWidth.pt(row.numbers, Look.NORMAL_PT));
        }
        labelPt = Math.min(labelPt, sheet.widthPt * 0.36);
        double left = labelPt + 12;
        double right = sheet.widthPt - numberPt - 12;
        Scale scale = new Scale(low, high, left, right);
        double y = 4;
        List<double[]> at = new ArrayList<>();
        for (Row row : rows) {
            int lines = TextWidth.broken(row.label, Look.NORMAL_PT, labelPt + 1).size();
            double height = Math.max(ROW_PT, lines * Look.NORMAL_PT * 1.35 + 4);
            at.add(new double[] {y, height});
            y += height;
        }
        axis(scale, 4, y, left, right);
        for (int i = 0; i < rows.size(); i++) {
            draw(rows.get(i), scale, at.get(i)[0], at.get(i)[1], labelPt, right);
        }
        StringBuilder words = new StringBuilder();
        rows.forEach(
                row -> words.append(row.label).append(": ").append(row.numbers).append(". "));
        return sheet.figure(name, y + 26, title, words.toString().trim());
    }

    private void axis(Scale scale, double top, double bottom, double left, double right) {
        double[] values;
        String[] labels;
        if (logs) {
            List<Double> ticks = new ArrayList<>();
            List<String> names = new ArrayList<>();
            boolean narrow = (right - left) / Math.max(1, high - low) < FINE_TICKS_PT;
            for (double factor : new double[] {0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000}) {
                if ((!narrow || Math.rint(Math.log10(factor)) == Math.log10(factor))
                        && Math.log10(factor) >= low - 1e-9
                        && Math.log10(factor) <= high + 1e-9) {
                    ticks.add(Math.log10(factor));
                    names.add(factor < 1 ? Double.toString(factor) : Num.fixed(factor, 0));
                }
            }
            values = ticks.stream().mapToDouble(Double::doubleValue).toArray();
            labels = names.toArray(String[]::new);
        } else {
            Ticks ticks = Ticks.nice(low, high, right - left < 150 ? 4 : 7);
            values = ticks.values();
            labels = ticks.labels();
        }
        for (int i = 0; i < values.length; i++) {
            double x = scale.pt(values[i]);
            sheet.line(x, top, x, bottom, Look.GRID, Look.HAIR_PT);
            sheet.text(x, bottom + 10, labels[i], Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.INK);
        }
        if (logs) {
            sheet.line(scale.pt(0), top, scale.pt(0), bottom, Look.FAINT_INK, Look.LINE_PT);
        }
        sheet.line(left, bottom, right, bottom, Look.INK, Look.HAIR_PT);
        sheet.text((left + right) / 2, bottom + 21, axis, Look.NORMAL_PT, Mark.Anchor.MIDDLE, Look.INK);
    }

    private void draw(Row row, Scale scale, double top, double height, double labelPt, double right) {
        List<String> lines = TextWidth.broken(row.label, Look.NORMAL_PT, labelPt + 1);
        double mid = top + height / 2;
        double base = mid + 2.6 - (lines.size() - 1) * Look.NORMAL_PT * 1.35 / 2;
        for (String line : lines) {
            if (row.emphasis == Emphasis.HEADLINE) {
                sheet.bold(4, base, line, Look.NORMAL_PT, Mark.Anchor.START, Look.INK);
            } else {
                sheet.text(4, base, line, Look.NORMAL_PT, Mark.Anchor.START, Look.INK);
            }
            base += Look.NORMAL_PT * 1.35;
        }
        sheet.text(right + 8, mid + 2.6, row.numbers, Look.NORMAL_PT, Mark.Anchor.START, Look.INK);
        String ink = row.emphasis == Emphasis.HEADLINE ? Look.RUST : Look.TEAL;
        if (!Double.isNaN(row.low) && !Double.isNaN(row.high)) {
            double from = scale.clamped(row.low);
            double to = scale.clamped(row.high);
            sheet.line(from, mid, to, mid, ink, Look.BOLD_PT);
            end(from, mid, scale.holds(row.low), -1, ink);
            end(to, mid, scale.holds(row.high), 1, ink);
        }
        double x = scale.clamped(row.value);
        if (row.emphasis == Emphasis.OPEN) {
            sheet.shape(Sheet.Path.circle(x, mid, 2.6), Look.PAPER, ink, Look.LINE_PT);
        } else {
            sheet.shape(Sheet.Path.circle(x, mid, 2.8), ink, Look.PAPER, Look.HAIR_PT);
        }
    }

    /** A small bar at a limit inside the axis, an arrow where the interval runs on beyond it. */
    private void end(double x, double y, boolean inside, int direction, String ink) {
        if (inside) {
            sheet.line(x, y - 2.5, x, y + 2.5, ink, Look.LINE_PT);
        } else {
            sheet.fill(
                    Sheet.Path.polygon(x + direction * 3, y, x - direction * 2, y - 3, x - direction * 2, y + 3), ink);
        }
    }
}
