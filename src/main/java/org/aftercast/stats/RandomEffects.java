package org.aftercast.stats;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * Estimates of several units put together, the units differing truly from each other.
 *
 * <p>y ~ N(μ, v + τ²). τ² by DerSimonian and Laird's moments or by restricted maximum likelihood (keys
 * {@code dersimonian1986}, {@code viechtbauer2005}); standard error from the weights, or Knapp and Hartung's with a t
 * interval (key {@code knapp2003}).
 *
 * @param mean μ
 * @param se standard error of μ
 * @param tauSquared variance between units, ≥ 0
 * @param q Cochran's statistic
 * @param iSquared share of the variation that is between units, 0–1
 * @param limits interval of μ
 * @param prediction interval for a new unit: mean ± quantile·√(se² + τ²)
 */
public record RandomEffects(
        double mean, double se, double tauSquared, double q, double iSquared, Interval limits, Interval prediction) {

    /** How the variance between units is found. */
    public enum Between {
        /** None: all units have the same truth. */
        FIXED,
        DERSIMONIAN_LAIRD,
        REML
    }

    /** How the standard error and its quantile are found. */
    public enum Errors {
        /** From the weights, normal quantile. */
        NORMAL,
        /** Knapp and Hartung: from the scatter, t quantile with one less than the number of units. */
        KNAPP_HARTUNG
    }

    /**
     * Puts estimates together.
     *
     * @param y estimates, at least two
     * @param v their variances, above 0
     * @param level coverage (0.95)
     */
    public static RandomEffects of(double[] y, double[] v, Between between, Errors errors, double level) {
        int k = y.length;
        if (k < 2 || v.length != k) {
            throw new IllegalArgumentException("y: " + k + " estimates with " + v.length + " variances; at least two");
        }
        for (int i = 0; i < k; i++) {
            if (!(v[i] > 0) || !Double.isFinite(y[i])) {
                throw new IllegalArgumentException("unit " + i + ": " + y[i] + " with variance " + v[i]);
            }
        }
        double fixed = weightedMean(y, v, 0);
        double q = 0;
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < k; i++) {
            q += (y[i] - fixed) * (y[i] - fixed) / v[i];
            sum += 1 / v[i];
            squares += 1 / (v[i] * v[i]);
        }
        double moments = Math.max(0, (q - (k - 1)) / (sum - squares / sum));
        double tau = switch (between) {
            case FIXED -> 0;
            case DERSIMONIAN_LAIRD -> moments;
            case REML -> reml(y, v, moments);
        };
        double mean = weightedMean(y, v, tau);
        double weights = 0;
        double scatter = 0;
        for (int i = 0; i < k; i++) {
            double w = 1 / (v[i] + tau);
            weights += w;
            scatter += w * (y[i] - mean) * (y[i] - mean);
        }
        double se = Math.sqrt(1 / weights);
        double quantile = new NormalDistribution().inverseCumulativeProbability(1 - (1 - level) / 2);
        if (errors == Errors.KNAPP_HARTUNG) {
            se *= Math.sqrt(scatter / (k - 1));
            quantile = new TDistribution(k - 1).inverseCumulativeProbability(1 - (1 - level) / 2);
        }
        double iSquared = q > 0 ? Math.max(0, (q - (k - 1)) / q) : 0;
        double ahead = Math.sqrt(se * se + tau);
        return new RandomEffects(
                mean,
                se,
                tau,
                q,
                iSquared,
                new Interval(mean - quantile * se, mean + quantile * se),
                new Interval(mean - quantile * ahead, mean + quantile * ahead));
    }

    private static double weightedMean(double[] y, double[] v, double tau) {
        double sum = 0;
        double weights = 0;
        for (int i = 0; i < y.length; i++) {
            sum += y[i] / (v[i] + tau);
            weights += 1 / (v[i] + tau);
        }
        return sum / weights;
    }

    /** The root of the restricted score in τ², or 0 where the likelihood falls from 0 on. */
    private static double reml(double[] y, double[] v, double start) {
        double high = Math.max(1e-12, start);
        for (int doubling = 0; remlScore(y, v, high) > 0; doubling++) {
            if (doubling > 200) {
                throw new IllegalArgumentException("y: the variance between units has no finite estimate");
            }
            high *= 2;
        }
        return remlScore(y, v, 0) <= 0 ? 0 : Roots.between(t -> remlScore(y, v, t), 0, high);
    }

    /** Twice the derivative of the restricted log-likelihood. */
    private static double remlScore(double[] y, double[] v, double tau) {
        double mean = weightedMean(y, v, tau);
        double one = 0;
        double two = 0;
        double fit = 0;
        for (int i = 0; i < y.length; i++) {
            double w = 1 / (v[i] + tau);
            one += w;
            two += w * w;
            fit += w * w * (y[i] - mean) * (y[i] - mean);
        }
        return fit - one + two / one;
    }
}
