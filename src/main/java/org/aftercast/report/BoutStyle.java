package org.aftercast.report;

import org.aftercast.behaviour.BoutKind;
import org.jspecify.annotations.Nullable;

/**
 * How each kind of bout is drawn in the ribbon: by height and place in the ribbon first (what happens at the surface
 * hangs from its top, what happens at rest lies on its bottom), then hatch, then colour.
 *
 * @param top upper edge as a share of the ribbon's height
 * @param bottom lower edge as a share of the ribbon's height
 * @param fill colour
 * @param hatch or null
 * @param hatchInk colour of the hatch
 */
record BoutStyle(double top, double bottom, String fill, Sheet.@Nullable Hatch hatch, String hatchInk) {

    static BoutStyle of(BoutKind kind) {
        return switch (kind) {
            case SWIMMING -> new BoutStyle(0, 1, Look.TEAL, null, Look.INK);
            case WEAK_AT_SURFACE -> new BoutStyle(0, 0.5, Look.SAND, Sheet.Hatch.RISING, Look.INK);
            case AFLOAT -> new BoutStyle(0, 0.28, Look.PAPER, Sheet.Hatch.LEVEL, Look.INK);
            case DESCENDING -> new BoutStyle(0, 1, Look.PALE_BLUE, Sheet.Hatch.FALLING, Look.INK);
            case RESTING -> new BoutStyle(0.5, 1, Look.GREY, Sheet.Hatch.DOTTED, Look.INK);
            case MOTIONLESS -> new BoutStyle(0.76, 1, Look.INK, null, Look.INK);
            case INSIDE_PREDATOR -> new BoutStyle(0, 1, Look.RUST, Sheet.Hatch.CROSSED, Look.PAPER);
        };
    }

    /** Draws one bout, or a legend swatch, into a ribbon. */
    void draw(Sheet sheet, double x, double y, double width, double ribbonHeight) {
        double bandTop = y + top * ribbonHeight;
        double bandHeight = (bottom - top) * ribbonHeight;
        sheet.box(x, bandTop, width, bandHeight, fill);
        if (hatch != null) {
            sheet.hatch(x, bandTop, width, bandHeight, hatch, hatchInk, 3);
        }
        if (fill.equals(Look.PAPER)) {
            sheet.frame(x, bandTop, width, bandHeight, Look.INK, Look.HAIR_PT);
        }
    }
}
