package org.aftercast.behaviour;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Fits the curves of a recovery to means with first-order autocorrelated noise.
 *
 * <p>For a given shape (its time to the recovered share and, for the logistic, its steepness) a curve is linear in normal
 * and departure, so that only the time is searched, on a logarithmic grid. The noise follows r(i) = ρ^g r(i−1) + e with g
 * the spacing in means, so that holes are allowed; for each ρ of a grid the data are whitened and the linear part solved
 * exactly. With X the columns, V the correlation matrix, S the whitened residual sum of squares, n means and p columns:
 *
 * <ul>
 *   <li>curves are compared by the corrected Akaike criterion of the largest likelihood, −2 ln L = n ln(S/n) + ln|V|;
 *   <li>the time to recovery has the weight Σ over ρ of |XᵀX|^½ |XᵀV⁻¹X|^−½ |V|^−½ S^(−(n−p)/2): the likelihood with level,
 *       departure and variance integrated out, flat in the logarithm of the time and in ρ. Integrating ρ out instead of
 *       fixing it keeps intervals honest in short series, where its best value is too small.
 * </ul>
 */
final class CurveFits {

    /** Grid of the time to the recovered share. */
    static final int SCALES = 64;

    private static final double[] RHO = {0, 0.15, 0.3, 0.45, 0.6, 0.7, 0.8, 0.87, 0.92, 0.96};
    private static final double[] STEEP = {3, 6, 12}; // logistic: steepness over the recovered time
    private static final double DIEL_H = 24;

    private final double[] t;
    private final double[] y;
    private final double share;
    private final double[] scale = new double[SCALES];
    private final double[][] back = new double[RHO.length][];
    private final double[][] weight = new double[RHO.length][];
    private final double[] logV = new double[RHO.length];
    private final Map<RecoveryCurve, Best> best = new EnumMap<>(RecoveryCurve.class);
    private final double[] logWeight = new double[SCALES];

    /**
     * Best fit of one curve.
     *
     * @param akaike corrected Akaike criterion
     * @param recoveredH time to the recovered share, hours; NaN for curves that do not return
     * @param rho autocorrelation
     * @param weights linear weights: normal, departure at the start, then the daily terms
     * @param fitted curve at the data
     */
    record Best(double akaike, double recoveredH, double rho, double[] weights, double[] fitted) {}

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
        int n = t.length;
        double span = t[n - 1];
        double low = Math.log(0.5 * stepH);
        double high = Math.log(8 * span);
        for (int k = 0; k < SCALES; k++) {
            scale[k] = Math.exp(low + (high - low) * k / (SCALES - 1));
        }
        for (int r = 0; r < RHO.length; r++) {
            back[r] = new double[n];
            weight[r] = new double[n];
            weight[r][0] = 1;
            for (int i = 1; i < n; i++) {
                back[r][i] = Math.pow(RHO[r], Math.max(1, (t[i] - t[i - 1]) / stepH));
                double left = 1 - back[r][i] * back[r][i];
                weight[r][i] = 1 / Math.sqrt(left);
                logV[r] += Math.log(left);
            }
        }
        fitFixed(RecoveryCurve.CONSTANT, new double[][] {ones()});
        boolean dielSeen = span - t[0] >= 18;
        if (dielSeen) {
            fitFixed(RecoveryCurve.DIEL_ONLY, new double[][] {ones(), daily(0), daily(1)});
        }
        Arrays.fill(logWeight, Double.NEGATIVE_INFINITY);
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

    /** Time below which the share {@code q} of the weight lies, hours; all returning shapes together. */
    double quantileH(double q) {
        double top = Arrays.stream(logWeight).max().orElse(0);
        double[] sum = new double[SCALES + 1];
        for (int k = 0; k < SCALES; k++) {
            sum[k + 1] = sum[k] + Math.exp(logWeight[k] - top);
        }
        double step = Math.log(scale[1] / scale[0]);
        for (int k = 0; k < SCALES; k++) {
            double target = q * sum[SCALES];
            if (sum[k + 1] >= target) {
                double part = (target - sum[k]) / (sum[k + 1] - sum[k]);
                return Math.exp(Math.log(scale[k]) + (part - 0.5) * step);
            }
        }
        return scale[SCALES - 1];
    }

    /** Share of the weight at times longer than {@code hours}. */
    double shareBeyond(double hours) {
        double top = Arrays.stream(logWeight).max().orElse(0);
        double all = 0;
        double beyond = 0;
        for (int k = 0; k < SCALES; k++) {
            double w = Math.exp(logWeight[k] - top);
            all += w;
            beyond += scale[k] > hours ? w : 0;
        }
        return beyond / all;
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
        Arrays.fill(one, 1);
        return one;
    }

