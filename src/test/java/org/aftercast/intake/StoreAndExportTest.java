package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Recordings on disk and out again. */
class StoreAndExportTest {

    @TempDir
    Path folder;

    @Test
    void csvReadsBackToTheSameBits() throws IOException {
        Recording recording = invented(5000, 7);
        Path csv = folder.resolve("out.csv");
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        RecordingExport.csv(recording, out);
        Files.write(csv, out.toByteArray());
        Recording back = TextImport.read(csv, null, ImportOptions.none()).recording();
        assertThat(back.clock().sampleRateHz()).isEqualTo(25.0);
        assertThat(back.gaps()).isEqualTo(recording.gaps());
        for (Channel channel : recording.samples().channels()) {
            assertThat(TextImportTest.samples(back, channel)).isEqualTo(TextImportTest.samples(recording, channel));
        }
        JsonNode said =
                new ObjectMapper().readTree(RecordingExport.dictionary(recording, "S01", RecordingExport.Form.CSV));
        String header = Files.readAllLines(csv).get(0);
        assertThat(String.join(",", said.findValuesAsText("name"))).isEqualTo(header);
        assertThat(said.at("/columns/4").toString())
                .isEqualTo(
                        "{\"name\":\"depthM\",\"unit\":\"m\",\"meaning\":\"Depth below the surface, positive down\"}");
        assertThat(said.at("/firstSampleUtc").asText()).isEqualTo("2026-05-03T10:00:00Z");
        assertThat(said.at("/sampleRateHz").asDouble()).isEqualTo(25);
        assertThat(said.at("/sampleCount").asLong()).isEqualTo(5000);
        assertThat(said.at("/gaps/0").toString()).isEqualTo("{\"fromSample\":1000,\"toSample\":1010}");
        assertThat(said.at("/flags/0/note").asText()).isEqualTo("invented; it's 'quoted'");
    }

    @Test
    void severalThreadsReadTheSameBits() throws Exception {
        Recording recording = invented(1_100_000, 8);
        Path file = folder.resolve("r.parquet");
        ColumnStore.parquet().write(recording, file);
        Recording stored = ColumnStore.parquet().open(file);
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try {
            List<Callable<Boolean>> readers = new ArrayList<>();
            for (int t = 0; t < 4; t++) {
                Random random = new Random(t);
                readers.add(() -> {
                    for (int k = 0; k < 30; k++) {
                        Channel channel = k % 2 == 0 ? Channel.ACCELERATION_Y : Channel.DEPTH;
                        int from = random.nextInt(1_000_000);
                        int count = 1 + random.nextInt(k % 10 == 0 ? 600_000 : 5000);
                        count = Math.min(count, 1_100_000 - from);
                        float[] a = new float[count];
                        float[] b = new float[count];
                        recording.samples().read(channel, from, count, a, 0);
                        stored.samples().read(channel, from, count, b, 0);
                        assertThat(b).isEqualTo(a);
                    }
                    return true;
                });
            }
            for (Future<Boolean> done : threads.invokeAll(readers)) {
                assertThat(done.get()).isTrue();
            }
        } finally {
            threads.shutdownNow();
        }
    }

    @Test
    void refusesFilesThatAreNoRecordings() throws Exception {
        Path file = folder.resolve("r.parquet");
        assertThatThrownBy(() -> ColumnStore.parquet().open(file))
                .hasMessage(file + ": does not exist; accepted: a stored recording");
        Files.writeString(file, "not Parquet");
        assertThatThrownBy(() -> ColumnStore.parquet().open(file))
                .isInstanceOf(ImportException.class)
                .hasMessageStartingWith(file + ": is not a readable recording (");
        Duck.run("COPY (SELECT 1 AS a) TO " + Duck.literal(file.toString()) + " (FORMAT parquet)");
        assertThatThrownBy(() -> ColumnStore.parquet().open(file))
                .hasMessage(
                        file
                                + ": is a Parquet file but not a stored recording; accepted: a recording that was loaded into a study");
        ColumnStore.parquet().write(invented(300_000, 9), file);
        byte[] whole = Files.readAllBytes(file);
        Files.write(file, java.util.Arrays.copyOf(whole, whole.length / 2));
        assertThatThrownBy(() -> ColumnStore.parquet().open(file)).isInstanceOf(ImportException.class);
    }

    @Test
    void sweepsOnlyWhatIsOldAndOurs() throws IOException {
        FileTime now = FileTime.from(Instant.parse("2026-05-06T08:00:00Z"));
        FileTime old = FileTime.from(Instant.parse("2026-05-04T08:00:00Z"));
        Path left = Files.createFile(folder.resolve("libduckdb_java123.so"));
        Path fresh = Files.createFile(folder.resolve("libduckdb_java456.so"));
        Path other = Files.createFile(folder.resolve("something.so"));
        Files.setLastModifiedTime(left, old);
        Files.setLastModifiedTime(other, old);
        Files.setLastModifiedTime(fresh, now);
        DuckTemp.sweep(folder, now);
        assertThat(left).doesNotExist();
        assertThat(fresh).exists();
        assertThat(other).exists();
    }

    private static Recording invented(int rows, long seed) {
        Random random = new Random(seed);
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        for (Channel channel :
                List.of(Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z, Channel.DEPTH)) {
            float[] column = new float[rows];
            for (int i = 0; i < rows; i++) {
                boolean missing = (channel == Channel.DEPTH && i % 5 != 0) || (i >= 1000 && i < 1010);
                column[i] = missing
                        ? Float.NaN
                        : (float) (random.nextGaussian() * 0.3 + (channel == Channel.DEPTH ? 20 : 0.6));
            }
            columns.put(channel, column);
        }
        return new Recording(
                "ab".repeat(32),
                new SampleClock(Instant.parse("2026-05-03T10:00:00Z"), 25),
                new MemorySamples(columns),
                List.of(new SampleRange(1000, 1010)),
                List.of(new Flag(Flag.Kind.ASSUMED, null, "invented; it's 'quoted'")));
    }
}
