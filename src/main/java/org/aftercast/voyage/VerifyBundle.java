package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.aftercast.study.Hashes;

/**
 * Checks open data against their own description: every file there, of the described length and SHA-256; every table with
 * the described columns, types, keys and references; nothing that is not described. Whoever changes a file and its
 * description together cannot be found out this way.
 */
public final class VerifyBundle {

    /** Name of the description. */
    public static final String DESCRIPTION = "datapackage.json";

    private static final int MOST_PER_TABLE = 20;

    /**
     * What was found.
     *
     * @param problems what is wrong; empty when all is well
     * @param files files checked
     * @param rows rows of tables checked
     */
    public record Report(List<String> problems, int files, long rows) {

        public Report {
            problems = List.copyOf(problems);
        }
    }

    private final Path folder;
    private final List<String> problems = new ArrayList<>();
    private final Map<String, Map<String, Set<String>>> columns = new HashMap<>();
    private int files;
    private long rows;

    private VerifyBundle(Path folder) {
        this.folder = folder;
    }

    /** Whether this folder holds open data rather than a study. */
    public static boolean isBundle(Path folder) {
        return Files.isRegularFile(folder.resolve(DESCRIPTION)) && !Files.exists(folder.resolve("study.db"));
    }

    /**
     * Checks a folder.
     *
     * @throws BadInputException if there is no description, or it is no JSON
     * @throws IOException if the folder cannot be read
     */
    public static Report of(Path folder) throws BadInputException, IOException {
        VerifyBundle check = new VerifyBundle(folder);
        check.everything();
        return new Report(check.problems, check.files, check.rows);
    }

    /** Files inside the folder that its description names; none where there is no readable description. */
    static Set<String> described(Path folder) throws IOException {
        Set<String> paths = new TreeSet<>();
        if (!Files.isRegularFile(folder.resolve(DESCRIPTION))) {
            return paths;
        }
        VerifyBundle check = new VerifyBundle(folder);
        try {
            for (JsonNode resource : new ObjectMapper()
                    .readTree(Files.readAllBytes(folder.resolve(DESCRIPTION)))
                    .path("resources")) {
                String path = resource.path("path").asText("");
                if (check.isInside(path)) {
                    paths.add(path);
                }
            }
        } catch (JsonProcessingException noJson) {
            return new TreeSet<>();
        }
        return paths;
    }

