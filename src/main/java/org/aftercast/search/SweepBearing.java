package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.aftercast.geo.Bearings;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * The bearing from one turn of the antenna.
 *
 * <p>Least squares of loudness in dB on 1, cos θ, sin θ (and cos 2θ, sin 2θ for antennas that hear behind): bearing =
 * atan2(c, b), swing R = √(b² + c²); with the second harmonic, the peak of the fitted curve. "Not heard" and saturated
 * points are censored: replaced in turn by their expectation below the faintest, or above the loudest, value (EM). Standard
 * error by the delta method, for a uniform circle (σ/R)·√(2/N) radians; compass and hand error of 5° is added in
 * quadrature (judgement). With too few loud points the middle between the headings at which it drops out is taken.
 */
public final class SweepBearing {

    /** Error of compass and hand in degrees, added in quadrature (judgement). */
    public static final double HAND_SD_DEG = 5;

    private static final double AMBIGUOUS_DB = 3;

    private SweepBearing() {}

    /** What a sweep gave. */
    public enum Kind {
        /** A bearing. */
        BEARING,
        /** Heard, but no direction can be told. */
        NO_DIRECTION,
        /** Not heard at any heading. */
        NOT_HEARD
    }

    /**
     * Result of a sweep.
     *
     * @param bearingDeg bearing in the sweep's own reference, 0–360; NaN without one
     * @param standardErrorDeg of the fit alone, in degrees; NaN without one
     * @param swingDb R in dB, the first harmonic; NaN when it was found from drop-outs
     * @param backShare probability given to the opposite bearing
     * @param otherDeg the second maximum when it is within 3 dB, else NaN
     * @param advice what to do better, or an empty string
     */
    public record Result(
            Kind kind,
            double bearingDeg,
            double standardErrorDeg,
            double swingDb,
            double backShare,
            double otherDeg,
            String advice) {
        /** Standard error with compass and hand, at most 60°. */
        public double totalSdDeg() {
            return Math.min(60, Math.hypot(standardErrorDeg, HAND_SD_DEG));
        }
    }

    /**
     * Concentration of a von Mises-shaped beam, ln 2/(1 − cos(beam/2)). Real antennas have less front to back than such a
     * beam of their width (60° would mean 45 dB), so the swing is fitted freely.
     */
    public static double beamConcentration(double halfPowerBeamDeg) {
        return Math.log(2) / (1 - Math.cos(Math.toRadians(halfPowerBeamDeg / 2)));
    }

    /** Fits a sweep. */
    public static Result fit(List<SweepPoint> points, Antenna antenna) {
        int heard = 0;
        int saturated = 0;
        for (SweepPoint point : points) {
            heard += point.kind() != SweepPoint.Kind.NOT_HEARD ? 1 : 0;
            saturated += point.kind() == SweepPoint.Kind.SATURATED ? 1 : 0;
        }
        if (heard == 0) {
            return new Result(Kind.NOT_HEARD, Double.NaN, Double.NaN, Double.NaN, 0, Double.NaN, "");
        }
        if (antenna == Antenna.WHIP) {
            return noDirection("A whip hears all round: it gives no direction.");
        }
        int terms = antenna == Antenna.THREE_ELEMENTS ? 3 : 5;
        int clear = heard - saturated;
        if (clear >= terms + 1 && points.size() >= terms + 2) {
            return harmonics(points, antenna, terms, saturated);
        }
        return dropOuts(points, antenna, saturated);
    }

    private static Result noDirection(String why) {
        return new Result(Kind.NO_DIRECTION, Double.NaN, Double.NaN, Double.NaN, 0, Double.NaN, why);
    }

