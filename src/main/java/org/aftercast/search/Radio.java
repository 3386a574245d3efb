package org.aftercast.search;

/**
 * Losses between a beacon on the water and an antenna on a boat. Distances in metres, heights in metres above the water,
 * frequency in MHz, losses in dB between isotropic antennas.
 */
public final class Radio {

    /** Effective earth radius in km with standard refraction, 4/3 of 6371. */
    public static final double EFFECTIVE_EARTH_KM = 6371 * 4.0 / 3;

    /** Relative permittivity of sea water (ITU-R P.527: about 80 below 1 GHz, 70 by others). */
    private static final double SEA_PERMITTIVITY = 80;

    /** Conductivity of sea water in S/m (ITU-R P.527). */
    private static final double SEA_CONDUCTIVITY = 5;

    private Radio() {}

    /** Direction of the elements: it decides how the sea carries the wave. */
    public enum Polarisation {
        /** Elements level. */
        HORIZONTAL,
        /** Elements upright. */
        VERTICAL
    }

    /** Free space: 32.4 + 20 log f(MHz) + 20 log d(km) (ITU-R P.525; source key p525). */
    public static double freeSpaceDb(double frequencyMHz, double distanceM) {
        return 32.4 + 20 * Math.log10(frequencyMHz) + 20 * Math.log10(distanceM / 1000);
    }

    /** Radio horizon in metres: 2.23 (√h₁ + √h₂) nautical miles, heights in metres. */
    public static double horizonM(double height1M, double height2M) {
        return 2.23 * (Math.sqrt(height1M) + Math.sqrt(height2M)) * 1852;
    }

    /** Plane earth: 40 log d − 20 log h₁h₂ in metres (from memory; holds well beyond 4 h₁h₂/λ). */
    public static double planeEarthDb(double distanceM, double height1M, double height2M) {
        return 40 * Math.log10(distanceM) - 20 * Math.log10(height1M * height2M);
    }

    /**
     * Height an antenna near the sea acts as with vertical polarisation: √(h² + h₀²), h₀ = λ/2π · ((ε+1)² + (60 λ
     * σ)²)^¼ (from memory; it makes the plane earth formula agree with P.526 at a mile).
     */
    public static double effectiveHeightM(double heightM, double frequencyMHz) {
        double wavelengthM = 299.792458 / frequencyMHz;
        double least = wavelengthM
                / (2 * Math.PI)
                * Math.sqrt(Math.hypot(SEA_PERMITTIVITY + 1, 60 * wavelengthM * SEA_CONDUCTIVITY));
        return Math.hypot(heightM, least);
    }

    /**
     * Diffraction over a smooth sphere relative to free space, in dB, positive = loss (ITU-R P.526, source key p526): −(F(X)
     * + G(Y₁) + G(Y₂)), with β from the surface admittance. Meant for distances where the first term of the residue series
     * is enough: near and beyond the horizon.
     *
     * @param beta the ground factor β: 1 over land or horizontal polarisation; see {@link #seaBeta}
     * @param admittance K, the floor of the height gain 2 + 20 log K
     */
    static double diffractionDb(
            double frequencyMHz,
            double distanceM,
            double height1M,
            double height2M,
            double earthKm,
            double beta,
            double admittance) {
        double x = 2.188 * beta * Math.cbrt(frequencyMHz) * Math.pow(earthKm, -2.0 / 3) * distanceM / 1000;
        double f = x >= 1.6 ? 11 + 10 * Math.log10(x) - 17.6 * x : -20 * Math.log10(x) - 5.6488 * Math.pow(x, 1.425);
        double scale = 9.575e-3 * beta * Math.pow(frequencyMHz, 2.0 / 3) * Math.pow(earthKm, -1.0 / 3);
        return -(f
                + heightGainDb(scale * height1M, beta, admittance)
                + heightGainDb(scale * height2M, beta, admittance));
    }

    private static double heightGainDb(double y, double beta, double admittance) {
        double b = beta * y;
        double gain =
                b > 2 ? 17.6 * Math.sqrt(b - 1.1) - 5 * Math.log10(b - 1.1) - 8 : 20 * Math.log10(b + 0.1 * b * b * b);
        return Math.max(gain, 2 + 20 * Math.log10(admittance));
    }

    /** Normalised surface admittance K of the sea (ITU-R P.526). */
    static double seaAdmittance(double frequencyMHz, Polarisation polarisation) {
        double loss = 18_000 * SEA_CONDUCTIVITY / frequencyMHz;
        double horizontal =
                0.36 / Math.cbrt(EFFECTIVE_EARTH_KM * frequencyMHz) / Math.sqrt(Math.hypot(SEA_PERMITTIVITY - 1, loss));
        return polarisation == Polarisation.HORIZONTAL ? horizontal : horizontal * Math.hypot(SEA_PERMITTIVITY, loss);
    }

    /** β of ITU-R P.526: (1 + 1.6 K² + 0.67 K⁴)/(1 + 4.5 K² + 1.53 K⁴). */
    static double seaBeta(double admittance) {
        double k2 = admittance * admittance;
        return (1 + 1.6 * k2 + 0.67 * k2 * k2) / (1 + 4.5 * k2 + 1.53 * k2 * k2);
    }

    /** Total loss over the sea: free space and P.526 diffraction. For a mile and more. */
    public static double seaDiffractionDb(
            double frequencyMHz, double distanceM, double height1M, double height2M, Polarisation polarisation) {
        double k = seaAdmittance(frequencyMHz, polarisation);
        return freeSpaceDb(frequencyMHz, distanceM)
                + diffractionDb(frequencyMHz, distanceM, height1M, height2M, EFFECTIVE_EARTH_KM, seaBeta(k), k);
    }

    /**
     * Loss over the sea at any distance with vertical polarisation: free space or plane earth with effective heights,
     * whichever is more, up to 1 km; P.526 from 3 km; between them blended in log distance. Rises with distance.
     */
    public static double overSeaDb(double frequencyMHz, double distanceM, double height1M, double height2M) {
        double d = Math.max(5, distanceM);
        double share = Math.max(0, Math.min(1, Math.log(d / 1000) / Math.log(3)));
        double near = share >= 1
                ? 0
                : Math.max(
                        freeSpaceDb(frequencyMHz, d),
                        planeEarthDb(
                                d, effectiveHeightM(height1M, frequencyMHz), effectiveHeightM(height2M, frequencyMHz)));
        double far = share <= 0 ? 0 : seaDiffractionDb(frequencyMHz, d, height1M, height2M, Polarisation.VERTICAL);
        return (1 - share) * near + share * far;
    }

    /** How many times farther the same loudness reaches with {@code decibel} more, where loss rises with distance^n. */
    public static double rangeRatio(double decibel, double exponent) {
        return Math.pow(10, decibel / (10 * exponent));
    }
}
