package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.intake.DownloadLayout.DecimalMark;
import org.aftercast.intake.DownloadLayout.Delimiter;
import org.jspecify.annotations.Nullable;

/** The table in the head of a text: delimiter, decimal mark, where header and rows stand, and the first rows as text. */
final class TableShape {

    private static final int MOST_ROWS = 400;

    private final Delimiter delimiter;
    private final DecimalMark decimalMark;
    private final int headerLine;
    private final int firstDataLine;
    private final List<String> names;
    private final List<String> units;
    private final List<List<String>> rows;
    private final int fields;

    private TableShape(
            Delimiter delimiter,
            DecimalMark decimalMark,
            int headerLine,
            int firstDataLine,
            List<String> names,
            List<String> units,
            List<List<String>> rows) {
        this.delimiter = delimiter;
        this.decimalMark = decimalMark;
        this.headerLine = headerLine;
        this.firstDataLine = firstDataLine;
        this.names = names;
        this.units = units;
        this.rows = rows;
        this.fields = rows.get(0).size();
    }

    /** The best reading of the head, or null if no delimiter gives a table. */
    static @Nullable TableShape of(TextHead head) {
        TableShape best = null;
        double bestScore = 0;
        for (Delimiter delimiter : Delimiter.values()) {
            for (DecimalMark mark : DecimalMark.values()) {
                if (delimiter == Delimiter.COMMA && mark == DecimalMark.COMMA) {
                    continue;
                }
                TableShape shape = cut(head, delimiter, mark);
                double score = shape == null ? 0 : shape.score();
                if (score > bestScore + 1e-9) {
                    best = shape;
                    bestScore = score;
                }
            }
        }
        return best;
    }

    private static @Nullable TableShape cut(TextHead head, Delimiter delimiter, DecimalMark mark) {
        int lines = Math.min(head.lineCount(), MOST_ROWS + 100);
        List<List<String>> cut = new ArrayList<>();
        for (int i = 0; i < lines; i++) {
            cut.add(head.line(i).isBlank() ? List.of() : head.fields(i, delimiter));
        }
        int fields = usualFields(cut, mark);
        if (fields < 2) {
            return null;
        }
        int firstData = firstData(cut, fields, mark);
        int header = -1;
        List<String> units = List.of();
        for (int i = firstData - 1; i >= 0 && i >= firstData - 3; i--) {
            List<String> line = cut.get(i);
            if (line.size() != fields) {
                break;
            }
            if (header >= 0) {
                units = cut.get(header);
            }
            header = i;
            if (!looksLikeUnits(line)) {
                break;
            }
        }
        List<List<String>> rows = new ArrayList<>();
        for (int i = firstData; i < lines && rows.size() < MOST_ROWS; i++) {
            if (cut.get(i).size() == fields) {
                rows.add(cut.get(i));
            }
        }
        if (rows.isEmpty()) {
            return null;
        }
        return new TableShape(
                delimiter, mark, header + 1, firstData + 1, header < 0 ? List.of() : cut.get(header), units, rows);
    }

    /** The most common number of fields among lines that look like values; 0 if there are none. */
    private static int usualFields(List<List<String>> cut, DecimalMark mark) {
        Map<Integer, Integer> counts = new TreeMap<>();
        for (List<String> line : cut) {
            if (line.size() >= 2 && looksLikeValues(line, mark)) {
                counts.merge(line.size(), 1, Integer::sum);
            }
        }
        return counts.entrySet().stream()
                .max(Map.Entry.<Integer, Integer>comparingByValue().thenComparing(Map.Entry.comparingByKey()))
                .map(Map.Entry::getKey)
                .orElse(0);
    }

    /** The first line of values that is followed by mostly lines of values. */
    private static int firstData(List<List<String>> cut, int fields, DecimalMark mark) {
        for (int i = 0; i < cut.size(); i++) {
            int like = 0;
            int seen = 0;
            for (int k = i; k < cut.size() && seen < 8; k++) {
                if (!cut.get(k).isEmpty()) {
                    seen++;
                    like += cut.get(k).size() == fields && looksLikeValues(cut.get(k), mark) ? 1 : 0;
                }
            }
            if (cut.get(i).size() == fields && looksLikeValues(cut.get(i), mark) && like * 2 >= seen) {
                return i;
            }
        }
        return cut.size() - 1;
    }

    private static boolean looksLikeUnits(List<String> line) {
        int units = 0;
        for (String field : line) {
            String bare = field.replaceAll("^[(\\[]|[)\\]]$", "");
            units += ColumnNames.unit(bare) != null || bare.equals("s") || bare.equals("ms") || bare.isEmpty() ? 1 : 0;
        }
        return units * 2 >= line.size()
                && line.stream().anyMatch(f -> ColumnNames.unit(f.replaceAll("[()\\[\\]]", "")) != null);
    }

