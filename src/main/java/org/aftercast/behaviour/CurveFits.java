package org.aftercast.behaviour;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Fits the curves of a recovery to means with first-order autocorrelated noise.
 *
 * <p>For a given shape (its time to the recovered share and, for the logistic, its steepness) a curve is linear in normal,
 * departure and the two terms of a daily rhythm, so that only the time is searched, on a logarithmic grid. The noise follows
 * r(i) = ρ^g r(i−1) + e with g the spacing in means, so that holes are allowed; for each ρ of a grid the data are whitened
 * and the linear part solved exactly. A daily rhythm of a few percent looks like a recovery in a record of half a day, so it
 * is allowed for in every length of record: with and without one count the same beforehand, and where there is one its two
 * terms have a normal prior (standard deviation {@code dielShare} of the level); the departure likewise has a wide prior
 * ({@code departureShare}). With X the columns, V the correlation matrix,
 * P the precisions of the priors, β the solution of (XᵀV⁻¹X + σ²P) β = XᵀV⁻¹y, S = yᵀV⁻¹y − βᵀXᵀV⁻¹y, n means, p columns:
 *
 * <ul>
 *   <li>curves are compared by the corrected Akaike criterion of the largest penalised likelihood, −2 ln L = n ln(S/n) + ln|V|;
 *   <li>the time to recovery has the weight Σ over shapes, rhythm or none, ρ and σ of
 *       |P|^½ σ^(p−n) |XᵀV⁻¹X + σ²P|^−½ |V|^−½ exp(−S/2σ²): the likelihood with level, departure, rhythm, variance and
 *       autocorrelation integrated out, flat in the logarithm of the time (from one mean to eight times the record), in that
 *       of σ and in ρ. Integrating ρ out instead of fixing it keeps intervals honest in short series, where its best value
 *       is too small. The exponential, the published form, counts four times as much as the other two shapes together;
 *   <li>whether there was a return at all is told by the odds of the mean of these weights against the same weight without
 *       a departure, again with and without a rhythm (a Bayes factor; {@code kass1995} for its scale).
 * </ul>
 */
final class CurveFits {

    /** Grid of the time to the recovered share. */
    static final int SCALES = 64;

    private static final double[] RHO = {0, 0.15, 0.3, 0.45, 0.6, 0.7, 0.8, 0.87, 0.92, 0.96};
    private static final double[] RHO_SHARE = cells(RHO);
    private static final double[] STEEP = {3, 6, 12}; // logistic: steepness over the recovered time
    private static final RecoveryCurve[] SHAPES = {
        RecoveryCurve.EXPONENTIAL, RecoveryCurve.LOGISTIC, RecoveryCurve.BREAKPOINT
    };
    private static final double DIEL_H = 24;

    /** Steps of ln σ about its best value, in its own standard errors. */
    private static final int SIGMA_STEPS = 3;

    private final double[] t;
    private final double[] y;
    private final double share;
    private final double[] scale = new double[SCALES];
    private final double[][] back = new double[RHO.length][];
    private final double[][] weight = new double[RHO.length][];
    private final double[] logV = new double[RHO.length];
    private final double dielG;
    private final double departureG;
    private final Map<RecoveryCurve, Best> best = new EnumMap<>(RecoveryCurve.class);
    private final double[] logWeight = new double[SCALES];
    private double stays = Double.NEGATIVE_INFINITY;

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
     * @param dielShare standard deviation of each of the two terms of a daily rhythm, share of the mean level
     * @param departureShare standard deviation of the departure at the release, share of the mean level
     */
    CurveFits(double[] t, double[] y, double stepH, double share, double dielShare, double departureShare) {
        this.t = t;
        this.y = y;
        this.share = share;
        int n = t.length;
        double span = t[n - 1];
        double low = Math.log(stepH);
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
        double level = Math.abs(Arrays.stream(y).average().orElse(1));
        this.dielG = Math.max(Double.MIN_NORMAL, dielShare * level);
        this.departureG = Math.max(Double.MIN_NORMAL, departureShare * level);
        fitFixed(RecoveryCurve.CONSTANT, new double[][] {ones()});
        fitFixed(RecoveryCurve.DIEL_ONLY, new double[][] {ones(), daily(0), daily(1)});
        Arrays.fill(logWeight, Double.NEGATIVE_INFINITY);
        fitScaled(RecoveryCurve.EXPONENTIAL, Rhythm.NONE);
        fitScaled(RecoveryCurve.LOGISTIC, Rhythm.NONE);
        fitScaled(RecoveryCurve.BREAKPOINT, Rhythm.NONE);
        fitScaled(RecoveryCurve.EXPONENTIAL_AND_DIEL, Rhythm.DAILY);
        for (Rhythm rhythm : Rhythm.values()) {
            stays = add(stays, weigh(rhythm));
            for (RecoveryCurve curve : SHAPES) {
                weigh(curve, rhythm);
            }
        }
    }

