package org.aftercast.behaviour;

import java.util.EnumMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Fits the curves of a recovery to means with first-order autocorrelated noise.
 *
 * <p>For a given shape (its time scale and, for the logistic, its steepness) a curve is linear in start and normal, so
 * that only the scale is searched, on a logarithmic grid of the time to the recovered share; the noise follows
 * r(i) = ρ^g r(i−1) + e with g the spacing in means, so that holes are allowed. For each ρ of a grid the data are whitened
 * and the linear part solved exactly; the likelihood is maximised over ρ. Deviance here is −2 ln L without constants:
 * n ln(S/n) + Σ ln(1 − ρ^(2g)).
 */
final class CurveFits {

    /** Grid of the time to the recovered share. */
    static final int SCALES = 72;

    private static final double[] RHO = {0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.87, 0.92, 0.96};
    private static final double[] STEEP = {3, 6, 12}; // logistic: steepness over the recovered time

    private final double[] t;
    private final double[] y;
    private final double[] gap;
    private final double share;
    private final double dielH;
    private final double[] scale = new double[SCALES];
    private final Map<RecoveryCurve, Best> best = new EnumMap<>(RecoveryCurve.class);
    private final Map<RecoveryCurve, double[]> profile = new EnumMap<>(RecoveryCurve.class);

    /**
     * Best fit of one curve.
     *
     * @param deviance −2 ln L
     * @param akaike corrected Akaike criterion
     * @param recoveredH time to the recovered share, hours; NaN for curves that do not return
     * @param rho autocorrelation
     * @param weights linear weights: normal, departure at the start, then the daily terms
     * @param fitted curve at the data
     */
    record Best(double deviance, double akaike, double recoveredH, double rho, double[] weights, double[] fitted) {}

    /**
     * Fits all curves that the data can carry.
     *
     * @param t hours since release, rising
     * @param y values
     * @param stepH nominal spacing
     * @param share recovered share, 0–1
     */
    CurveFits(double[] t, double[] y, double stepH, double share) {
        this.t = t;
        this.y = y;
        this.share = share;
        this.gap = new double[t.length];
        for (int i = 1; i < t.length; i++) {
            gap[i] = Math.max(1, (t[i] - t[i - 1]) / stepH);
        }
        double span = t[t.length - 1];
        double low = Math.log(0.4 * stepH);
        double high = Math.log(12 * span);
        for (int k = 0; k < SCALES; k++) {
            scale[k] = Math.exp(low + (high - low) * k / (SCALES - 1));
        }
        this.dielH = 24;
        fitFixed(RecoveryCurve.CONSTANT, new double[][] {ones()});
        boolean dielSeen = span - t[0] >= 18;
        if (dielSeen) {
            fitFixed(RecoveryCurve.DIEL_ONLY, new double[][] {ones(), daily(0), daily(1)});
        }
        fitScaled(RecoveryCurve.EXPONENTIAL, false);
        fitScaled(RecoveryCurve.LOGISTIC, false);
        fitScaled(RecoveryCurve.BREAKPOINT, false);
        if (dielSeen && span >= 24) {
            fitScaled(RecoveryCurve.EXPONENTIAL_AND_DIEL, true);
        }
    }

    Map<RecoveryCurve, Best> best() {
        return best;
    }

    /** The curve with the least criterion among those that return, or among those that do not. */
    Map.@Nullable Entry<RecoveryCurve, Best> leading(boolean returning) {
        Map.Entry<RecoveryCurve, Best> found = null;
        for (Map.Entry<RecoveryCurve, Best> e : best.entrySet()) {
            if (e.getKey().returns() == returning
                    && (found == null
                            || e.getValue().akaike() < found.getValue().akaike())) {
                found = e;
            }
        }
        return found;
    }

    /** Times of the grid, hours. */
    double[] scales() {
        return scale;
    }

    /** Least criterion over the returning curves at each time of the grid: the profile, with the shape left open. */
    double[] profile() {
        double[] least = new double[SCALES];
        java.util.Arrays.fill(least, Double.POSITIVE_INFINITY);
        profile.values().forEach(p -> {
            for (int k = 0; k < SCALES; k++) {
                least[k] = Math.min(least[k], p[k]);
            }
        });
        return least;
    }

    /** Shape of the departure, 1 at the release, 1 − share at {@code recovered}. */
    static double shape(RecoveryCurve curve, double t, double recovered, double steep, double share) {
        double u = t / recovered;
        return switch (curve) {
            case EXPONENTIAL, EXPONENTIAL_AND_DIEL -> Math.pow(1 - share, u);
            case BREAKPOINT -> Math.max(0, 1 - share * u);
            case LOGISTIC -> {
                // (1 + e^(−s m)) / (1 + e^(s (u − m))) with m such that it is 1 − share at u = 1
                double m = middle(steep, share);
                yield (1 + Math.exp(-steep * m)) / (1 + Math.exp(steep * (u - m)));
            }
            default -> 0;
        };
    }

    private static double middle(double steep, double share) {
        double low = -1;
        double high = 1;
        for (int i = 0; i < 60; i++) {
            double m = 0.5 * (low + high);
            double left = (1 + Math.exp(-steep * m)) / (1 + Math.exp(steep * (1 - m)));
            if (left < 1 - share) {
                low = m;
            } else {
                high = m;
            }
        }
        return 0.5 * (low + high);
    }

    private double[] ones() {
        double[] one = new double[t.length];
        java.util.Arrays.fill(one, 1);
        return one;
    }

