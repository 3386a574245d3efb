package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.aftercast.recording.Recording;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Coverage-guided fuzzing of every parser: any bytes are read or refused with an {@link ImportException}; nothing else is
 * thrown, nothing hangs. To fuzz for real: {@code bench/fuzz file}; what was seen: {@code docs/evaluation/loading.md}. Seeds
 * and finds: the corpus of small files, which {@link #seedsAreReadOrRefused} walks in every run.
 */
class IntakeFuzzTest {

    private static final Path CORPUS =
            Path.of(System.getProperty("aftercast.basedir", "."), "src/test/resources/intake");

    @Tag("fuzz")
    @MethodSource("files")
    @FuzzTest(maxDuration = "10m")
    void file(byte[] bytes) {
        readFile(bytes);
    }

    @Tag("fuzz")
    @MethodSource("layouts")
    @FuzzTest(maxDuration = "10m")
    void layout(byte[] bytes) {
        readLayout(bytes);
    }

    @Tag("fuzz")
    @MethodSource("fields")
    @FuzzTest(maxDuration = "10m")
    void stampAndNumber(byte[] bytes) {
        readStampAndNumber(bytes);
    }

    /** The committed files, whole. */
    static Stream<byte[]> files() throws IOException {
        try (Stream<Path> all = Files.walk(CORPUS)) {
            List<byte[]> bytes = new ArrayList<>();
            for (Path file : all.filter(Files::isRegularFile).sorted().toList()) {
                bytes.add(Files.readAllBytes(file));
            }
            return bytes.stream();
        }
    }

    /** The download layouts that stand in the committed cases. */
    static Stream<byte[]> layouts() throws IOException {
        List<byte[]> layouts = new ArrayList<>();
        ObjectMapper json = new ObjectMapper();
        try (Stream<Path> all = Files.walk(CORPUS)) {
            for (Path file : all.filter(path -> path.toString().endsWith(".json"))
                    .sorted()
                    .toList()) {
                for (JsonNode layout : json.readTree(file.toFile()).path("layouts")) {
                    layouts.add(layout.toString().getBytes(StandardCharsets.UTF_8));
                }
            }
        }
        assertThat(layouts).hasSizeGreaterThan(20);
        return layouts.stream();
    }

    /** The different fields of the committed files: stamps, numbers and names. */
    static Stream<byte[]> fields() throws IOException {
        TreeSet<String> fields = new TreeSet<>();
        files().forEach(bytes -> {
            for (String field : new String(bytes, StandardCharsets.UTF_8).split("[,;\t\r\n]")) {
                if (field.length() <= 40) {
                    fields.add(field);
                }
            }
        });
        return fields.stream().map(field -> field.getBytes(StandardCharsets.UTF_8));
    }

    /** The short run in every check: every seed, and each of them cut, with a byte changed, and doubled. */
    @Test
    void seedsAreReadOrRefused() throws IOException {
        variants(files()).forEach(bytes -> {
            readFile(bytes);
            readLayout(bytes);
            readStampAndNumber(bytes);
        });
        variants(layouts()).forEach(IntakeFuzzTest::readLayout);
        variants(fields()).forEach(IntakeFuzzTest::readStampAndNumber);
    }

    private static Stream<byte[]> variants(Stream<byte[]> seeds) {
        return seeds.flatMap(bytes ->
                Stream.of(bytes, cut(bytes, 3), cut(bytes, 2), changed(bytes, 5), changed(bytes, 11), doubled(bytes)));
    }

    private static byte[] cut(byte[] bytes, int share) {
        return java.util.Arrays.copyOf(bytes, bytes.length - bytes.length / share);
    }

    private static byte[] changed(byte[] bytes, int step) {
        byte[] changed = bytes.clone();
        for (int i = step; i < changed.length; i += 7 * step) {
            changed[i] ^= (byte) (1 << (i % 8));
        }
        return changed;
    }

    private static byte[] doubled(byte[] bytes) {
        byte[] twice = java.util.Arrays.copyOf(bytes, 2 * bytes.length);
        System.arraycopy(bytes, 0, twice, bytes.length, bytes.length);
        return twice;
    }

    /** A guess, and if it is clear the whole import. */
    static void readFile(byte[] bytes) {
        ImportOptions options = new ImportOptions(
                null, bytes.length % 2 == 0 ? 25.0 : null, bytes.length % 3 == 0 ? "Europe/London" : null);
        try (TextBytes text = TextBytes.of("f", new ByteArrayInputStream(bytes), null)) {
            Recording recording = TextImport.readOpened(text, options);
            if (recording.samples().sampleCount() < 1) {
                throw new IllegalStateException("a recording without samples");
            }
        } catch (ImportException refused) {
            check(refused);
        } catch (IOException other) {
            throw new IllegalStateException("refused without file and line", other);
        }
    }

    static void readLayout(byte[] bytes) {
        try {
            DownloadLayout layout = LayoutJson.parse("f", new String(bytes, StandardCharsets.UTF_8));
            DownloadLayout again = LayoutJson.parse("f", LayoutJson.write(layout));
            if (!again.equals(layout)) {
                throw new IllegalStateException("a layout changes when it is saved");
            }
        } catch (ImportException refused) {
            check(refused);
        }
    }

    static void readStampAndNumber(byte[] bytes) {
        for (TimeKind kind : TimeKind.values()) {
            if (kind != TimeKind.NONE) {
                try {
                    new StampText(kind, '.').read(bytes, 0, bytes.length);
                } catch (RowProblem refused) {
                    check(refused.in("f", 1));
                }
            }
        }
        for (char mark : new char[] {'.', ','}) {
            try {
                NumberText.read(bytes, 0, bytes.length, mark);
            } catch (RowProblem refused) {
                check(refused.in("f", 1));
            }
        }
    }

    private static void check(ImportException refused) {
        if (!refused.getMessage().startsWith("f") || !refused.getMessage().contains("; accepted: ")) {
            throw new IllegalStateException(
                    "a refusal that does not say what would be accepted: " + refused.getMessage());
        }
    }
}
