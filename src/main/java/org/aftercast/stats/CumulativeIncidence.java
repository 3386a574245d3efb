package org.aftercast.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Share that has met one kind of end by a time, when other ends compete (key {@code aalen1978}).
 *
 * <p>F(t) = Σ over event times s ≤ t of S(s−)·d₁/r, S the product-limit curve of all ends together. Variance from the
 * counting process with a correction for ties (key {@code gray1988}):
 * Σ (S(s−) − g)²·c₁d₁/r² + Σ g²·c₂d₂/r² with g = (F(t) − F(s))·S(s−)/S(s), d₂ the other ends, and
 * c = 1 − (d−1)/(r−1). Limits on the log(−log F) scale.
 *
 * @param kind the event code
 * @param steps one per event time of any kind
 * @param lastTime longest time under observation
 * @param level coverage of the limits
 */
public record CumulativeIncidence(int kind, List<Step> steps, double lastTime, double level) {

    /**
     * One event time.
     *
     * @param time event time
     * @param atRisk subjects at risk just before it
     * @param events events of this kind at it
     * @param otherEvents events of other kinds at it
     * @param share F from this time on, 0–1
     * @param se standard error of the share, ≥ 0
     * @param low lower limit; null where the share is 0 or 1
     * @param high upper limit; null where the share is 0 or 1
     */
    public record Step(
            double time,
            int atRisk,
            int events,
            int otherEvents,
            double share,
            double se,
            @Nullable Double low,
            @Nullable Double high) {}

    public CumulativeIncidence {
        steps = List.copyOf(steps);
    }

    /**
     * The estimate for one kind of end.
     *
     * @param data subjects observed from time 0
     * @param kind event code, ≥ 1
     * @param level coverage (0.95)
     * @throws IllegalArgumentException if there is no subject, a subject enters late, or kind or level is out of range
     */
    public static CumulativeIncidence of(SurvivalTimes data, int kind, double level) {
        if (data.size() == 0 || kind < 1 || !(level > 0 && level < 1)) {
            throw new IllegalArgumentException(
                    "subjects: " + data.size() + ", kind: " + kind + ", level: " + level + " out of range");
        }
        if (Arrays.stream(data.entry()).anyMatch(entry -> entry > 0)) {
            throw new IllegalArgumentException("entry: late entry is not supported here");
        }
        double z = new NormalDistribution().inverseCumulativeProbability(1 - (1 - level) / 2);
        Table table = Table.of(data, kind);
        int m = table.times.length;
        double[] shares = new double[m];
        double[] before = new double[m];
        double[] after = new double[m];
        double survival = 1;
        double share = 0;
        for (int j = 0; j < m; j++) {
            before[j] = survival;
            share += survival * table.own[j] / table.atRisk[j];
            survival *= 1 - (double) (table.own[j] + table.other[j]) / table.atRisk[j];
            after[j] = survival;
            shares[j] = share;
        }
        List<Step> steps = new ArrayList<>(m);
        Variance variance = new Variance();
        for (int j = 0; j < m; j++) {
            variance.add(before[j], after[j], shares[j], table, j);
            double se = Math.sqrt(Math.max(0, variance.at(shares[j])));
            Double low = null;
            Double high = null;
            if (shares[j] > 0 && shares[j] < 1) {
                double f = shares[j];
                double spread = z * se / Math.abs(f * Math.log(f));
                low = Math.pow(f, Math.exp(spread));
                high = Math.pow(f, Math.exp(-spread));
            }
            steps.add(
                    new Step(table.times[j], table.atRisk[j], table.own[j], table.other[j], shares[j], se, low, high));
        }
        double last = Arrays.stream(data.exit()).max().orElse(0);
        return new CumulativeIncidence(kind, steps, last, level);
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

    /** F at {@code time}: 0 before the first event. */
    public double shareAt(double time) {
        Step step = stepAt(time);
        return step == null ? 0 : step.share();
    }

    /** Counts at each event time. */
    record Table(double[] times, int[] atRisk, int[] own, int[] other) {

        static Table of(SurvivalTimes data, int kind) {
            double[] times = data.eventTimes();
            int[] atRisk = new int[times.length];
            int[] own = new int[times.length];
            int[] other = new int[times.length];
            double[] exit = data.exit();
            int[] event = data.event();
            double[] sorted = exit.clone();
            Arrays.sort(sorted);
            int left = 0;
            for (int j = 0; j < times.length; j++) {
                while (left < sorted.length && sorted[left] < times[j]) {
                    left++;
                }
                atRisk[j] = sorted.length - left;
            }
            for (int i = 0; i < exit.length; i++) {
                if (event[i] > 0) {
                    int j = Arrays.binarySearch(times, exit[i]);
                    (event[i] == kind ? own : other)[j]++;
                }
            }
            return new Table(times, atRisk, own, other);
        }
    }

    /** The sums of the variance, expanded as a polynomial in F(t) so that all times cost one pass. */
    private static final class Variance {
        private double constant;
        private double linear;
        private double square;

        void add(double before, double after, double share, Table table, int j) {
            double r = table.atRisk[j];
            double own = term(table.own[j], r);
            double all = own + term(table.other[j], r);
            // g = k·(F − share), k = before/after; at the last step after = 0 and g = 0 for every later time
            double k = after > 0 ? before / after : 0;
            // own·(before − kF + k·share)² + other·(kF − k·share)²
            double offset = before + k * share;
            double other = all - own;
            constant += own * offset * offset + other * k * k * share * share;
            linear += -2 * own * offset * k - 2 * other * k * k * share;
            square += all * k * k;
        }

        double at(double share) {
            return constant + linear * share + square * share * share;
        }

        private static double term(int d, double r) {
            if (d == 0) {
                return 0;
            }
            double ties = r > 1 ? 1 - (d - 1) / (r - 1) : 1;
            return ties * d / (r * r);
        }
    }
}
