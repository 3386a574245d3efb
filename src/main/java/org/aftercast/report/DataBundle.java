package org.aftercast.report;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/**
 * The open data of a study: CSV tables, Darwin Core, a Frictionless data package description, a data dictionary, a
 * citation file and a README. One-per-second tables are Parquet files that the caller copies beside them.
 */
public final class DataBundle {

    /** Name of the one-per-second table in a reading. */
    public static final String SECONDS = "seconds.parquet";

    private static final ObjectMapper MAPPER = new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

    private DataBundle() {}

    /**
     * The Parquet files that belong beside the tables.
     *
     * @return path within the bundle by path within the study folder
     */
    public static Map<String, String> parquetFiles(StudyReport report) {
        Map<String, String> out = new TreeMap<>();
        for (AnimalSection animal : report.animals()) {
            AnimalSection.ReadingSection reading = animal.reading();
            if (reading != null && reading.chain().readingFiles().containsKey(SECONDS)) {
                out.put(reading.chain().readingFolder() + "/" + SECONDS, parquetPath(report, animal));
            }
        }
        return out;
    }

    private static String parquetPath(StudyReport report, AnimalSection animal) {
        return "seconds/" + StudyDocument.anchor(report, animal) + ".parquet";
    }

    /**
     * A further file of the bundle.
     *
     * @param path within the bundle
     * @param title one line
     * @param format such as {@code json}
     * @param mediaType such as {@code application/json}
     * @param content its bytes
     */
    public record Other(String path, String title, String format, String mediaType, byte[] content) {}

    /** Writes everything but the Parquet files. */
    public static void write(StudyReport report, List<Other> others, Shelf shelf) throws IOException {
        List<DataTable> tables = new ArrayList<>(DataTables.of(report));
        List<DataTable> darwin = DarwinCore.tables(report);
        tables.addAll(darwin);
        Map<String, byte[]> bytes = new TreeMap<>();
        for (DataTable table : tables) {
            bytes.put(table.name, table.csv().getBytes(StandardCharsets.UTF_8));
        }
        for (DataTable table : tables) {
            byte[] csv = content(bytes, table);
            shelf.put(table.name + ".csv", out -> out.write(csv));
        }
        DataTable dictionary = dictionary(tables);
        List<Other> described = new ArrayList<>(others);
        described.add(text("darwin-core/meta.xml", "What the Darwin Core files hold", "xml", DarwinCore.meta(darwin)));
        described.add(text("CITATION.cff", "How to cite these data", "cff", citation(report)));
        described.add(text("README.md", "What is in this folder", "md", readme(report, tables, others)));
        for (Other other : described) {
            shelf.put(other.path(), out -> out.write(other.content()));
        }
        byte[] words = dictionary.csv().getBytes(StandardCharsets.UTF_8);
        bytes.put(dictionary.name, words);
        shelf.put(dictionary.name + ".csv", out -> out.write(words));
        tables.add(dictionary);
        byte[] description = describe(report, tables, bytes, described).getBytes(StandardCharsets.UTF_8);
        shelf.put("datapackage.json", out -> out.write(description));
    }

    private static Other text(String path, String title, String format, String content) {
        String type = format.equals("xml") ? "application/xml" : format.equals("md") ? "text/markdown" : "text/yaml";
        return new Other(path, title, format, type, content.getBytes(StandardCharsets.UTF_8));
    }

    private static byte[] content(Map<String, byte[]> bytes, DataTable table) {
        byte[] content = bytes.get(table.name);
        if (content == null) {
            throw new IllegalStateException(table.name + ": was not written");
        }
        return content;
    }

    // ---- data package

