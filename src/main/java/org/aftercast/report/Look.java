package org.aftercast.report;

/**
 * The look of all figures and documents: a few inks that keep their order of lightness when colour is lost, sizes in
 * points. Every colour is doubled by a shape or a hatch, so none carries a meaning alone.
 */
final class Look {

    static final String INK = "#1d2733";
    static final String FAINT_INK = "#5b6672";
    static final String RULE = "#b9c1c9";
    static final String GRID = "#e4e8eb";
    static final String NIGHT = "#eceff2";
    static final String PAPER = "#ffffff";
    static final String TEAL = "#1f6f78";
    static final String PALE_BLUE = "#a9c4d3";
    static final String SAND = "#e3cf9f";
    static final String RUST = "#a8481f";
    static final String GREY = "#ced4d9";

    /** Shipped with the program, so that figures are the same on every machine. */
    static final String FONT = "Liberation Sans";

    /** Under a family name of its own, because not every drawer tells weights of one family apart. */
    static final String BOLD_FONT = "Liberation Sans Bold";

    /** For pages seen in a browser that lacks the font. */
    static final String FONT_STACK = "'" + FONT + "', Arial, Helvetica, sans-serif";

    static final double SMALL_PT = 6.5;
    static final double NORMAL_PT = 7.5;
    static final double LARGE_PT = 9;
    static final double HAIR_PT = 0.4;
    static final double LINE_PT = 0.8;
    static final double BOLD_PT = 1.4;

    private static final double PT_PER_MM = 72 / 25.4;

    private Look() {}

    /** Millimetres to points (1/72 inch). */
    static double mm(double mm) {
        return mm * PT_PER_MM;
    }
}
