package org.aftercast.stats;

/** Half the range of each column; 1 for a constant one. */
final class Spread {

    private Spread() {}

    static double[] of(double[][] x) {
        int k = x.length == 0 ? 0 : x[0].length;
        double[] spread = new double[k];
        for (int j = 0; j < k; j++) {
            double low = x[0][j];
            double high = x[0][j];
            for (double[] row : x) {
                low = Math.min(low, row[j]);
                high = Math.max(high, row[j]);
            }
            spread[j] = high > low ? (high - low) / 2 : 1;
        }
        return spread;
    }
}
