package org.aftercast.motion;

/** Measures of how vigorously the body moves. */
public final class Activity {

    private Activity() {}

    /** {@code |dx|+|dy|+|dz|} (overall dynamic body acceleration), unit of the input; depends on the axes. */
    public static double dynamicL1(double dx, double dy, double dz) {
        return Math.abs(dx) + Math.abs(dy) + Math.abs(dz);
    }

    /** {@code √(dx²+dy²+dz²)} (vectorial dynamic body acceleration); L2 ≤ L1 ≤ √3·L2 [qasem2012]. */
    public static double dynamicL2(double dx, double dy, double dz) {
        return Math.sqrt(dx * dx + dy * dy + dz * dz);
    }

    /**
     * Jerk norms {@code ‖a(i+1)−a(i)‖·fs} by first difference.
     *
     * @param x first axis, g; y, z the others, same length n ≥ 2
     * @param sampleRateHz samples per second
     * @return n−1 values in g/s
     */
    public static double[] jerkGps(double[] x, double[] y, double[] z, double sampleRateHz) {
        double[] jerk = new double[Math.max(0, x.length - 1)];
        for (int i = 0; i < jerk.length; i++) {
            double dx = x[i + 1] - x[i];
            double dy = y[i + 1] - y[i];
            double dz = z[i + 1] - z[i];
            jerk[i] = Math.sqrt(dx * dx + dy * dy + dz * dz) * sampleRateHz;
        }
        return jerk;
    }

    /**
     * Peak lateral acceleration of a sideways movement: {@code (2πf)²·d / 9.80665}, without gravity leakage.
     *
     * @param displacementM amplitude d of the movement (half peak to peak), m
     * @param hz frequency f
     * @return g
     */
    public static double swayG(double displacementM, double hz) {
        double omega = 2 * Math.PI * hz;
        return omega * omega * displacementM / 9.80665;
    }
}
