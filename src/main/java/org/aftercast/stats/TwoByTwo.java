package org.aftercast.stats;

import org.hipparchus.special.Gamma;

/**
 * Two groups, one yes/no outcome.
 *
 * @param x1 events in the first group, 0–n1
 * @param n1 subjects in the first group, ≥ 1
 * @param x2 events in the second group, 0–n2
 * @param n2 subjects in the second group, ≥ 1
 */
public record TwoByTwo(int x1, int n1, int x2, int n2) {

    private static final double TIES = 1 + 1e-7;
    private static final int GRID = 512;

    public TwoByTwo {
        if (n1 < 1 || n2 < 1 || x1 < 0 || x1 > n1 || x2 < 0 || x2 > n2) {
            throw new IllegalArgumentException(
                    "counts: " + x1 + "/" + n1 + " and " + x2 + "/" + n2 + " need 0 ≤ x ≤ n and n ≥ 1");
        }
    }

    /** Fisher's exact test, two-sided: all tables with the same margins at most as probable (key {@code fisher1935}). */
    public double fisher() {
        double[] p = hypergeometric();
        double observed = p[x1 - lowest()];
        double sum = 0;
        for (double each : p) {
            sum += each <= observed * TIES ? each : 0;
        }
        return Math.min(1, sum);
    }

    /** Fisher's exact test, one-sided: at least so many events in the first group. */
    public double fisherGreater() {
        return tail(hypergeometric(), x1 - lowest(), hypergeometric().length - 1);
    }

    /** Fisher's exact test, one-sided: at most so many events in the first group. */
    public double fisherLess() {
        return tail(hypergeometric(), 0, x1 - lowest());
    }

    /**
     * The odds ratio that makes the observed table the most probable one, given its margins; 0 or +∞ at the ends of the
     * range, where nothing finite does.
     */
    public double conditionalOddsRatio() {
        double[] logP = logHypergeometric();
        int low = lowest();
        if (logP.length == 1) {
            throw new IllegalArgumentException("counts: with these margins only one table is possible");
        }
        if (x1 == low) {
            return 0;
        }
        if (x1 == low + logP.length - 1) {
            return Double.POSITIVE_INFINITY;
        }
        return Math.exp(Roots.between(
                logOdds -> {
                    double most = Double.NEGATIVE_INFINITY;
                    for (int i = 0; i < logP.length; i++) {
                        most = Math.max(most, logP[i] + i * logOdds);
                    }
                    double sum = 0;
                    double weighted = 0;
                    for (int i = 0; i < logP.length; i++) {
                        double w = Math.exp(logP[i] + i * logOdds - most);
                        sum += w;
                        weighted += w * (low + i);
                    }
                    return weighted / sum - x1;
                },
                -100,
                100));
    }

    /**
     * Boschloo's test, two-sided: twice the smaller one-sided value; each orders all tables by Fisher's one-sided p and
     * takes the largest probability over the common share (key {@code boschloo1970}).
     */
    public double boschloo() {
        double[][] greater = new double[n1 + 1][n2 + 1];
        double[][] less = new double[n1 + 1][n2 + 1];
        for (int i = 0; i <= n1; i++) {
            for (int j = 0; j <= n2; j++) {
                TwoByTwo table = new TwoByTwo(i, n1, j, n2);
                double[] p = table.hypergeometric();
                greater[i][j] = -tail(p, i - table.lowest(), p.length - 1);
                less[i][j] = -tail(p, 0, i - table.lowest());
            }
        }
        return Math.min(1, 2 * Math.min(largest(greater), largest(less)));
    }

    /**
     * Barnard's test, two-sided: orders all tables by the pooled-variance difference |z| and takes the largest
     * probability over the common share (key {@code barnard1945}).
     */
    public double barnard() {
        double[][] z = new double[n1 + 1][n2 + 1];
        for (int i = 0; i <= n1; i++) {
            for (int j = 0; j <= n2; j++) {
                double pooled = (double) (i + j) / (n1 + n2);
                double variance = pooled * (1 - pooled) * (1.0 / n1 + 1.0 / n2);
                z[i][j] = variance > 0 ? Math.abs((double) i / n1 - (double) j / n2) / Math.sqrt(variance) : 0;
            }
        }
        return Math.min(1, largest(z));
    }

    /**
     * Interval of the difference of shares x1/n1 − x2/n2 from the two Wilson intervals (key {@code newcombe1998b}).
     */
    public Interval difference(double level) {
        Interval first = BinomialInterval.WILSON.of(x1, n1, level);
        Interval second = BinomialInterval.WILSON.of(x2, n2, level);
        double p1 = (double) x1 / n1;
        double p2 = (double) x2 / n2;
        return new Interval(
                p1 - p2 - Math.hypot(p1 - first.low(), second.high() - p2),
                p1 - p2 + Math.hypot(first.high() - p1, p2 - second.low()));
    }

    private int lowest() {
        return Math.max(0, x1 + x2 - n2);
    }

    private double[] logHypergeometric() {
        int m = x1 + x2;
        int low = lowest();
        int high = Math.min(n1, m);
        double[] p = new double[high - low + 1];
        double all = logChoose(n1 + n2, m);
        for (int i = low; i <= high; i++) {
            p[i - low] = logChoose(n1, i) + logChoose(n2, m - i) - all;
        }
        return p;
    }

    private double[] hypergeometric() {
        double[] p = logHypergeometric();
        for (int i = 0; i < p.length; i++) {
            p[i] = Math.exp(p[i]);
        }
        return p;
    }

    private static double tail(double[] p, int from, int to) {
        double sum = 0;
        for (int i = from; i <= to; i++) {
            sum += p[i];
        }
        return Math.min(1, sum);
    }

    /** Largest probability, over the common share, of tables at least as extreme as the observed one. */
    private double largest(double[][] extremity) {
        double observed = extremity[x1][x2];
        double edge = observed - Math.abs(observed) * 1e-9;
        boolean[][] in = new boolean[n1 + 1][n2 + 1];
        for (int i = 0; i <= n1; i++) {
            for (int j = 0; j <= n2; j++) {
                in[i][j] = extremity[i][j] >= edge;
            }
        }
        double best = 0;
        double at = 0.5;
        for (int g = 1; g < GRID; g++) {
            double value = mass(in, (double) g / GRID);
            if (value > best) {
                best = value;
                at = (double) g / GRID;
            }
        }
        // golden section around the best grid point
        double low = at - 1.0 / GRID;
        double high = at + 1.0 / GRID;
        double ratio = (Math.sqrt(5) - 1) / 2;
        for (int step = 0; step < 40; step++) {
            double left = high - ratio * (high - low);
            double right = low + ratio * (high - low);
            double atLeft = mass(in, left);
            double atRight = mass(in, right);
            best = Math.max(best, Math.max(atLeft, atRight));
            if (atLeft >= atRight) {
                high = right;
            } else {
                low = left;
            }
        }
        return best;
    }

    private double mass(boolean[][] in, double p) {
        double[] first = Binomial.probabilities(n1, p);
        double[] second = Binomial.probabilities(n2, p);
        double sum = 0;
        for (int i = 0; i <= n1; i++) {
            for (int j = 0; j <= n2; j++) {
                sum += in[i][j] ? first[i] * second[j] : 0;
            }
        }
        return sum;
    }

    private static double logChoose(int n, int k) {
        return Gamma.logGamma(n + 1.0) - Gamma.logGamma(k + 1.0) - Gamma.logGamma(n - k + 1.0);
    }
}
