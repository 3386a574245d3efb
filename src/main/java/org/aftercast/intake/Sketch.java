package org.aftercast.intake;

/** The course of a channel in few characters, without knowing its length beforehand: shares double when they run out. */
final class Sketch {

    private static final int MOST_SHARES = 120;
    private static final int CHARACTERS = 60;
    private static final String LEVELS = "▁▂▃▄▅▆▇█";

    private final double[] sum = new double[MOST_SHARES];
    private final long[] present = new long[MOST_SHARES];
    private int share;
    private long inShare;
    private long perShare = 1;

    void accept(float[] values, int count) {
        for (int i = 0; i < count; i++) {
            if (inShare == perShare) {
                next();
            }
            inShare++;
            float v = values[i];
            if (!Float.isNaN(v)) {
                sum[share] += v;
                present[share]++;
            }
        }
    }

    private void next() {
        inShare = 0;
        share++;
        if (share < MOST_SHARES) {
            return;
        }
        for (int s = 0; s < MOST_SHARES / 2; s++) {
            sum[s] = sum[2 * s] + sum[2 * s + 1];
            present[s] = present[2 * s] + present[2 * s + 1];
        }
        for (int s = MOST_SHARES / 2; s < MOST_SHARES; s++) {
            sum[s] = 0;
            present[s] = 0;
        }
        share = MOST_SHARES / 2;
        perShare *= 2;
    }

    /** One character for each share of the rows, a blank where nothing is present. */
    String line() {
        int shares = share + 1;
        int joined = (shares + CHARACTERS - 1) / CHARACTERS;
        int n = (shares + joined - 1) / joined;
        double[] mean = new double[n];
        double least = Double.POSITIVE_INFINITY;
        double greatest = Double.NEGATIVE_INFINITY;
        for (int k = 0; k < n; k++) {
            double s = 0;
            long p = 0;
            for (int m = k * joined; m < Math.min(shares, (k + 1) * joined); m++) {
                s += sum[m];
                p += present[m];
            }
            mean[k] = p == 0 ? Double.NaN : s / p;
            if (p > 0) {
                least = Math.min(least, mean[k]);
                greatest = Math.max(greatest, mean[k]);
            }
        }
        StringBuilder line = new StringBuilder(n);
        for (double m : mean) {
            int level = greatest > least ? (int) Math.min(7, Math.floor(8 * (m - least) / (greatest - least))) : 3;
            line.append(Double.isNaN(m) ? ' ' : LEVELS.charAt(level));
        }
        return line.toString();
    }
}