    private static String describe(
            StudyReport report, List<DataTable> tables, Map<String, byte[]> bytes, List<Other> others)
            throws IOException {
        StudyReport.About about = report.about();
        ObjectNode root = MAPPER.createObjectNode();
        root.put("profile", "data-package");
        root.put("name", slug(about.title()));
        root.put("title", about.title());
        root.put("description", description(report));
        root.put("version", about.asOf().toString());
        root.put("created", about.asOf() + "T00:00:00Z");
        String licence = about.licence();
        if (licence != null) {
            ObjectNode node = root.putArray("licenses").addObject();
            node.put("name", licence);
        }
        if (!about.authors().isEmpty()) {
            ArrayNode list = root.putArray("contributors");
            about.authors().forEach(name -> list.addObject().put("title", name).put("role", "author"));
        }
        ArrayNode resources = root.putArray("resources");
        for (DataTable table : tables) {
            resource(resources.addObject(), table, content(bytes, table));
        }
        for (Other other : others) {
            ObjectNode node = resources.addObject();
            node.put("name", slug(other.path()));
            node.put("path", other.path());
            node.put("title", other.title());
            node.put("profile", "data-resource");
            node.put("format", other.format());
            node.put("mediatype", other.mediaType());
            node.put("encoding", "utf-8");
            node.put("bytes", other.content().length);
            node.put("hash", "sha256:" + sha256(other.content()));
        }
        for (AnimalSection animal : report.animals()) {
            AnimalSection.ReadingSection reading = animal.reading();
            String sha = reading == null ? null : reading.chain().readingFiles().get(SECONDS);
            if (sha != null) {
                ObjectNode node = resources.addObject();
                node.put("name", "seconds-" + StudyDocument.anchor(report, animal));
                node.put("path", parquetPath(report, animal));
                node.put("title", "One row per second, animal " + animal.name());
                node.put("profile", "data-resource");
                node.put("format", "parquet");
                node.put("mediatype", "application/vnd.apache.parquet");
                node.put("hash", "sha256:" + sha);
            }
        }
        return MAPPER.writeValueAsString(root).replace("\r\n", "\n") + "\n";
    }

    private static void resource(ObjectNode node, DataTable table, byte[] csv) {
        node.put("name", resourceName(table.name));
        node.put("path", table.name + ".csv");
        node.put("title", table.title);
        node.put("profile", "tabular-data-resource");
        node.put("format", "csv");
        node.put("mediatype", "text/csv");
        node.put("encoding", "utf-8");
        node.put("bytes", csv.length);
        node.put("hash", "sha256:" + sha256(csv));
        node.putObject("dialect")
                .put("delimiter", ",")
                .put("lineTerminator", "\n")
                .put("quoteChar", "\"")
                .put("doubleQuote", true)
                .put("header", true);
        ObjectNode schema = node.putObject("schema");
        ArrayNode fields = schema.putArray("fields");
        for (DataTable.Field field : table.fields) {
            ObjectNode f = fields.addObject();
            f.put("name", field.name());
            f.put("type", field.type().word);
            if (field.type() == DataTable.Type.DATETIME) {
                f.put("format", "any");
            }
            f.put("description", field.description());
            if (!field.unit().isEmpty()) {
                f.put("unit", field.unit());
            }
        }
        schema.putArray("missingValues").add("");
        if (!table.keyColumns().isEmpty()) {
            ArrayNode key = schema.putArray("primaryKey");
            table.keyColumns().forEach(key::add);
        }
        if (!table.references().isEmpty()) {
            ArrayNode keys = schema.putArray("foreignKeys");
            table.references().forEach((column, other) -> {
                ObjectNode k = keys.addObject();
                k.put("fields", column);
                k.putObject("reference").put("resource", resourceName(other)).put("fields", column);
            });
        }
    }

    private static String resourceName(String table) {
        return table.replace('/', '-');
    }

    private static String description(StudyReport report) {
        StringBuilder out = new StringBuilder();
        if (report.about().origin() == StudyReport.Origin.INVENTED) {
            out.append(PlainWords.INVENTED).append(' ');
        }
        String species = report.about().species();
        String site = report.about().site();
        return out.append("What became of ")
                .append(StudyFigures.counted(report.animals().size(), "animal", "animals"))
                .append(species == null ? "" : " (" + species + ")")
                .append(" after release")
                .append(site == null ? "" : ", " + site)
                .append(": catch and handling, fates with their evidence, behaviour, recovery, the estimate.")
                .toString();
    }

    // ---- dictionary, citation, README

    private static DataTable dictionary(List<DataTable> tables) {
        DataTable out = new DataTable("data-dictionary", "Every column of every table")
                .text("table", "File.")
                .text("column", "Heading.")
                .text("type", "Type.")
                .text("unit", "Unit.")
                .text("description", "What it means.");
        for (DataTable table : tables) {
            for (DataTable.Field f : table.fields) {
                out.row(table.name + ".csv", f.name(), f.type().word, f.unit(), f.description());
            }
        }
        for (String[] column : SECOND_COLUMNS) {
            out.row("seconds/*.parquet", column[0], "number", column[1], column[2]);
        }
        return out;
    }

