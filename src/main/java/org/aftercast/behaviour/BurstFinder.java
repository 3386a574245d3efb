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
 * <p>Where noise takes so much of the jerk that the least burst would not reach 1.8 times the level, the larger
 * of sway and the effective value of the beat (amplitude/√2) stands in for activity: their filters keep most of it out.
 *
 * <p>It ends where activity falls below {@code burstOff} times the larger of the two medians; the second is frozen while a
 * burst lasts. And it must be the tail that works, fast:
 *
 * <ul>
 *   <li>sway or the amplitude of a beat reaches 0.7 of {@code burstSway} times the animal's own, or, since a fast burst can leave the band of the
 *       beats, the jerk is that of the least burst without being less for its acceleration than in the animal's own beats:
 *       a turn or a knock moves the body slowly;
 *   <li>a beat in its loud seconds is faster than √{@code burstRate} times the animal's own or, in a burst too brief to hold
 *       a whole beat or two, the jerk is that of the least burst where noise does not hide it. A wave or one wide stroke has
 *       neither.
 * </ul>
 *
 * <p>Medians and spreads come from seconds in which the tail beats. Glides are quiet seconds of swimming: counted in, an
 * animal that glides a lot has so wide a spread that no burst stands out of it.
 *
 * @param events the bursts
 * @param threshold activity that starts a burst, multiples of the animal's own swimming median
 * @param falsePerDay how many seconds a day swimming without bursts would exceed it: exponential tail fitted between the
 *     90 % and 98 % points of the logarithm, bursts left out, and read at the threshold. An upper bound of false bursts,
 *     since most such seconds are turned down for want of a fast tail
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
     * @param of what is looked at
     * @param ratio times its measure
     * @param jerk times the jerk
     */
    private record Least(Measure of, double ratio, double jerk) {}

    private enum Measure {
        /** √(dynamic acceleration · jerk). */
        ACTIVITY,
        /** Sway or, a fast beat leaving its band, the effective value of the beat; where jerk is little but noise. */
        BEAT
    }

    static BurstFinder find(
            SecondTable s,
            boolean[] counts,
            boolean[] swims,
            Moving moving,
            OwnNormal normal,
            double sampleRateHz,
            BehaviourSettings set) {
        Least least = least(s, swims, normal, sampleRateHz, set);
        float[] x = least.of == Measure.BEAT ? beat(s) : activity(s);
        boolean[] beats = new boolean[x.length];
        double[] swim = new double[x.length];
        double[] jerks = new double[x.length];
        double[] rates = new double[x.length];
        int n = 0;
        for (int i = 0; i < x.length; i++) {
            beats[i] = counts[i] && moving.bySecond()[i] && x[i] > 0 && s.jerkGps()[i] > 0 && s.dynamicL2G()[i] > 0;
            if (beats[i] && swims[i]) {
                jerks[n] = Math.log(s.jerkGps()[i]);
                rates[n] = jerks[n] - Math.log(s.dynamicL2G()[i]);
                swim[n++] = Math.log(x[i]);
            }
        }
        if (n < LEAST_SECONDS) {
            return new BurstFinder(List.of(), Double.NaN, Double.NaN);
        }
        swim = Arrays.copyOf(swim, n);
        Arrays.sort(swim);
        double median = swim[n / 2];
        double score = Math.min(set.burstScore() * spread(swim), Math.log(1.5 * least.ratio));
        double limit = median + Math.max(score, Math.log(least.ratio));
        List<Event> events = new ArrayList<>(scan(x, counts, beats, Math.exp(limit), least, Math.exp(median), set));
        Tail tail = Tail.of(s, x, limit, least, Arrays.copyOf(jerks, n), Arrays.copyOf(rates, n), normal, set);
        events.removeIf(e -> !tail.beatsHard(e));
        return new BurstFinder(events, Math.exp(limit - median), falsePerDay(x, beats, swims, events, limit));
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
            return new Least(
                    Measure.ACTIVITY, Math.max(CLEAR, set.burstSway() * Math.sqrt(set.burstRate())), Math.sqrt(jerk2));
        }
        double b = Math.min(0.9, Math.pow(2 * Math.PI * normal.beatHz() / (Math.sqrt(2) * sampleRateHz), 2));
        double inDynamic = Math.max(0, Math.min(1, (sigma * sigma - b) / (1 - b)));
        double inJerk = inDynamic / (inDynamic + (1 - inDynamic) * b + 1e-12);
        double dynamic = Math.sqrt(inDynamic + (1 - inDynamic) * sway2);
        double jerk = Math.sqrt(inJerk + (1 - inJerk) * jerk2);
        double activity = Math.sqrt(dynamic * jerk);
        return activity >= CLEAR
                ? new Least(Measure.ACTIVITY, activity, jerk)
                : new Least(Measure.BEAT, Math.max(CLEAR, SWAY_SHARE * set.burstSway()), jerk);
    }

    /** Seconds a day beyond the limit, from the tail of the seconds of swimming outside the bursts. */
    private static double falsePerDay(float[] x, boolean[] beats, boolean[] swims, List<Event> events, double limit) {
        double[] calm = new double[x.length];
        int n = 0;
        int next = 0;
        for (int i = 0; i < x.length; i++) {
            while (next < events.size()
                    && events.get(next).atS() + events.get(next).durationS() <= i) {
                next++;
            }
            boolean inBurst = next < events.size() && events.get(next).atS() <= i;
            if (beats[i] && swims[i] && !inBurst) {
                calm[n++] = Math.log(x[i]);
            }
        }
        if (n == 0) {
            return Double.NaN;
        }
        Arrays.sort(calm, 0, n);
        double q90 = calm[(int) (0.90 * n)];
        double q98 = calm[(int) (0.98 * n)];
        double rate = Math.log(5) / Math.max(1e-6, q98 - q90);
        return 86400 * 0.1 * Math.exp(-rate * Math.max(0, limit - q90));
    }

    /** Robust standard deviation of sorted values. */
    private static double spread(double[] sorted) {
        double median = sorted[sorted.length / 2];
        double[] off = new double[sorted.length];
        for (int i = 0; i < off.length; i++) {
            off[i] = Math.abs(sorted[i] - median);
        }
        Arrays.sort(off);
        return off[off.length / 2] / 0.6745;
    }

    /**
     * Whether it is the tail that works in an event, and fast.
     *
     * @param s seconds
     * @param measure what bursts were looked for in
     * @param loud level of the measure from which a second belongs to the burst
     * @param swayG least sway
     * @param amplitudeG least amplitude of a beat
     * @param beatHz least beat frequency
     * @param jerkGps least jerk; infinite where noise hides it
     * @param jerkPerG the animal's own ratio of jerk to dynamic acceleration: its angular frequency, noise included
     * @param briefS a shorter event may hold no whole beat
     */
    private record Tail(
            SecondTable s,
            float[] measure,
            double loud,
            double swayG,
            double amplitudeG,
            double beatHz,
            double jerkGps,
            double jerkPerG,
            double briefS) {

        static Tail of(
                SecondTable s,
                float[] x,
                double limit,
                Least least,
                double[] lnJerk,
                double[] lnRate,
                OwnNormal normal,
                BehaviourSettings set) {
            Arrays.sort(lnJerk);
            Arrays.sort(lnRate);
            boolean clear = Math.log(least.jerk) > set.burstScore() * spread(lnJerk);
            return new Tail(
                    s,
                    x,
                    Math.exp(limit),
                    SWAY_SHARE * set.burstSway() * normal.swayG(),
                    SWAY_SHARE * set.burstSway() * normal.beatAmplitudeG(),
                    Math.sqrt(set.burstRate()) * normal.beatHz(),
                    clear ? least.jerk * Math.exp(lnJerk[lnJerk.length / 2]) : Double.POSITIVE_INFINITY,
                    Math.exp(lnRate[lnRate.length / 2]),
                    BRIEF_BEATS / normal.beatHz());
        }

        boolean beatsHard(Event e) {
            boolean fast = Double.isNaN(beatHz);
            boolean swings = false;
            boolean sharp = false;
            boolean sharper = false;
            for (int i = (int) e.atS(); i < Math.min(measure.length, e.atS() + e.durationS()); i++) {
                swings |= s.swayRmsG()[i] >= swayG;
                if (measure[i] >= loud) {
                    swings |= s.beatAmplitudeG()[i] >= amplitudeG;
                    fast |= s.beatHz()[i] >= beatHz;
                    sharp |= s.jerkGps()[i] >= jerkGps;
                    sharper |= s.jerkGps()[i] >= jerkGps && s.jerkGps()[i] >= jerkPerG * s.dynamicL2G()[i];
                }
            }
            return fast ? swings || sharper : swings && sharp && e.durationS() <= briefS;
        }
    }

    /** √(dynamic acceleration · jerk): a burst raises both, passing waves the first only. */
    private static float[] activity(SecondTable s) {
        float[] x = new float[s.seconds()];
        for (int i = 0; i < x.length; i++) {
            x[i] = (float) Math.sqrt((double) s.dynamicL2G()[i] * s.jerkGps()[i]);
        }
        return x;
    }

    private static float[] beat(SecondTable s) {
        float[] x = s.swayRmsG().clone();
        for (int i = 0; i < x.length; i++) {
            float effective = (float) (s.beatAmplitudeG()[i] / Math.sqrt(2));
            x[i] = effective > x[i] ? effective : x[i];
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
                    double rough = Math.min(1.5 * least.ratio, Math.exp(set.burstScore() * lately[1]));
                    if (x[i] > Math.max(Math.sqrt(least.ratio), rough) * lately[0]) {
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
