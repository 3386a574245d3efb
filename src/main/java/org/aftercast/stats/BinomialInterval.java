package org.aftercast.stats;

import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Intervals for a share from {@code deaths} among {@code n}.
 *
 * <p>Degenerate cases: at no events the lower limit is 0, at all events the upper limit is 1, whatever the kind.
 * Checked against Newcombe (1998), key {@code newcombe1998}.
 */
public enum BinomialInterval {
    /**
     * Exact, by inverting two one-sided binomial tests: from the α/2 quantile of Beta(x, n−x+1) to the 1−α/2 quantile
     * of Beta(x+1, n−x). Holds the truth at least as often as it says; key {@code clopper1934}.
     */
    CLOPPER_PEARSON("Clopper–Pearson") {
        @Override
        Interval limits(int x, int n, double alpha) {
            return new Interval(
                    x == 0 ? 0 : BetaLaw.quantile(alpha / 2, x, n - x + 1.0),
                    x == n ? 1 : BetaLaw.quantile(1 - alpha / 2, x + 1.0, n - x));
        }
    },
    /** Score interval: the p for which (x − np)² = z²·np(1−p); right on average; key {@code wilson1927}. */
    WILSON("Wilson") {
        @Override
        Interval limits(int x, int n, double alpha) {
            double z = new NormalDistribution().inverseCumulativeProbability(1 - alpha / 2);
            double centre = (x + z * z / 2) / (n + z * z);
            double half = z / (n + z * z) * Math.sqrt(x * (double) (n - x) / n + z * z / 4);
            return new Interval(x == 0 ? 0 : centre - half, x == n ? 1 : centre + half);
        }
    },
    /** Equal tails of the posterior Beta(x+½, n−x+½); right on average; key {@code brown2001}. */
    JEFFREYS("Jeffreys") {
        @Override
        Interval limits(int x, int n, double alpha) {
            return new Interval(
                    x == 0 ? 0 : BetaLaw.quantile(alpha / 2, x + 0.5, n - x + 0.5),
                    x == n ? 1 : BetaLaw.quantile(1 - alpha / 2, x + 0.5, n - x + 0.5));
        }
    },
    /**
     * As Clopper–Pearson, counting only half of the probability of the observed number: P(X&gt;x) + ½P(X=x) = α/2 for
     * the lower limit; right on average; key {@code newcombe1998}.
     */
    MID_P("mid-P") {
        @Override
        Interval limits(int x, int n, double alpha) {
            double low = x == 0 ? 0 : Roots.between(p -> midTail(n - x, n, 1 - p) - alpha / 2, 0, 1);
            double high = x == n ? 1 : Roots.between(p -> midTail(x, n, p) - alpha / 2, 0, 1);
            return new Interval(low, high);
        }

        /** P(X&lt;x) + ½P(X=x), X binomial. */
        private double midTail(int x, int n, double p) {
            double belowX = x == 0 ? 0 : 1 - BetaLaw.below(p, x, n - x + 1.0);
            double upToX = x == n ? 1 : 1 - BetaLaw.below(p, x + 1.0, n - x);
            return (belowX + upToX) / 2;
        }
    };

    private final String shownName;

    BinomialInterval(String shownName) {
        this.shownName = shownName;
    }

    /** The name under which it is printed. */
    public String shownName() {
        return shownName;
    }

    /**
     * The interval.
     *
     * @param x events, 0–n
     * @param n trials, ≥ 1
     * @param level wanted coverage, above 0 and below 1 (0.95)
     * @return within 0–1
     * @throws IllegalArgumentException if an argument is out of range
     */
    public Interval of(int x, int n, double level) {
        if (n < 1 || x < 0 || x > n) {
            throw new IllegalArgumentException("x: " + x + " of n: " + n + " needs 0 ≤ x ≤ n and n ≥ 1");
        }
        if (!(level > 0 && level < 1)) {
            throw new IllegalArgumentException("level: " + level + " is not between 0 and 1");
        }
        return limits(x, n, 1 - level);
    }

    abstract Interval limits(int x, int n, double alpha);

    /**
     * The largest share that no event among {@code n} leaves possible, one-sided: 1 − α^(1/n). At 95 % this is about
     * 3/n, the "rule of three"; key {@code hanley1983}.
     *
     * @param n trials, ≥ 1
     * @param level one-sided coverage (0.95)
     */
    public static double upperWhenNone(int n, double level) {
        if (n < 1 || !(level > 0 && level < 1)) {
            throw new IllegalArgumentException("n: " + n + " must be ≥ 1 and level: " + level + " between 0 and 1");
        }
        return -Math.expm1(Math.log1p(-level) / n);
    }
}
