package org.aftercast.stats;

import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresOptimizer.Optimum;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.util.Pair;

/**
 * Nonlinear least squares by Levenberg–Marquardt (Hipparchus): minimises Σ (y[i] − f(x[i]; p))².
 *
 * <p>Derivatives are central differences with step ∛ε·max(|p|, {@code typical}). Standard errors come from s²(JᵀJ)⁻¹
 * with s² = RSS/(n − p).
 */
public final class LeastSquaresFit {

    private LeastSquaresFit() {}

    /** The curve. */
    @FunctionalInterface
    public interface Curve {
        /** Value at {@code x} for parameters {@code p}. */
        double at(double x, double[] p);
    }

    /**
     * What was found.
     *
     * @param parameters best values, in the order of the start values
     * @param standardErrors of the parameters; {@code NaN} where n equals the number of parameters
     * @param residualSumOfSquares squared units of y
     * @param residuals y − f, in the order of the data
     */
    public record Fit(double[] parameters, double[] standardErrors, double residualSumOfSquares, double[] residuals) {}

    /** Thrown when the search does not settle or the parameters cannot be told apart. */
    public static final class NotFitted extends Exception {
        private static final long serialVersionUID = 1L;

        NotFitted(String message, Throwable cause) {
            super(message, cause);
        }
    }

    /**
     * Fits a curve.
     *
     * @param x abscissae, finite
     * @param y ordinates, finite, as many as x
     * @param curve f
     * @param start start values, finite
     * @param typical size of each parameter, &gt; 0: sets the step of the derivative when the parameter is near 0
     * @throws NotFitted if 1000 steps do not settle it or the derivatives are singular
     * @throws IllegalArgumentException if lengths differ or there are fewer points than parameters
     */
    public static Fit fit(double[] x, double[] y, Curve curve, double[] start, double[] typical) throws NotFitted {
        int n = x.length;
        int k = start.length;
        if (y.length != n || typical.length != k || n < k || k == 0) {
            throw new IllegalArgumentException("x, y, start, typical: lengths " + n + ", " + y.length + ", " + k + ", "
                    + typical.length + " must be n, n, p, p with n ≥ p ≥ 1");
        }
        for (int i = 0; i < n; i++) {
            if (!Double.isFinite(x[i]) || !Double.isFinite(y[i])) {
                throw new IllegalArgumentException("x, y: point " + i + " is not finite");
            }
        }
        double epsilon = Math.cbrt(Math.ulp(1.0));
        Optimum optimum;
        RealMatrix covariance;
        try {
            optimum = new LevenbergMarquardtOptimizer()
                    .withCostRelativeTolerance(1e-14)
                    .withParameterRelativeTolerance(1e-12)
                    .optimize(new LeastSquaresBuilder()
                            .start(start)
                            .target(y)
                            .model(p -> valueAndSlope(x, curve, p.toArray(), typical, epsilon))
                            .maxEvaluations(5000)
                            .maxIterations(1000)
                            .lazyEvaluation(false)
                            .build());
            covariance = optimum.getCovariances(1e-14);
        } catch (MathRuntimeException failure) {
            throw new NotFitted("the curve could not be fitted: " + failure.getMessage(), failure);
        }
        double[] parameters = optimum.getPoint().toArray();
        double[] residuals = new double[n];
        double rss = 0;
        for (int i = 0; i < n; i++) {
            residuals[i] = y[i] - curve.at(x[i], parameters);
            rss += residuals[i] * residuals[i];
        }
        double[] errors = new double[k];
        for (int j = 0; j < k; j++) {
            errors[j] = n > k ? Math.sqrt(covariance.getEntry(j, j) * rss / (n - k)) : Double.NaN;
        }
        return new Fit(parameters, errors, rss, residuals);
    }

    /**
     * Akaike's criterion with the small-sample correction, for normal errors of unknown variance: n ln(RSS/n) + 2K +
     * 2K(K+1)/(n−K−1), where K counts the curve's parameters and the variance.
     *
     * @param residualSumOfSquares ≥ 0
     * @param n number of points
     * @param curveParameters number of parameters of the curve
     * @return smaller is better; infinite when n ≤ K + 1
     */
    public static double correctedAkaike(double residualSumOfSquares, int n, int curveParameters) {
        double k = curveParameters + 1.0;
        if (n <= k + 1) {
            return Double.POSITIVE_INFINITY;
        }
        return n * Math.log(Math.max(residualSumOfSquares, Double.MIN_NORMAL) / n)
                + 2 * k
                + 2 * k * (k + 1) / (n - k - 1);
    }

    private static Pair<RealVector, RealMatrix> valueAndSlope(
            double[] x, Curve curve, double[] p, double[] typical, double epsilon) {
        double[] value = new double[x.length];
        double[][] slope = new double[x.length][p.length];
        for (int i = 0; i < x.length; i++) {
            value[i] = curve.at(x[i], p);
        }
        for (int j = 0; j < p.length; j++) {
            double step = epsilon * Math.max(Math.abs(p[j]), typical[j]);
            double[] up = p.clone();
            double[] down = p.clone();
            up[j] += step;
            down[j] -= step;
            for (int i = 0; i < x.length; i++) {
                slope[i][j] = (curve.at(x[i], up) - curve.at(x[i], down)) / (up[j] - down[j]);
            }
        }
        return new Pair<>(new ArrayRealVector(value, false), new Array2DRowRealMatrix(slope, false));
    }
}
