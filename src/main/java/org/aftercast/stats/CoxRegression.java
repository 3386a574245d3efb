package org.aftercast.stats;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;
import org.aftercast.stats.RegressionFit.NotFitted;

/**
 * Proportional hazards regression of time to an event, with or without Firth's penalty.
 *
 * <p>Partial likelihood with Efron's or Breslow's treatment of ties (key {@code efron1977}): with d events at a time,
 * risk-set sums S and sums T over the events, the l-th factor uses S − (l/d)·T (Efron) or S (Breslow). The exact treatment
 * sums over all subsets of d subjects (key {@code cox1972}); it takes time with the square of the number of subjects and has
 * no penalised form here. Firth's penalty
 * ½·log det I has the gradient ½·tr(I⁻¹ ∂I/∂β), from third moments within risk sets (key {@code heinze2001}).
 * Event code 1 is the event, every other code is censoring.
 */
public final class CoxRegression implements Likelihood {

    /** How events at the same time share a risk set. */
    public enum Ties {
        EFRON,
        BRESLOW,
        EXACT
    }

    private final double[][] x;
    private final double[] time;
    private final boolean[] event;
    private final Ties ties;
    private final double[] spread;

    private CoxRegression(double[][] x, double[] time, boolean[] event, Ties ties) {
        this.x = x;
        this.time = time;
        this.event = event;
        this.ties = ties;
        this.spread = Spread.of(x);
    }

    /**
     * Fits.
     *
     * @param data subjects observed from time 0
     * @param x one row a subject, one column a term, no intercept
     * @param ties treatment of ties
     * @param penalty none or Firth's
     * @param level coverage of the profile limits, or 0 for none
     * @throws NotFitted if there is no single finite best value
     * @throws IllegalArgumentException if shapes differ, a value is not finite, or a subject enters late
     */
    public static RegressionFit fit(SurvivalTimes data, double[][] x, Ties ties, Penalty penalty, double level)
            throws NotFitted {
        if (ties == Ties.EXACT && penalty != Penalty.NONE) {
            throw new IllegalArgumentException("penalty: the exact treatment of ties has no penalised form here");
        }
        return NewtonFit.fit(of(data, x, ties), penalty, level, 0);
    }

    /** Twice the drop of the (penalised) log-likelihood with coefficient {@code j}, from 0, held at 0. */
    public static double likelihoodRatio(SurvivalTimes data, double[][] x, Ties ties, Penalty penalty, int j)
            throws NotFitted {
        CoxRegression model = of(data, x, ties);
        double best = NewtonFit.fit(model, penalty, 0, 0).penalisedLogLikelihood();
        return 2 * (best - NewtonFit.profileAt(model, penalty, j, 0));
    }

    private static CoxRegression of(SurvivalTimes data, double[][] x, Ties ties) {
        int n = data.size();
        if (x.length != n || n == 0) {
            throw new IllegalArgumentException("x: " + x.length + " rows for " + n + " subjects");
        }
        if (Arrays.stream(data.entry()).anyMatch(entry -> entry > 0)) {
            throw new IllegalArgumentException("entry: late entry is not supported here");
        }
        double[] exit = data.exit();
        int[] code = data.event();
        // latest first, so that risk sets grow
        int[] order = IntStream.range(0, n)
                .boxed()
                .sorted(Comparator.comparingDouble((Integer i) -> -exit[i]))
                .mapToInt(i -> i)
                .toArray();
        int k = x[0].length;
        double[] mean = new double[k];
        for (double[] row : x) {
            for (int j = 0; j < k; j++) {
                if (!Double.isFinite(row[j])) {
                    throw new IllegalArgumentException("x: a value of column " + j + " is " + row[j]);
                }
                mean[j] += row[j] / n;
            }
        }
        double[][] sorted = new double[n][k];
        double[] times = new double[n];
        boolean[] events = new boolean[n];
        for (int i = 0; i < n; i++) {
            times[i] = exit[order[i]];
            events[i] = code[order[i]] == 1;
            for (int j = 0; j < k; j++) {
                // centring changes nothing in the partial likelihood and keeps the exponents small
                sorted[i][j] = x[order[i]][j] - mean[j];
            }
        }
        return new CoxRegression(sorted, times, events, ties);
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
        Sums all = new Sums(k);
        Sums tied = new Sums(k);
        Totals totals = new Totals(k);
        for (int from = 0; from < n; ) {
            tied.clear();
            int deaths = 0;
            int to = from;
            while (to < n && time[to] == time[from]) {
                double eta = 0;
                for (int j = 0; j < k; j++) {
                    eta += x[to][j] * beta[j];
                }
                double risk = Math.exp(eta);
                all.add(x[to], risk);
                if (event[to]) {
                    deaths++;
                    tied.add(x[to], risk);
                    totals.logLikelihood += eta;
                    for (int j = 0; j < k; j++) {
                        totals.score[j] += x[to][j];
                    }
                }
                to++;
            }
            if (ties == Ties.EXACT) {
                exact(beta, to, deaths, totals);
            }
            for (int l = 0; l < deaths && ties != Ties.EXACT; l++) {
                totals.subtract(all, tied, ties == Ties.EFRON ? (double) l / deaths : 0);
            }
            from = to;
        }
        return totals.point();
    }

