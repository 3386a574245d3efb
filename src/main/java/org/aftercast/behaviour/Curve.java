package org.aftercast.behaviour;

/** Piecewise linear weight, flat beyond its ends: how much a measurement adds to the log-odds. */
final class Curve {

    private Curve() {}

    /**
     * Value at {@code x}.
     *
     * @param knots x0, y0, x1, y1, … with rising x
     */
    static double at(double x, double... knots) {
        if (Double.isNaN(x)) {
            return 0;
        }
        if (x <= knots[0]) {
            return knots[1];
        }
        for (int i = 2; i < knots.length; i += 2) {
            if (x <= knots[i]) {
                double share = (x - knots[i - 2]) / (knots[i] - knots[i - 2]);
                return knots[i - 1] + share * (knots[i + 1] - knots[i - 1]);
            }
        }
        return knots[knots.length - 1];
    }
}
