package org.aftercast.search;

/** How an unknown drift spreads with time. Metres, seconds, m/s; standard deviations are per axis unless said. */
public final class DriftGrowth {

    private static final double GRAVITY = 9.80665;

    private DriftGrowth() {}

    /**
     * Spread of a velocity error that persists over a time T: √(2 σ² T² (t/T − 1 + e^(−t/T))) (Taylor 1921; source key
     * taylor1921).
     */
    public static double taylorM(double velocitySdMps, double persistenceS, double timeS) {
        double r = timeS / persistenceS;
        return Math.sqrt(2 * velocitySdMps * velocitySdMps * persistenceS * persistenceS * (r + Math.expm1(-r)));
    }

    /** Spread of a random walk: √(2 K t), K in m²/s. */
    public static double randomWalkM(double diffusionM2ps, double timeS) {
        return Math.sqrt(2 * diffusionM2ps * timeS);
    }

    /** Diffusivity in m²/s at a scale in metres: 0.0103 l^1.15 in cm²/s and cm (Okubo 1971; source key okubo1971). */
    public static double okuboDiffusionM2ps(double scaleM) {
        return 0.0103 * Math.pow(scaleM * 100, 1.15) * 1e-4;
    }

    /** Radial spread of a patch in metres after a time: σ² = 0.0108 t^2.34 in cm² and s (Okubo 1971). */
    public static double okuboRadialM(double timeS) {
        return Math.sqrt(0.0108 * Math.pow(timeS, 2.34)) / 100;
    }

    /** Surface Stokes drift in m/s of one deep-water wave, ω k a², a = H/2. Not added to a wind factor: it is in it. */
    public static double stokesMps(double heightM, double periodS) {
        double omega = 2 * Math.PI / periodS;
        double wavenumber = omega * omega / GRAVITY;
        return omega * wavenumber * heightM * heightM / 4;
    }
}
