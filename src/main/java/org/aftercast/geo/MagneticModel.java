package org.aftercast.geo;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/**
 * The World Magnetic Model 2025: spherical harmonics to degree 12 with a linear secular variation.
 *
 * <p>In geocentric coordinates (radius r, latitude φ′, longitude λ), a = 6371.2 km, with Schmidt semi-normalised
 * P(n,m): V = a Σ (a/r)^(n+1) Σ (g cos mλ + h sin mλ) P(n,m)(sin φ′); north = ∂V/(r∂φ′) with sign as in the report, then
 * turned by φ′ − φ to the geodetic vertical. Source key: wmm2025. Valid 2025.0 to 2030.0. Checked against the 100
 * official rows (declination to 0.01°, components to 0.1 nT).
 */
public final class MagneticModel {

    private static final int DEGREE = 12;
    private static final double RADIUS_KM = 6371.2;
    private static final double EPOCH = 2025.0;
    private static final double END = 2030.0;
    private static final double A_KM = 6378.137;
    private static final double E2 = 2 / 298.257223563 - 1 / (298.257223563 * 298.257223563);

    private final double[][] g = new double[DEGREE + 1][DEGREE + 1];
    private final double[][] h = new double[DEGREE + 1][DEGREE + 1];
    private final double[][] gDot = new double[DEGREE + 1][DEGREE + 1];
    private final double[][] hDot = new double[DEGREE + 1][DEGREE + 1];

    private MagneticModel() {}

    /** Loads WMM2025 from the class path. */
    public static MagneticModel wmm2025() {
        MagneticModel model = new MagneticModel();
        try (InputStream in = MagneticModel.class.getResourceAsStream("wmm2025.txt")) {
            if (in == null) {
                throw new IllegalStateException("wmm2025.txt is missing from the program: build it again");
            }
            BufferedReader reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
            for (String line = reader.readLine(); line != null; line = reader.readLine()) {
                if (!line.startsWith("#")) {
                    String[] part = line.split(" ", -1);
                    int n = Integer.parseInt(part[0]);
                    int m = Integer.parseInt(part[1]);
                    model.g[n][m] = Double.parseDouble(part[2]);
                    model.h[n][m] = Double.parseDouble(part[3]);
                    model.gDot[n][m] = Double.parseDouble(part[4]);
                    model.hDot[n][m] = Double.parseDouble(part[5]);
                }
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return model;
    }

    /**
     * The field at a place.
     *
     * @param heightKm height above the ellipsoid in kilometres, −10 to 1000
     * @param decimalYear time as a decimal year, 2025 to 2030
     * @throws IllegalArgumentException outside these ranges: the model has no value there
     */
    public MagneticField at(Position place, double heightKm, double decimalYear) {
        if (!(decimalYear >= EPOCH && decimalYear <= END)) {
            throw new IllegalArgumentException("decimalYear: " + decimalYear + " is outside " + EPOCH + "–" + END
                    + ", the validity of WMM2025; give the declination yourself");
        }
        if (!(heightKm >= -10 && heightKm <= 1000)) {
            throw new IllegalArgumentException("heightKm: " + heightKm + " is outside −10 to 1000");
        }
        double years = decimalYear - EPOCH;
        // Exactly at a pole east and north have no meaning; the limit along the given meridian is taken.
        double lat = Math.toRadians(Math.max(-89.999999, Math.min(89.999999, place.latDeg())));
        double lon = Math.toRadians(place.lonDeg());
        double sinLat = Math.sin(lat);
        double cosLat = Math.cos(lat);
        double normalKm = A_KM / Math.sqrt(1 - E2 * sinLat * sinLat);
        double p = (normalKm + heightKm) * cosLat;
        double z = (normalKm * (1 - E2) + heightKm) * sinLat;
        double r = Math.hypot(p, z);
        double sinC = z / r;
        double cosC = p / r;

        double[][] legendre = new double[DEGREE + 2][DEGREE + 2];
        double[][] slope = new double[DEGREE + 2][DEGREE + 2];
        schmidt(sinC, cosC, legendre, slope);

        double north = 0;
        double east = 0;
        double down = 0;
        for (int n = 1; n <= DEGREE; n++) {
            double power = Math.pow(RADIUS_KM / r, n + 2);
            for (int m = 0; m <= n; m++) {
                double gNow = g[n][m] + years * gDot[n][m];
                double hNow = h[n][m] + years * hDot[n][m];
                double cos = Math.cos(m * lon);
                double sin = Math.sin(m * lon);
                north -= power * (gNow * cos + hNow * sin) * slope[n][m];
                east += power * m * (gNow * sin - hNow * cos) * legendre[n][m] / cosC;
                down -= power * (n + 1) * (gNow * cos + hNow * sin) * legendre[n][m];
            }
        }
        double tilt = Math.atan2(z, p) - lat;
        return new MagneticField(
                north * Math.cos(tilt) - down * Math.sin(tilt), east, north * Math.sin(tilt) + down * Math.cos(tilt));
    }

    /** Schmidt semi-normalised associated Legendre functions of sin φ′ and their derivatives by φ′. */
    private static void schmidt(double sin, double cos, double[][] value, double[][] slope) {
        value[0][0] = 1;
        for (int n = 1; n <= DEGREE; n++) {
            for (int m = 0; m <= n; m++) {
                if (m == n) {
                    double factor = n == 1 ? 1 : Math.sqrt((2.0 * n - 1) / (2.0 * n));
                    value[n][n] = factor * cos * value[n - 1][n - 1];
                    slope[n][n] = factor * (cos * slope[n - 1][n - 1] - sin * value[n - 1][n - 1]);
                } else {
                    double root = Math.sqrt((double) n * n - (double) m * m);
                    double first = (2.0 * n - 1) / root;
                    double second = n < 2 || m > n - 2 ? 0 : Math.sqrt((n - 1.0) * (n - 1.0) - (double) m * m) / root;
                    double before = n < 2 ? 0 : value[n - 2][m];
                    double beforeSlope = n < 2 ? 0 : slope[n - 2][m];
                    value[n][m] = first * sin * value[n - 1][m] - second * before;
                    slope[n][m] = first * (sin * slope[n - 1][m] + cos * value[n - 1][m]) - second * beforeSlope;
                }
            }
        }
    }
}