    private static final String[][] SECOND_COLUMNS = {
        {"secondS", "s", "Whole seconds since the first sample."},
        {"depthM", "m", "Mean depth, positive down."},
        {"verticalSpeedMps", "m/s", "Rate of change of depth, positive down, over a few seconds."},
        {"tempC", "°C", "Mean temperature."},
        {"pitchDeg", "°", "Pitch, head up positive."},
        {"rollDeg", "°", "Roll, right side down positive."},
        {"dynamicL1G", "g", "Mean of |dx| + |dy| + |dz|, the dynamic acceleration."},
        {"dynamicL2G", "g", "Mean of √(dx² + dy² + dz²)."},
        {"jerkGps", "g/s", "Mean of the jerk norm."},
        {"beatHz", "Hz", "Frequency of the beat that covers the middle of the second."},
        {"beatAmplitudeG", "g", "Amplitude of that beat."},
        {"swayRmsG", "g", "Root mean square of the sideways acceleration in the tailbeat band."},
        {"surfaceBandRmsG", "g", "Root mean square of the vertical acceleration in the wave band, 0.1 to 0.7 Hz."},
        {"quality", "", "Share of the second with good samples, 0 to 1."},
    };

    private static String citation(StudyReport report) {
        StudyReport.About about = report.about();
        StringBuilder out = new StringBuilder();
        out.append("cff-version: 1.2.0\n");
        out.append("message: ")
                .append(yaml("If you use these data, please cite them as below."))
                .append('\n');
        out.append("type: dataset\n");
        out.append("title: ").append(yaml(about.title())).append('\n');
        out.append("authors:\n");
        List<String> authors = about.authors().isEmpty() ? List.of("not named in the study") : about.authors();
        for (String author : authors) {
            out.append("  - name: ").append(yaml(author)).append('\n');
        }
        out.append("version: ").append(yaml(about.asOf().toString())).append('\n');
        out.append("date-released: ").append(about.asOf()).append('\n');
        String licence = about.licence();
        if (licence != null) {
            out.append("license: ").append(licence).append('\n');
        }
        out.append("abstract: ").append(yaml(description(report))).append('\n');
        return out.toString();
    }

    private static String yaml(String text) {
        return '"'
                + text.replace("\\", "\\\\")
                        .replace("\"", "\\\"")
                        .replace("\n", " ")
                        .replace("\t", " ")
                + '"';
    }

    private static String readme(StudyReport report, List<DataTable> tables, List<Other> others) {
        StudyReport.About about = report.about();
        StringBuilder out = new StringBuilder("# " + about.title() + "\n\n" + description(report) + "\n\n");
        String licence = about.licence();
        out.append("Licence: ")
                .append(licence == null ? "not decided yet; ask before you use these data." : licence + ".")
                .append(" Citation: `CITATION.cff`.\n\n")
                .append("| file | rows | holds |\n| --- | ---: | --- |\n");
        for (DataTable table : tables) {
            out.append("| `")
                    .append(table.name)
                    .append(".csv` | ")
                    .append(table.rowCount())
                    .append(" | ")
                    .append(table.title)
                    .append(" |\n");
        }
        for (Other other : others) {
            out.append("| `")
                    .append(other.path())
                    .append("` | | ")
                    .append(other.title())
                    .append(" |\n");
        }
        if (!parquetFiles(report).isEmpty()) {
            out.append("| `seconds/*.parquet` | | One row per second of each recording |\n");
        }
        out.append("\n`datapackage.json` describes every table and column (Frictionless Data Package 1.0);"
                + " `data-dictionary.csv` says the same as a table. `darwin-core/` is an archive of the capture events in"
                + " Darwin Core terms. CSV files are UTF-8, with commas, quotes doubled inside quotes (RFC 4180), and an"
                + " empty cell for a value that is not known. Times are UTC (ISO 8601). Hours count from the animal's"
                + " release, seconds from the first sample of its recording. `aftercast verify` on this folder checks it against its"
                + " description; `aftercast estimate fates.csv` gives the share again.\n\nMade with Aftercast "
                + report.madeWith().softwareVersion() + "; data as of " + about.asOf() + ".\n");
        return out.toString();
    }

    static String slug(String title) {
        String slug =
                title.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^-|-$", "");
        return slug.isEmpty() ? "study" : slug;
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java has SHA-256", impossible);
        }
    }
}
