package org.aftercast.behaviour;

import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.SingularValueDecomposition;

/**
 * Takes the tide out of the depth of something that lies on the bottom: least squares of a level, one semidiurnal
 * (12.4206 h) and one diurnal term (24.8412 h). Finer constituents cannot be told apart in one to three days.
 *
 * <p>In stretches shorter than half a semidiurnal period a straight line is taken instead: sines over a fraction of their
 * period would follow anything.
 */
final class Tide {

    static final double SEMIDIURNAL_H = 12.4206;

    private Tide() {}

    /**
     * Standard deviation of depth about the tide.
     *
     * @param depthM depths, {@code NaN} allowed
     * @param stepS seconds between them
     * @return m; {@code NaN} for fewer than 8 depths
     */
    static double residualSpreadM(double[] depthM, double stepS) {
        int[] known = new int[depthM.length];
        int n = 0;
        for (int i = 0; i < depthM.length; i++) {
            if (!Double.isNaN(depthM[i])) {
                known[n++] = i;
            }
        }
        if (n < 8) {
            return Double.NaN;
        }
        double hours = (known[n - 1] - known[0]) * stepS / 3600;
        int columns = hours < SEMIDIURNAL_H / 2 ? 2 : hours < 2 * SEMIDIURNAL_H ? 3 : 5;
        double[][] a = new double[n][columns];
        double[] y = new double[n];
        for (int r = 0; r < n; r++) {
            double t = known[r] * stepS / 3600;
            y[r] = depthM[known[r]];
            a[r][0] = 1;
            if (columns == 2) {
                a[r][1] = (known[r] - known[0]) / (double) Math.max(1, known[n - 1] - known[0]);
            } else {
                for (int c = 1; c < columns; c += 2) {
                    double w = 2 * Math.PI / (SEMIDIURNAL_H * (c == 1 ? 1 : 2));
                    a[r][c] = Math.cos(w * t);
                    a[r][c + 1] = Math.sin(w * t);
                }
            }
        }
        double[] fitted = y.clone();
        Array2DRowRealMatrix design = new Array2DRowRealMatrix(a, false);
        double[] b = new SingularValueDecomposition(design.transposeMultiply(design))
                .getSolver()
                .solve(new ArrayRealVector(design.preMultiply(y)))
                .toArray();
        double squares = 0;
        double[] model = design.operate(b);
        for (int r = 0; r < n; r++) {
            fitted[r] = y[r] - model[r];
            squares += fitted[r] * fitted[r];
        }
        double spread = Math.sqrt(squares / n);
        return spread;
    }
}
