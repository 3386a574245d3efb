package org.aftercast.report;

/** Sets keys with their words in rows, breaking where the width ends. */
final class Legend {

    /** Draws one key. */
    @FunctionalInterface
    interface Key {
        void draw(double x, double baseline);
    }

    private static final double ROW_PT = 12;

    private final Sheet sheet;
    private final double left;
    private final double right;
    private double x;
    private double baseline;

    Legend(Sheet sheet, double left, double right, double baseline) {
        this.sheet = sheet;
        this.left = left;
        this.right = right;
        this.x = left;
        this.baseline = baseline;
    }

    void item(String words, double keyWidth, Key key) {
        double width = keyWidth + 3 + TextWidth.pt(words, Look.SMALL_PT) + 9;
        if (x > left && x + width - 9 > right) {
            x = left;
            baseline += ROW_PT;
        }
        key.draw(x, baseline);
        sheet.text(x + keyWidth + 3, baseline, words, Look.SMALL_PT, Mark.Anchor.START, Look.INK);
        x += width;
    }

    /** The baseline for what follows below. */
    double finish() {
        return baseline + ROW_PT;
    }
}
