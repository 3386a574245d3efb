package org.aftercast.intake;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.duckdb.DuckDBAppender;

/**
 * A table of numbers by column name, to and from Parquet, and to CSV. A value that is not finite is null (an empty cell in
 * CSV).
 */
public final class NumberTable {

    private static final AtomicLong COUNTER = new AtomicLong();

    private final Map<String, double[]> columns;

    /**
     * Keeps the columns in the order of the map.
     *
     * @param columns names carry units; all of one length
     */
    public NumberTable(Map<String, double[]> columns) {
        this.columns = new LinkedHashMap<>(columns);
        if (this.columns.values().stream().mapToInt(c -> c.length).distinct().count() > 1) {
            throw new IllegalArgumentException("columns: their lengths differ");
        }
    }

    /** Number of rows. */
    public int rows() {
        return columns.values().stream().mapToInt(c -> c.length).findFirst().orElse(0);
    }

    /** One column. */
    public double[] column(String name) {
        double[] column = columns.get(name);
        if (column == null) {
            throw new IllegalArgumentException("name: there is no column " + name + ", only " + columns.keySet());
        }
        return column;
    }

    /** One column in single precision. */
    public float[] floats(String name) {
        double[] column = column(name);
        float[] values = new float[column.length];
        for (int i = 0; i < values.length; i++) {
            values[i] = (float) column[i];
        }
        return values;
    }

    /**
     * Writes a Parquet file with one DOUBLE column each.
     *
     * @throws IOException if it cannot be written
     */
    public void writeParquet(Path target) throws IOException {
        String table = "numbers_" + COUNTER.incrementAndGet();
        try (Statement statement = Duck.mine().createStatement()) {
            StringBuilder create = new StringBuilder("CREATE TEMP TABLE " + table + " (");
            String comma = "";
            for (String name : columns.keySet()) {
                create.append(comma)
                        .append('"')
                        .append(name.replace("\"", "\"\""))
                        .append("\" DOUBLE");
                comma = ", ";
            }
            statement.execute(create.append(')').toString());
            try {
                List<double[]> values = List.copyOf(columns.values());
                try (DuckDBAppender appender = Duck.mine().createAppender("temp", "main", table)) {
                    for (int i = 0; i < rows(); i++) {
                        appender.beginRow();
                        for (double[] column : values) {
                            if (Double.isFinite(column[i])) {
                                appender.append(column[i]);
                            } else {
                                appender.appendNull();
                            }
                        }
                        appender.endRow();
                    }
                }
                statement.execute("COPY " + table + " TO " + Duck.literal(target.toString())
                        + " (FORMAT parquet, COMPRESSION zstd)");
            } finally {
                statement.execute("DROP TABLE IF EXISTS " + table);
            }
        } catch (SQLException problem) {
            Files.deleteIfExists(target);
            throw new IOException(target + ": the table could not be written", problem);
        }
    }

    /**
     * Reads a Parquet file whose columns are all numbers; null becomes NaN.
     *
     * @throws ImportException if it is not such a file
     */
    public static NumberTable readParquet(Path file) throws ImportException {
        try (Statement statement = Duck.mine().createStatement();
                ResultSet rows =
                        statement.executeQuery("SELECT * FROM read_parquet(" + Duck.literal(file.toString()) + ")")) {
            int n = rows.getMetaData().getColumnCount();
            double[][] values = new double[n][1024];
            int count = 0;
            while (rows.next()) {
                for (int c = 0; c < n; c++) {
                    if (count == values[c].length) {
                        values[c] = java.util.Arrays.copyOf(values[c], 2 * count);
                    }
                    double v = rows.getDouble(c + 1);
                    values[c][count] = rows.wasNull() ? Double.NaN : v;
                }
                count++;
            }
            Map<String, double[]> columns = new LinkedHashMap<>();
            for (int c = 0; c < n; c++) {
                columns.put(rows.getMetaData().getColumnName(c + 1), java.util.Arrays.copyOf(values[c], count));
            }
            return new NumberTable(columns);
        } catch (SQLException problem) {
            throw new ImportException(
                    file.toString(), 0, 0, "is not a readable table of numbers", "a Parquet file of numbers");
        }
    }

    /**
     * Writes CSV (RFC 4180, UTF-8, LF): a header and one row a line; numbers in the shortest form that reads back equal in
     * single precision.
     *
     * @throws IOException if it cannot be written
     */
    public void writeCsv(Path target) throws IOException {
        try (BufferedWriter out = Files.newBufferedWriter(target, StandardCharsets.UTF_8)) {
            out.write(String.join(",", columns.keySet()));
            out.write('\n');
            List<double[]> values = List.copyOf(columns.values());
            for (int i = 0; i < rows(); i++) {
                for (int c = 0; c < values.size(); c++) {
                    if (c > 0) {
                        out.write(',');
                    }
                    double v = values.get(c)[i];
                    if (Double.isFinite(v)) {
                        out.write(
                                v == Math.rint(v) && Math.abs(v) < 1e9
                                        ? Long.toString((long) v)
                                        : Float.toString((float) v));
                    }
                }
                out.write('\n');
            }
        }
    }
}
