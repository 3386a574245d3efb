package org.aftercast.stats;

import java.util.function.DoubleUnaryOperator;

/** Roots of continuous functions of one variable. */
final class Roots {

    private static final int MAX_STEPS = 400;

    private Roots() {}

    /**
     * The root of {@code f} between two points of opposite sign, by regula falsi with the Illinois rule, kept inside
     * its bracket by bisection.
     *
     * @param f continuous; its sign at {@code low} and {@code high} differs, or one of them is a root
     * @param low lower end
     * @param high upper end
     * @return a point within four units in the last place of a sign change, or where {@code f} is exactly 0
     * @throws IllegalArgumentException if both ends have the same sign or a value is not a number
     */
    static double between(DoubleUnaryOperator f, double low, double high) {
        return between(f, low, high, 0);
    }

    /**
     * The same, to within {@code tolerance}.
     *
     * @param tolerance width of the bracket at which to stop, ≥ 0
     */
    static double between(DoubleUnaryOperator f, double low, double high, double tolerance) {
        double a = low;
        double b = high;
        double fa = f.applyAsDouble(a);
        double fb = f.applyAsDouble(b);
        if (fa == 0) {
            return a;
        }
        if (fb == 0) {
            return b;
        }
        if (!(fa * fb < 0) && Math.signum(fa) != -Math.signum(fb)) {
            throw new IllegalArgumentException("no change of sign between " + low + " and " + high);
        }
        int side = 0;
        for (int step = 0; step < MAX_STEPS; step++) {
            double width = b - a;
            if (Math.abs(width) <= Math.max(tolerance, 4 * Math.max(Math.ulp(a), Math.ulp(b)))) {
                break;
            }
            // every third step halves the bracket, so that convergence never depends on the shape of f
            double c = step % 3 == 2 ? a + width / 2 : b - fb * width / (fb - fa);
            if (!(c > Math.min(a, b) && c < Math.max(a, b))) {
                c = a + width / 2;
            }
            double fc = f.applyAsDouble(c);
            if (fc == 0) {
                return c;
            }
            if (Double.isNaN(fc)) {
                throw new IllegalArgumentException("not a number at " + c);
            }
            if (Math.signum(fc) == Math.signum(fb)) {
                b = c;
                fb = fc;
                if (side == -1) {
                    fa /= 2;
                }
                side = -1;
            } else {
                a = c;
                fa = fc;
                if (side == 1) {
                    fb /= 2;
                }
                side = 1;
            }
        }
        return a + (b - a) / 2;
    }
}
