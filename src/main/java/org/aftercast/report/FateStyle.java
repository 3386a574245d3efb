package org.aftercast.report;

import org.aftercast.fate.AnimalFate;

/** How each fate is drawn: a shape of its own, then a fill. */
final class FateStyle {

    private FateStyle() {}

    /** The words on pages and in figures. */
    static String words(AnimalFate fate) {
        return switch (fate) {
            case ALIVE_AT_END -> "alive at the end";
            case DIED -> "died";
            case EATEN -> "eaten";
            case DEAD_THEN_SCAVENGED -> "dead, then scavenged";
            case UNDECIDED -> "undecided";
        };
    }

    /** Draws the fate's symbol about a centre. */
    static void draw(Sheet sheet, AnimalFate fate, double x, double y, double r) {
        switch (fate) {
            case ALIVE_AT_END -> sheet.shape(Sheet.Path.circle(x, y, r), Look.PAPER, Look.TEAL, Look.BOLD_PT);
            case DIED -> sheet.shape(square(x, y, r), Look.INK, Look.INK, Look.LINE_PT);
            case DEAD_THEN_SCAVENGED -> {
                sheet.shape(square(x, y, r), Look.PAPER, Look.INK, Look.LINE_PT);
                sheet.line(x - r * 0.9, y - r * 0.9, x + r * 0.9, y + r * 0.9, Look.INK, Look.LINE_PT);
                sheet.line(x - r * 0.9, y + r * 0.9, x + r * 0.9, y - r * 0.9, Look.INK, Look.LINE_PT);
            }
            case EATEN ->
                sheet.shape(
                        Sheet.Path.polygon(x - r * 1.1, y - r, x + r * 1.1, y - r, x, y + r * 1.1),
                        Look.RUST,
                        Look.RUST,
                        Look.LINE_PT);
            case UNDECIDED ->
                sheet.shape(
                        Sheet.Path.polygon(x - r * 1.2, y, x, y - r * 1.2, x + r * 1.2, y, x, y + r * 1.2),
                        Look.GREY,
                        Look.FAINT_INK,
                        Look.LINE_PT);
        }
    }

    private static Sheet.Path square(double x, double y, double r) {
        double h = r * 0.9;
        return Sheet.Path.polygon(x - h, y - h, x + h, y - h, x + h, y + h, x - h, y + h);
    }
}
