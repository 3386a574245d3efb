package org.aftercast.sim;

/**
 * The shape of one tailbeat. With q the phase from the rising zero crossing, the lateral acceleration is
 *
 * <p>(1−leak)·sin q' + h2·sin 2q' + h3·sin(3q' + 0.4), q' = q + q0,
 *
 * <p>and the body rolls with it so that gravity adds leak·sin(q' + 0.35). The sum is scaled so that half its peak-to-peak
 * is 1, and q0 makes it rise through zero at q = 0.
 */
final class Stroke {

    private static final double ROLL_LAG = 0.35;
    private static final double THIRD_LAG = 0.4;
    private static final int FINE = 7200;

    private final double leak;
    private final double h2;
    private final double h3;
    private final double scale;
    private final double q0;

    Stroke(double harmonic2Share, double harmonic3Share, double rollLeakShare) {
        this.leak = rollLeakShare;
        this.h2 = harmonic2Share;
        this.h3 = harmonic3Share;
        double low = 0;
        double high = 0;
        for (int i = 0; i < FINE; i++) {
            double v = whole(2 * Math.PI * i / FINE);
            low = Math.min(low, v);
            high = Math.max(high, v);
        }
        this.scale = 2 / (high - low);
        double a = -1.2;
        double b = 1.2;
        for (int i = 0; i < 60; i++) { // the fundamental dominates: one rising crossing lies within ±1.2
            double m = (a + b) / 2;
            if (whole(m) < 0) {
                a = m;
            } else {
                b = m;
            }
        }
        this.q0 = (a + b) / 2;
    }

    private double whole(double q) {
        return lateralUnscaled(q) + leak * Math.sin(q + ROLL_LAG);
    }

    private double lateralUnscaled(double q) {
        return (1 - leak) * Math.sin(q) + h2 * Math.sin(2 * q) + h3 * Math.sin(3 * q + THIRD_LAG);
    }

    /** Lateral acceleration at phase {@code q} (radians) of a beat of amplitude 1. */
    double lateral(double q) {
        return scale * lateralUnscaled(q + q0);
    }

    /** Body roll at phase {@code q} of a beat of amplitude 1 g, radians: the gravity seen sideways is its sine. */
    double roll(double q) {
        return scale * leak * Math.sin(q + q0 + ROLL_LAG);
    }
}
