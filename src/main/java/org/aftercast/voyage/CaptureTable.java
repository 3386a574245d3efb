package org.aftercast.voyage;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.IOException;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.study.CaptureSheet;

/**
 * The capture table as CSV text: RFC 4180 with a header line; comma, semicolon or tab between the cells, whichever the
 * header line uses.
 *
 * <p>A text cell that a spreadsheet would take for a formula (it begins with {@code = + - @}, a tab or a return) is
 * written with an apostrophe before it, and read back without.
 */
final class CaptureTable {

    /**
     * One row.
     *
     * @param line where it begins, from 1
     * @param cells text by column; empty when nothing stands there
     */
    record Row(long line, Map<String, String> cells) {}

    /** A kind of table. */
    enum Kind {
        /** One row per animal. */
        CAPTURES("animal"),
        /** One row per trip. */
        LANDINGS("trip");

        private final String key;

        Kind(String key) {
            this.key = key;
        }

        /** The column that must be there: what a row stands for. */
        String key() {
            return key;
        }

        /** Every column it may have. */
        List<String> columns() {
            return this == CAPTURES ? CaptureSheet.columns() : LandingTable.COLUMNS;
        }

        private List<String> similarTo(String name) {
            return this == CAPTURES ? CaptureSheet.similarTo(name) : columns();
        }
    }

    private static final String FORMULA_STARTS = "=+-@\t\r";

    private CaptureTable() {}

    /**
     * Reads a table.
     *
     * @param problems gets the places of the columns, and rows with too few or too many cells
     * @throws BadInputException if it is no table or its header is wrong
     */
    static List<Row> read(String file, byte[] bytes, TableProblems problems, Kind kind) throws BadInputException {
        String text = decode(file, bytes);
        if (text.isBlank()) {
            throw new BadInputException(
                    file + ": the file is empty; accepted: a header line and one row per " + kind.key());
        }
        char separator = separator(text);
        List<Row> rows = new ArrayList<>();
        try (CsvReader<CsvRecord> reader = CsvReader.builder()
                .fieldSeparator(separator)
                .skipEmptyLines(true)
                .extraFieldStrategy(FieldMismatchStrategy.IGNORE) // counted below, with a better message
                .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                .allowUnclosedQuote(false)
                .ofCsvRecord(new StringReader(text))) {
            List<String> names = null;
            for (CsvRecord record : reader) {
                if (names == null) {
                    names = header(record, problems, kind);
                    problems.refuse();
                } else if (record.getFields().stream().anyMatch(cell -> !cell.isBlank())) {
                    row(record, names, problems, rows);
                }
            }
        } catch (CsvParseException bad) {
            throw new BadInputException(file + ": not a table (" + reason(bad) + "); accepted: comma-separated values");
        } catch (IOException impossible) {
            throw new IllegalStateException("reading from memory", impossible);
        }
        if (problems.none() && rows.isEmpty()) {
            throw new BadInputException(file + ": no rows below the header; accepted: one row per " + kind.key());
        }
        return rows;
    }

    private static String reason(CsvParseException bad) {
        Throwable cause = bad.getCause() == null ? bad : bad.getCause();
        return String.valueOf(cause.getMessage());
    }

    /** The separator that the header line uses. */
    private static char separator(String text) {
        String header = text.lines().findFirst().orElse("");
        return header.indexOf('\t') >= 0 ? '\t' : header.indexOf(';') >= 0 ? ';' : ',';
    }

    /** Which kind of table this is, by its header: landings have a column {@code landed} and none {@code animal}. */
    static Kind kindOf(String file, byte[] bytes) throws BadInputException {
        String text = decode(file, bytes);
        Set<String> names = new HashSet<>();
        String header = text.lines().findFirst().orElse("");
        for (String cell : header.split(java.util.regex.Pattern.quote(String.valueOf(separator(text))), -1)) {
            names.add(cell.strip().replace("\"", ""));
        }
        return names.contains("landed") && !names.contains("animal") ? Kind.LANDINGS : Kind.CAPTURES;
    }

    private static List<String> header(CsvRecord record, TableProblems problems, Kind kind) {
        List<String> names = new ArrayList<>();
        Set<String> known = new HashSet<>(kind.columns());
        long line = record.getStartingLineNumber();
        for (String cell : record.getFields()) {
            String name = cell.strip();
            int place = names.size() + 1;
            if (!known.contains(name)) {
                List<String> similar = kind.similarTo(name);
                problems.inCell(
                        line,
                        place,
                        "no column is called \"" + name + "\"; accepted: "
                                + (similar.isEmpty()
                                        ? "the columns that aftercast enter --template prints"
                                        : String.join(", ", similar)));
            } else if (!problems.columnAt(name, place)) {
                problems.inCell(line, place, "the column " + name + " stands twice");
            }
            names.add(name);
        }
        if (!problems.hasColumn(kind.key())) {
            problems.inLine(line, "the column " + kind.key() + " is missing");
        }
        return names;
    }

