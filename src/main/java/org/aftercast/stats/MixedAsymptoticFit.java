package org.aftercast.stats;

import java.util.LinkedHashMap;
import java.util.Map;
import org.hipparchus.optim.InitialGuess;
import org.hipparchus.optim.MaxEval;
import org.hipparchus.optim.PointValuePair;
import org.hipparchus.optim.SimpleValueChecker;
import org.hipparchus.optim.nonlinear.scalar.GoalType;
import org.hipparchus.optim.nonlinear.scalar.ObjectiveFunction;
import org.hipparchus.optim.nonlinear.scalar.noderiv.NelderMeadSimplex;
import org.hipparchus.optim.nonlinear.scalar.noderiv.SimplexOptimizer;

/**
 * One asymptotic curve for several units, each with its own asymptote:
 * y = A + (R₀ − A)·exp(−e^λ·x) + error, A ~ N(asymptote, σ²_A) by unit, error ~ N(0, σ²).
 *
 * <p>A enters linearly, so that the likelihood is exact: for given λ and σ_A/σ the two linear coefficients are
 * generalised least squares and σ² follows; only λ and the ratio are searched (key {@code lindstrom1990}). Standard
 * errors from the linear model at the estimate, scaled by n/(n − 3).
 *
 * @param asymptote mean of A, unit of y
 * @param start R₀, y at x = 0
 * @param logRate λ, log of the rate per unit of x
 * @param seAsymptote standard error
 * @param seStart standard error
 * @param seLogRate standard error
 * @param sdAsymptote σ_A, unit of y, ≥ 0
 * @param residualSd σ, unit of y
 * @param logLikelihood ordinary, all constants kept
 * @param units number of units
 */
