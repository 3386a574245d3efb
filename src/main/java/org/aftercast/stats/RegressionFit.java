package org.aftercast.stats;

import org.jspecify.annotations.Nullable;

/**
 * A fitted regression.
 *
 * @param coefficients in the order of the columns
 * @param se standard errors from the inverse information (without the penalty's curvature)
 * @param covariance inverse information
 * @param logLikelihood ordinary log-likelihood at the estimate
 * @param penalisedLogLikelihood with the penalty, equal to it when there is none
 * @param limits profile limits of each coefficient; an infinite limit means that the likelihood does not fall off on
 *     that side; null when not asked for
 */
public record RegressionFit(
        double[] coefficients,
        double[] se,
        double[][] covariance,
        double logLikelihood,
        double penalisedLogLikelihood,
        Interval @Nullable [] limits) {

    /** Thrown when there is no finite or no single best value. */
    public static final class NotFitted extends Exception {

        private static final long serialVersionUID = 1L;
        private final Cause why;

        NotFitted(Cause why) {
            super(why.words);
            this.why = why;
        }

        /** Why. */
        public Cause why() {
            return why;
        }
    }

    /** Why there is no fit. */
    public enum Cause {
        /** Two or more columns say the same, or one is constant. */
        COLUMNS_NOT_DISTINCT("the columns cannot be told apart: one is constant or follows from the others"),
        /** A column or a sum of columns parts the events from the rest: the estimate is infinite. */
        SEPARATED("the columns part the events from the rest completely, so that the estimate is infinite"),
        /** The steps did not settle. */
        NOT_SETTLED("the search for the best value did not settle");

        private final String words;

        Cause(String words) {
            this.words = words;
        }
    }
}
