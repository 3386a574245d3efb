package org.aftercast.stats;

import java.util.Arrays;

/**
 * Times under observation, one entry a subject.
 *
 * @param entry time at which observation began; 0 for ordinary subjects; ≥ 0 and below {@code exit} (or both 0)
 * @param exit time of the event or of censoring, ≥ 0
 * @param event 0 censored, 1 the event, 2, 3 … other events that end observation (competing)
 */
public record SurvivalTimes(double[] entry, double[] exit, int[] event) {

    public SurvivalTimes {
        if (entry.length != exit.length || exit.length != event.length) {
            throw new IllegalArgumentException("entry, exit and event differ in length: " + entry.length + ", "
                    + exit.length + ", " + event.length);
        }
        entry = entry.clone();
        exit = exit.clone();
        event = event.clone();
        for (int i = 0; i < exit.length; i++) {
            if (!(entry[i] >= 0) || !(exit[i] >= entry[i]) || Double.isInfinite(exit[i])) {
                throw new IllegalArgumentException(
                        "times: subject " + i + " runs from " + entry[i] + " to " + exit[i] + ", not 0 ≤ from ≤ to");
            }
            if (entry[i] > 0 && entry[i] == exit[i]) {
                throw new IllegalArgumentException("times: subject " + i + " enters and leaves at " + exit[i]);
            }
            if (event[i] < 0) {
                throw new IllegalArgumentException("event: " + event[i] + " of subject " + i + " is below 0");
            }
        }
    }

    /** Subjects observed from time 0. */
    public static SurvivalTimes fromZero(double[] exit, int[] event) {
        return new SurvivalTimes(new double[exit.length], exit, event);
    }

    /** Number of subjects. */
    public int size() {
        return exit.length;
    }

    /** Those subjects for which {@code keep} is set, in order. */
    public SurvivalTimes where(boolean[] keep) {
        int n = 0;
        for (boolean k : keep) {
            n += k ? 1 : 0;
        }
        double[] newEntry = new double[n];
        double[] newExit = new double[n];
        int[] newEvent = new int[n];
        int to = 0;
        for (int i = 0; i < keep.length; i++) {
            if (keep[i]) {
                newEntry[to] = entry[i];
                newExit[to] = exit[i];
                newEvent[to++] = event[i];
            }
        }
        return new SurvivalTimes(newEntry, newExit, newEvent);
    }

    /** Event times without repetition, ascending; any event above 0. */
    double[] eventTimes() {
        double[] all = new double[exit.length];
        int n = 0;
        for (int i = 0; i < exit.length; i++) {
            if (event[i] > 0) {
                all[n++] = exit[i];
            }
        }
        return Arrays.stream(all, 0, n).sorted().distinct().toArray();
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof SurvivalTimes that
                && Arrays.equals(entry, that.entry)
                && Arrays.equals(exit, that.exit)
                && Arrays.equals(event, that.event);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(exit) * 31 + Arrays.hashCode(event);
    }

    @Override
    public String toString() {
        return "SurvivalTimes[" + exit.length + " subjects]";
    }
}
