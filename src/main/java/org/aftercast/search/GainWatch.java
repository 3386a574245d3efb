package org.aftercast.search;

/**
 * Whether the receiver changes its gain by itself: then the noise, away from the pings' pitch, changes with the time since the
 * last ping. Noise and engine know nothing of the pings.
 */
final class GainWatch {

    private static final double[] EDGES_S = {0.03, 0.06, 0.1, 0.16, 0.25, 0.4, 0.65, 1.0, 1.5, 2.2};
    private static final double AWAY_HZ = 250;
    private static final double LEAST_DB = 1.0;
    private static final double LEAST_STANDARD_ERRORS = 6;

    private GainWatch() {}

    /**
     * How much the noise changes with the time since the ping, in dB; 0 when it cannot be told from none.
     *
     * @param found the pings
     * @param powers in short windows
     */
    static double changeDb(PingFold.Found found, PingFold.Powers powers) {
        int parts = EDGES_S.length - 1;
        double[] sum = new double[parts];
        double[] squares = new double[parts];
        int[] count = new int[parts];
        for (int t = 0; t < powers.windows(); t++) {
            double centre = (t * powers.hop() + powers.size() / 2.0) / powers.sampleRateHz();
            double since = (centre - found.centreS()) % found.periodS();
            since = since < 0 ? since + found.periodS() : since;
            if (since > found.periodS() - 0.035) {
                continue;
            }
            for (int part = 0; part < parts; part++) {
                if (since >= EDGES_S[part] && since < EDGES_S[part + 1]) {
                    double db = offPitchDb(found, powers, t);
                    sum[part] += db;
                    squares[part] += db * db;
                    count[part]++;
                }
            }
        }
        double change = 0;
        for (int a = 0; a < parts; a++) {
            for (int b = a + 1; b < parts; b++) {
                if (count[a] < 16 || count[b] < 16) {
                    continue;
                }
                double ma = sum[a] / count[a];
                double mb = sum[b] / count[b];
                // Windows a quarter apart overlap: about a third of them count as independent.
                double error = Math.sqrt(3
                        * ((squares[a] / count[a] - ma * ma) / count[a]
                                + (squares[b] / count[b] - mb * mb) / count[b]));
                if (Math.abs(mb - ma) > LEAST_STANDARD_ERRORS * error && Math.abs(mb - ma) > Math.abs(change)) {
                    change = mb - ma;
                }
            }
        }
        return Math.abs(change) >= LEAST_DB ? change : 0;
    }

    private static double offPitchDb(PingFold.Found found, PingFold.Powers powers, int t) {
        double sum = 0;
        int n = 0;
        for (int f = 0; f < powers.power().length; f++) {
            if (Math.abs(powers.lowHz() + f * powers.stepHz() - found.pitchHz()) > AWAY_HZ) {
                sum += powers.power()[f][t] / powers.noise()[f];
                n++;
            }
        }
        return 10 * Math.log10(Math.max(1e-12, sum / Math.max(1, n)));
    }
}
