package org.aftercast.report;

/** One thing drawn. Coordinates and sizes are in points (1/72 inch), y grows downwards; {@code none} means unpainted. */
sealed interface Mark {

    /** Where a text stands relative to its x. */
    enum Anchor {
        START("start"),
        MIDDLE("middle"),
        END("end");

        final String svg;

        Anchor(String svg) {
            this.svg = svg;
        }
    }

    /** How heavy a text is. */
    enum Weight {
        PLAIN,
        BOLD
    }

    /** An upright rectangle. */
    record Box(double x, double y, double width, double height, String fill, String stroke, double strokePt)
            implements Mark {}

    /** A path in SVG path syntax; {@code dash} is an SVG dash list or {@code none}. */
    record Trace(String path, String fill, String stroke, double strokePt, String dash) implements Mark {}

    /** A line of text on its baseline, turned by {@code turnDeg} clockwise about its anchor. */
    record Words(
            double x, double y, String text, double sizePt, Anchor anchor, Weight weight, String fill, double turnDeg)
            implements Mark {}
}
