package org.aftercast.stats;

import java.math.BigDecimal;
import org.hipparchus.distribution.continuous.NormalDistribution;

/** What a number of subjects can show, by adding up every possible outcome. */
public final class Planning {

    private static final int LARGEST = 5000;

    private Planning() {}

    /**
     * What an interval will look like.
     *
     * @param halfWidth expected half of the width, 0–½
     * @param coverage how often it will hold the truth, 0–1
     * @param none probability that there is no event at all
     */
    public record Precision(double halfWidth, double coverage, double none) {}

    /**
     * Expected half-width and coverage of an interval: Σ over x = 0 … n of P(x).
     *
     * @param kind interval
     * @param n subjects, ≥ 1
     * @param p true share, 0–1
     * @param level wanted coverage
     */
    public static Precision precision(BinomialInterval kind, int n, double p, double level) {
        double[] probability = Binomial.probabilities(n, p);
        double half = 0;
        double coverage = 0;
        for (int x = 0; x <= n; x++) {
            if (probability[x] < 1e-13) {
                continue;
            }
            Interval interval = kind.of(x, n, level);
            half += probability[x] * interval.width() / 2;
            // the limits are known to about 1e−12: a truth on a limit counts as held
            coverage += interval.low() <= p + 1e-12 && p - 1e-12 <= interval.high() ? probability[x] : 0;
        }
        return new Precision(half, Math.min(1, coverage), probability[0]);
    }

    /**
     * Least number of subjects for an expected half-width.
     *
     * @param wanted half-width, above 0
     * @return the least n ≥ 5 from which the expected half-width is at most {@code wanted}
     * @throws IllegalArgumentException if more than 5000 are needed
     */
    public static int subjectsForHalfWidth(BinomialInterval kind, double p, double wanted, double level) {
        int low = 4;
        int high = 8;
        while (precision(kind, high, p, level).halfWidth() > wanted) {
            low = high;
            high *= 2;
            if (high > LARGEST) {
                throw new IllegalArgumentException(
                        "halfWidth: " + BigDecimal.valueOf(wanted).toPlainString() + " needs more than " + LARGEST
                                + " animals; accepted: a wider one, such as 0.05 for ± 5 percentage points");
            }
        }
        while (high - low > 1) {
            int middle = (low + high) / 2;
            if (precision(kind, middle, p, level).halfWidth() > wanted) {
                low = middle;
            } else {
                high = middle;
            }
        }
        // the half-width falls almost, not strictly, with n: step back while the neighbour does as well
        while (high > 5 && precision(kind, high - 1, p, level).halfWidth() <= wanted) {
            high--;
        }
        return high;
    }

    /**
     * Power of Fisher's exact test, two-sided: probability, over all outcomes, that p ≤ alpha.
     *
     * @param n1 subjects in the first group, ≥ 1
     * @param n2 subjects in the second group, ≥ 1
     */
    public static double fisherPower(int n1, int n2, double p1, double p2, double alpha) {
        double[] first = Binomial.probabilities(n1, p1);
        double[] second = Binomial.probabilities(n2, p2);
        double power = 0;
        for (int x1 = 0; x1 <= n1; x1++) {
            for (int x2 = 0; x2 <= n2; x2++) {
                double weight = first[x1] * second[x2];
                if (weight > 1e-12 && new TwoByTwo(x1, n1, x2, n2).fisher() <= alpha) {
                    power += weight;
                }
            }
        }
        return power;
    }

    /** Least equal group size, in steps of one, at which Fisher's test has this power; at most 1000 a group. */
    public static int subjectsForPower(double p1, double p2, double alpha, double power) {
        int low = 1;
        int high = 8;
        while (fisherPower(high, high, p1, p2, alpha) < power) {
            low = high;
            high *= 2;
            if (high > 1024) {
                throw new IllegalArgumentException(
                        "p1, p2: to tell " + p1 + " from " + p2 + " needs more than 1000 subjects a group");
            }
        }
        while (high - low > 1) {
            int middle = (low + high) / 2;
            if (fisherPower(middle, middle, p1, p2, alpha) < power) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }

    /**
     * Least number of subjects for a half-width by the normal formula z²·p(1 − p)/w² (Wald), rounded up; for comparison
     * with handbooks only: its interval holds the truth too rarely where events are few.
     */
    public static int normalSubjectsForHalfWidth(double p, double wanted, double level) {
        double z = new NormalDistribution().inverseCumulativeProbability((1 + level) / 2);
        return (int) Math.ceil(z * z * p * (1 - p) / (wanted * wanted));
    }

    /**
     * Size of each of two groups by the normal formula, unequal variances pooled under the null hypothesis; for
     * comparison with tables only: too small where events are few.
     */
    public static double normalFormula(double p1, double p2, double alpha, double power) {
        NormalDistribution normal = new NormalDistribution();
        double za = normal.inverseCumulativeProbability(1 - alpha / 2);
        double zb = normal.inverseCumulativeProbability(power);
        double mean = (p1 + p2) / 2;
        double root = za * Math.sqrt(2 * mean * (1 - mean)) + zb * Math.sqrt(p1 * (1 - p1) + p2 * (1 - p2));
        return root * root / ((p1 - p2) * (p1 - p2));
    }

    /**
     * How many to deploy so that at least {@code wanted} come back with this assurance, each coming back with
     * probability {@code back}, independently.
     */
    public static int deployFor(int wanted, double back, double assurance) {
        if (wanted < 1 || !(back > 0 && back <= 1) || !(assurance > 0 && assurance < 1)) {
            throw new IllegalArgumentException("wanted: " + wanted + ", back: " + back + ", assurance: " + assurance
                    + " need wanted ≥ 1, 0 < back ≤ 1 and 0 < assurance < 1");
        }
        int n = wanted;
        while (Binomial.atLeast(wanted, n, back) < assurance) {
            n++;
        }
        return n;
    }

    /** How many subjects to see at least one event with this assurance: ⌈ln(1 − assurance)/ln(1 − p)⌉. */
    public static int subjectsToSeeOne(double p, double assurance) {
        if (!(p > 0 && p < 1) || !(assurance > 0 && assurance < 1)) {
            throw new IllegalArgumentException("p: " + p + " and assurance: " + assurance + " must be between 0 and 1");
        }
        return (int) Math.ceil(Math.log1p(-assurance) / Math.log1p(-p));
    }
}
