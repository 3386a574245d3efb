package org.aftercast.sim;

/** Turns of axes as 3×3 matrices, row by row. */
final class Turn {

    private Turn() {}

    /** Turns about z by yaw, then about the new y by pitch, then about the new x by roll (degrees). */
    static double[] of(double yawDeg, double pitchDeg, double rollDeg) {
        double a = Math.toRadians(yawDeg);
        double b = Math.toRadians(pitchDeg);
        double c = Math.toRadians(rollDeg);
        double[] z = {Math.cos(a), -Math.sin(a), 0, Math.sin(a), Math.cos(a), 0, 0, 0, 1};
        double[] y = {Math.cos(b), 0, Math.sin(b), 0, 1, 0, -Math.sin(b), 0, Math.cos(b)};
        double[] x = {1, 0, 0, 0, Math.cos(c), -Math.sin(c), 0, Math.sin(c), Math.cos(c)};
        return times(times(z, y), x);
    }

    static double[] times(double[] a, double[] b) {
        double[] product = new double[9];
        for (int row = 0; row < 3; row++) {
            for (int column = 0; column < 3; column++) {
                for (int k = 0; k < 3; k++) {
                    product[3 * row + column] += a[3 * row + k] * b[3 * k + column];
                }
            }
        }
        return product;
    }

    /** The vector that {@code turn} takes to (x, y, z): multiplies by the transpose. */
    static void back(double[] turn, double x, double y, double z, double[] into) {
        into[0] = turn[0] * x + turn[3] * y + turn[6] * z;
        into[1] = turn[1] * x + turn[4] * y + turn[7] * z;
        into[2] = turn[2] * x + turn[5] * y + turn[8] * z;
    }
}