    private void everything() throws BadInputException, IOException {
        JsonNode root;
        try {
            root = new ObjectMapper().readTree(Files.readAllBytes(folder.resolve(DESCRIPTION)));
        } catch (JsonProcessingException bad) {
            throw new BadInputException(folder.resolve(DESCRIPTION) + ": is no JSON (" + bad.getOriginalMessage()
                    + "); accepted: the description that aftercast report writes");
        }
        JsonNode resources = root.path("resources");
        if (!resources.isArray() || resources.isEmpty()) {
            problems.add(DESCRIPTION + ": names no resources");
        }
        Set<String> described = new HashSet<>(Set.of(DESCRIPTION));
        for (JsonNode resource : resources) {
            String path = resource.path("path").asText("");
            if (!described.add(path)) {
                problems.add(path + ": is described twice");
            } else if (isInside(path)) {
                file(path, resource);
            } else {
                problems.add(DESCRIPTION + ": path \"" + path + "\" leaves the folder");
            }
        }
        for (JsonNode resource : resources) {
            references(resource);
        }
        for (String needed : List.of("README.md", "CITATION.cff")) {
            if (!described.contains(needed)) {
                problems.add(DESCRIPTION + ": " + needed + " is not described");
            }
        }
        try (Stream<Path> all = Files.walk(folder)) {
            Set<String> extra = new TreeSet<>();
            all.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS))
                    .map(path -> folder.relativize(path).toString().replace('\\', '/'))
                    .filter(path -> !described.contains(path))
                    .forEach(extra::add);
            extra.forEach(path -> problems.add(path + ": is not described"));
        } catch (UncheckedIOException failure) {
            throw failure.getCause();
        }
    }

    private boolean isInside(String path) {
        try {
            Path file = Path.of(path);
            return !path.isEmpty()
                    && !path.contains("\\")
                    && !path.contains(":")
                    && !file.isAbsolute()
                    && folder.resolve(file).normalize().startsWith(folder.normalize())
                    && !path.contains("..");
        } catch (InvalidPathException bad) {
            return false;
        }
    }

    private void file(String path, JsonNode resource) throws IOException {
        Path file = folder.resolve(path);
        if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
            problems.add(path + ": is missing, or no plain file");
            return;
        }
        files++;
        long bytes = resource.path("bytes").asLong(-1);
        if (bytes >= 0 && bytes != Files.size(file)) {
            problems.add(path + ": is " + Files.size(file) + " bytes long, described are " + bytes);
        }
        String hash = resource.path("hash").asText("");
        if (!hash.equals("sha256:" + Hashes.ofFile(file))) {
            problems.add(path + ": its content is not the described one (SHA-256)");
        }
        if (resource.path("profile").asText("").equals("tabular-data-resource")) {
            table(path, file, resource);
        }
    }

    private void table(String path, Path file, JsonNode resource) throws IOException {
        JsonNode schema = resource.path("schema");
        List<String> names = new ArrayList<>();
        List<String> types = new ArrayList<>();
        schema.path("fields").forEach(field -> {
            names.add(field.path("name").asText());
            types.add(field.path("type").asText());
        });
        List<String> key = new ArrayList<>();
        schema.path("primaryKey").forEach(part -> key.add(part.asText()));
        Map<String, Set<String>> values = new HashMap<>();
        Set<List<String>> keys = new HashSet<>();
        int found = problems.size();
        try (CsvReader<CsvRecord> reader =
                CsvReader.builder().ofCsvRecord(Files.readString(file, StandardCharsets.UTF_8))) {
            boolean header = true;
            for (CsvRecord row : reader) {
                String where = path + ", line " + row.getStartingLineNumber();
                if (header) {
                    header = false;
                    if (!row.getFields().equals(names)) {
                        problems.add(where + ": the columns are " + row.getFields() + ", described are " + names);
                        return;
                    }
                    continue;
                }
                rows++;
                if (problems.size() - found >= MOST_PER_TABLE) {
                    problems.add(path + ": and more");
                    return;
                }
                row(where, row, names, types, values);
                List<String> own = key.stream()
                        .map(column -> row.getField(Math.max(0, names.indexOf(column))))
                        .toList();
                if (!key.isEmpty() && (own.stream().anyMatch(String::isEmpty) || !keys.add(own))) {
                    problems.add(where + ": the key " + key + " is " + own + ", blank or there already");
                }
            }
        } catch (CsvParseException | java.nio.charset.CharacterCodingException bad) {
            problems.add(path + ": is no table in UTF-8 (" + bad.getMessage() + ")");
        }
        columns.put(resource.path("name").asText(), values);
    }

    private void row(
            String where, CsvRecord row, List<String> names, List<String> types, Map<String, Set<String>> values) {
        if (row.getFieldCount() != names.size()) {
            problems.add(where + ": " + row.getFieldCount() + " cells, described are " + names.size());
            return;
        }
        for (int i = 0; i < names.size(); i++) {
            String cell = row.getField(i);
            values.computeIfAbsent(names.get(i), n -> new HashSet<>()).add(cell);
            if (!cell.isEmpty() && !readsAs(types.get(i), cell)) {
                problems.add(where + ", column " + (i + 1) + " (" + names.get(i) + "): \"" + cell + "\" is no "
                        + types.get(i));
            }
        }
    }

    private static boolean readsAs(String type, String cell) {
        try {
            return switch (type) {
                case "number" -> Double.isFinite(Double.parseDouble(cell));
                case "integer" -> cell.matches("-?\\d{1,18}");
                case "datetime" -> Instant.parse(cell) != null;
                default -> true;
            };
        } catch (NumberFormatException | DateTimeParseException bad) {
            return false;
        }
    }

    private void references(JsonNode resource) {
        for (JsonNode foreign : resource.path("schema").path("foreignKeys")) {
            String column = foreign.path("fields").asText();
            String other = foreign.path("reference").path("resource").asText();
            Set<String> known = columns.getOrDefault(other, Map.of())
                    .getOrDefault(foreign.path("reference").path("fields").asText(), Set.of());
            Set<String> own =
                    new TreeSet<>(columns.getOrDefault(resource.path("name").asText(), Map.of())
                            .getOrDefault(column, Set.of()));
            own.remove("");
            own.removeAll(known);
            if (!own.isEmpty()) {
                problems.add(resource.path("path").asText() + ": " + column + " " + own + " is not in " + other);
            }
        }
    }
}
