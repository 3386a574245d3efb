package org.aftercast.stats;

/**
 * Results of several imputations put together (key {@code rubin1987}; degrees of freedom of {@code barnard1999}).
 *
 * @param mean of the estimates
 * @param within mean of their variances
 * @param between variance of the estimates
 * @param total within + (1 + 1/m)·between
 * @param degreesOfFreedom of the t interval
 */
public record RubinPooling(double mean, double within, double between, double total, double degreesOfFreedom) {

    /**
     * Pools.
     *
     * @param estimates one per imputation, at least two
     * @param variances of each, ≥ 0
     * @param completeDegreesOfFreedom degrees of freedom the complete data would have; +∞ for a large sample
     */
    public static RubinPooling of(double[] estimates, double[] variances, double completeDegreesOfFreedom) {
        int m = estimates.length;
        if (m < 2 || variances.length != m) {
            throw new IllegalArgumentException("estimates: " + m + " with " + variances.length + " variances");
        }
        double mean = 0;
        double within = 0;
        for (int i = 0; i < m; i++) {
            mean += estimates[i] / m;
            within += variances[i] / m;
        }
        double between = 0;
        for (double estimate : estimates) {
            between += (estimate - mean) * (estimate - mean) / (m - 1);
        }
        double added = (1 + 1.0 / m) * between;
        double total = within + added;
        double old = added > 0 ? (m - 1) * (total / added) * (total / added) : Double.POSITIVE_INFINITY;
        double df = old;
        if (!Double.isInfinite(completeDegreesOfFreedom)) {
            double c = completeDegreesOfFreedom;
            double observed = (c + 1) / (c + 3) * c * (total > 0 ? within / total : 1);
            df = Double.isInfinite(old) ? observed : old * observed / (old + observed);
        }
        return new RubinPooling(mean, within, between, total, df);
    }
}
