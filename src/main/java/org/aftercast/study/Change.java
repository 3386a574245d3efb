package org.aftercast.study;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Changes within one transaction; each is noted in the history. */
public final class Change {

    private final Handle handle;
    private final String who;
    private final Instant now;

    Change(Handle handle, String who, Instant now) {
        this.handle = handle;
        this.who = who;
        this.now = now;
    }

    /** The instant noted for the changes of this transaction. */
    public Instant now() {
        return now;
    }

    /** One record by its key, as it stands within this transaction. */
    public <R extends Record> Optional<R> find(Class<R> type, Object... key) {
        return Rows.find(handle, Tables.of(type), List.of(key));
    }

    /** All records of a type, as they stand within this transaction. */
    public <R extends Record> List<R> all(Class<R> type) {
        return Rows.all(handle, Tables.of(type));
    }

    /**
     * Adds a record that must not be there yet.
     *
     * @throws StudyException if a record with its key is there
     */
    public <R extends Record> void add(R row) throws StudyException {
        Table<R> table = tableOf(row);
        List<Object> key = table.keyOf(row);
        if (Rows.find(handle, table, key).isPresent()) {
            throw new StudyException(table.name() + " " + Table.keyText(key) + " is in the study already");
        }
        put(row);
    }

    /** Adds a record or replaces the one with its key. The same record again changes nothing and leaves no trace. */
    public <R extends Record> void put(R row) {
        Table<R> table = tableOf(row);
        List<Object> key = table.keyOf(row);
        Map<String, @Nullable Object> after = table.toColumns(row);
        Optional<R> before = Rows.find(handle, table, key);
        if (before.isEmpty()) {
            Rows.execute(handle, table.insert(), new ArrayList<>(after.values()));
            note(HistoryEntry.What.ADDED, table, key, null, Table.toJson(after));
            return;
        }
        String beforeJson = Table.toJson(table.toColumns(before.get()));
        String afterJson = Table.toJson(after);
        if (!beforeJson.equals(afterJson)) {
            List<@Nullable Object> values = new ArrayList<>(after.values());
            values.addAll(key);
            Rows.execute(handle, table.update(), values);
            note(HistoryEntry.What.CHANGED, table, table.keyOf(row), beforeJson, afterJson);
        }
    }

    /** Replaces the stored columns of a row whose words the records do not know any longer: for migrations only. */
    void rewrite(Table<?> table, Map<String, @Nullable Object> before, Map<String, @Nullable Object> after) {
        List<Object> key = new ArrayList<>();
        table.keyColumns().forEach(column -> key.add(Objects.requireNonNull(after.get(column))));
        List<@Nullable Object> values = new ArrayList<>(after.values());
        values.addAll(key);
        Rows.execute(handle, table.update(), values);
        note(HistoryEntry.What.CHANGED, table, key, Table.toJson(before), Table.toJson(after));
    }

    /** Removes a record if it is there; the database refuses while others refer to it. */
    public <R extends Record> void remove(R row) {
        Table<R> table = tableOf(row);
        List<Object> key = table.keyOf(row);
        Optional<R> before = Rows.find(handle, table, key);
        if (before.isPresent()) {
            Rows.execute(handle, table.delete(), key);
            note(HistoryEntry.What.REMOVED, table, key, Table.toJson(table.toColumns(before.get())), null);
        }
    }

    @SuppressWarnings("unchecked") // a record's class is its own table's type
    private static <R extends Record> Table<R> tableOf(R row) {
        return Tables.of((Class<R>) row.getClass());
    }

    private void note(
            HistoryEntry.What what, Table<?> table, List<Object> key, @Nullable String before, @Nullable String after) {
        Optional<HistoryEntry> last = Rows.lastEntry(handle);
        long number = last.map(HistoryEntry::number).orElse(0L) + 1;
        String previous = last.map(HistoryEntry::chainSha256).orElse("");
        String atUtc = Table.utc(now);
        String keyText = Table.keyText(key);
        String word = Words.of(what);
        String chain = HistoryEntry.chain(previous, number, atUtc, who, word, table.name(), keyText, before, after);
        List<@Nullable Object> values = new ArrayList<>();
        values.add(number);
        values.add(atUtc);
        values.add(who);
        values.add(word);
        values.add(table.name());
        values.add(keyText);
        values.add(before);
        values.add(after);
        values.add(chain);
        Rows.execute(handle, "INSERT INTO history VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", values);
    }
}
