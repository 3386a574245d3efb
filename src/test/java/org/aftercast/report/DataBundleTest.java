package org.aftercast.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.zip.GZIPInputStream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.NodeList;

/**
 * The open data of an invented study, read again and held against the standards: the Frictionless Data Package 1.0
 * profiles (as shipped in npm {@code datapackage} 1.1.10) and the Darwin Core term lists (see the fixture's head).
 */
class DataBundleTest {

    private static final ObjectMapper MAPPER = new ObjectMapper();

    private final StudyReport report = InventedStudy.report(50);
    private final Map<String, byte[]> files = new TreeMap<>();

    @BeforeEach
    void write() throws IOException {
        DataBundle.write(report, List.of(), (path, content) -> {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            content.writeTo(out);
            files.put(path, out.toByteArray());
        });
    }

    private String text(String path) {
        return new String(Objects.requireNonNull(files.get(path), path), StandardCharsets.UTF_8);
    }

    private JsonNode descriptor() throws IOException {
        return MAPPER.readTree(text("datapackage.json"));
    }

    private static String fixture(String name) throws IOException {
        try (InputStream in = Objects.requireNonNull(DataBundleTest.class.getResourceAsStream(name), name)) {
            byte[] bytes = name.endsWith(".gz") ? new GZIPInputStream(in).readAllBytes() : in.readAllBytes();
            return new String(bytes, StandardCharsets.UTF_8);
        }
    }

