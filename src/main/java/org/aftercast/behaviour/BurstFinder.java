package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.motion.SecondTable;

/**
 * Short bursts of activity, measured against the animal's own seconds of swimming.
 *
 * <p>Activity of a second is √(dynamic acceleration · jerk). A burst begins where it exceeds the least
 * burst of the settings, as it would read with this record's noise, over the yardstick, and {@code burstScore} robust
 * scores of the logarithm over all swimming seconds (but at most 1.5 times the former), and ends where it falls below
 * {@code burstOff} times the yardstick. The yardstick is the median of the {@code burstLongS} before, not below the animal's
 * own swimming median, so that the first beats after a rest are no burst; it is frozen while a burst lasts. In a rough
 * stretch (waves) the burst must also exceed {@code burstScore} spreads of the seconds before. Its sway must reach 0.7 of
 * {@code burstSway} times the animal's own, so that a turn, which moves the body but not the tail, is none.
 *
 * @param events the bursts
 * @param threshold activity that starts a burst, multiples of the animal's own swimming median
 * @param falsePerDay how many seconds a day swimming without bursts would exceed it: exponential tail fitted between the
 *     90 % and 98 % points of the logarithm and read at the threshold
 */
record BurstFinder(List<Event> events, double threshold, double falsePerDay) {

    /** Of the least burst's sway, what a burst must reach: a turn or a knock moves the body, not the tail. */
    private static final double SWAY_SHARE = 0.7;

    static BurstFinder find(
            SecondTable s,
            boolean[] counts,
            boolean[] swims,
            OwnNormal normal,
            double sampleRateHz,
            BehaviourSettings set) {
        float[] x = activity(s);
        double[] swim = new double[x.length];
        int n = 0;
        for (int i = 0; i < x.length; i++) {
            if (counts[i] && swims[i] && x[i] > 0) {
                swim[n++] = Math.log(x[i]);
            }
        }
        if (n < 300) {
            return new BurstFinder(List.of(), Double.NaN, Double.NaN);
        }
        swim = Arrays.copyOf(swim, n);
        Arrays.sort(swim);
        double median = swim[n / 2];
        double[] d = new double[n];
        for (int i = 0; i < n; i++) {
            d[i] = Math.abs(swim[i] - median);
        }
        Arrays.sort(d);
        double on = least(s, swims, normal, sampleRateHz, set);
        double score = Math.min(set.burstScore() * d[n / 2] / 0.6745, Math.log(1.5 * on));
        double limit = median + Math.max(score, Math.log(on));
        double q90 = swim[(int) (0.90 * n)];
        double q98 = swim[(int) (0.98 * n)];
        double rate = Math.log(5) / Math.max(1e-6, q98 - q90);
        double falsePerDay = 86400 * 0.1 * Math.exp(-rate * Math.max(0, limit - q90));
        List<Event> events = new ArrayList<>(scan(x, counts, Math.exp(limit), on, Math.exp(median), set));
        double leastSway = SWAY_SHARE * set.burstSway() * normal.swayG();
        events.removeIf(e -> largest(s.swayRmsG(), e) < leastSway);
        return new BurstFinder(events, Math.exp(limit - median), falsePerDay);
    }

