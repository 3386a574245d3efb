package org.aftercast.search;

import java.util.ArrayList;
import java.util.List;

/**
 * The classical fix from bearings on a target that lies still (Lenth 1981, Technometrics 23: 149–154; source key lenth1981):
 * maximum likelihood with von Mises errors of known concentration κ, and its robust forms.
 *
 * <p>Minimises Σ ρ(tᵢ), tᵢ = √(2κ(1 − cos φᵢ)), φᵢ the angle from the line to the station's bearing of the point: ρ = t²/2
 * (maximum likelihood), Huber with corner 1.5, or Andrews with c = 1.5 (ρ = c²(1 − cos(t/c)) below cπ). Lenth's own
 * iteration does not always converge; here a damped Gauss–Newton search is started from every crossing of two lines and
 * the best end is kept.
 *
 * @param xM east on the plane in metres
 * @param yM north on the plane in metres
 * @param kappa the concentration used
 * @param covariance {variance x, covariance, variance y} in m², Lenth's Q
 * @param weights weight of each line, 1 for maximum likelihood
 * @param residualDeg angle from the point's bearing to each line in degrees
 * @param cutDeg the widest angle at which two lines with weight cross, 0–90: below 20° the fix is poor (Chu 1989)
 */
public record BearingFix(
        double xM,
        double yM,
        double kappa,
        double[] covariance,
        double[] weights,
        double[] residualDeg,
        double cutDeg) {

    private static final double CORNER = 1.5;
    private static final int MOST_STARTS = 400;

    /** A line: station on the plane in metres and bearing in degrees from the plane's north. */
    public record Line(double xM, double yM, double bearingDeg) {}

    /** How far lines are weighed. */
    public enum Method {
        /** All alike. */
        MAXIMUM_LIKELIHOOD,
        /** Far ones less. */
        HUBER,
        /** Very far ones not at all. */
        ANDREWS
    }

    /**
     * An error ellipse.
     *
     * @param semiMajorM longer half axis in metres
     * @param semiMinorM shorter half axis in metres
     * @param azimuthDeg direction of the longer axis from the plane's north, 0–180
     * @param areaM2 area in m²
     */
    public record Ellipse(double semiMajorM, double semiMinorM, double azimuthDeg, double areaM2) {}

    /**
     * The fix.
     *
     * @param lines at least two, not all parallel
     * @param kappa concentration of the bearings, above 0
     */
    public static BearingFix of(List<Line> lines, Method method, double kappa) {
        if (lines.size() < 2) {
            throw new IllegalArgumentException("lines: " + lines.size() + " given, two at least are needed");
        }
        if (!(kappa > 0)) {
            throw new IllegalArgumentException("kappa: " + kappa + " must be above 0");
        }
        List<double[]> starts = crossings(lines);
        if (starts.isEmpty()) {
            throw new IllegalArgumentException("lines: no two of them cross in front of both stations or behind");
        }
        double[] best = {Double.NaN, Double.NaN};
        double least = Double.POSITIVE_INFINITY;
        for (double[] from : starts) {
            double[] end = descend(lines, method, kappa, from);
            double value = objective(lines, method, kappa, end[0], end[1]);
            if (value < least) {
                least = value;
                best = end;
            }
        }
        return describe(lines, method, kappa, best);
    }

    /** Maximum likelihood with κ found from how the bearings agree, free of small-sample bias only on request. */
    public static BearingFix ofUnknownKappa(List<Line> lines) {
        // For maximum likelihood the place does not depend on κ.
        BearingFix place = of(lines, Method.MAXIMUM_LIKELIHOOD, 100);
        double cosines = 0;
        for (double residual : place.residualDeg) {
            cosines += Math.cos(Math.toRadians(residual));
        }
        double a = Math.min(0.99999, Math.max(1e-3, cosines / lines.size()));
        return describe(lines, Method.MAXIMUM_LIKELIHOOD, VonMises.concentration(a), new double[] {place.xM, place.yM});
    }

    /** Multiplier of the covariance for a 95 % ellipse when κ is known: χ² with two degrees of freedom, 5.991. */
    public static final double KNOWN_KAPPA_95 = 5.991464547107979;

    /** The same with κ estimated from n bearings: 2 F(2, n−2) = (n−2)(0.05^(−2/(n−2)) − 1). */
    public static double estimatedKappa95(int count) {
        if (count < 3) {
            throw new IllegalArgumentException("count: " + count + " bearings; three at least");
        }
        double df = count - 2.0;
        return df * (Math.pow(0.05, -2 / df) - 1);
    }

    /** The ellipse of a multiple of the covariance. */
    public Ellipse ellipse(double multiple) {
        double mean = (covariance[0] + covariance[2]) / 2;
        double half = Math.hypot((covariance[0] - covariance[2]) / 2, covariance[1]);
        double major = Math.sqrt(multiple * (mean + half));
        double minor = Math.sqrt(multiple * Math.max(0, mean - half));
        double fromEast = 0.5 * Math.atan2(2 * covariance[1], covariance[0] - covariance[2]);
        double azimuth = (90 - Math.toDegrees(fromEast) + 360) % 180;
        return new Ellipse(major, minor, azimuth, Math.PI * major * minor);
    }

    private static List<double[]> crossings(List<Line> lines) {
        List<double[]> ahead = new ArrayList<>();
        List<double[]> any = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            for (int j = i + 1; j < lines.size(); j++) {
                Line a = lines.get(i);
                Line b = lines.get(j);
                double ax = Math.sin(Math.toRadians(a.bearingDeg));
                double ay = Math.cos(Math.toRadians(a.bearingDeg));
                double bx = Math.sin(Math.toRadians(b.bearingDeg));
                double by = Math.cos(Math.toRadians(b.bearingDeg));
                double det = ay * bx - ax * by;
                if (Math.abs(det) < 0.02) {
                    continue;
                }
                double dx = b.xM - a.xM;
                double dy = b.yM - a.yM;
                double along = (dy * bx - dx * by) / det;
                double alongB = (dy * ax - dx * ay) / det;
                double[] point = {a.xM + along * ax, a.yM + along * ay};
                (along > 0 && alongB > 0 ? ahead : any).add(point);
            }
        }
        ahead.addAll(any);
        if (ahead.size() > MOST_STARTS) {
            int every = ahead.size() / MOST_STARTS + 1;
            List<double[]> some = new ArrayList<>();
            for (int i = 0; i < ahead.size(); i += every) {
                some.add(ahead.get(i));
            }
            return some;
        }
        return ahead;
    }

    private static double angle(Line line, double x, double y) {
        double bearing = Math.atan2(x - line.xM, y - line.yM);
        return Math.IEEEremainder(Math.toRadians(line.bearingDeg) - bearing, 2 * Math.PI);
    }

    private static double objective(List<Line> lines, Method method, double kappa, double x, double y) {
        double sum = 0;
        for (Line line : lines) {
            double half = kappa * (1 - Math.cos(angle(line, x, y)));
            double t = Math.sqrt(2 * half);
            sum += switch (method) {
                case MAXIMUM_LIKELIHOOD -> half;
                case HUBER -> t <= CORNER ? half : CORNER * t - CORNER * CORNER / 2;
                case ANDREWS ->
                    t < CORNER * Math.PI ? CORNER * CORNER * (1 - Math.cos(t / CORNER)) : 2 * CORNER * CORNER;
            };
        }
        return sum;
    }

    private static double weight(Method method, double t) {
        return switch (method) {
            case MAXIMUM_LIKELIHOOD -> 1;
            case HUBER -> t <= CORNER ? 1 : CORNER / t;
            case ANDREWS -> t < 1e-9 ? 1 : t < CORNER * Math.PI ? CORNER * Math.sin(t / CORNER) / t : 0;
        };
    }

    /** Gauss–Newton on the angles with Levenberg's damping; every step taken lowers the objective. */
    private static double[] descend(List<Line> lines, Method method, double kappa, double[] from) {
        double x = from[0];
        double y = from[1];
        double value = objective(lines, method, kappa, x, y);
        double damping = 1e-3;
        for (int k = 0; k < 300; k++) {
            double gx = 0;
            double gy = 0;
            double hxx = 0;
            double hxy = 0;
            double hyy = 0;
            for (Line line : lines) {
                double dx = x - line.xM;
                double dy = y - line.yM;
                double d2 = Math.max(1e-6, dx * dx + dy * dy);
                double phi = angle(line, x, y);
                double w = weight(method, Math.sqrt(2 * kappa * (1 - Math.cos(phi)))) * kappa;
                // bearing = atan2(dx, dy): its gradient is (dy, −dx)/d²
                double tx = dy / d2;
                double ty = -dx / d2;
                gx -= w * Math.sin(phi) * tx;
                gy -= w * Math.sin(phi) * ty;
                hxx += w * tx * tx;
                hxy += w * tx * ty;
                hyy += w * ty * ty;
            }
            boolean better = false;
            for (int tries = 0; tries < 25 && !better; tries++) {
                double axx = hxx * (1 + damping) + 1e-18;
                double ayy = hyy * (1 + damping) + 1e-18;
                double det = axx * ayy - hxy * hxy;
                double stepX = -(ayy * gx - hxy * gy) / det;
                double stepY = -(axx * gy - hxy * gx) / det;
                double next = objective(lines, method, kappa, x + stepX, y + stepY);
                if (next < value) {
                    better = true;
                    x += stepX;
                    y += stepY;
                    boolean done = Math.hypot(stepX, stepY) < 1e-7;
                    value = next;
                    damping = Math.max(1e-9, damping / 5);
                    if (done) {
                        return new double[] {x, y};
                    }
                } else {
                    damping *= 4;
                }
            }
            if (!better) {
                break;
            }
        }
        return new double[] {x, y};
    }

    private static BearingFix describe(List<Line> lines, Method method, double kappa, double[] at) {
        int n = lines.size();
        double[] weights = new double[n];
        double[] residual = new double[n];
        double ss = 0;
        double sc = 0;
        double cc = 0;
        for (int i = 0; i < n; i++) {
            Line line = lines.get(i);
            double phi = angle(line, at[0], at[1]);
            residual[i] = Math.toDegrees(phi);
            weights[i] = weight(method, Math.sqrt(2 * kappa * (1 - Math.cos(phi))));
            double theta = Math.toRadians(90 - line.bearingDeg);
            double s = Math.sin(theta);
            double c = Math.cos(theta);
            double d = Math.hypot(at[0] - line.xM, at[1] - line.yM);
            double sStar = (at[1] - line.yM) / (d * d * d);
            double cStar = (at[0] - line.xM) / (d * d * d);
            ss += weights[i] * s * sStar;
            sc -= weights[i] * (sStar * c + cStar * s) / 2;
            cc += weights[i] * c * cStar;
        }
        double det = (ss * cc - sc * sc) * kappa;
        double[] covariance = {cc / det, -sc / det, ss / det};
        double cut = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                if (weights[i] > 0.1 && weights[j] > 0.1) {
                    double angle = Math.abs(Math.IEEEremainder(lines.get(i).bearingDeg - lines.get(j).bearingDeg, 180));
                    cut = Math.max(cut, angle);
                }
            }
        }
        return new BearingFix(at[0], at[1], kappa, covariance, weights, residual, cut);
    }
}
