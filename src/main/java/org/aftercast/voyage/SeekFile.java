package org.aftercast.voyage;

import de.siegmar.fastcsv.reader.CsvRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * The first half of reading a table of observations: from bytes to rows of time, place, kind and values, each with its line.
 * What the kinds mean is {@link SeekTable}'s.
 *
 * @param raw every row in the order of the file, as it stands
 * @param rows the same, read; rows that repeat an earlier one in every cell left out
 * @param said what was left out and why, one sentence each
 */
record SeekFile(List<Raw> raw, List<SeekRow> rows, List<String> said) {

    /** More than 50 packages of 5000 observations need. */
    static final long MOST_BYTES = 32L << 20;

    private static final List<String> HEADER = List.of("time", "lat", "lon", "kind", "values");

    /**
     * A row as it stands in the file.
     *
     * @param values the last cell
     */
    record Raw(long line, @Nullable Instant time, @Nullable Position own, String kind, String values) {}

    /** Why a file of so many bytes is not read. */
    static String tooLarge(String file, long bytes) {
        return file + ": is " + bytes / 1_000_000 + " MB; accepted: a table of observations, at most "
                + MOST_BYTES / 1_000_000 + " MB";
    }

    /**
     * Reads the rows.
     *
     * @param problems takes what is wrong in cells and rows
     * @throws BadInputException if it is no such table at all
     */
    static SeekFile read(String file, byte[] bytes, TableProblems problems) throws BadInputException {
        if (bytes.length > MOST_BYTES) {
            throw new BadInputException(tooLarge(file, bytes.length));
        }
        String text = text(file, bytes);
        String first = text.lines().filter(l -> !l.isBlank()).findFirst().orElse("");
        char separator = first.indexOf(';') >= 0 ? ';' : first.indexOf('\t') >= 0 ? '\t' : ',';
        List<CsvRecord> records = CsvText.rows(file, text, separator, "rows of time,lat,lon,kind,values");
        if (records.isEmpty()) {
            throw new BadInputException(file + ": is empty; accepted: a header " + String.join(",", HEADER)
                    + " and one row an observation");
        }
        header(file, records.get(0));
        List<Raw> raw = new ArrayList<>();
        List<SeekRow> rows = new ArrayList<>();
        List<String> said = new ArrayList<>();
        Map<List<String>, Long> seen = new HashMap<>();
        for (CsvRecord record : records.subList(1, records.size())) {
            List<String> cells = record.getFields().stream().map(String::strip).toList();
            SeekRow row = row(record.getStartingLineNumber(), cells, raw, problems);
            if (row == null) {
                continue;
            }
            Long before = row.kind().equals("undo") ? null : seen.putIfAbsent(cells, row.line());
            if (before == null) {
                rows.add(row);
            } else {
                said.add("Line " + row.line() + " says the same as line " + before
                        + ", cell by cell: it is counted once. Two looks have two times.");
            }
        }
        return new SeekFile(raw, rows, said);
    }

    private static String text(String file, byte[] bytes) throws BadInputException {
        String text = CsvText.decode(file, bytes);
        long line = 1;
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            line += c == '\n' ? 1 : 0;
            if (c < ' ' && c != '\n' && c != '\r' && c != '\t') {
                throw new BadInputException(file + ", line " + line + ": holds a control character (code " + (int) c
                        + "); accepted: plain text, a CSV file saved as UTF-8");
            }
        }
        return text;
    }

    private static void header(String file, CsvRecord record) throws BadInputException {
        List<String> found = record.getFields().stream().map(String::strip).toList();
        List<String> lower = found.stream().map(f -> f.toLowerCase(Locale.ROOT)).toList();
        if (lower.equals(HEADER)) {
            return;
        }
        List<String> missing = HEADER.stream().filter(h -> !lower.contains(h)).toList();
        String shown = String.join(",", found);
        throw new BadInputException(file + ", line " + record.getStartingLineNumber() + ": the header is \""
                + (shown.length() > 120 ? shown.substring(0, 120) + "…" : shown) + "\""
                + (missing.isEmpty() || missing.size() == HEADER.size()
                        ? ""
                        : ", without " + String.join(", ", missing))
                + "; accepted: " + String.join(",", HEADER) + ", in this order");
    }

    private static @Nullable SeekRow row(long line, List<String> cells, List<Raw> raw, TableProblems problems) {
        if (cells.stream().allMatch(String::isEmpty) || cells.get(0).startsWith("#")) {
            return null;
        }
        for (int i = 0; i < cells.size(); i++) {
            if (cells.get(i).indexOf('\n') >= 0 || cells.get(i).indexOf('\r') >= 0) {
                problems.inCell(
                        line,
                        i + 1,
                        "a quotation mark opens here and does not close in this line; accepted: cells without"
                                + " quotation marks, or with one at each end");
                return null;
            }
        }
        if (cells.size() > HEADER.size() || cells.size() < SeekRow.KIND) {
            problems.inLine(
                    line,
                    cells.size() + " fields; accepted: five, " + String.join(",", HEADER)
                            + (cells.size() > HEADER.size()
                                    ? "; numbers have a decimal point, and between values stands a space"
                                    : ""));
            return null;
        }
        Instant time = cells.get(0).isEmpty() ? null : SeekRow.time(problems, line, SeekRow.TIME, "time", cells.get(0));
        Position own = position(problems, line, cells.get(1), cells.get(2));
        Map<String, String> values = new HashMap<>();
        String text = cells.size() < SeekRow.VALUES ? "" : cells.get(SeekRow.VALUES - 1);
        for (String part : text.split("[\\s;]+", -1)) {
            int equals = part.indexOf('=');
            if (part.isEmpty()) {
                continue;
            }
            if (equals <= 0) {
                problems.inCell(
                        line,
                        SeekRow.VALUES,
                        "\"" + part + "\" is not name=value; accepted: name=value pairs with spaces between them");
            } else if (values.put(part.substring(0, equals).toLowerCase(Locale.ROOT), part.substring(equals + 1))
                    != null) {
                problems.inCell(
                        line,
                        SeekRow.VALUES,
                        "\"" + part.substring(0, equals) + "\" stands twice; accepted: once in a row");
            }
        }
        String kind = cells.get(SeekRow.KIND - 1).toLowerCase(Locale.ROOT);
        raw.add(new Raw(line, time, own, kind, text));
        boolean told =
                (time == null && !cells.get(0).isEmpty()) || (own == null && !(cells.get(1) + cells.get(2)).isEmpty());
        return new SeekRow(problems, line, time, own, kind, values, told);
    }

    private static @Nullable Position position(TableProblems problems, long line, String lat, String lon) {
        if (lat.isEmpty() && lon.isEmpty()) {
            return null;
        }
        Double latDeg = SeekRow.number(problems, line, SeekRow.LAT, "lat", lat);
        Double lonDeg = SeekRow.number(problems, line, SeekRow.LON, "lon", lon);
        if (latDeg == null || lonDeg == null) {
            return null;
        }
        try {
            return new Position(latDeg, lonDeg);
        } catch (IllegalArgumentException bad) {
            problems.inCell(
                    line,
                    Math.abs(latDeg) > 90 ? SeekRow.LAT : SeekRow.LON,
                    SeekRow.asTyped(String.valueOf(bad.getMessage())));
            return null;
        }
    }
}