    private double[] daily(int which) {
        double[] d = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            double w = 2 * Math.PI * t[i] / dielH;
            d[i] = which == 0 ? Math.cos(w) : Math.sin(w);
        }
        return d;
    }

    private void fitFixed(RecoveryCurve curve, double[][] columns) {
        Solved s = solve(columns);
        int parameters = columns.length + 2;
        best.put(
                curve,
                new Best(s.deviance, criterion(s.deviance, parameters), Double.NaN, s.rho, s.weights, at(columns, s)));
    }

    private void fitScaled(RecoveryCurve curve, boolean diel) {
        double[] along = new double[SCALES];
        Best leading = null;
        double[] steeps = curve == RecoveryCurve.LOGISTIC ? STEEP : new double[] {0};
        int parameters = 2 + 1 + (diel ? 2 : 0) + (curve == RecoveryCurve.LOGISTIC ? 1 : 0) + 2;
        for (int k = 0; k < SCALES; k++) {
            along[k] = Double.POSITIVE_INFINITY;
            for (double steep : steeps) {
                Best one = at(curve, diel, scale[k], steep, parameters);
                along[k] = Math.min(along[k], one.akaike());
                if (leading == null || one.akaike() < leading.akaike()) {
                    leading = one;
                }
            }
        }
        if (leading == null) {
            return;
        }
        double factor = scale[1] / scale[0];
        for (int round = 0; round < 3; round++) { // finer about the best of the grid
            factor = Math.pow(factor, 0.4);
            Best centre = leading;
            for (double steep : steeps) {
                for (int sign = -2; sign <= 2; sign++) {
                    Best one = at(curve, diel, centre.recoveredH() * Math.pow(factor, sign), steep, parameters);
                    if (one.akaike() < leading.akaike()) {
                        leading = one;
                    }
                }
            }
        }
        best.put(curve, leading);
        profile.put(curve, along);
    }

    private Best at(RecoveryCurve curve, boolean diel, double recovered, double steep, int parameters) {
        double[] g = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            g[i] = shape(curve, t[i], recovered, steep, share);
        }
        double[][] columns = diel ? new double[][] {ones(), g, daily(0), daily(1)} : new double[][] {ones(), g};
        Solved s = solve(columns);
        return new Best(s.deviance, criterion(s.deviance, parameters), recovered, s.rho, s.weights, at(columns, s));
    }

    private double[] at(double[][] columns, Solved s) {
        double[] f = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            for (int c = 0; c < columns.length; c++) {
                f[i] += s.weights[c] * columns[c][i];
            }
        }
        return f;
    }

    private double criterion(double deviance, int k) {
        int n = t.length;
        return n <= k + 1 ? Double.POSITIVE_INFINITY : deviance + 2.0 * k + 2.0 * k * (k + 1) / (n - k - 1);
    }

    private record Solved(double deviance, double rho, double[] weights) {}

    /** Best over ρ. */
    private Solved solve(double[][] columns) {
        Solved found = new Solved(Double.POSITIVE_INFINITY, 0, new double[columns.length]);
        int at = 0;
        for (int r = 0; r < RHO.length; r++) {
            Solved one = whitened(columns, RHO[r]);
            if (one.deviance < found.deviance) {
                found = one;
                at = r;
            } else if (r > at + 2) {
                break;
            }
        }
        return found;
    }

    private Solved whitened(double[][] columns, double rho) {
        int n = t.length;
        int p = columns.length;
        double[][] normal = new double[p][p + 1];
        double squares = 0;
        double logs = 0;
        double[] row = new double[p];
        for (int i = 0; i < n; i++) {
            double back = i == 0 || rho == 0 ? 0 : gap[i] == 1 ? rho : Math.pow(rho, gap[i]);
            double weight = i == 0 ? 1 : 1 / Math.sqrt(1 - back * back);
            logs -= 2 * Math.log(weight);
            double v = weight * (y[i] - (i == 0 ? 0 : back * y[i - 1]));
            for (int c = 0; c < p; c++) {
                row[c] = weight * (columns[c][i] - (i == 0 ? 0 : back * columns[c][i - 1]));
            }
            squares += v * v;
            for (int a = 0; a < p; a++) {
                for (int b = 0; b < p; b++) {
                    normal[a][b] += row[a] * row[b];
                }
                normal[a][p] += row[a] * v;
            }
        }
        double[] right = new double[p];
        for (int a = 0; a < p; a++) {
            right[a] = normal[a][p];
        }
        double[] w = gauss(normal);
        double left = squares;
        for (int a = 0; a < p; a++) {
            left -= w[a] * right[a];
        }
        left = Math.max(left, 1e-12 * squares + Double.MIN_NORMAL);
        return new Solved(n * Math.log(left / n) + logs, rho, w);
    }

    /** Solves the normal equations by elimination with pivoting; a column that adds nothing gets weight 0. */
    private static double[] gauss(double[][] m) {
        int p = m.length;
        boolean[] dead = new boolean[p];
        double[] size = new double[p];
        for (int a = 0; a < p; a++) {
            size[a] = m[a][a];
        }
        for (int a = 0; a < p; a++) {
            if (!(m[a][a] > 1e-10 * size[a])) {
                dead[a] = true;
                continue;
            }
            for (int b = 0; b < p; b++) {
                if (b != a && !dead[b]) {
                    double f = m[b][a] / m[a][a];
                    for (int c = a; c <= p; c++) {
                        m[b][c] -= f * m[a][c];
                    }
                }
            }
        }
        double[] w = new double[p];
        for (int a = 0; a < p; a++) {
            w[a] = dead[a] ? 0 : m[a][p] / m[a][a];
        }
        return w;
    }
}
