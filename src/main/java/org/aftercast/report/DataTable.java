package org.aftercast.report;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/** One table of the open data: described columns and rows, written as CSV (RFC 4180 quoting, line feeds, UTF-8). */
final class DataTable {

    /** Types of the Table Schema. */
    enum Type {
        STRING("string"),
        NUMBER("number"),
        INTEGER("integer"),
        DATETIME("datetime");

        final String word;

        Type(String word) {
            this.word = word;
        }
    }

    /**
     * One column.
     *
     * @param name heading
     * @param unit or an empty text
     * @param description one sentence
     */
    record Field(String name, Type type, String unit, String description) {}

    final String name;
    final String title;
    final List<Field> fields = new ArrayList<>();
    private final List<@Nullable Object[]> rows = new ArrayList<>();
    private final List<String> key = new ArrayList<>();
    private final Map<String, String> references = new TreeMap<>();

    /**
     * An empty table.
     *
     * @param name path without {@code .csv}
     */
    DataTable(String name, String title) {
        this.name = name;
        this.title = title;
    }

    DataTable text(String column, String description) {
        fields.add(new Field(column, Type.STRING, "", description));
        return this;
    }

    DataTable number(String column, String unit, String description) {
        fields.add(new Field(column, Type.NUMBER, unit, description));
        return this;
    }

    DataTable integer(String column, String description) {
        fields.add(new Field(column, Type.INTEGER, "", description));
        return this;
    }

    DataTable time(String column, String description) {
        fields.add(new Field(column, Type.DATETIME, "UTC", description));
        return this;
    }

    /** Columns that tell the rows apart. */
    DataTable key(String... columns) {
        key.addAll(List.of(columns));
        return this;
    }

    /** A column whose values stand in a column of the same name of another table. */
    DataTable refersTo(String column, String table) {
        references.put(column, table);
        return this;
    }

    List<String> keyColumns() {
        return key;
    }

    Map<String, String> references() {
        return references;
    }

    int rowCount() {
        return rows.size();
    }

    void row(@Nullable Object... values) {
        if (values.length != fields.size()) {
            throw new IllegalArgumentException(
                    name + ": " + values.length + " values for " + fields.size() + " columns");
        }
        rows.add(values);
    }

    String csv() {
        StringBuilder out = new StringBuilder();
        for (int i = 0; i < fields.size(); i++) {
            out.append(i == 0 ? "" : ",").append(quoted(fields.get(i).name()));
        }
        out.append('\n');
        for (@Nullable Object[] row : rows) {
            for (int i = 0; i < row.length; i++) {
                out.append(i == 0 ? "" : ",").append(quoted(shown(row[i])));
            }
            out.append('\n');
        }
        return out.toString();
    }

    private static String shown(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        if (value instanceof Double number) {
            return Num.data(number);
        }
        if (value instanceof Float number) {
            return number.isNaN() ? "" : new java.math.BigDecimal(number.toString()).toPlainString();
        }
        if (value instanceof Instant instant) {
            return instant.toString();
        }
        return value.toString();
    }

    private static String quoted(String value) {
        boolean plain = true;
        for (int i = 0; i < value.length() && plain; i++) {
            char c = value.charAt(i);
            plain = c != ',' && c != '"' && c != '\n' && c != '\r';
        }
        return plain ? value : '"' + value.replace("\"", "\"\"") + '"';
    }
}
