package org.aftercast.motion;

/** Depth from pressure, UNESCO technical paper 44 [fofonoff1983], eqn 25. */
public final class Seawater {

    private Seawater() {}

    /**
     * Depth in metres of standard seawater (35, 0 °C). Accuracy: within 0.01 % of TEOS-10 to 1500 dbar.
     *
     * @param pressureDbar gauge pressure in dbar (zero at the surface), −50 to 12 000
     * @param latitudeDeg −90 to 90
     * @return metres, positive down
     */
    public static double depthM(double pressureDbar, double latitudeDeg) {
        double sine = Math.sin(Math.toRadians(latitudeDeg));
        double x = sine * sine;
        double p = pressureDbar;
        double gravity = surfaceGravity(x) + 1.092e-6 * p;
        double column = (((-1.82e-15 * p + 2.279e-10) * p - 2.2512e-5) * p + 9.72659) * p;
        return column / gravity;
    }

    /** Gravity at the surface in m/s² at a latitude in degrees. */
    public static double gravityMps2(double latitudeDeg) {
        double sine = Math.sin(Math.toRadians(latitudeDeg));
        return surfaceGravity(sine * sine);
    }

    private static double surfaceGravity(double sineSquared) {
        return 9.780318 * (1 + (5.2788e-3 + 2.36e-5 * sineSquared) * sineSquared);
    }
}
