package org.aftercast.behaviour;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Slow plain twin of the weights of the recovery time. With normal priors the means are jointly normal, so that nothing has
 * to be fitted: their covariance is noise + departure² g gᵀ + rhythm² (c cᵀ + s sᵀ), with and without the rhythm, + a wide
 * term for the level, and the weight of a time is that density, summed over shapes, noise sizes and autocorrelations. The
 * odds of a return are the mean of that weight over the times against the same without departure. Dense algebra, no
 * whitening, a wider and finer grid of noise sizes.
 */
class CurveFitsTwinTest {

    private static final int N = 24;
    private static final double STEP_H = 0.5;
    private static final double SHARE = 0.8;
    private static final double DIEL = 0.05;
    private static final double DEPARTURE = 0.5;
    private static final double[] RHO = {0, 0.15, 0.3, 0.45, 0.6, 0.7, 0.8, 0.87, 0.92, 0.96};

    /** The part of 0–1 that is nearest to each, by hand. */
    private static final double[] RHO_CELL = {0.075, 0.15, 0.15, 0.15, 0.125, 0.1, 0.085, 0.06, 0.045, 0.06};

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void quantilesAgreeWithTheDenseNormalDensity(long seed) {
        Random random = new Random(seed);
        double[] t = new double[N];
        double[] y = new double[N];
        double e = random.nextGaussian();
        for (int i = 0; i < N; i++) {
            t[i] = (i + 0.5) * STEP_H;
            e = 0.5 * e + Math.sqrt(0.75) * random.nextGaussian();
            y[i] = 1 + 0.3 * Math.pow(0.2, t[i] / (1.5 + seed)) + 0.03 * e;
        }
        CurveFits fits = new CurveFits(t, y, STEP_H, SHARE, DIEL, DEPARTURE);
        double level = 0;
        for (double v : y) {
            level += v / N;
        }
        double low = Math.log(STEP_H);
        double high = Math.log(8 * t[N - 1]);
        int scales = CurveFits.SCALES;
        double[] weight = new double[scales];
        double top = Double.NEGATIVE_INFINITY;
        double[][] logs = new double[scales][];
        for (int k = 0; k < scales; k++) {
            double time = Math.exp(low + (high - low) * k / (scales - 1));
            logs[k] = logs(t, y, level, time);
            for (double v : logs[k]) {
                top = Math.max(top, v);
            }
        }
        double all = 0;
        for (int k = 0; k < scales; k++) {
            for (double v : logs[k]) {
                weight[k] += Math.exp(v - top);
            }
            all += weight[k];
        }
        for (double q : new double[] {0.025, 0.05, 0.5, 0.95}) {
            double sum = 0;
            int k = 0;
            while (sum + weight[k] < q * all) {
                sum += weight[k++];
            }
            double part = (q * all - sum) / weight[k];
            double expected = low + (high - low) / (scales - 1) * (k + part - 0.5);
            assertThat(Math.log(fits.quantileH(q))).as("q = %s", q).isCloseTo(expected, within(0.02));
        }
        double[] none = new double[N];
        double stays = 0;
        for (double v : logs(t, y, level, new double[][] {none}, new double[] {1})) {
            stays += Math.exp(v - top);
        }
        assertThat(fits.evidence()).isCloseTo(Math.log(all / scales / stays), within(0.03));
    }

    /** Log densities of the means at one time to recovery: one value a shape, autocorrelation and noise size. */
    private static double[] logs(double[] t, double[] y, double level, double time) {
        double[][] shapes = {
            shape(RecoveryCurve.EXPONENTIAL, t, time, 0),
            shape(RecoveryCurve.BREAKPOINT, t, time, 0),
            shape(RecoveryCurve.LOGISTIC, t, time, 3),
            shape(RecoveryCurve.LOGISTIC, t, time, 6),
            shape(RecoveryCurve.LOGISTIC, t, time, 12)
        };
        return logs(t, y, level, shapes, new double[] {0.8, 0.1, 0.1 / 3, 0.1 / 3, 0.1 / 3});
    }

    private static double[] logs(double[] t, double[] y, double level, double[][] shapes, double[] prior) {
        int sizes = 25;
        double[] out = new double[shapes.length * RHO.length * sizes * 2];
        int at = 0;
        for (int s = 0; s < shapes.length; s++) {
            for (int r = 0; r < RHO.length; r++) {
                for (int q = 0; q < sizes; q++) {
                    double sigma = 0.005 * Math.exp(4.5 * q / (sizes - 1));
                    for (double diel : new double[] {0, DIEL}) {
                        out[at++] = Math.log(prior[s] * RHO_CELL[r])
                                + density(t, y, level, shapes[s], RHO[r], sigma, diel * level);
                    }
                }
            }
        }
        return out;
    }

    private static double[] shape(RecoveryCurve curve, double[] t, double time, double steep) {
        double[] g = new double[t.length];
        for (int i = 0; i < g.length; i++) {
            g[i] = CurveFits.shape(curve, t[i], time, steep, SHARE);
        }
        return g;
    }

    private static double density(
            double[] t, double[] y, double level, double[] g, double rho, double sigma, double diel) {
        double departure = DEPARTURE * level;
        RealMatrix c = MatrixUtils.createRealMatrix(N, N);
        for (int i = 0; i < N; i++) {
            for (int j = 0; j < N; j++) {
                double noise = i == j ? 1 : Math.pow(rho, Math.abs(i - j));
                c.setEntry(
                        i,
                        j,
                        sigma * sigma * noise
                                + departure * departure * g[i] * g[j]
                                + diel * diel * Math.cos(2 * Math.PI * (t[i] - t[j]) / 24)
                                + 1e4);
            }
        }
        CholeskyDecomposition root = new CholeskyDecomposition(c, 1e-9, 1e-12);
        double[] solved =
                root.getSolver().solve(MatrixUtils.createRealVector(y)).toArray();
        double quadratic = 0;
        double log = 0;
        for (int i = 0; i < N; i++) {
            quadratic += y[i] * solved[i];
            log += 2 * Math.log(root.getL().getEntry(i, i));
        }
        return -0.5 * (quadratic + log);
    }
}
