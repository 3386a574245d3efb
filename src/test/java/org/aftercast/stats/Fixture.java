package org.aftercast.stats;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;

/** Small public data sets beside the tests (sources in src/test/reference/survival/README.md). */
final class Fixture {

    private final List<String> header;
    private final List<String[]> rows = new ArrayList<>();

    private Fixture(String name) {
        try (BufferedReader in = new BufferedReader(new InputStreamReader(
                Objects.requireNonNull(Fixture.class.getResourceAsStream(name), name), StandardCharsets.UTF_8))) {
            header = Arrays.asList(in.readLine().split(","));
            for (String line = in.readLine(); line != null; line = in.readLine()) {
                rows.add(line.split(","));
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    static Fixture of(String name) {
        return new Fixture(name);
    }

    String[] text(String column) {
        return rows.stream().map(row -> row[header.indexOf(column)]).toArray(String[]::new);
    }

    double[] column(String column) {
        return Arrays.stream(text(column)).mapToDouble(Double::parseDouble).toArray();
    }

    int[] ints(String column) {
        return Arrays.stream(column(column)).mapToInt(v -> (int) v).toArray();
    }

    double[][] columns(String... names) {
        double[][] x = new double[rows.size()][names.length];
        for (int j = 0; j < names.length; j++) {
            double[] column = column(names[j]);
            for (int i = 0; i < x.length; i++) {
                x[i][j] = column[i];
            }
        }
        return x;
    }
}
