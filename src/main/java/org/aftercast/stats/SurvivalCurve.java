package org.aftercast.stats;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A survival curve: 1 before the first step, then constant from each step to the next.
 *
 * @param steps one per event time, ascending
 * @param subjects number of subjects
 * @param events number of events
 * @param lastTime the longest time under observation; the curve says nothing beyond it unless it is 0 by then
 * @param level coverage of the limits
 */
public record SurvivalCurve(List<Step> steps, int subjects, int events, double lastTime, double level) {

    /**
     * One event time.
     *
     * @param time event time
     * @param atRisk subjects at risk just before it
     * @param deaths events at it
     * @param censoredBefore subjects censored before it, counted from the start
     * @param survival estimate from this time on, 0–1
     * @param se standard error (Greenwood); null where survival is 0
     * @param low lower limit; null where survival is 0
     * @param high upper limit; null where survival is 0
     */
    public record Step(
            double time,
            int atRisk,
            int deaths,
            int censoredBefore,
            double survival,
            @Nullable Double se,
            @Nullable Double low,
            @Nullable Double high) {}

    /**
     * A quantile of the survival time.
     *
     * @param time first time at which survival is ≤ the wanted value, or null when it is not reached
     * @param low lower limit, or null when not reached
     * @param high upper limit, or null when not reached
     */
    public record Quantile(
            @Nullable Double time,
            @Nullable Double low,
            @Nullable Double high) {}

    /**
     * The mean time up to a limit: the area under the curve.
     *
     * @param until upper limit of the area
     * @param mean same unit as the times
     * @param se standard error, same unit
     */
    public record RestrictedMean(double until, double mean, double se) {}

    public SurvivalCurve {
        steps = List.copyOf(steps);
    }

    /** The last step at or before {@code time}, or null before the first event. */
    public @Nullable Step stepAt(double time) {
        Step found = null;
        for (Step step : steps) {
            if (step.time() > time) {
                break;
            }
            found = step;
        }
        return found;
    }

    /** Survival at {@code time}: 1 before the first event. */
    public double survivalAt(double time) {
        Step step = stepAt(time);
        return step == null ? 1 : step.survival();
    }

    /** Whether the curve can speak at {@code time}: someone was observed that long, or it had come to 0 before. */
    public boolean reaches(double time) {
        return time <= lastTime || survivalAt(time) == 0;
    }

    /**
     * The first step at which a risk set of one or two drives the curve to 0 although not every subject died: such a
     * zero says how few were watched, not how many died.
     */
    public @Nullable Step falseZero() {
        int dead = 0;
        for (Step step : steps) {
            dead += step.deaths();
            if (step.deaths() == step.atRisk() && step.atRisk() <= 2 && dead < subjects) {
                return step;
            }
        }
        return null;
    }

    /**
     * The median: first time at which survival is ≤ ½; limits where the limits of the curve pass ½ (key
     * {@code brookmeyer1982}).
     */
    public Quantile median() {
        Double time = null;
        Double low = null;
        Double high = null;
        for (Step step : steps) {
            Double lowLimit = step.low();
            Double highLimit = step.high();
            if (time == null && step.survival() <= 0.5) {
                time = step.time();
            }
            if (low == null && lowLimit != null && lowLimit <= 0.5) {
                low = step.time();
            }
            if (high == null && highLimit != null && highLimit <= 0.5) {
                high = step.time();
            }
        }
        return new Quantile(time, low, high);
    }

    /**
     * Mean time restricted to {@code until}: ∫₀^until S; variance Σ over event times s ≤ until of
     * (∫ₛ^until S)²·d/(r(r−d)) (key {@code klein2003}).
     *
     * @param until above 0, not beyond {@link #lastTime} unless the curve is 0 by then
     * @throws IllegalArgumentException if the curve does not reach {@code until}
     */
    public RestrictedMean restrictedMean(double until) {
        if (!(until > 0) || !reaches(until)) {
            throw new IllegalArgumentException("until: " + until + " is not within 0–" + lastTime);
        }
        double area = 0;
        double variance = 0;
        double from = until;
        for (int i = steps.size() - 1; i >= 0; i--) {
            Step step = steps.get(i);
            if (step.time() > until) {
                continue;
            }
            area += step.survival() * (from - step.time());
            from = step.time();
            int alive = step.atRisk() - step.deaths();
            if (alive > 0) {
                variance += area * area * step.deaths() / ((double) step.atRisk() * alive);
            }
        }
        return new RestrictedMean(until, area + from, Math.sqrt(variance));
    }
}
