package org.aftercast.search;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * The log of a search: only ever added to. An undo is a new entry that names the one it takes back; an undo can be undone.
 *
 * @param entries in order of entry, numbered 1, 2, 3 …
 */
public record SearchLog(List<Entry> entries) {

    /** An empty log. */
    public static final SearchLog EMPTY = new SearchLog(List.of());

    /**
     * One line of the log.
     *
     * @param number from 1
     * @param noted when it was entered, in UTC
     * @param raw what was tapped, typed or received, as it came
     * @param observation the observation, or null for an undo
     * @param undoes number of the entry taken back, or null for an observation
     */
    public record Entry(
            int number,
            Instant noted,
            String raw,
            @Nullable Observation observation,
            @Nullable Integer undoes) {
        public Entry {
            if ((observation == null) == (undoes == null)) {
                throw new IllegalArgumentException("entry " + number + ": an observation or an undo, one of them");
            }
        }
    }

    public SearchLog {
        entries = List.copyOf(entries);
        for (int i = 0; i < entries.size(); i++) {
            Entry entry = entries.get(i);
            if (entry.number() != i + 1) {
                throw new IllegalArgumentException(
                        "entries: number " + entry.number() + " where " + (i + 1) + " belongs");
            }
            Integer undoes = entry.undoes();
            if (undoes != null && (undoes < 1 || undoes > i)) {
                throw new IllegalArgumentException(
                        "entry " + (i + 1) + " undoes " + undoes + ", which is not before it");
            }
        }
    }

    /** The log with an observation added. */
    public SearchLog with(Instant noted, String raw, Observation observation) {
        return plus(new Entry(entries.size() + 1, noted, raw, observation, null));
    }

    /** The log with an undo added. */
    public SearchLog undo(Instant noted, String raw, int number) {
        return plus(new Entry(entries.size() + 1, noted, raw, null, number));
    }

    private SearchLog plus(Entry entry) {
        List<Entry> more = new ArrayList<>(entries);
        more.add(entry);
        return new SearchLog(more);
    }

    /** Observations that stand, in order of their own times. */
    public List<Observation> standing() {
        Set<Integer> undone = new HashSet<>();
        for (int i = entries.size() - 1; i >= 0; i--) {
            Integer undoes = entries.get(i).undoes();
            if (undoes != null && !undone.contains(i + 1)) {
                undone.add(undoes);
            }
        }
        List<Observation> out = new ArrayList<>();
        for (Entry entry : entries) {
            Observation observation = entry.observation();
            if (observation != null && !undone.contains(entry.number())) {
                out.add(observation);
            }
        }
        out.sort(Comparator.comparing(Observation::time));
        return out;
    }
}
