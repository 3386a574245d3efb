package org.aftercast.stats;

import java.util.Arrays;
import org.aftercast.stats.RegressionFit.Cause;
import org.aftercast.stats.RegressionFit.NotFitted;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.jspecify.annotations.Nullable;

/** Maximises a likelihood by Newton steps with halving, and finds profile limits. */
final class NewtonFit {

    private static final int MAX_STEPS = 200;
    private static final double STEP_TOLERANCE = 1e-10;
    /** Profile limits are found to this share of a standard error. */
    private static final double LIMIT_TOLERANCE = 1e-7;

    private static final double SEPARATED_Z = 0.02;

    private final Likelihood likelihood;
    private final Penalty penalty;

    private NewtonFit(Likelihood likelihood, Penalty penalty) {
        this.likelihood = likelihood;
        this.penalty = penalty;
    }

    /**
     * The fit, with profile limits of the coefficients from {@code firstLimit} on when {@code level} is above 0.
     *
     * @param level coverage of the limits, or 0 for none
     * @param firstLimit first coefficient that gets limits; those before get (−∞, ∞)
     */
    static RegressionFit fit(Likelihood likelihood, Penalty penalty, double level, int firstLimit) throws NotFitted {
        NewtonFit newton = new NewtonFit(likelihood, penalty);
        State best = newton.maximise(new double[likelihood.size()], -1);
        int k = likelihood.size();
        double[][] covariance = best.factor.inverse();
        double[] se = new double[k];
        for (int i = 0; i < k; i++) {
            se[i] = Math.sqrt(covariance[i][i]);
        }
        Interval[] limits = null;
        if (level > 0) {
            limits = new Interval[k];
            Arrays.fill(limits, new Interval(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY));
            double drop = new ChiSquaredDistribution(1).inverseCumulativeProbability(level) / 2;
            for (int j = firstLimit; j < k; j++) {
                limits[j] = new Interval(newton.limit(best, j, -se[j], drop), newton.limit(best, j, se[j], drop));
            }
        }
        return new RegressionFit(best.beta, se, covariance, best.point.logLikelihood(), best.value, limits);
    }

    /** Largest penalised log-likelihood with coefficient {@code j} held at {@code value}. */
    static double profileAt(Likelihood likelihood, Penalty penalty, int j, double value) throws NotFitted {
        double[] start = new double[likelihood.size()];
        start[j] = value;
        return new NewtonFit(likelihood, penalty).maximise(start, j).value;
    }

    private record State(double[] beta, Likelihood.Point point, Symmetric factor, double value) {}

    private @Nullable State at(double[] beta) {
        Likelihood.Point point = likelihood.at(beta);
        Symmetric factor = Symmetric.of(point.information());
        if (factor == null || !Double.isFinite(point.logLikelihood())) {
            return null;
        }
        double value = point.logLikelihood() + (penalty == Penalty.FIRTH ? factor.logDeterminant() / 2 : 0);
        return new State(beta, point, factor, value);
    }

    /** Maximises over all coefficients but {@code held} (−1: none is held). */
    private State maximise(double[] start, int held) throws NotFitted {
        State from = at(start);
        if (from == null) {
            throw new NotFitted(Cause.COLUMNS_NOT_DISTINCT);
        }
        return maximise(from, held);
    }

    private State maximise(State start, int held) throws NotFitted {
        State now = start;
        for (int step = 0; step < MAX_STEPS; step++) {
            double[] move = direction(now, held);
            double factor = 1;
            State next = null;
            for (int halving = 0; halving < 60; halving++) {
                next = at(moved(now.beta, move, factor));
                if (next != null && next.value >= now.value - 1e-12 * Math.max(1, Math.abs(now.value))) {
                    break;
                }
                next = null;
                factor /= 2;
            }
            if (next == null) {
                // no uphill step is left: either at the top to working precision, or on the way to infinity
                if (relative(move, now) < 1e-6) {
                    return now;
                }
                throw new NotFitted(penalty == Penalty.NONE ? Cause.SEPARATED : Cause.NOT_SETTLED);
            }
            double size = relative(move, now) * factor;
            now = next;
            if (size < STEP_TOLERANCE) {
                refuseInfinite(now, held);
                return now;
            }
            if (penalty == Penalty.NONE) {
                refuseInfinite(now, held);
            }
        }
        throw new NotFitted(penalty == Penalty.NONE ? Cause.SEPARATED : Cause.NOT_SETTLED);
    }

