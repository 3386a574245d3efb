package org.aftercast.study;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jdbi.v3.core.statement.Update;
import org.jspecify.annotations.Nullable;

/** Reads and writes rows of {@link Tables} without any rule of its own. */
final class Rows {

    private Rows() {}

    static <R extends Record> List<R> all(Handle handle, Table<R> table) {
        return columns(handle, table).stream().map(table::toRecord).toList();
    }

    static <R extends Record> Optional<R> find(Handle handle, Table<R> table, List<?> key) {
        if (key.size() != table.keyColumns().size()) {
            throw new IllegalArgumentException("key: " + table.name() + " is found by " + table.keyColumns());
        }
        try (Query query = handle.createQuery(table.selectOne())) {
            for (int i = 0; i < key.size(); i++) {
                query.bind(i, Table.stored(key.get(i)));
            }
            return query.map((rows, context) -> table.columnsOf(rows)).findOne().map(table::toRecord);
        }
    }

    static List<Map<String, @Nullable Object>> columns(Handle handle, Table<?> table) {
        try (Query query = handle.createQuery(table.selectAll())) {
            return query.map((rows, context) -> table.columnsOf(rows)).list();
        }
    }

    static void execute(Handle handle, String sql, List<? extends @Nullable Object> values) {
        try (Update update = handle.createUpdate(sql)) {
            for (int i = 0; i < values.size(); i++) {
                update.bind(i, values.get(i));
            }
            update.execute();
        }
    }

    static List<HistoryEntry> history(Handle handle) {
        try (Query query = handle.createQuery("SELECT * FROM history ORDER BY number")) {
            return query.map((rows, context) -> entry(rows)).list();
        }
    }

    static Optional<HistoryEntry> lastEntry(Handle handle) {
        try (Query query = handle.createQuery("SELECT * FROM history ORDER BY number DESC LIMIT 1")) {
            return query.map((rows, context) -> entry(rows)).findOne();
        }
    }

    private static HistoryEntry entry(ResultSet row) throws SQLException {
        return new HistoryEntry(
                row.getLong("number"),
                Instant.parse(row.getString("atUtc")),
                row.getString("who"),
                Words.parse(HistoryEntry.What.class, row.getString("what")),
                row.getString("table"),
                row.getString("key"),
                row.getString("before"),
                row.getString("after"),
                row.getString("chainSha256"));
    }

    static List<String> databaseProblems(Handle handle) {
        try (Query integrity = handle.createQuery("PRAGMA integrity_check");
                Query links = handle.createQuery("PRAGMA foreign_key_check")) {
            List<String> problems =
                    new java.util.ArrayList<>(integrity.mapTo(String.class).list());
            problems.removeIf("ok"::equals);
            problems.addAll(links.map((rows, context) -> "row " + rows.getString(2) + " of " + rows.getString(1)
                            + " refers to a missing row of " + rows.getString(3))
                    .list());
            return problems;
        }
    }
}
