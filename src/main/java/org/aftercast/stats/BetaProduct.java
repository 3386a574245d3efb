package org.aftercast.stats;

/**
 * An interval for survival at one time that holds at least its level in small samples with censoring (key
 * {@code fay2013}, the version with matched moments).
 *
 * <p>Upper limit: 1−α/2 quantile of W⁺ = ∏ over event times s ≤ t of Beta(r−d+1, d), r at risk and d events. Lower
 * limit: α/2 quantile of W⁻ = W⁺·Beta(r₊, 1), r₊ the number still at risk after t: as if the next event came at once.
 * A product of betas is replaced by the one beta with the same mean and variance. Without censoring both are exactly
 * Clopper–Pearson. With no event by t the upper limit is 1 and the lower (α/2)^(1/r₊).
 */
public final class BetaProduct {

    private BetaProduct() {}

    /**
     * Limits for survival at {@code time}.
     *
     * @param curve a curve without delayed entry
     * @param time ≥ 0
     * @param stillAtRisk subjects whose observation ends after {@code time}, or at it without an event, ≥ 0
     * @return within 0–1; the lower limit is 0 when nobody is at risk after {@code time}
     */
    public static Interval of(SurvivalCurve curve, double time, int stillAtRisk) {
        double alpha = 1 - curve.level();
        double mean = 1;
        double square = 1;
        boolean events = false;
        for (SurvivalCurve.Step step : curve.steps()) {
            if (step.time() > time) {
                break;
            }
            events = true;
            double a = step.atRisk() - step.deaths() + 1.0;
            double b = step.deaths();
            mean *= a / (a + b);
            square *= a * (a + 1) / ((a + b) * (a + b + 1));
        }
        double high = events ? quantile(1 - alpha / 2, mean, square) : 1;
        double low = 0;
        if (stillAtRisk > 0) {
            double r = stillAtRisk;
            low = quantile(alpha / 2, mean * r / (r + 1), square * r / (r + 2));
        }
        return new Interval(Math.min(low, high), high);
    }

    /** Quantile of the beta law with these first two moments about 0. */
    private static double quantile(double p, double mean, double square) {
        double variance = square - mean * mean;
        double size = mean * (1 - mean) / variance - 1;
        return BetaLaw.quantile(p, mean * size, (1 - mean) * size);
    }
}