    private double[] daily(int which) {
        double[] d = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            double w = 2 * Math.PI * t[i] / DIEL_H;
            d[i] = which == 0 ? Math.cos(w) : Math.sin(w);
        }
        return d;
    }

    private void fitFixed(RecoveryCurve curve, double[][] columns) {
        Best leading = null;
        for (int r = 0; r < RHO.length; r++) {
            Solved s = whitened(columns, r);
            double akaike = criterion(s.deviance, columns.length + 2);
            if (leading == null || akaike < leading.akaike()) {
                leading = new Best(akaike, Double.NaN, RHO[r], s.weights, at(columns, s.weights));
            }
        }
        if (leading != null) {
            best.put(curve, leading);
        }
    }

    private void fitScaled(RecoveryCurve curve, boolean diel) {
        double[] steeps = curve == RecoveryCurve.LOGISTIC ? STEEP : new double[] {0};
        int parameters = 2 + 1 + (diel ? 2 : 0) + (curve == RecoveryCurve.LOGISTIC ? 1 : 0) + 2;
        int n = t.length;
        double[][] columns = diel
                ? new double[][] {ones(), new double[n], daily(0), daily(1)}
                : new double[][] {ones(), new double[n]};
        double least = Double.POSITIVE_INFINITY;
        double[] found = new double[3]; // time, steepness, index of ρ
        double prior = Math.log(steeps.length);
        for (double steep : steeps) {
            double m = curve == RecoveryCurve.LOGISTIC ? middle(steep, share) : 0;
            for (int k = 0; k < SCALES; k++) {
                fill(columns[1], curve, scale[k], steep, m);
                double logPlain = whitened(columns, 0).logDeterminant;
                for (int r = 0; r < RHO.length; r++) {
                    Solved s = whitened(columns, r);
                    if (s.deviance < least) {
                        least = s.deviance;
                        found = new double[] {scale[k], steep, r};
                    }
                    int free = n - columns.length;
                    double log = 0.5 * logPlain
                            - 0.5 * s.logDeterminant
                            - 0.5 * logV[r]
                            - 0.5 * free * Math.log(s.left)
                            - prior;
                    logWeight[k] = add(logWeight[k], log);
                }
            }
        }
        fill(columns[1], curve, found[0], found[1], middle(Math.max(1, found[1]), share));
        Solved s = whitened(columns, (int) found[2]);
        best.put(
                curve,
                new Best(
                        criterion(least, parameters),
                        found[0],
                        RHO[(int) found[2]],
                        s.weights,
                        at(columns, s.weights)));
    }

    private static double add(double a, double b) {
        double top = Math.max(a, b);
        return Double.isInfinite(top) ? top : top + Math.log1p(Math.exp(Math.min(a, b) - top));
    }

    private void fill(double[] g, RecoveryCurve curve, double recovered, double steep, double m) {
        for (int i = 0; i < t.length; i++) {
            g[i] = curve == RecoveryCurve.LOGISTIC
                    ? (1 + Math.exp(-steep * m)) / (1 + Math.exp(steep * (t[i] / recovered - m)))
                    : shape(curve, t[i], recovered, steep, share);
        }
    }

    private double[] at(double[][] columns, double[] weights) {
        double[] f = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            for (int c = 0; c < columns.length; c++) {
                f[i] += weights[c] * columns[c][i];
            }
        }
        return f;
    }

    private double criterion(double deviance, int k) {
        int n = t.length;
        return n <= k + 1 ? Double.POSITIVE_INFINITY : deviance + 2.0 * k + 2.0 * k * (k + 1) / (n - k - 1);
    }

    private record Solved(double deviance, double left, double logDeterminant, double[] weights) {}

    private Solved whitened(double[][] columns, int r) {
        int n = t.length;
        int p = columns.length;
        double[][] normal = new double[p][p + 1];
        double squares = 0;
        double[] row = new double[p];
        double[] b = back[r];
        double[] w = weight[r];
        for (int i = 0; i < n; i++) {
            double v = i == 0 ? y[0] : w[i] * (y[i] - b[i] * y[i - 1]);
            for (int c = 0; c < p; c++) {
                double[] x = columns[c];
                row[c] = i == 0 ? x[0] : w[i] * (x[i] - b[i] * x[i - 1]);
            }
            squares += v * v;
            for (int a = 0; a < p; a++) {
                for (int c = a; c < p; c++) {
                    normal[a][c] += row[a] * row[c];
                }
                normal[a][p] += row[a] * v;
            }
        }
        for (int a = 0; a < p; a++) {
            for (int c = 0; c < a; c++) {
                normal[a][c] = normal[c][a];
            }
        }
        double[] right = new double[p];
        for (int a = 0; a < p; a++) {
            right[a] = normal[a][p];
        }
        double[] solution = new double[p];
        double logDeterminant = gauss(normal, solution);
        double left = squares;
        for (int a = 0; a < p; a++) {
            left -= solution[a] * right[a];
        }
        left = Math.max(left, 1e-12 * squares + Double.MIN_NORMAL);
        return new Solved(n * Math.log(left / n) + logV[r], left, logDeterminant, solution);
    }

    /**
     * Solves normal equations by elimination; a column that adds nothing gets weight 0.
     *
     * @return logarithm of the determinant
     */
    private static double gauss(double[][] m, double[] solution) {
        int p = m.length;
        boolean[] dead = new boolean[p];
        double[] size = new double[p];
        double log = 0;
        for (int a = 0; a < p; a++) {
            size[a] = m[a][a];
        }
        for (int a = 0; a < p; a++) {
            if (!(m[a][a] > 1e-9 * size[a])) {
                dead[a] = true;
                log += Math.log(Math.max(1e-9 * size[a], Double.MIN_NORMAL));
                continue;
            }
            log += Math.log(m[a][a]);
            for (int b = 0; b < p; b++) {
                if (b != a && !dead[b]) {
                    double f = m[b][a] / m[a][a];
                    for (int c = a; c <= p; c++) {
                        m[b][c] -= f * m[a][c];
                    }
                }
            }
        }
        for (int a = 0; a < p; a++) {
            solution[a] = dead[a] ? 0 : m[a][p] / m[a][a];
        }
        return log;
    }
}