    private enum Rhythm {
        NONE,
        DAILY
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

    /**
     * Mean time over the weight between two quantiles, hours. Less drawn to short times than the median: noise makes
     * shapes that drop at once fit by chance, and those lie on the short side.
     */
    double meanH(double lowShare, double highShare) {
        double low = quantileH(lowShare);
        double high = quantileH(highShare);
        double top = Arrays.stream(logWeight).max().orElse(0);
        double sum = 0;
        double all = 0;
        for (int k = 0; k < SCALES; k++) {
            if (scale[k] >= low && scale[k] <= high) {
                double w = Math.exp(logWeight[k] - top);
                sum += w * scale[k];
                all += w;
            }
        }
        return all > 0 ? sum / all : quantileH(0.5);
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
        double[] precision = precision(columns.length, false);
        Best leading = null;
        for (int r = 0; r < RHO.length; r++) {
            Solved s = profiled(columns, precision, r);
            double akaike = criterion(s.deviance, columns.length + 2);
            if (leading == null || akaike < leading.akaike()) {
                leading = new Best(akaike, Double.NaN, RHO[r], s.weights, at(columns, s.weights));
            }
        }
        if (leading != null) {
            best.put(curve, leading);
        }
    }

    private void fitScaled(RecoveryCurve curve, Rhythm rhythm) {
        double[] steeps = curve == RecoveryCurve.LOGISTIC ? STEEP : new double[] {0};
        boolean diel = rhythm == Rhythm.DAILY;
        int parameters = 2 + 1 + (diel ? 2 : 0) + (curve == RecoveryCurve.LOGISTIC ? 1 : 0) + 2;
        double[][] columns = columns(rhythm);
        double[] precision = precision(columns.length, true);
        double least = Double.POSITIVE_INFINITY;
        double[] found = new double[3]; // time, steepness, index of ρ
        for (double steep : steeps) {
            double m = curve == RecoveryCurve.LOGISTIC ? middle(steep, share) : 0;
            for (int k = 0; k < SCALES; k++) {
                fill(columns[1], curve, scale[k], steep, m);
                for (int r = 0; r < RHO.length; r++) {
                    double deviance = profiled(columns, precision, r).deviance;
                    if (deviance < least) {
                        least = deviance;
                        found = new double[] {scale[k], steep, r};
                    }
                }
            }
        }
        fill(columns[1], curve, found[0], found[1], middle(Math.max(1, found[1]), share));
        Solved s = profiled(columns, precision, (int) found[2]);
        best.put(
                curve,
                new Best(
                        criterion(least, parameters),
                        found[0],
                        RHO[(int) found[2]],
                        s.weights,
                        at(columns, s.weights)));
    }

    /** Adds the weight of each time under one shape, with or without a daily rhythm. */
    private void weigh(RecoveryCurve curve, Rhythm rhythm) {
        double[] steeps = curve == RecoveryCurve.LOGISTIC ? STEEP : new double[] {0};
        double[][] columns = columns(rhythm);
        double[] precision = precision(columns.length, true);
        for (double steep : steeps) {
            double m = curve == RecoveryCurve.LOGISTIC ? middle(steep, share) : 0;
            for (int k = 0; k < SCALES; k++) {
                fill(columns[1], curve, scale[k], steep, m);
                double log = weight(columns, precision) - Math.log(steeps.length) + Math.log(shapeShare(curve));
                logWeight[k] = add(logWeight[k], log);
            }
        }
    }

    /** Prior share of a shape: where the record cannot tell them apart, the published form stands. */
    private static double shapeShare(RecoveryCurve curve) {
        return curve == RecoveryCurve.EXPONENTIAL ? 0.8 : 0.1;
    }

    /** Weight without any return, with or without a daily rhythm. */
    private double weigh(Rhythm rhythm) {
        double[][] columns =
                rhythm == Rhythm.DAILY ? new double[][] {ones(), daily(0), daily(1)} : new double[][] {ones()};
        return weight(columns, precision(columns.length, false));
    }

