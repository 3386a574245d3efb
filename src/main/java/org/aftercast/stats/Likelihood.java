package org.aftercast.stats;

/** A log-likelihood with the parts that Newton steps and Firth's penalty need. */
interface Likelihood {

    /** Number of parameters. */
    int size();

    /**
     * Everything at one point.
     *
     * @param beta parameters
     */
    Point at(double[] beta);

    /** Whether {@code beta} moves the linear predictor further than data of this size can tell from infinity. */
    boolean isFar(int column, double beta);

    /**
     * Value and derivatives.
     *
     * @param logLikelihood ordinary, without penalty
     * @param score its gradient
     * @param information expected or observed information, symmetric
     * @param penaltyScore gradient of ½·log det(information)
     */
    record Point(double logLikelihood, double[] score, double[][] information, double[] penaltyScore) {}
}
