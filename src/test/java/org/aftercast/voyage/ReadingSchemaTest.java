package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import org.aftercast.recording.Recording;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The written result against docs/reading.schema.json, both ways: what is right passes, what is wrong does not. */
class ReadingSchemaTest {

    private static final ObjectMapper MAPPER = new ObjectMapper();
    private static Schema schema;
    private static Reading reading;
    private static String json;

    @TempDir
    private Path folder;

    @BeforeAll
    static void read() throws Exception {
        Path file = Path.of(System.getProperty("aftercast.basedir", "."), "docs/reading.schema.json");
        schema = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(Files.readString(file), InputFormat.JSON);
        Scenario swimmer = Scenario.swimmer();
        Recording recording = RecordingSimulator.simulate(
                        swimmer.withLogger(swimmer.logger().with(10, 1)).withRecovery(null), 3)
                .recording();
        reading = ReadRecording.read(recording, ReadContext.nothingKnown(), Settings.defaults());
        json = new String(
                ReadingDocument.of(reading, "invented", null, List.of()).toJson(),
                java.nio.charset.StandardCharsets.UTF_8);
    }

    private static List<String> problems(String text) {
        return schema.validate(text, InputFormat.JSON).stream()
                .map(Object::toString)
                .toList();
    }

    @Test
    void aReadingFitsItsSchema() throws IOException {
        assertThat(problems(json)).isEmpty();
        JsonNode tree = MAPPER.readTree(json);
        assertThat(tree.at("/beats/count").asInt()).isGreaterThan(1000);
        assertThat(tree.at("/beats/list").size())
                .isEqualTo(tree.at("/beats/count").asInt());
    }

    @Test
    void whatIsWrongIsRefused() throws IOException {
        wrong(t -> ((ObjectNode) t.at("/fate")).put("call", "perished"));
        wrong(t -> ((ObjectNode) t.at("/fate/probabilities")).put("died", 1.5));
        wrong(t -> ((ObjectNode) t.at("/recording")).put("durationS", -1));
        wrong(t -> ((ObjectNode) t.at("/recording")).remove("gaps"));
        wrong(t -> ((ObjectNode) t.at("/beats/list/0")).put("extra", 1));
        wrong(t -> ((ObjectNode) t).put("format", "something-else"));
        wrong(t -> ((ObjectNode) t.at("/recovery")).put("status", "recovered").putNull("hours"));
        wrong(t -> ((ObjectNode) t.at("/bouts/0")).put("kind", "sleeping"));
    }

    private static void wrong(Consumer<JsonNode> change) throws IOException {
        JsonNode tree = MAPPER.readTree(json);
        change.accept(tree);
        assertThat(problems(tree.toString())).isNotEmpty();
    }

    @Test
    void aKeptReadingOpensAsItWas() throws IOException {
        ReadingFiles.write(reading, "invented", folder, org.aftercast.study.FileStore.onDisk());
        Reading opened = ReadingFiles.open(folder);
        String again = new String(
                ReadingDocument.of(opened, "invented", null, List.of()).toJson(),
                java.nio.charset.StandardCharsets.UTF_8);
        assertThat(again).isEqualTo(json);
        assertThat(opened.motion().seconds().pitchDeg())
                .isEqualTo(reading.motion().seconds().pitchDeg());
        assertThat(opened.motion().beats().startS())
                .isEqualTo(reading.motion().beats().startS());
    }

    @Test
    void theSameSettingsGiveTheSameReadingToTheLastDigit() throws Exception {
        Scenario swimmer = Scenario.swimmer();
        Recording recording = RecordingSimulator.simulate(
                        swimmer.withLogger(swimmer.logger().with(10, 1)).withRecovery(null), 3)
                .recording();
        Settings settings = MAPPER.readValue(MAPPER.writeValueAsBytes(Settings.defaults()), Settings.class);
        Reading again = ReadRecording.read(recording, ReadContext.nothingKnown(), settings);
        assertThat(new String(
                        ReadingDocument.of(again, "invented", null, List.of()).toJson(),
                        java.nio.charset.StandardCharsets.UTF_8))
                .isEqualTo(json);
    }
}