    private static boolean looksLikeValues(List<String> line, DecimalMark mark) {
        int values = 0;
        int present = 0;
        for (String field : line) {
            if (NumberText.isMissing(field)) {
                continue;
            }
            present++;
            values += isNumber(field, mark) || TimeGuess.looksLikeStamp(field) ? 1 : 0;
        }
        return values > 0 && values * 2 >= present;
    }

    private static boolean isNumber(String field, DecimalMark mark) {
        return !Double.isNaN(number(field, mark));
    }

    private static double number(String field, DecimalMark mark) {
        byte[] b = field.getBytes(java.nio.charset.StandardCharsets.UTF_8);
        try {
            return NumberText.read(b, 0, b.length, mark.sign());
        } catch (RowProblem notANumber) {
            return Double.NaN;
        }
    }

    /** More rows, more fields and more of them readable are better. */
    private double score() {
        double readable = 0;
        double present = 0;
        for (List<String> row : rows) {
            for (String field : row) {
                if (!NumberText.isMissing(field)) {
                    present++;
                    readable += isNumber(field, decimalMark) || TimeGuess.looksLikeStamp(field) ? 1 : 0;
                }
            }
        }
        double share = present == 0 ? 0 : readable / present;
        return share * share * share * rows.size() * Math.sqrt(fields)
                + (names.isEmpty() ? 0 : 0.1)
                + (decimalMark == DecimalMark.POINT ? 0.01 : 0);
    }

    List<String> notes() {
        List<String> notes = new ArrayList<>();
        notes.add("fields separated by " + delimiter.name().toLowerCase(java.util.Locale.ROOT) + ", decimal "
                + decimalMark.name().toLowerCase(java.util.Locale.ROOT));
        notes.add((headerLine == 0 ? "no header line" : "column names in line " + headerLine) + ", values from line "
                + firstDataLine + " on");
        return notes;
    }

    Delimiter delimiter() {
        return delimiter;
    }

    DecimalMark decimalMark() {
        return decimalMark;
    }

    int headerLine() {
        return headerLine;
    }

    int firstDataLine() {
        return firstDataLine;
    }

    int fields() {
        return fields;
    }

    /** The name in the header, or empty. */
    String name(int field) {
        return field < names.size() ? names.get(field) : "";
    }

    /** How a layout refers to the column: by name if that is unique, by number otherwise. */
    String columnName(int field) {
        String name = name(field);
        long same = names.stream().filter(name::equalsIgnoreCase).count();
        return name.isBlank() || same != 1 || name.startsWith("#") ? "#" + (field + 1) : name;
    }

    /** What the units row says, without brackets; empty if there is none. */
    String unitText(int field) {
        return field < units.size() ? units.get(field).replaceAll("^[(\\[]|[)\\]]$", "") : "";
    }

    /** The first rows of one column as text. */
    List<String> column(int field) {
        List<String> column = new ArrayList<>();
        for (List<String> row : rows) {
            if (field < row.size()) {
                column.add(row.get(field));
            }
        }
        return column;
    }

    /** Whether most values of a column are numbers; a stray text is left for the import to refuse with its line. */
    boolean isNumeric(int field) {
        int present = 0;
        for (String value : column(field)) {
            present += NumberText.isMissing(value) ? 0 : 1;
        }
        return present > 0 && numbers(field).length * 2 > present;
    }

    /** The values of a column in the head that are numbers. */
    double[] numbers(int field) {
        return column(field).stream()
                .mapToDouble(value -> number(value, decimalMark))
                .filter(value -> !Double.isNaN(value))
                .toArray();
    }

    /** Mean of the values of a column in the head, NaN if there is none. */
    double mean(int field) {
        double sum = 0;
        int n = 0;
        for (String value : column(field)) {
            double v = number(value, decimalMark);
            if (!Double.isNaN(v)) {
                sum += v;
                n++;
            }
        }
        return n == 0 ? Double.NaN : sum / n;
    }

    /** Median length of the vector of three columns, NaN if no row has all three. */
    double medianSize(int x, int y, int z) {
        double[] sizes = rows.stream()
                .mapToDouble(row -> Math.hypot(
                        Math.hypot(number(row.get(x), decimalMark), number(row.get(y), decimalMark)),
                        number(row.get(z), decimalMark)))
                .filter(size -> !Double.isNaN(size))
                .sorted()
                .toArray();
        return sizes.length == 0 ? Double.NaN : sizes[sizes.length / 2];
    }
}
