package org.aftercast.stats;

import org.hipparchus.optim.InitialGuess;
import org.hipparchus.optim.MaxEval;
import org.hipparchus.optim.PointValuePair;
import org.hipparchus.optim.SimpleValueChecker;
import org.hipparchus.optim.nonlinear.scalar.GoalType;
import org.hipparchus.optim.nonlinear.scalar.ObjectiveFunction;
import org.hipparchus.optim.nonlinear.scalar.noderiv.NelderMeadSimplex;
import org.hipparchus.optim.nonlinear.scalar.noderiv.SimplexOptimizer;

/**
 * Survival of a mixture: a share π is hurt by the catch and dies of it with time, the rest does not; all die at a
 * natural rate M besides. S(t) = e^(−Mt)·[π·e^(−(αt)^γ) + 1 − π] (key {@code benoit2015}).
 *
 * <p>M and π cannot be told apart unless the curve comes to rest on a plateau; M is therefore given, not fitted.
 *
 * @param hurt π, 0–1
 * @param rate α, per unit of time, above 0
 * @param shape γ, above 0
 * @param natural M, per unit of time, ≥ 0
 */
public record MixtureSurvival(double hurt, double rate, double shape, double natural) {

    public MixtureSurvival {
        if (!(hurt >= 0 && hurt <= 1 && rate > 0 && shape > 0 && natural >= 0)) {
            throw new IllegalArgumentException("hurt: " + hurt + ", rate: " + rate + ", shape: " + shape + ", natural: "
                    + natural + " out of range");
        }
    }

    /**
     * A fit.
     *
     * @param model best values
     * @param logLikelihood at them
     */
    public record Fit(MixtureSurvival model, double logLikelihood) {}

    /** S(t), t ≥ 0. */
    public double at(double time) {
        return Math.exp(-natural * time) * (hurt * Math.exp(-Math.pow(rate * time, shape)) + 1 - hurt);
    }

    /**
     * Fits π, α and, when {@code weibull}, γ by maximum likelihood; event code above 0 is death.
     *
     * @param data subjects observed from time 0 with at least one death; deaths at 0 are moved to a thousandth of the
     *     longest time, since a density at 0 may be infinite
     * @param natural M, per unit of time
     * @param form whether γ is fitted or held at 1
     * @throws IllegalArgumentException if nobody died or nobody was observed for any time
     */
    public static Fit fit(SurvivalTimes data, double natural, Form form) {
        double longest = 0;
        int deaths = 0;
        double[] exit = data.exit();
        int[] event = data.event();
        for (int i = 0; i < exit.length; i++) {
            longest = Math.max(longest, exit[i]);
            deaths += event[i] > 0 ? 1 : 0;
        }
        if (deaths == 0 || longest == 0) {
            throw new IllegalArgumentException("data: no death, or no time under observation");
        }
        double unit = longest;
        ObjectiveFunction objective =
                new ObjectiveFunction(p -> logLikelihood(exit, event, model(p, unit, natural, form), unit / 1000));
        PointValuePair best = null;
        double share = Math.min(0.95, Math.max(0.05, (double) deaths / exit.length));
        for (double halfWay : new double[] {0.02, 0.1, 0.4}) {
            double[] start = form == Form.WEIBULL
                    ? new double[] {logit(share), -Math.log(halfWay), 0}
                    : new double[] {logit(share), -Math.log(halfWay)};
            PointValuePair found = climb(objective, start, 1e-7);
            best = best == null || found.getValue() > best.getValue() ? found : best;
        }
        for (int restart = 0; best != null && restart < 2; restart++) {
            PointValuePair found = climb(objective, best.getPoint(), 1e-12);
            best = found.getValue() > best.getValue() ? found : best;
        }
        if (best == null) {
            throw new IllegalArgumentException("data: no fit");
        }
        return new Fit(model(best.getPoint(), unit, natural, form), best.getValue());
    }

    private static PointValuePair climb(ObjectiveFunction objective, double[] start, double tolerance) {
        return new SimplexOptimizer(new SimpleValueChecker(tolerance, tolerance))
                .optimize(
                        new MaxEval(20_000),
                        objective,
                        GoalType.MAXIMIZE,
                        new InitialGuess(start),
                        new NelderMeadSimplex(start.length, 0.3));
    }

    /** Whether the shape is fitted. */
    public enum Form {
        /** γ = 1. */
        EXPONENTIAL,
        /** γ fitted. */
        WEIBULL
    }

    private static MixtureSurvival model(double[] p, double unit, double natural, Form form) {
        double rate = Math.exp(Math.max(-30, Math.min(30, p[1]))) / unit;
        double shape = form == Form.WEIBULL ? Math.exp(Math.max(-4, Math.min(4, p[2]))) : 1;
        return new MixtureSurvival(LogisticRegression.risk(p[0]), rate, shape, natural);
    }

    private static double logLikelihood(double[] exit, int[] event, MixtureSurvival m, double least) {
        double sum = 0;
        double logRate = Math.log(m.rate);
        for (int i = 0; i < exit.length; i++) {
            double t = event[i] > 0 ? Math.max(exit[i], least) : exit[i];
            double power = t > 0 ? Math.exp(m.shape * (logRate + Math.log(t))) : 0;
            double dying = m.hurt * Math.exp(-power);
            double natural = m.natural == 0 ? 1 : Math.exp(-m.natural * t);
            double survival = natural * (dying + 1 - m.hurt);
            double value = event[i] > 0 ? m.natural * survival + natural * dying * m.shape / t * power : survival;
            sum += Math.log(Math.max(value, 1e-300));
        }
        return sum;
    }

    private static double logit(double p) {
        return Math.log(p / (1 - p));
    }
}
