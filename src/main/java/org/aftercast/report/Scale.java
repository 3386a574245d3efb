package org.aftercast.report;

/**
 * A straight map from data to points.
 *
 * @param from data value at {@code atPt}
 * @param to data value at {@code untilPt}; must differ from {@code from}
 * @param atPt position of {@code from}
 * @param untilPt position of {@code to}
 */
record Scale(double from, double to, double atPt, double untilPt) {

    Scale {
        if (!(Math.abs(to - from) > 0) || Double.isInfinite(to - from)) {
            throw new IllegalArgumentException("from, to: " + from + ", " + to + " span no range");
        }
    }

    double pt(double value) {
        return atPt + (value - from) / (to - from) * (untilPt - atPt);
    }

    /** As {@link #pt} but never outside the panel. */
    double clamped(double value) {
        double p = pt(value);
        return Math.max(Math.min(atPt, untilPt), Math.min(Math.max(atPt, untilPt), p));
    }

    boolean holds(double value) {
        return value >= Math.min(from, to) && value <= Math.max(from, to);
    }
}
