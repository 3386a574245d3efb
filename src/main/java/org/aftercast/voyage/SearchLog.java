package org.aftercast.voyage;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.RuleException;

/**
 * What was noted while looking for one package, as a table of observations (docs/search.md) in the study's folder {@code
 * searches/}. Rows are only ever added; taking one back is a row of its own. A row that the reckoning could not use is
 * refused, and the table stays as it was.
 */
public final class SearchLog {

    /** Folder of the tables in the study. */
    public static final String FOLDER = "searches";

    private static final String HEADER = "time,lat,lon,kind,values";
    private static final Pattern PLAIN = Pattern.compile("[A-Za-z0-9:._+-]{0,40}");
    private static final Pattern VALUES = Pattern.compile("[^\",\\r\\n\\p{Cntrl}]{0,400}");

    /**
     * One row as written.
     *
     * @param line its number in the table, from 1; {@code undo} rows name it
     * @param time UTC, ISO 8601
     * @param lat degrees, or empty
     * @param lon degrees, or empty
     * @param kind kind of observation
     * @param values name=value pairs
     */
    public record Row(int line, String time, String lat, String lon, String kind, String values) {}

    private final FileStore files;

    /** Writes through this store. */
    public SearchLog(FileStore files) {
        this.files = files;
    }

    /** The table of one animal's package. */
    public static Path file(Path study, String animal) throws BadInputException {
        try {
            Animal.named(animal);
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
        return study.resolve(FOLDER).resolve(animal + ".csv");
    }

    /**
     * The rows so far, comments left out; empty when nothing was noted yet.
     *
     * @throws IOException if the table cannot be read
     */
    public List<Row> rows(Path study, String animal) throws BadInputException, IOException {
        Path file = file(study, animal);
        List<Row> rows = new ArrayList<>();
        if (!Files.isRegularFile(file)) {
            return rows;
        }
        List<String> lines = Files.readAllLines(file, StandardCharsets.UTF_8);
        for (int i = 1; i < lines.size(); i++) {
            String line = lines.get(i);
            if (!line.isBlank() && !line.startsWith("#")) {
                String[] cells = line.split(",", 5);
                if (cells.length == 5) {
                    rows.add(new Row(i + 1, cells[0], cells[1], cells[2], cells[3], cells[4]));
                }
            }
        }
        return rows;
    }

    /**
     * Adds rows, all or none.
     *
     * @param who noted beside the rows as a comment
     * @param added rows to add; their line numbers do not matter
     * @throws BadInputException if the reckoning could not use the table then; it stays as it was
     * @throws IOException if it cannot be written
     */
    public void add(Path study, String animal, String who, List<Row> added) throws BadInputException, IOException {
        Path file = file(study, animal);
        StringBuilder text = new StringBuilder();
        if (Files.isRegularFile(file)) {
            text.append(Files.readString(file, StandardCharsets.UTF_8));
        } else {
            text.append(HEADER).append('\n');
        }
        if (!text.toString().endsWith("\n")) {
            text.append('\n');
        }
        text.append("# by ").append(who.replaceAll("\\p{Cntrl}", " ")).append('\n');
        for (Row row : added) {
            for (Map.Entry<String, String> cell : Map.of(
                            "time", row.time(), "lat", row.lat(), "lon", row.lon(), "kind", row.kind())
                    .entrySet()) {
                if (!PLAIN.matcher(cell.getValue()).matches()) {
                    throw new BadInputException(cell.getKey() + ": \"" + cell.getValue() + "\" cannot be read");
                }
            }
            if (!VALUES.matcher(row.values()).matches()) {
                throw new BadInputException(
                        "values: accepted: name=value pairs with spaces between them, without commas or quotes");
            }
            text.append(String.join(",", row.time(), row.lat(), row.lon(), row.kind(), row.values()))
                    .append('\n');
        }
        byte[] bytes = text.toString().getBytes(StandardCharsets.UTF_8);
        try {
            SeekTable.read(FORM, bytes);
        } catch (BadInputException bad) {
            throw new BadInputException(bad.problems().stream()
                    .map(line -> line.replaceFirst("^" + FORM + "(, line \\d+)?(, column \\d+)?: ", ""))
                    .collect(Collectors.toList()));
        }
        files.makeFolder(Objects.requireNonNull(file.getParent()));
        files.write(file, bytes);
    }

    private static final String FORM = "form";
}
