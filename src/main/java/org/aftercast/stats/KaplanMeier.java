package org.aftercast.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * The product-limit estimate of survival (key {@code kaplan1958}).
 *
 * <p>S(t) = ∏ over event times s ≤ t of (1 − d/r), d events among r at risk. A subject is at risk at s when
 * entry &lt; s ≤ exit (entry 0 counts as before every time, so an event at time 0 is counted); a censoring at an event
 * time counts as just after it. Variance by Greenwood: S²·Σ d/(r(r−d)). Limits on the log(−log S) scale, so that they
 * stay within 0–1 (key {@code kalbfleisch2002}). Any event code above 0 counts as the event.
 */
public final class KaplanMeier {

    private KaplanMeier() {}

    /**
     * The curve.
     *
     * @param data at least one subject
     * @param level coverage of the limits (0.95)
     * @throws IllegalArgumentException if there is no subject or the level is not between 0 and 1
     */
    public static SurvivalCurve of(SurvivalTimes data, double level) {
        int n = data.size();
        if (n == 0) {
            throw new IllegalArgumentException("data: no subject");
        }
        if (!(level > 0 && level < 1)) {
            throw new IllegalArgumentException("level: " + level + " is not between 0 and 1");
        }
        double z = new NormalDistribution().inverseCumulativeProbability(1 - (1 - level) / 2);
        double[] entries = data.entry();
        double[] exits = data.exit();
        double[] sortedEntries = Arrays.stream(entries).sorted().toArray();
        double[] sortedExits = Arrays.stream(exits).sorted().toArray();
        double[] sortedEvents = eventExits(data);
        List<SurvivalCurve.Step> steps = new ArrayList<>();
        double survival = 1;
        double sum = 0;
        int entered = 0;
        int left = 0;
        int seen = 0;
        for (int i = 0; i < sortedEvents.length; ) {
            double time = sortedEvents[i];
            int deaths = 0;
            while (i < sortedEvents.length && sortedEvents[i] == time) {
                deaths++;
                i++;
            }
            while (entered < n && (sortedEntries[entered] < time || sortedEntries[entered] == 0)) {
                entered++;
            }
            while (left < n && sortedExits[left] < time) {
                left++;
            }
            int atRisk = entered - left;
            seen += deaths;
            survival *= 1 - (double) deaths / atRisk;
            sum += deaths == atRisk ? 0 : deaths / ((double) atRisk * (atRisk - deaths));
            double se = survival * Math.sqrt(sum);
            Interval limits = survival > 0 ? logLog(survival, sum, z) : null;
            steps.add(new SurvivalCurve.Step(
                    time,
                    atRisk,
                    deaths,
                    left - (seen - deaths),
                    survival,
                    survival > 0 ? se : null,
                    limits == null ? null : limits.low(),
                    limits == null ? null : limits.high()));
        }
        return new SurvivalCurve(steps, n, seen, sortedExits[n - 1], level);
    }

    /** S^exp(±z·√(Greenwood sum)/log S). */
    static Interval logLog(double survival, double greenwoodSum, double z) {
        double spread = z * Math.sqrt(greenwoodSum) / Math.abs(Math.log(survival));
        return new Interval(Math.pow(survival, Math.exp(spread)), Math.pow(survival, Math.exp(-spread)));
    }

    private static double[] eventExits(SurvivalTimes data) {
        double[] times = new double[data.size()];
        int n = 0;
        double[] exit = data.exit();
        int[] event = data.event();
        for (int i = 0; i < times.length; i++) {
            if (event[i] > 0) {
                times[n++] = exit[i];
            }
        }
        double[] cut = Arrays.copyOf(times, n);
        Arrays.sort(cut);
        return cut;
    }
}
