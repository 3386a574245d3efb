package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One change of one record. Entries are only ever added.
 *
 * @param number 1, 2 … over the whole study
 * @param atUtc when
 * @param who who
 * @param what added, changed or removed
 * @param table the table
 * @param key the record's key; parts separated by {@code " / "}
 * @param before the record before as JSON, or null when it was added
 * @param after the record after as JSON, or null when it was removed
 * @param chainSha256 SHA-256 over the entry before and this one: a changed or missing entry breaks the chain
 */
public record HistoryEntry(
        long number,
        Instant atUtc,
        String who,
        What what,
        String table,
        String key,
        @Nullable String before,
        @Nullable String after,
        String chainSha256) {

    /** Kind of change. */
    public enum What {
        ADDED,
        CHANGED,
        REMOVED
    }

    static String chain(
            String previousSha256,
            long number,
            String atUtc,
            String who,
            String what,
            String table,
            String key,
            @Nullable String before,
            @Nullable String after) {
        StringBuilder all = new StringBuilder(previousSha256);
        for (@Nullable
        String part : new @Nullable String[] {Long.toString(number), atUtc, who, what, table, key, before, after}) {
            // the length before each part keeps two different entries from running together
            all.append('\n').append(part == null ? "-" : part.length() + ":" + part);
        }
        return Hashes.ofText(all.toString());
    }
}