    /** Without a penalty an estimate far out with an even larger standard error is on its way to infinity. */
    private void refuseInfinite(State state, int held) throws NotFitted {
        if (penalty != Penalty.NONE) {
            return;
        }
        double[][] covariance = state.factor.inverse();
        for (int j = 0; j < state.beta.length; j++) {
            double se = Math.sqrt(covariance[j][j]);
            if (j != held
                    && se > 0
                    && Math.abs(state.beta[j]) / se < SEPARATED_Z
                    && likelihood.isFar(j, state.beta[j])) {
                throw new NotFitted(Cause.SEPARATED);
            }
        }
    }

    private double[] direction(State state, int held) {
        int k = state.beta.length;
        double[] score = new double[k];
        for (int i = 0; i < k; i++) {
            score[i] = state.point.score()[i]
                    + (penalty == Penalty.FIRTH ? state.point.penaltyScore()[i] : 0);
        }
        if (held < 0) {
            return state.factor.solve(score);
        }
        double[] move = new double[k];
        if (k == 1) {
            return move;
        }
        double[][] part = new double[k - 1][k - 1];
        double[] right = new double[k - 1];
        for (int i = 0, a = 0; i < k; i++) {
            if (i != held) {
                right[a] = score[i];
                for (int j = 0, b = 0; j < k; j++) {
                    if (j != held) {
                        part[a][b++] = state.point.information()[i][j];
                    }
                }
                a++;
            }
        }
        Symmetric factor = Symmetric.of(part);
        if (factor == null) {
            return move;
        }
        double[] free = factor.solve(right);
        for (int i = 0, a = 0; i < k; i++) {
            if (i != held) {
                move[i] = free[a++];
            }
        }
        return move;
    }

    /** Where the profile has dropped by {@code drop} on the side of {@code step}; infinite when it never does. */
    private double limit(State best, int j, double step, double drop) throws NotFitted {
        double[] along = alongProfile(best, j);
        double[] start = best.beta.clone();
        double inside = best.beta[j];
        double outside = inside + 2 * step;
        double[] warm = start;
        for (int advance = 0; advance < 20; advance++) {
            State state = reachable(moved(warm, along, outside - warm[j]), j);
            if (state == null) {
                outside = (inside + outside) / 2;
                continue;
            }
            if (best.value - state.value > drop) {
                double[] near = warm;
                double[] far = state.beta;
                double atInside = inside;
                return Roots.between(
                        value -> {
                            if (value == atInside && atInside == best.beta[j]) {
                                return -drop;
                            }
                            State there = reachable(moved(near, along, value - near[j]), j);
                            if (there == null) {
                                there = reachable(moved(far, along, value - far[j]), j);
                            }
                            return there == null ? 1 : best.value - there.value - drop;
                        },
                        inside,
                        outside,
                        LIMIT_TOLERANCE * Math.abs(step));
            }
            warm = state.beta;
            inside = outside;
            outside = best.beta[j] + (outside - best.beta[j]) * 2;
        }
        return step > 0 ? Double.POSITIVE_INFINITY : Double.NEGATIVE_INFINITY;
    }

    /**
     * How the other coefficients move with coefficient {@code j} along its profile, to first order: the column of the
     * covariance over its own entry. Without it a covariate far from 0 (a temperature of 15 °C) takes the intercept's
     * place, the next start lies where every risk is 0 or 1, and no limit is found.
     */
    private static double[] alongProfile(State best, int j) {
        double[][] covariance = best.factor.inverse();
        double[] along = new double[covariance.length];
        for (int i = 0; i < along.length; i++) {
            along[i] = covariance[i][j] / covariance[j][j];
        }
        along[j] = 1;
        return along;
    }

    private @Nullable State reachable(double[] from, int held) {
        try {
            State start = at(from);
            return start == null ? null : maximise(start, held);
        } catch (NotFitted unreachable) {
            return null;
        }
    }

    /** Largest step in standard errors. */
    private static double relative(double[] move, State state) {
        double largest = 0;
        for (int i = 0; i < move.length; i++) {
            largest =
                    Math.max(largest, Math.abs(move[i]) * Math.sqrt(state.point.information()[i][i]));
        }
        return largest;
    }

    private static double[] moved(double[] from, double[] move, double factor) {
        double[] to = from.clone();
        for (int i = 0; i < to.length; i++) {
            to[i] += factor * move[i];
        }
        return to;
    }
}
