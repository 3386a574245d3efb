package org.aftercast.stats;

import org.jspecify.annotations.Nullable;

/** Cholesky factor of a small symmetric positive definite matrix, scaled to unit diagonal first. */
final class Symmetric {

    private static final double SMALLEST_PIVOT = 1e-11;

    private final double[][] factor;
    private final double[] scale;

    private Symmetric(double[][] factor, double[] scale) {
        this.factor = factor;
        this.scale = scale;
    }

    /** The factor, or null when the matrix is singular to working precision or not finite. */
    static @Nullable Symmetric of(double[][] matrix) {
        int n = matrix.length;
        double[] scale = new double[n];
        double[][] l = new double[n][n];
        for (int i = 0; i < n; i++) {
            if (!(matrix[i][i] > 0) || Double.isInfinite(matrix[i][i])) {
                return null;
            }
            scale[i] = Math.sqrt(matrix[i][i]);
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = matrix[i][j] / (scale[i] * scale[j]);
                for (int k = 0; k < j; k++) {
                    sum -= l[i][k] * l[j][k];
                }
                if (i == j) {
                    if (!(sum > SMALLEST_PIVOT)) {
                        return null;
                    }
                    l[i][i] = Math.sqrt(sum);
                } else {
                    l[i][j] = sum / l[j][j];
                }
            }
        }
        return new Symmetric(l, scale);
    }

    double logDeterminant() {
        double sum = 0;
        for (int i = 0; i < scale.length; i++) {
            sum += 2 * Math.log(factor[i][i] * scale[i]);
        }
        return sum;
    }

    double[] solve(double[] right) {
        int n = scale.length;
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            double sum = right[i] / scale[i];
            for (int k = 0; k < i; k++) {
                sum -= factor[i][k] * x[k];
            }
            x[i] = sum / factor[i][i];
        }
        for (int i = n - 1; i >= 0; i--) {
            double sum = x[i];
            for (int k = i + 1; k < n; k++) {
                sum -= factor[k][i] * x[k];
            }
            x[i] = sum / factor[i][i];
        }
        for (int i = 0; i < n; i++) {
            x[i] /= scale[i];
        }
        return x;
    }

    double[][] inverse() {
        int n = scale.length;
        double[][] inverse = new double[n][];
        for (int i = 0; i < n; i++) {
            double[] unit = new double[n];
            unit[i] = 1;
            inverse[i] = solve(unit);
        }
        return inverse;
    }
}