    private static void validates(String profile, String json) throws IOException {
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_4)
                        .getSchema(fixture(profile), InputFormat.JSON)
                        .validate(json, InputFormat.JSON))
                .isEmpty();
    }

    @Test
    void theDescriptionKeepsToTheFrictionlessProfiles() throws IOException {
        validates("frictionless-data-package.json.gz", text("datapackage.json"));
        int tables = 0;
        for (JsonNode resource : descriptor().get("resources")) {
            if (resource.get("profile").asText().equals("tabular-data-resource")) {
                validates("frictionless-tabular-data-resource.json.gz", resource.toString());
                tables++;
            }
        }
        assertThat(tables).isGreaterThan(10);
    }

    @Test
    void aBrokenDescriptionDoesNotKeepToThem() throws IOException {
        String broken = text("datapackage.json").replace("\"path\" : \"animals.csv\",", "");
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_4)
                        .getSchema(fixture("frictionless-data-package.json.gz"), InputFormat.JSON)
                        .validate(broken, InputFormat.JSON))
                .isNotEmpty();
    }

    /** Reads every table again as its description says: columns, types, keys, references, size, checksum. */
    @Test
    void everyTableReadsBackAsDescribed() throws Exception {
        Map<String, Map<String, Set<String>>> values = new HashMap<>();
        for (JsonNode resource : descriptor().get("resources")) {
            if (!resource.get("format").asText().equals("csv")) {
                continue;
            }
            byte[] bytes = Objects.requireNonNull(files.get(resource.get("path").asText()));
            assertThat(resource.get("bytes").asInt()).isEqualTo(bytes.length);
            assertThat(resource.get("hash").asText())
                    .isEqualTo("sha256:"
                            + HexFormat.of()
                                    .formatHex(
                                            MessageDigest.getInstance("SHA-256").digest(bytes)));
            JsonNode fields = resource.get("schema").get("fields");
            Set<List<String>> keys = new HashSet<>();
            Map<String, Set<String>> columns = new HashMap<>();
            try (CsvReader<NamedCsvRecord> reader =
                    CsvReader.builder().ofNamedCsvRecord(new String(bytes, StandardCharsets.UTF_8))) {
                for (NamedCsvRecord row : reader) {
                    assertThat(row.getHeader())
                            .containsExactlyElementsOf(
                                    fields.findValuesAsText("name").stream().toList());
                    for (JsonNode field : fields) {
                        String name = field.get("name").asText();
                        readsAs(field.get("type").asText(), row.getField(name));
                        columns.computeIfAbsent(name, n -> new HashSet<>()).add(row.getField(name));
                    }
                    if (resource.get("schema").has("primaryKey")) {
                        List<String> key = new java.util.ArrayList<>();
                        resource.get("schema").get("primaryKey").forEach(k -> key.add(row.getField(k.asText())));
                        assertThat(keys.add(key))
                                .as("%s %s", resource.get("path"), key)
                                .isTrue();
                    }
                }
            }
            values.put(resource.get("name").asText(), columns);
        }
        for (JsonNode resource : descriptor().get("resources")) {
            for (JsonNode foreign : resource.path("schema").path("foreignKeys")) {
                JsonNode reference = foreign.get("reference");
                assertThat(values.get(reference.get("resource").asText())
                                .get(reference.get("fields").asText()))
                        .containsAll(values.get(resource.get("name").asText())
                                .get(foreign.get("fields").asText()));
            }
        }
    }

    private static void readsAs(String type, String cell) {
        if (cell.isEmpty()) {
            return;
        }
        switch (type) {
            case "number" -> assertThat(Double.parseDouble(cell)).isFinite();
            case "integer" -> Long.parseLong(cell);
            case "datetime" -> Instant.parse(cell);
            default -> assertThat(type).isEqualTo("string");
        }
    }

    @Test
    void captureEventsUseDarwinCoreTermsOnly() throws Exception {
        Set<String> terms = new HashSet<>();
        fixture("darwin-core-terms.txt")
                .lines()
                .filter(line -> !line.startsWith("#"))
                .forEach(line -> terms.addAll(Arrays.asList(line.split(","))));
        for (String table : List.of("event", "occurrence", "measurementorfact")) {
            String head =
                    text("darwin-core/" + table + ".csv").lines().findFirst().orElseThrow();
            assertThat(terms).contains(head.split(","));
        }
        Document meta = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(files.get("darwin-core/meta.xml")));
        NodeList fields = meta.getElementsByTagName("field");
        for (int i = 0; i < fields.getLength(); i++) {
            String term = fields.item(i).getAttributes().getNamedItem("term").getNodeValue();
            assertThat(terms).contains(term.substring(term.lastIndexOf('/') + 1));
        }
        NodeList locations = meta.getElementsByTagName("location");
        for (int i = 0; i < locations.getLength(); i++) {
            assertThat(files).containsKey("darwin-core/" + locations.item(i).getTextContent());
        }
    }

    @Test
    void everyEventHasOneAnimalAndInventedOnesSaySo() throws IOException {
        try (CsvReader<NamedCsvRecord> events = CsvReader.builder().ofNamedCsvRecord(text("darwin-core/event.csv"));
                CsvReader<NamedCsvRecord> animals =
                        CsvReader.builder().ofNamedCsvRecord(text("darwin-core/occurrence.csv"))) {
            Set<String> ids = new HashSet<>();
            events.forEach(row -> {
                ids.add(row.getField("eventID"));
                assertThat(row.getField("eventRemarks")).contains("Invented data");
            });
            assertThat(ids).hasSameSizeAs(report.animals());
            animals.forEach(
                    row -> assertThat(ids.remove(row.getField("eventID"))).isTrue());
            assertThat(ids).isEmpty();
        }
    }

    @Test
    void citationAndReadmeSayWhatMustBeSaid() {
        assertThat(text("CITATION.cff"))
                .startsWith("cff-version: 1.2.0\n")
                .contains("type: dataset", "authors:\n  - name: \"Invented survey team\"", "license: CC-BY-4.0");
        assertThat(text("README.md")).contains("Invented data", "CC-BY-4.0", "`fates.csv` | 12 |");
        assertThat(text("data-dictionary.csv")).contains("animals.csv,fightMin,number,min,Length of the fight.");
    }

    @Test
    void parquetFilesAreNamedWithTheirChecksums() throws IOException {
        assertThat(DataBundle.parquetFiles(report))
                .containsEntry("readings/SH-01/seconds.parquet", "seconds/animal-1.parquet");
        assertThat(descriptor().get("resources").findValuesAsText("path")).contains("seconds/animal-1.parquet");
    }

    @Test
    void theSameStudyGivesTheSameBytes() throws IOException {
        Map<String, byte[]> again = new TreeMap<>();
        DataBundle.write(InventedStudy.report(50), List.of(), (path, content) -> {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            content.writeTo(out);
            again.put(path, out.toByteArray());
        });
        assertThat(again.keySet()).isEqualTo(files.keySet());
        again.forEach((path, bytes) -> assertThat(bytes).as(path).isEqualTo(files.get(path)));
    }
}
