package org.aftercast.stats;

import org.aftercast.stats.RegressionFit.NotFitted;

/**
 * Logistic regression of a yes/no outcome, with or without Firth's penalty.
 *
 * <p>logit P(y = 1) = Xβ. Penalised score: Xᵀ(y − p + h(½ − p)), h the diagonal of W^½X(XᵀWX)⁻¹XᵀW^½ (key
 * {@code heinze2002}). Limits are those of the profile penalised likelihood, never ± standard error: with few events
 * the likelihood is far from symmetric.
 */
public final class LogisticRegression implements Likelihood {

    private final double[][] x;
    private final int[] y;
    private final double[] spread;

    private LogisticRegression(double[][] x, int[] y) {
        this.x = x;
        this.y = y;
        this.spread = Spread.of(x);
    }

    /**
     * Fits.
     *
     * @param x one row a subject, one column a term, without a column of ones: the intercept is added in front
     * @param y 0 or 1 for each row
     * @param penalty none or Firth's
     * @param level coverage of the profile limits of the terms (not the intercept), or 0 for none
     * @return coefficients with the intercept first
     * @throws NotFitted if there is no single finite best value
     * @throws IllegalArgumentException if shapes differ or a value is not finite
     */
    public static RegressionFit fit(double[][] x, int[] y, Penalty penalty, double level) throws NotFitted {
        return NewtonFit.fit(of(x, y), penalty, level, 1);
    }

    /**
     * Twice the drop of the penalised log-likelihood when term {@code j} is taken out (its coefficient held at 0, the
     * penalty keeping all terms): compare with χ² of one degree of freedom.
     *
     * @param j term from 1; 0 is the intercept
     */
    public static double likelihoodRatio(double[][] x, int[] y, Penalty penalty, int j) throws NotFitted {
        LogisticRegression model = of(x, y);
        double best = NewtonFit.fit(model, penalty, 0, 1).penalisedLogLikelihood();
        return 2 * (best - NewtonFit.profileAt(model, penalty, j, 0));
    }

    /**
     * The intercept that makes predicted risks add up to the observed events, the other coefficients kept: Firth's
     * penalty shrinks predictions towards one half (key {@code puhr2017}).
     *
     * @param coefficients intercept first
     * @throws IllegalArgumentException if no subject or every subject has the event: no intercept does that
     */
    public static double correctedIntercept(double[][] x, int[] y, double[] coefficients) {
        int events = 0;
        for (int value : y) {
            events += value;
        }
        if (events == 0 || events == y.length) {
            throw new IllegalArgumentException("y: " + events + " events among " + y.length + " need some of both");
        }
        int wanted = events;
        return Roots.between(
                intercept -> {
                    double sum = -wanted;
                    for (double[] row : x) {
                        double eta = intercept;
                        for (int j = 0; j < row.length; j++) {
                            eta += coefficients[j + 1] * row[j];
                        }
                        sum += risk(eta);
                    }
                    return sum;
                },
                coefficients[0] - 60,
                coefficients[0] + 60);
    }

    /** 1/(1 + exp(−eta)). */
    public static double risk(double eta) {
        return eta >= 0 ? 1 / (1 + Math.exp(-eta)) : Math.exp(eta) / (1 + Math.exp(eta));
    }

    private static LogisticRegression of(double[][] x, int[] y) {
        if (x.length != y.length || x.length == 0) {
            throw new IllegalArgumentException("x, y: " + x.length + " and " + y.length + " rows");
        }
        double[][] withOnes = new double[x.length][];
        for (int i = 0; i < x.length; i++) {
            withOnes[i] = new double[x[0].length + 1];
            withOnes[i][0] = 1;
            for (int j = 0; j < x[0].length; j++) {
                if (!Double.isFinite(x[i][j])) {
                    throw new IllegalArgumentException("x: row " + i + ", column " + j + " is " + x[i][j]);
                }
                withOnes[i][j + 1] = x[i][j];
            }
            if (y[i] != 0 && y[i] != 1) {
                throw new IllegalArgumentException("y: row " + i + " is " + y[i] + ", not 0 or 1");
            }
        }
        return new LogisticRegression(withOnes, y.clone());
    }

    @Override
    public int size() {
        return x[0].length;
    }

    @Override
    public boolean isFar(int column, double beta) {
        return Math.abs(beta) * spread[column] > 8;
    }

    @Override
    public Point at(double[] beta) {
        int n = x.length;
        int k = beta.length;
        double[] p = new double[n];
        double logLikelihood = 0;
        double[] score = new double[k];
        double[][] information = new double[k][k];
        for (int i = 0; i < n; i++) {
            double eta = 0;
            for (int j = 0; j < k; j++) {
                eta += x[i][j] * beta[j];
            }
            // log p = −log(1 + e^−eta), written so that neither end overflows
            double small = Math.exp(-Math.abs(eta));
            p[i] = (eta >= 0 ? 1 : small) / (1 + small);
            logLikelihood -= Math.max(0, y[i] == 1 ? -eta : eta) + Math.log1p(small);
            double weight = p[i] * (1 - p[i]);
            for (int a = 0; a < k; a++) {
                score[a] += x[i][a] * (y[i] - p[i]);
                for (int b = 0; b <= a; b++) {
                    information[a][b] += weight * x[i][a] * x[i][b];
                }
            }
        }
        for (int a = 0; a < k; a++) {
            for (int b = 0; b < a; b++) {
                information[b][a] = information[a][b];
            }
        }
        return new Point(logLikelihood, score, information, penaltyScore(p, information));
    }

    private double[] penaltyScore(double[] p, double[][] information) {
        int k = information.length;
        double[] penalty = new double[k];
        Symmetric factor = Symmetric.of(information);
        if (factor == null) {
            return penalty;
        }
        double[][] inverse = factor.inverse();
        for (int i = 0; i < p.length; i++) {
            double leverage = 0;
            for (int a = 0; a < k; a++) {
                double sum = 0;
                for (int b = 0; b < k; b++) {
                    sum += inverse[a][b] * x[i][b];
                }
                leverage += sum * x[i][a];
            }
            leverage *= p[i] * (1 - p[i]);
            for (int a = 0; a < k; a++) {
                penalty[a] += leverage * (0.5 - p[i]) * x[i][a];
            }
        }
        return penalty;
    }
}
