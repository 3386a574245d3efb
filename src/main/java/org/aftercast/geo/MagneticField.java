package org.aftercast.geo;

/**
 * The earth's magnetic field at one place and time.
 *
 * @param northNt north component X in nanotesla
 * @param eastNt east component Y in nanotesla
 * @param downNt down component Z in nanotesla
 */
public record MagneticField(double northNt, double eastNt, double downNt) {

    /** Horizontal intensity H in nanotesla. */
    public double horizontalNt() {
        return Math.hypot(northNt, eastNt);
    }

    /** Declination in degrees, east positive: true bearing = magnetic bearing + declination. */
    public double declinationDeg() {
        return Math.toDegrees(Math.atan2(eastNt, northNt));
    }

    /** Inclination in degrees, down positive. */
    public double inclinationDeg() {
        return Math.toDegrees(Math.atan2(downNt, horizontalNt()));
    }

    /**
     * Standard uncertainty of the declination in degrees, √(0.26² + (5417/H)²), H in nT: the error model published with
     * WMM2025 (source key wmm2025). It covers what the model leaves out (crust, storms), not the compass.
     */
    public double declinationUncertaintyDeg() {
        return Math.hypot(0.26, 5417 / horizontalNt());
    }
}
