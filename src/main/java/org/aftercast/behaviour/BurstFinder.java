package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.motion.SecondTable;

/**
 * Short bursts of activity, measured against the animal's own seconds of swimming.
 *
 * <p>Activity of a second is √(dynamic acceleration · jerk). A burst begins where it
 *
 * <ul>
 *   <li>exceeds the animal's own swimming median by the least burst of the settings, as it would read with this record's
 *       noise, and by {@code burstScore} robust scores of the logarithm over all its swimming seconds (but at most 1.5 times
 *       the former);
 *   <li>and stands out of the moment: over the median of the {@code burstLongS} before by the root of the least burst, and
 *       by {@code burstScore} spreads of those seconds, so that neither the first hours of strong beats nor passing waves
 *       are bursts.
 * </ul>
 *
 * <p>It ends where activity falls below {@code burstOff} times the larger of the two medians; the second is frozen while a
 * burst lasts. Its sway must reach 0.7 of {@code burstSway} times the animal's own, so that a turn, which moves the body but
 * not the tail, is none. And the tail must be fast in its loud seconds: a beat faster than √{@code burstRate} times the
 * animal's own or, in a burst too brief to hold a whole beat or two, the jerk of the least burst where noise does not hide
 * it. A wave or one wide stroke has neither.
 *
 * <p>Medians and spreads come from seconds in which the tail beats. Glides are quiet seconds of swimming: counted in, an
 * animal that glides a lot has so wide a spread that no burst stands out of it.
 *
 * @param events the bursts
 * @param threshold activity that starts a burst, multiples of the animal's own swimming median
 * @param falsePerDay how many seconds a day swimming without bursts would exceed it: exponential tail fitted between the
 *     90 % and 98 % points of the logarithm and read at the threshold
 */
record BurstFinder(List<Event> events, double threshold, double falsePerDay) {

    /** Of the least burst's sway, what a burst must reach: a turn or a knock moves the body, not the tail. */
    private static final double SWAY_SHARE = 0.7;

    /** What a second of one's own beats hardly ever exceeds, multiples of the median: the phase of slow beats, noise. */
    private static final double CLEAR = 1.8;

    /** A burst shorter than this many of the animal's own beats may hold no whole beat to take the frequency from. */
    private static final double BRIEF_BEATS = 2;

    /** Fewest seconds of swimming to know the animal's own level by. */
    private static final int LEAST_SECONDS = 300;

    /**
     * What the least burst does to a second of this record.
     *
     * @param activity times the activity
     * @param jerk times the jerk
     */
    private record Least(double activity, double jerk) {}

    static BurstFinder find(
            SecondTable s,
            boolean[] counts,
            boolean[] swims,
            Moving moving,
            OwnNormal normal,
            double sampleRateHz,
            BehaviourSettings set) {
        float[] x = activity(s);
        boolean[] beats = new boolean[x.length];
        double[] swim = new double[x.length];
        double[] jerks = new double[x.length];
        int n = 0;
        for (int i = 0; i < x.length; i++) {
            beats[i] = counts[i] && moving.bySecond()[i] && x[i] > 0;
            if (beats[i] && swims[i]) {
                jerks[n] = s.jerkGps()[i];
                swim[n++] = Math.log(x[i]);
            }
        }
        if (n < LEAST_SECONDS) {
            return new BurstFinder(List.of(), Double.NaN, Double.NaN);
        }
        swim = Arrays.copyOf(swim, n);
        Arrays.sort(swim);
        Arrays.sort(jerks, 0, n);
        double median = swim[n / 2];
        double[] d = new double[n];
        for (int i = 0; i < n; i++) {
            d[i] = Math.abs(swim[i] - median);
        }
        Arrays.sort(d);
        Least least = least(s, swims, normal, sampleRateHz, set);
        double score = Math.min(set.burstScore() * d[n / 2] / 0.6745, Math.log(1.5 * least.activity));
        double limit = median + Math.max(score, Math.log(least.activity));
        double q90 = swim[(int) (0.90 * n)];
        double q98 = swim[(int) (0.98 * n)];
        double rate = Math.log(5) / Math.max(1e-6, q98 - q90);
        double falsePerDay = 86400 * 0.1 * Math.exp(-rate * Math.max(0, limit - q90));
        List<Event> events = new ArrayList<>(scan(x, counts, beats, Math.exp(limit), least, Math.exp(median), set));
        double leastSway = SWAY_SHARE * set.burstSway() * normal.swayG();
        double leastHz = Math.sqrt(set.burstRate()) * normal.beatHz();
        double leastJerk = least.jerk < CLEAR ? Double.POSITIVE_INFINITY : least.jerk * jerks[n / 2];
        double loud = Math.exp(limit);
        double briefS = BRIEF_BEATS / normal.beatHz();
        events.removeIf(e -> largest(s.swayRmsG(), x, 0, e) < leastSway
                || (largest(s.beatHz(), x, loud, e) < leastHz
                        && !(e.durationS() <= briefS && largest(s.jerkGps(), x, loud, e) >= leastJerk)));
        return new BurstFinder(events, Math.exp(limit - median), falsePerDay);
    }

    /**
     * What the least burst (sway × {@code burstSway}, frequency × {@code burstRate}) does to activity and jerk when a share
     * of them is sensor noise. From the smoothness σ of swimming seconds: noise share of the squared dynamic acceleration
     * φ = (σ² − b)/(1 − b) with b = (2π f/(√2 · rate))² for a clean beat, of the squared jerk φ/(φ + (1 − φ) b).
     */
    private static Least least(
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
        double sway2 = set.burstSway() * set.burstSway();
        double jerk2 = sway2 * set.burstRate() * set.burstRate();
        if (Double.isNaN(normal.beatHz())) {
            return new Least(Math.max(CLEAR, set.burstSway() * Math.sqrt(set.burstRate())), Math.sqrt(jerk2));
        }
        double b = Math.min(0.9, Math.pow(2 * Math.PI * normal.beatHz() / (Math.sqrt(2) * sampleRateHz), 2));
        double inDynamic = Math.max(0, Math.min(1, (sigma * sigma - b) / (1 - b)));
        double inJerk = inDynamic / (inDynamic + (1 - inDynamic) * b + 1e-12);
        double dynamic = Math.sqrt(inDynamic + (1 - inDynamic) * sway2);
        double jerk = Math.sqrt(inJerk + (1 - inJerk) * jerk2);
        return new Least(Math.max(CLEAR, Math.sqrt(dynamic * jerk)), jerk);
    }

    /** Largest value in the seconds of an event whose activity reaches a level; NaN when there is none. */
    private static double largest(float[] of, float[] activity, double level, Event e) {
        double top = Double.NaN;
        for (int i = (int) e.atS(); i < Math.min(of.length, e.atS() + e.durationS()); i++) {
            top = !(activity[i] >= level) || Float.isNaN(of[i]) || of[i] <= top ? top : of[i];
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
            float[] x,
            boolean[] counts,
            boolean[] beats,
            double limit,
            Least least,
            double swimMedian,
            BehaviourSettings set) {
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
                    double[] lately = before(x, beats, i, longS, work);
                    yard = Math.max(swimMedian, lately[0]);
                    double rough = Math.min(1.5 * least.activity, Math.exp(set.burstScore() * lately[1]));
                    if (x[i] > Math.max(Math.sqrt(least.activity), rough) * lately[0]) {
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
    private static double[] before(float[] x, boolean[] beats, int i, int longS, double[] work) {
        int n = 0;
        for (int k = Math.max(0, i - longS); k < i - 1; k++) {
            if (beats[k]) {
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
