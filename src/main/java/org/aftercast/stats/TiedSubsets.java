package org.aftercast.stats;

/**
 * Sums over all subsets of d subjects of a risk set, weighted by the product of their risks: what the exact treatment of
 * ties needs (key {@code cox1972}). Built subject by subject, so that no subset is ever listed.
 */
final class TiedSubsets {

    private final int deaths;
    /** By size of subset 0 … d: sum of weights, of weight times Σx, and of weight times Σx·Σxᵀ. */
    private final double[] zero;

    private final double[][] one;
    private final double[][][] two;

    TiedSubsets(int deaths, int terms) {
        this.deaths = deaths;
        zero = new double[deaths + 1];
        one = new double[deaths + 1][terms];
        two = new double[deaths + 1][terms][terms];
        zero[0] = 1;
    }

    void add(double[] x, double risk) {
        for (int m = deaths; m > 0; m--) {
            double[][] below = two[m - 1];
            for (int a = 0; a < x.length; a++) {
                for (int b = 0; b <= a; b++) {
                    two[m][a][b] += risk
                            * (below[a][b] + x[a] * one[m - 1][b] + x[b] * one[m - 1][a] + x[a] * x[b] * zero[m - 1]);
                }
            }
            for (int a = 0; a < x.length; a++) {
                one[m][a] += risk * (one[m - 1][a] + x[a] * zero[m - 1]);
            }
            zero[m] += risk * zero[m - 1];
        }
    }

    double logWeight() {
        return Math.log(zero[deaths]);
    }

    /** Mean over subsets of the sum of a column. */
    double mean(int a) {
        return one[deaths][a] / zero[deaths];
    }

    /** Covariance over subsets of the sums of two columns, b ≤ a. */
    double covariance(int a, int b) {
        return two[deaths][a][b] / zero[deaths] - mean(a) * mean(b);
    }
}