    /**
     * What the least burst (sway × {@code burstSway}, frequency × {@code burstRate}) does to the activity when a share of it
     * is sensor noise. From the smoothness σ of swimming seconds: noise share of the squared dynamic acceleration φ = (σ² −
     * b)/(1 − b) with b = (2π f/(√2 · rate))² for a clean beat, of the squared jerk φ/(φ + (1 − φ) b).
     */
    private static double least(
            SecondTable s, boolean[] counts, OwnNormal normal, double sampleRateHz, BehaviourSettings set) {
        double[] smooth = new double[counts.length];
        int n = 0;
        for (int i = 0; i < counts.length; i += 7) { // a sample of the seconds is enough for a median
            if (counts[i] && !Float.isNaN(s.beatHz()[i]) && s.dynamicL2G()[i] > 0) {
                smooth[n++] = s.jerkGps()[i] / (Math.sqrt(2) * sampleRateHz * s.dynamicL2G()[i]);
            }
        }
        Arrays.sort(smooth, 0, n);
        double sigma = n == 0 ? 0 : Math.min(1, smooth[n / 2]);
        if (Double.isNaN(normal.beatHz())) {
            return Math.max(1.8, set.burstSway() * Math.sqrt(set.burstRate()));
        }
        double b = Math.min(0.9, Math.pow(2 * Math.PI * normal.beatHz() / (Math.sqrt(2) * sampleRateHz), 2));
        double inDynamic = Math.max(0, Math.min(1, (sigma * sigma - b) / (1 - b)));
        double inJerk = inDynamic / (inDynamic + (1 - inDynamic) * b + 1e-12);
        double sway2 = set.burstSway() * set.burstSway();
        double jerk2 = sway2 * set.burstRate() * set.burstRate();
        double ratio =
                Math.sqrt(Math.sqrt(inDynamic + (1 - inDynamic) * sway2) * Math.sqrt(inJerk + (1 - inJerk) * jerk2));
        return Math.max(1.8, ratio);
    }

    private static double largest(float[] x, Event e) {
        double top = 0;
        for (int i = (int) e.atS(); i < Math.min(x.length, e.atS() + e.durationS()); i++) {
            top = Float.isNaN(x[i]) ? top : Math.max(top, x[i]);
        }
        return top;
    }

    /** √(dynamic acceleration · jerk): a burst raises both, passing waves the first only. */
    private static float[] activity(SecondTable s) {
        float[] x = new float[s.seconds()];
        for (int i = 0; i < x.length; i++) {
            x[i] = (float) Math.sqrt((double) s.dynamicL2G()[i] * s.jerkGps()[i]);
        }
        return x;
    }

    private static List<Event> scan(
            float[] x, boolean[] counts, double limit, double on, double swimMedian, BehaviourSettings set) {
        int longS = (int) set.burstLongS();
        List<Event> events = new ArrayList<>();
        double[] work = new double[longS];
        int from = -1;
        int lastHigh = -1;
        double yard = swimMedian;
        double peak = 0;
        for (int i = 0; i < x.length; i++) {
            boolean known = counts[i] && !Float.isNaN(x[i]);
            if (from < 0) {
                if (known && x[i] > limit) {
                    double[] lately = before(x, counts, i, longS, work);
                    yard = Math.max(swimMedian, lately[0]);
                    double rough = Math.min(1.5 * on, Math.exp(set.burstScore() * lately[1]));
                    if (x[i] > Math.max(on, rough) * yard) {
                        from = i;
                        while (from > 0 && counts[from - 1] && x[from - 1] > set.burstOff() * yard && i - from < 3) {
                            from--;
                        }
                        lastHigh = i;
                        peak = x[i];
                    }
                }
            } else {
                if (known && x[i] > set.burstOff() * yard) {
                    lastHigh = i;
                    peak = Math.max(peak, x[i]);
                }
                if (i - lastHigh >= set.burstMergeS() || i == x.length - 1) {
                    if (lastHigh > from && lastHigh + 1 - from <= set.burstLongestS()) {
                        events.add(new Event(Event.Kind.BURST, from, lastHigh + 1.0 - from, peak / swimMedian));
                    }
                    from = -1;
                }
            }
        }
        return events;
    }

    /** Median and robust standard deviation of the logarithm over the seconds before; {0, 0} where too few are known. */
    private static double[] before(float[] x, boolean[] counts, int i, int longS, double[] work) {
        int n = 0;
        for (int k = Math.max(0, i - longS); k < i - 1; k++) {
            if (counts[k] && x[k] > 0) {
                work[n++] = Math.log(x[k]);
            }
        }
        if (n < 30) {
            return new double[2];
        }
        Arrays.sort(work, 0, n);
        double median = work[n / 2];
        // The lower half alone: the upper may hold the burst before this one.
        double spread = median - work[(int) (0.16 * n)];
        return new double[] {Math.exp(median), spread};
    }
}