    /** Takes off the sum over all subsets of {@code deaths} of the first {@code atRisk} subjects. */
    private void exact(double[] beta, int atRisk, int deaths, Totals totals) {
        if (deaths == 0) {
            return;
        }
        int k = beta.length;
        double[] risk = new double[atRisk];
        double mean = 0;
        for (int i = 0; i < atRisk; i++) {
            double eta = 0;
            for (int j = 0; j < k; j++) {
                eta += x[i][j] * beta[j];
            }
            risk[i] = Math.exp(eta);
            mean += risk[i] / atRisk;
        }
        TiedSubsets subsets = new TiedSubsets(deaths, k);
        for (int i = 0; i < atRisk; i++) {
            subsets.add(x[i], risk[i] / mean); // relative risks keep the products within range
        }
        totals.logLikelihood -= subsets.logWeight() + deaths * Math.log(mean);
        for (int a = 0; a < k; a++) {
            totals.score[a] -= subsets.mean(a);
            for (int b = 0; b <= a; b++) {
                totals.information[a][b] += subsets.covariance(a, b);
            }
        }
    }

    /** Sums over subjects of risk · 1, x, xxᵀ, xxxᵀ. */
    private static final class Sums {
        private double zero;
        private final double[] one;
        private final double[][] two;
        private final double[][][] three;

        Sums(int k) {
            one = new double[k];
            two = new double[k][k];
            three = new double[k][k][k];
        }

        void clear() {
            zero = 0;
            Arrays.fill(one, 0);
            for (int a = 0; a < one.length; a++) {
                Arrays.fill(two[a], 0);
                for (double[] cells : three[a]) {
                    Arrays.fill(cells, 0);
                }
            }
        }

        void add(double[] row, double risk) {
            zero += risk;
            for (int a = 0; a < row.length; a++) {
                double ra = risk * row[a];
                one[a] += ra;
                for (int b = 0; b <= a; b++) {
                    double rab = ra * row[b];
                    two[a][b] += rab;
                    for (int c = 0; c <= b; c++) {
                        three[a][b][c] += rab * row[c];
                    }
                }
            }
        }
    }

    /** The likelihood with its derivatives, gathered over event times. */
    private static final class Totals {
        private double logLikelihood;
        private final double[] score;
        private final double[][] information;
        private final double[][][] third;
        private final double[] mean;
        private final double[][] second;

        Totals(int k) {
            mean = new double[k];
            second = new double[k][k];
            score = new double[k];
            information = new double[k][k];
            third = new double[k][k][k];
        }

        void subtract(Sums all, Sums tied, double share) {
            int k = score.length;
            double zero = all.zero - share * tied.zero;
            logLikelihood -= Math.log(zero);
            for (int a = 0; a < k; a++) {
                mean[a] = (all.one[a] - share * tied.one[a]) / zero;
                score[a] -= mean[a];
                for (int b = 0; b <= a; b++) {
                    second[a][b] = (all.two[a][b] - share * tied.two[a][b]) / zero;
                    information[a][b] += second[a][b] - mean[a] * mean[b];
                    for (int c = 0; c <= b; c++) {
                        // third central moment within the risk set
                        third[a][b][c] += (all.three[a][b][c] - share * tied.three[a][b][c]) / zero
                                - second[a][b] * mean[c]
                                - second[a][c] * mean[b]
                                - second[b][c] * mean[a]
                                + 2 * mean[a] * mean[b] * mean[c];
                    }
                }
            }
        }

        Point point() {
            int k = score.length;
            for (int a = 0; a < k; a++) {
                for (int b = 0; b < a; b++) {
                    information[b][a] = information[a][b];
                }
            }
            double[] penalty = new double[k];
            Symmetric factor = Symmetric.of(information);
            if (factor != null) {
                double[][] inverse = factor.inverse();
                for (int c = 0; c < k; c++) {
                    for (int a = 0; a < k; a++) {
                        for (int b = 0; b < k; b++) {
                            int[] sorted = {a, b, c};
                            Arrays.sort(sorted);
                            penalty[c] += inverse[a][b] * third[sorted[2]][sorted[1]][sorted[0]] / 2;
                        }
                    }
                }
            }
            return new Point(logLikelihood, score, information, penalty);
        }
    }
}
