package org.aftercast.stats;

import java.util.ArrayList;
import java.util.List;

/**
 * The number of events among independent subjects that each have their own probability (key {@code hong2013}).
 *
 * @param probabilities P(K = 0) … P(K = n)
 */
public record PoissonBinomial(double[] probabilities) {

    /**
     * By adding one subject at a time; exact to rounding.
     *
     * @param p probability of each subject, 0–1
     */
    public static PoissonBinomial of(double[] p) {
        double[] f = new double[p.length + 1];
        f[0] = 1;
        for (int i = 0; i < p.length; i++) {
            if (!(p[i] >= 0 && p[i] <= 1)) {
                throw new IllegalArgumentException("p: subject " + i + " has " + p[i] + ", not 0–1");
            }
            for (int k = i + 1; k >= 0; k--) {
                f[k] = f[k] * (1 - p[i]) + (k > 0 ? f[k - 1] * p[i] : 0);
            }
        }
        return new PoissonBinomial(f);
    }

    /** Number of subjects. */
    public int size() {
        return probabilities.length - 1;
    }

    /** Expected number of events. */
    public double mean() {
        double sum = 0;
        for (int k = 0; k < probabilities.length; k++) {
            sum += k * probabilities[k];
        }
        return sum;
    }

    /** Variance of the number of events. */
    public double variance() {
        double mean = mean();
        double sum = 0;
        for (int k = 0; k < probabilities.length; k++) {
            sum += (k - mean) * (k - mean) * probabilities[k];
        }
        return sum;
    }

    /**
     * Equal-tailed interval of the share: the posterior Beta(k+a, n−k+a) for each possible number k, mixed by P(K = k).
     * With a = ½ the Jeffreys prior.
     *
     * @param prior a, above 0
     * @param level coverage (0.95)
     */
    public Interval mixture(double prior, double level) {
        return new Interval(quantile((1 - level) / 2, prior), quantile(1 - (1 - level) / 2, prior));
    }

    private double quantile(double p, double prior) {
        int n = size();
        List<Integer> possible = new ArrayList<>();
        double total = 0;
        for (int k = 0; k <= n; k++) {
            if (probabilities[k] > 1e-12) {
                possible.add(k);
                total += probabilities[k];
            }
        }
        double all = total;
        return Roots.between(
                x -> {
                    double sum = 0;
                    for (int k : possible) {
                        sum += probabilities[k] * BetaLaw.below(x, k + prior, n - k + prior);
                    }
                    return sum / all - p;
                },
                0,
                1);
    }
}
