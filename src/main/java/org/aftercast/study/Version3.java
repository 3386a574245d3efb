package org.aftercast.study;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * The second half of the way from records version 2 to 3: outcomes of searches get the words of version 3. Version 2 kept
 * what a search log called stranded or handed in as retrieved, with its outcome, hours and miles in the notes, and called
 * abandoned "given-up". Each change is noted in the history, made by {@value #WHO}.
 */
final class Version3 {

    static final String WHO = "aftercast";

    private static final Pattern FROM_LOG =
            Pattern.compile("From the search log: (retrieved|stranded|handed in|abandoned)"
                    + " after (\\d{1,5}(?:\\.\\d+)?) h and (\\d{1,6}(?:\\.\\d+)?) NM\\.");

    private Version3() {}

    /** Rewrites the rows; within the migration's transaction. */
    static void rewrite(Handle handle, Instant now) {
        Table<SearchOutcome> table = Tables.of(SearchOutcome.class);
        Change change = new Change(handle, WHO, now);
        for (Map<String, @Nullable Object> row : Rows.columns(handle, table)) {
            Map<String, @Nullable Object> after = new LinkedHashMap<>(row);
            if (SearchOutcome.EARLIER_WORD.equals(row.get("outcome"))) {
                after.put("outcome", Words.of(SearchOutcome.Outcome.ABANDONED));
            }
            Matcher noted = FROM_LOG.matcher(String.valueOf(row.get("searchNotes")));
            if (noted.matches()) {
                after.put("outcome", noted.group(1).replace(' ', '-'));
                after.put("searchH", Double.valueOf(noted.group(2)));
                after.put("searchNm", Double.valueOf(noted.group(3)));
                after.put("searchNotes", "From the search log.");
            }
            if (!after.equals(row)) {
                change.rewrite(table, row, after);
            }
        }
    }
}
