package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The corpus of small files under {@code src/test/resources/intake}: what each must give, or the exact message. The
 * expected values are computed by {@code src/test/reference/intake_corpus.py}, not by this program.
 */
class IntakeCorpusTest {

    private static final Path ROOT = Path.of(System.getProperty("aftercast.basedir", "."), "src/test/resources/intake");
    private static final ObjectMapper JSON = new ObjectMapper();

    static Stream<Path> ok() throws IOException {
        return cases("ok");
    }

    static Stream<Path> failure() throws IOException {
        return cases("failure");
    }

    private static Stream<Path> cases(String kind) throws IOException {
        try (Stream<Path> all = Files.list(ROOT.resolve(kind))) {
            List<Path> found = all.filter(path -> path.toString().endsWith(".json"))
                    .sorted()
                    .toList();
            assertThat(found).hasSizeGreaterThan(30);
            return found.stream();
        }
    }

    @ParameterizedTest
    @MethodSource("ok")
    void isRead(Path file) throws IOException {
        JsonNode expected = JSON.readTree(file.toFile());
        Recording recording = read(file, expected).recording();
        Instant start = instant(expected.get("startUtc"));
        if (start == null) {
            assertThat(recording.clock().startUtc()).isNull();
        } else {
            // spreadsheet days stand in the file to 1e-10 d, about 9 microseconds
            assertThat(recording.clock().startUtc()).isCloseTo(start, within(5, ChronoUnit.MICROS));
        }
        assertThat(recording.clock().sampleRateHz())
                .isCloseTo(
                        expected.get("sampleRateHz").asDouble(),
                        within(1e-9 * recording.clock().sampleRateHz()));
        assertThat(recording.samples().sampleCount())
                .isEqualTo(expected.get("sampleCount").asLong());
        List<String> channels = new ArrayList<>();
        for (Map.Entry<String, JsonNode> column : expected.get("columns").properties()) {
            channels.add(column.getKey());
            float[] samples = TextImportTest.samples(recording, channel(column.getKey()));
            for (int i = 0; i < samples.length; i++) {
                JsonNode value = column.getValue().get(i);
                if (value.isNull()) {
                    assertThat(samples[i]).as(column.getKey() + " " + i).isNaN();
                } else {
                    // half a unit in the last place of what stands in the file, and of a float
                    assertThat(samples[i])
                            .as(column.getKey() + " " + i)
                            .isCloseTo((float) value.asDouble(), within(2e-6f + 2e-7f * Math.abs(samples[i])));
                }
            }
        }
        assertThat(recording.samples().channels())
                .extracting(Channel::columnName)
                .containsExactlyInAnyOrderElementsOf(channels);
        List<SampleRange> gaps = new ArrayList<>();
        expected.get("gaps")
                .forEach(gap ->
                        gaps.add(new SampleRange(gap.get(0).asLong(), gap.get(1).asLong())));
        assertThat(recording.gaps()).isEqualTo(gaps);
        List<String> flags = new ArrayList<>();
        expected.get("flags").forEach(flag -> flags.add(flag.asText()));
        assertThat(recording.flags()).extracting(flag -> flag.kind().name()).isEqualTo(flags);
    }

    @ParameterizedTest
    @MethodSource("failure")
    void isRefused(Path file) throws IOException {
        JsonNode expected = JSON.readTree(file.toFile());
        ThrowingCallable reading = () -> read(file, expected);
        assertThatThrownBy(reading).isInstanceOf(ImportException.class).satisfies(problem -> {
            String message = problem.getMessage();
            for (Path input : files(file, expected)) {
                message = message.replace(input.toString(), "FILE");
            }
            assertThat(message).isEqualTo(expected.get("message").asText());
        });
    }

    private static Imported read(Path file, JsonNode expected) throws IOException {
        List<DownloadLayout> layouts = new ArrayList<>();
        for (JsonNode layout : expected.get("layouts")) {
            layouts.add(LayoutJson.parse(file.toString(), layout.toString()));
        }
        JsonNode options = expected.get("options");
        return TextImport.read(
                files(file, expected),
                layouts,
                new ImportOptions(
                        instant(options.get("startUtc")),
                        options.has("rateHz") ? options.get("rateHz").asDouble() : null,
                        options.has("zone") ? options.get("zone").asText() : null,
                        options.has("dates")
                                ? ImportOptions.DateOrder.valueOf(options.get("dates")
                                        .asText()
                                        .toUpperCase(Locale.ROOT)
                                        .replace('-', '_'))
                                : null));
    }

    private static List<Path> files(Path file, JsonNode expected) {
        List<Path> files = new ArrayList<>();
        expected.get("files").forEach(name -> files.add(file.resolveSibling(name.asText())));
        return files;
    }

    private static Instant instant(JsonNode node) {
        return node == null || node.isNull() ? null : Instant.parse(node.asText());
    }

    private static Channel channel(String name) {
        return Stream.of(Channel.values())
                .filter(channel -> channel.columnName().equals(name))
                .findFirst()
                .orElseThrow();
    }
}
