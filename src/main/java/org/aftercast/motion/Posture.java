package org.aftercast.motion;

/**
 * Posture from the static acceleration in the body frame (x head, y left, z dorsal; a resting sensor reads +1 g upwards).
 *
 * <p>Static vector: {@code (sin θ, sin φ·cos θ, cos φ·cos θ)} with pitch θ head-up positive and roll φ right side down
 * positive.
 */
public final class Posture {

    /** Regularises roll near vertical pitch [pedley2013, from memory]. */
    private static final double MU = 0.01;

    private Posture() {}

    /**
     * Pitch {@code atan2(ax, √(ay²+az²))} in degrees, −90 to 90.
     *
     * @param ax acceleration along the head axis, g (any unit: only ratios matter)
     * @param ay along the left axis
     * @param az along the dorsal axis
     */
    public static double pitchDeg(double ax, double ay, double az) {
        return Math.toDegrees(Math.atan2(ax, Math.sqrt(ay * ay + az * az)));
    }

    /**
     * Roll {@code atan2(ay, sgn(az)·√(az²+μ·ax²))} in degrees, −180 to 180; μ = 0.01 keeps it steady near vertical pitch
     * and biases it by less than 0.3° below 45° pitch.
     */
    public static double rollDeg(double ax, double ay, double az) {
        double z = Math.sqrt(az * az + MU * ax * ax);
        return Math.toDegrees(Math.atan2(ay, az < 0 ? -z : z));
    }

    /** Roll without regularisation, {@code atan2(ay, az)} in degrees. */
    public static double plainRollDeg(double ay, double az) {
        return Math.toDegrees(Math.atan2(ay, az));
    }

    /**
     * The rotation that levels a mean gravity vector: {@code R = Ry·Rx}, {@code R·ḡ/|ḡ| = (0, 0, 1)}, with
     * {@code Rx = [1 0 0; 0 cos φ −sin φ; 0 sin φ cos φ]} and {@code Ry = [cos θ 0 −sin θ; 0 1 0; sin θ 0 cos θ]}.
     *
     * @param gx mean static acceleration on the first axis; the length does not matter but must not be 0
     * @param gy on the second
     * @param gz on the third
     * @return 3×3, row by row
     */
    public static double[] levelling(double gx, double gy, double gz) {
        if (!(Math.sqrt(gx * gx + gy * gy + gz * gz) > 0)) {
            throw new IllegalArgumentException("gx, gy, gz: a zero vector has no direction");
        }
        double pitch = Math.atan2(gx, Math.sqrt(gy * gy + gz * gz));
        double roll = Math.atan2(gy, gz);
        double ct = Math.cos(pitch);
        double st = Math.sin(pitch);
        double cr = Math.cos(roll);
        double sr = Math.sin(roll);
        return new double[] {ct, -st * sr, -st * cr, 0, cr, -sr, st, ct * sr, ct * cr};
    }
}