    private static Result harmonics(List<SweepPoint> points, Antenna antenna, int terms, int saturated) {
        int n = points.size();
        RealMatrix design = new Array2DRowRealMatrix(n, terms);
        double[] y = new double[n];
        double faintest = Double.POSITIVE_INFINITY;
        for (SweepPoint p : points) {
            if (p.kind() != SweepPoint.Kind.NOT_HEARD) {
                faintest = Math.min(faintest, p.loudnessDb());
            }
        }
        int clear = 0;
        for (int i = 0; i < n; i++) {
            SweepPoint p = points.get(i);
            double theta = Math.toRadians(p.headingDeg());
            double[] row = {1, Math.cos(theta), Math.sin(theta), Math.cos(2 * theta), Math.sin(2 * theta)};
            for (int k = 0; k < terms; k++) {
                design.setEntry(i, k, row[k]);
            }
            y[i] = p.kind() == SweepPoint.Kind.NOT_HEARD ? faintest : p.loudnessDb();
            clear += p.kind() == SweepPoint.Kind.HEARD ? 1 : 0;
        }
        RealMatrix normal = design.transpose().multiply(design);
        for (int k = 0; k < terms; k++) {
            normal.addToEntry(k, k, 1e-9 * n);
        }
        RealMatrix inverse = new CholeskyDecomposition(normal).getSolver().getInverse();
        RealVector fit = new ArrayRealVector(terms);
        double sigma = 3;
        for (int pass = 0; pass < 60; pass++) {
            fit = inverse.operate(design.preMultiply(new ArrayRealVector(y, false)));
            double sum = 0;
            for (int i = 0; i < n; i++) {
                double at = design.getRowVector(i).dotProduct(fit);
                SweepPoint p = points.get(i);
                if (p.kind() == SweepPoint.Kind.HEARD) {
                    sum += (y[i] - at) * (y[i] - at);
                } else {
                    int side = p.kind() == SweepPoint.Kind.SATURATED ? 1 : -1;
                    double limit = side > 0 ? p.loudnessDb() : faintest;
                    double z = side * (limit - at) / sigma;
                    double above = Math.max(1e-9, 1 - Hearing.normal(z));
                    double hazard = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI) / above;
                    y[i] = at + side * sigma * hazard;
                }
            }
            sigma = Math.max(0.5, Math.sqrt(sum / Math.max(1, clear - terms)));
        }
        double[] f = fit.toArray();
        double swing = Math.hypot(f[1], f[2]);
        double peak = peak(f, Math.atan2(f[2], f[1]));
        double best = curve(f, peak);
        double other = Double.NaN;
        double opposite = opposite(f, peak);
        double behind = curve(f, opposite);
        double back = antenna.backShare();
        String advice = saturated >= 3
                ? "Loudest over " + saturated + " headings: turn the gain down one step and sweep again."
                : "";
        if (terms == 5 && best - behind < AMBIGUOUS_DB) {
            other = Bearings.wrap360(Math.toDegrees(opposite));
            back = 0.5;
            advice = "Two maxima within 3 dB: the opposite bearing is as likely. " + advice;
        }
        double slope = slopeError(f, peak, inverse, sigma);
        double se = Math.toDegrees(slope);
        double range = range(f, terms);
        if (!(range > 2 * sigma * Math.sqrt(2.0 / n)) || se > 60) {
            return noDirection("The loudness hardly changes with heading: no direction.");
        }
        return new Result(Kind.BEARING, Bearings.wrap360(Math.toDegrees(peak)), se, swing, back, other, advice.strip());
    }

    private static double curve(double[] f, double theta) {
        double value = f[0] + f[1] * Math.cos(theta) + f[2] * Math.sin(theta);
        return f.length < 5 ? value : value + f[3] * Math.cos(2 * theta) + f[4] * Math.sin(2 * theta);
    }

    private static double range(double[] f, int terms) {
        return Math.hypot(f[1], f[2]) + (terms == 5 ? Math.hypot(f[3], f[4]) : 0);
    }

    private static double peak(double[] f, double first) {
        if (f.length < 5) {
            return first;
        }
        double best = 0;
        for (int k = 0; k < 3600; k++) {
            double theta = Math.toRadians(k / 10.0);
            if (curve(f, theta) > curve(f, best)) {
                best = theta;
            }
        }
        return best;
    }

    private static double opposite(double[] f, double peak) {
        double best = peak + Math.PI;
        for (int k = -600; k <= 600; k++) {
            double theta = peak + Math.PI + Math.toRadians(k / 10.0);
            if (curve(f, theta) > curve(f, best)) {
                best = theta;
            }
        }
        return best;
    }

    /** Delta method at the peak: var θ = gᵀ Σ g / (curve″)², g the derivative of the curve's slope by the coefficients. */
    private static double slopeError(double[] f, double theta, RealMatrix inverse, double sigma) {
        double[] g = {0, -Math.sin(theta), Math.cos(theta), -2 * Math.sin(2 * theta), 2 * Math.cos(2 * theta)};
        double bend = -f[1] * Math.cos(theta) - f[2] * Math.sin(theta);
        if (f.length == 5) {
            bend += -4 * f[3] * Math.cos(2 * theta) - 4 * f[4] * Math.sin(2 * theta);
        }
        double[] used = Arrays.copyOf(g, f.length);
        RealVector gradient = new ArrayRealVector(used, false);
        double variance = gradient.dotProduct(inverse.operate(gradient)) * sigma * sigma;
        return Math.sqrt(variance) / Math.max(1e-9, Math.abs(bend));
    }

    /** The middle between the headings at which it is no longer heard; SE = SD of an edge / √2. */
    private static Result dropOuts(List<SweepPoint> points, Antenna antenna, int saturated) {
        List<SweepPoint> sorted = new ArrayList<>(points);
        sorted.sort(Comparator.comparingDouble(p -> Bearings.wrap360(p.headingDeg())));
        int n = sorted.size();
        int heard = (int) sorted.stream()
                .filter(p -> p.kind() != SweepPoint.Kind.NOT_HEARD)
                .count();
        if (n - heard < 1 || n < 3) {
            return noDirection("Heard all round or too few headings: turn the gain down and sweep again.");
        }
        double sin = 0;
        double cos = 0;
        for (SweepPoint p : sorted) {
            if (p.kind() != SweepPoint.Kind.NOT_HEARD) {
                sin += Math.sin(Math.toRadians(p.headingDeg()));
                cos += Math.cos(Math.toRadians(p.headingDeg()));
            }
        }
        if (Math.hypot(sin, cos) < 0.3 * heard) {
            return noDirection("Heard on headings far apart: sweep again, slower.");
        }
        double gap = 360.0 / n;
        double edge = Math.max(15, gap / 2);
        return new Result(
                Kind.BEARING,
                Bearings.wrap360(Math.toDegrees(Math.atan2(sin, cos))),
                edge / Math.sqrt(2),
                Double.NaN,
                antenna.backShare(),
                Double.NaN,
                saturated >= 3 ? "Loudest over " + saturated + " headings: turn the gain down one step." : "");
    }
}
