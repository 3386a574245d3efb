package org.aftercast.stats;

/**
 * Averages over a small declared set of models by AICc weights (key {@code burnham2002}).
 *
 * <p>AICc = −2·logL + 2k + 2k(k+1)/(n−k−1). Only ordinary likelihoods are comparable; penalised ones are not.
 *
 * @param aicc of each model
 * @param weights exp(−Δ/2), scaled to sum 1
 */
public record AkaikeAverage(double[] aicc, double[] weights) {

    /**
     * An averaged coefficient.
     *
     * @param value average
     * @param se unconditional standard error: Σ w·√(se² + (b − average)²)
     * @param importance sum of the weights of the models that hold the term
     */
    public record Averaged(double value, double se, double importance) {}

    /**
     * Weights.
     *
     * @param logLikelihoods of each model, fitted to the same subjects
     * @param parameters number of parameters of each model, intercept included
     * @param n subjects; must exceed every number of parameters by more than 1
     */
    public static AkaikeAverage of(double[] logLikelihoods, int[] parameters, int n) {
        int m = logLikelihoods.length;
        double[] aicc = new double[m];
        double best = Double.POSITIVE_INFINITY;
        for (int i = 0; i < m; i++) {
            int k = parameters[i];
            if (n - k - 1 <= 0) {
                throw new IllegalArgumentException("n: " + n + " subjects are too few for " + k + " parameters");
            }
            aicc[i] = -2 * logLikelihoods[i] + 2 * k + 2.0 * k * (k + 1) / (n - k - 1);
            best = Math.min(best, aicc[i]);
        }
        double sum = 0;
        double[] weights = new double[m];
        for (int i = 0; i < m; i++) {
            weights[i] = Math.exp((best - aicc[i]) / 2);
            sum += weights[i];
        }
        for (int i = 0; i < m; i++) {
            weights[i] /= sum;
        }
        return new AkaikeAverage(aicc, weights);
    }

    /**
     * Average over the models that hold the term, weights scaled to sum 1 among them.
     *
     * @param coefficients of each model; ignored where the term is not held
     * @param se standard error of each
     * @param holds whether each model holds the term; at least one does
     */
    public Averaged conditional(double[] coefficients, double[] se, boolean[] holds) {
        double importance = importance(holds);
        double value = 0;
        for (int i = 0; i < weights.length; i++) {
            value += holds[i] ? weights[i] / importance * coefficients[i] : 0;
        }
        double spread = 0;
        for (int i = 0; i < weights.length; i++) {
            spread += holds[i] ? weights[i] / importance * Math.hypot(se[i], coefficients[i] - value) : 0;
        }
        return new Averaged(value, spread, importance);
    }

    /** Average over all models, the coefficient being 0, without error, where the term is not held. */
    public Averaged full(double[] coefficients, double[] se, boolean[] holds) {
        double value = 0;
        for (int i = 0; i < weights.length; i++) {
            value += holds[i] ? weights[i] * coefficients[i] : 0;
        }
        double spread = 0;
        for (int i = 0; i < weights.length; i++) {
            spread += weights[i] * (holds[i] ? Math.hypot(se[i], coefficients[i] - value) : Math.abs(value));
        }
        return new Averaged(value, spread, importance(holds));
    }

    private double importance(boolean[] holds) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += holds[i] ? weights[i] : 0;
        }
        if (!(sum > 0)) {
            throw new IllegalArgumentException("holds: no model holds the term");
        }
        return sum;
    }
}