public record MixedAsymptoticFit(
        double asymptote,
        double start,
        double logRate,
        double seAsymptote,
        double seStart,
        double seLogRate,
        double sdAsymptote,
        double residualSd,
        double logLikelihood,
        int units) {

    /**
     * Fits by maximum likelihood.
     *
     * @param unit name of the unit of each point
     * @param x abscissae, ≥ 0, finite
     * @param y ordinates, finite
     * @throws IllegalArgumentException if there are fewer than two units, fewer than five points, or x does not vary
     */
    public static MixedAsymptoticFit of(String[] unit, double[] x, double[] y) {
        if (unit.length != x.length || x.length != y.length || x.length < 5) {
            throw new IllegalArgumentException("unit, x, y: " + unit.length + ", " + x.length + ", " + y.length
                    + " points; the same number, at least five");
        }
        Map<String, Integer> index = new LinkedHashMap<>();
        int[] group = new int[unit.length];
        double largest = 0;
        for (int i = 0; i < unit.length; i++) {
            if (!Double.isFinite(x[i]) || !(x[i] >= 0) || !Double.isFinite(y[i])) {
                throw new IllegalArgumentException("point " + i + ": x " + x[i] + ", y " + y[i]);
            }
            group[i] = index.computeIfAbsent(unit[i], name -> index.size());
            largest = Math.max(largest, x[i]);
        }
        if (index.size() < 2 || largest == 0) {
            throw new IllegalArgumentException("unit: " + index.size() + " units, largest x " + largest
                    + "; at least two units and some x above 0");
        }
        Problem problem = new Problem(group, index.size(), x, y);
        ObjectiveFunction objective = new ObjectiveFunction(p -> problem.at(p[0], Math.exp(p[1])).logLikelihood);
        PointValuePair best = null;
        for (double perRange : new double[] {0.3, 1, 3, 10}) {
            double[] from = {Math.log(perRange / largest), 0};
            for (int restart = 0; restart < 3; restart++) {
                PointValuePair found = new SimplexOptimizer(new SimpleValueChecker(1e-14, 1e-12))
                        .optimize(
                                new MaxEval(10_000),
                                objective,
                                GoalType.MAXIMIZE,
                                new InitialGuess(from),
                                new NelderMeadSimplex(2, 0.3));
                from = found.getPoint();
                if (best == null || found.getValue() > best.getValue()) {
                    best = found;
                }
            }
        }
        if (best == null) {
            throw new IllegalArgumentException("x, y: no fit");
        }
        return problem.result(best.getPoint()[0], Math.exp(best.getPoint()[1]));
    }

    /** The exact log-likelihood of this curve for these data. */
    double logLikelihoodOf(String[] unit, double[] x, double[] y) {
        Map<String, Integer> index = new LinkedHashMap<>();
        int[] group = new int[unit.length];
        double[][] design = new double[x.length][1];
        double[] residual = new double[x.length];
        for (int i = 0; i < unit.length; i++) {
            group[i] = index.computeIfAbsent(unit[i], name -> index.size());
            double decay = Math.exp(-Math.exp(logRate) * x[i]);
            design[i][0] = 1 - decay;
            residual[i] = y[i] - asymptote * (1 - decay) - start * decay;
        }
        Problem problem = new Problem(group, index.size(), x, residual);
        double ratio = sdAsymptote / residualSd;
        double sum = 0;
        for (double[] row : problem.whiten(design, ratio)) {
            sum += row[1] * row[1];
        }
        double variance = residualSd * residualSd;
        return -x.length / 2.0 * Math.log(2 * Math.PI * variance)
                - sum / (2 * variance)
                - problem.logDeterminant(design, ratio) / 2;
    }

    /** The inner solution for a rate and a ratio of standard deviations. */
    private record Inner(double a, double r, double sigmaSquared, double logLikelihood) {}

    private static final class Problem {
        private final int[] group;
        private final int groups;
        private final double[] x;
        private final double[] y;

        Problem(int[] group, int groups, double[] x, double[] y) {
            this.group = group;
            this.groups = groups;
            this.x = x;
            this.y = y;
        }

        Inner at(double logRate, double ratio) {
            double rate = Math.exp(logRate);
            int n = x.length;
            double[][] design = new double[n][2];
            for (int i = 0; i < n; i++) {
                design[i][1] = Math.exp(-rate * x[i]);
                design[i][0] = 1 - design[i][1];
            }
            double[][] solved = whiten(design, ratio);
            Symmetric factor = Symmetric.of(solvedNormal(solved));
            if (factor == null) {
                return new Inner(0, 0, 1, -1e300);
            }
            double[] right = new double[2];
            for (double[] row : solved) {
                right[0] += row[0] * row[2];
                right[1] += row[1] * row[2];
            }
            double[] coefficient = factor.solve(right);
            double rss = 0;
            for (double[] row : solved) {
                double residual = row[2] - row[0] * coefficient[0] - row[1] * coefficient[1];
                rss += residual * residual;
            }
            double sigmaSquared = Math.max(rss / n, 1e-300);
            double logLikelihood =
                    -n / 2.0 * (Math.log(2 * Math.PI * sigmaSquared) + 1) - logDeterminant(design, ratio) / 2;
            return new Inner(coefficient[0], coefficient[1], sigmaSquared, logLikelihood);
        }

        /** Each row (columns …, y) times V^(−½) for V = I + ratio²·zzᵀ within a unit, z the first column. */
        private double[][] whiten(double[][] design, double ratio) {
            int n = design.length;
            int k = design[0].length;
            double[][] out = new double[n][k + 1];
            double[] zz = new double[groups];
            double[][] zd = new double[groups][k + 1];
            for (int i = 0; i < n; i++) {
                double z = design[i][0];
                zz[group[i]] += z * z;
                for (int j = 0; j <= k; j++) {
                    zd[group[i]][j] += z * (j < k ? design[i][j] : y[i]);
                }
            }
            for (int i = 0; i < n; i++) {
                int g = group[i];
                double factor = zz[g] > 0 ? (1 - 1 / Math.sqrt(1 + ratio * ratio * zz[g])) / zz[g] : 0;
                for (int j = 0; j <= k; j++) {
                    double value = j < k ? design[i][j] : y[i];
                    out[i][j] = value - factor * design[i][0] * zd[g][j];
                }
            }
            return out;
        }

        private double logDeterminant(double[][] design, double ratio) {
            double[] zz = new double[groups];
            for (int i = 0; i < design.length; i++) {
                zz[group[i]] += design[i][0] * design[i][0];
            }
            double sum = 0;
            for (double each : zz) {
                sum += Math.log1p(ratio * ratio * each);
            }
            return sum;
        }

        MixedAsymptoticFit result(double logRate, double ratio) {
            Inner inner = at(logRate, ratio);
            double rate = Math.exp(logRate);
            int n = x.length;
            double[][] design = new double[n][3];
            for (int i = 0; i < n; i++) {
                double decay = Math.exp(-rate * x[i]);
                design[i][0] = 1 - decay;
                design[i][1] = decay;
                // derivative by the log rate, taken at the mean asymptote
                design[i][2] = (inner.r - inner.a) * decay * -rate * x[i];
            }
            double[][] solved = whiten(design, ratio);
            Symmetric factor = Symmetric.of(solvedNormal(solved));
            if (factor == null) {
                throw new IllegalArgumentException("x, y: the three parameters cannot be told apart");
            }
            double[][] inverse = factor.inverse();
            double scale = inner.sigmaSquared * n / (n - 3.0);
            double sigma = Math.sqrt(inner.sigmaSquared);
            return new MixedAsymptoticFit(
                    inner.a,
                    inner.r,
                    logRate,
                    Math.sqrt(scale * inverse[0][0]),
                    Math.sqrt(scale * inverse[1][1]),
                    Math.sqrt(scale * inverse[2][2]),
                    ratio * sigma,
                    sigma,
                    inner.logLikelihood,
                    groups);
        }

        /** XᵀX of all columns but the last. */
        private static double[][] solvedNormal(double[][] rows) {
            int k = rows[0].length - 1;
            double[][] normal = new double[k][k];
            for (double[] row : rows) {
                for (int a = 0; a < k; a++) {
                    for (int b = 0; b < k; b++) {
                        normal[a][b] += row[a] * row[b];
                    }
                }
            }
            return normal;
        }
    }
}