    private static void row(CsvRecord record, List<String> names, TableProblems problems, List<Row> rows) {
        List<String> fields = record.getFields();
        if (fields.size() != names.size()) {
            problems.inLine(
                    record.getStartingLineNumber(), fields.size() + " cells where the header has " + names.size());
            return;
        }
        Map<String, String> cells = new HashMap<>();
        for (int i = 0; i < names.size(); i++) {
            String cell = Normalizer.normalize(fields.get(i), Normalizer.Form.NFC)
                    .replace("\r\n", "\n")
                    .replace('\r', '\n');
            cells.put(names.get(i), unguarded(cell.strip()));
        }
        rows.add(new Row(record.getStartingLineNumber(), cells));
    }

    private static String decode(String file, byte[] bytes) throws BadInputException {
        int start = 0;
        if (bytes.length >= 2 && ((bytes[0] == -1 && bytes[1] == -2) || (bytes[0] == -2 && bytes[1] == -1))) {
            throw new BadInputException(file + ": the text is in UTF-16; accepted: UTF-8 (save as \"CSV UTF-8\")");
        }
        if (bytes.length >= 3 && bytes[0] == (byte) 0xEF && bytes[1] == (byte) 0xBB && bytes[2] == (byte) 0xBF) {
            start = 3;
        }
        ByteBuffer in = ByteBuffer.wrap(bytes, start, bytes.length - start);
        try {
            String text = StandardCharsets.UTF_8
                    .newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .onUnmappableCharacter(CodingErrorAction.REPORT)
                    .decode(in)
                    .toString();
            if (text.indexOf('\0') >= 0) {
                throw new BadInputException(file + ", line " + lineAt(bytes, firstNul(bytes))
                        + ": this is not text (it holds a zero byte); accepted: CSV text in UTF-8");
            }
            return text;
        } catch (CharacterCodingException bad) {
            throw new BadInputException(file + ", line " + lineAt(bytes, in.position())
                    + ": a character is not UTF-8; accepted: CSV text in UTF-8 (save as \"CSV UTF-8\")");
        }
    }

    private static int firstNul(byte[] bytes) {
        int at = 0;
        while (at < bytes.length && bytes[at] != 0) {
            at++;
        }
        return at;
    }

    private static int lineAt(byte[] bytes, int position) {
        int line = 1;
        for (int i = 0; i < position; i++) {
            if (bytes[i] == '\n') {
                line++;
            }
        }
        return line;
    }

    /** The table as CSV, comma-separated, with line feeds. */
    static String write(List<Map<String, String>> rows) {
        return write(rows, Kind.CAPTURES);
    }

    /** A table of this kind as CSV, comma-separated, with line feeds. */
    static String write(List<Map<String, String>> rows, Kind kind) {
        StringWriter out = new StringWriter();
        List<String> columns = kind.columns();
        try (CsvWriter writer = CsvWriter.builder()
                .lineDelimiter(de.siegmar.fastcsv.writer.LineDelimiter.LF)
                .build(out)) {
            writer.writeRecord(columns);
            for (Map<String, String> row : rows) {
                writer.writeRecord(columns.stream()
                        .map(column -> {
                            String cell = row.getOrDefault(column, "");
                            return kind == Kind.LANDINGS || CaptureSheet.isText(column) ? guarded(cell) : cell;
                        })
                        .toList());
            }
        } catch (IOException impossible) {
            throw new IllegalStateException("writing to memory", impossible);
        }
        return out.toString();
    }

    static String guarded(String cell) {
        return needsGuard(cell) ? "'" + cell : cell;
    }

    static String unguarded(String cell) {
        return cell.length() > 1 && cell.charAt(0) == '\'' && needsGuard(cell.substring(1)) ? cell.substring(1) : cell;
    }

    /** Also a text that itself begins with apostrophes before such a sign, so that reading back is exact. */
    private static boolean needsGuard(String cell) {
        int at = 0;
        while (at < cell.length() && cell.charAt(at) == '\'') {
            at++;
        }
        return at < cell.length() && FORMULA_STARTS.indexOf(cell.charAt(at)) >= 0;
    }
}