    /** Logarithm of the density of the data with all linear weights, the noise and its autocorrelation integrated out. */
    private double weight(double[][] columns, double[] precision) {
        int n = t.length;
        int p = columns.length;
        double prior = 0;
        for (int c = 1; c < p; c++) {
            prior += 0.5 * Math.log(precision[c]);
        }
        double step = 1 / Math.sqrt(2.0 * Math.max(1, n - p));
        double all = Double.NEGATIVE_INFINITY;
        for (int r = 0; r < RHO.length; r++) {
            Gram gram = gram(columns, r);
            double best = sigma(gram, precision, n);
            for (int q = -SIGMA_STEPS; q <= SIGMA_STEPS; q++) {
                double sigma = best * Math.exp(q * step);
                Solved s = solve(gram, precision, sigma * sigma, r);
                all = add(
                        all,
                        -0.5 * s.left / (sigma * sigma)
                                + (p - n) * Math.log(sigma)
                                - 0.5 * s.logDeterminant
                                - 0.5 * logV[r]
                                + Math.log(step * RHO_SHARE[r]));
            }
        }
        return all + prior;
    }

    /** Length of the cell about each value of a grid, as a share of the whole. */
    private static double[] cells(double[] grid) {
        double[] share = new double[grid.length];
        for (int i = 0; i < grid.length; i++) {
            double low = i == 0 ? 0 : 0.5 * (grid[i - 1] + grid[i]);
            double high = i == grid.length - 1 ? 1 : 0.5 * (grid[i] + grid[i + 1]);
            share[i] = high - low;
        }
        return share;
    }

    /** Natural logarithm of the odds of a return against none, both taken as equally likely beforehand. */
    double evidence() {
        double returns = Double.NEGATIVE_INFINITY;
        for (double w : logWeight) {
            returns = add(returns, w);
        }
        return returns - Math.log(SCALES) - stays;
    }

    private double[][] columns(Rhythm rhythm) {
        return rhythm == Rhythm.DAILY
                ? new double[][] {ones(), new double[t.length], daily(0), daily(1)}
                : new double[][] {ones(), new double[t.length]};
    }

    /** Precisions of the priors: none on the level, then departure if there is one, then the daily terms. */
    private double[] precision(int columns, boolean departs) {
        double[] p = new double[columns];
        for (int c = 1; c < columns; c++) {
            double spread = departs && c == 1 ? departureG : dielG;
            p[c] = 1 / (spread * spread);
        }
        return p;
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

    /** XᵀV⁻¹X, XᵀV⁻¹y and yᵀV⁻¹y. */
    private record Gram(double[][] xx, double[] xy, double yy) {}

    private Gram gram(double[][] columns, int r) {
        int n = t.length;
        int p = columns.length;
        double[][] xx = new double[p][p];
        double[] xy = new double[p];
        double yy = 0;
        double[] row = new double[p];
        double[] b = back[r];
        double[] w = weight[r];
        for (int i = 0; i < n; i++) {
            double v = i == 0 ? y[0] : w[i] * (y[i] - b[i] * y[i - 1]);
            for (int c = 0; c < p; c++) {
                double[] x = columns[c];
                row[c] = i == 0 ? x[0] : w[i] * (x[i] - b[i] * x[i - 1]);
            }
            yy += v * v;
            for (int a = 0; a < p; a++) {
                for (int c = a; c < p; c++) {
                    xx[a][c] += row[a] * row[c];
                }
                xy[a] += row[a] * v;
            }
        }
        for (int a = 0; a < p; a++) {
            for (int c = 0; c < a; c++) {
                xx[a][c] = xx[c][a];
            }
        }
        return new Gram(xx, xy, yy);
    }

    /** Noise that fits itself: σ² = S(σ)/n, from the fit without priors on. */
    private double sigma(Gram gram, double[] precision, int n) {
        double variance = solve(gram, precision, 0, 0).left / n;
        for (int i = 0; i < 4; i++) {
            variance = solve(gram, precision, variance, 0).left / n;
        }
        return Math.sqrt(variance);
    }

    private Solved profiled(double[][] columns, double[] precision, int r) {
        Gram gram = gram(columns, r);
        double sigma = sigma(gram, precision, t.length);
        return solve(gram, precision, sigma * sigma, r);
    }

    private Solved solve(Gram gram, double[] precision, double variance, int r) {
        int n = t.length;
        int p = gram.xy.length;
        double[][] normal = new double[p][p + 1];
        for (int a = 0; a < p; a++) {
            System.arraycopy(gram.xx[a], 0, normal[a], 0, p);
            normal[a][a] += variance * precision[a];
            normal[a][p] = gram.xy[a];
        }
        double[] solution = new double[p];
        double logDeterminant = gauss(normal, solution);
        double left = gram.yy;
        for (int a = 0; a < p; a++) {
            left -= solution[a] * gram.xy[a];
        }
        left = Math.max(left, 1e-12 * gram.yy + Double.MIN_NORMAL);
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
