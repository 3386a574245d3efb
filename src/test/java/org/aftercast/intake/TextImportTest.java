package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.zip.GZIPOutputStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One file after the other, in and out of the store. */
class TextImportTest {

    @TempDir
    Path folder;

    @Test
    void readsAPlainTable() throws IOException {
        Imported imported = read("time_s,x,y,z\n0.00,0.1,-0.2,0.97\n0.01,0.1,-0.2,0.98\n0.02,0.1,-0.2,0.99\n");
        Recording recording = imported.recording();
        assertThat(recording.clock().sampleRateHz()).isEqualTo(100.0);
        assertThat(recording.clock().startUtc()).isNull();
        assertThat(samples(recording, Channel.ACCELERATION_Z)).containsExactly(0.97f, 0.98f, 0.99f);
        assertThat(recording.gaps()).isEmpty();
        assertThat(recording.flags()).isEmpty();
        // printf of the same text through coreutils sha256sum 9.1
        assertThat(imported.sha256()).isEqualTo("0040f4f05d72924b31180d4b78f2d39182176617a96fe7e2a422d44c0d579c60");
    }

    @Test
    void placesWhatFollowsABreakByItsTime() throws IOException {
        Recording recording = read("time_s,x,y,z\n0.00,0,0,1\n0.01,0,0,1\n0.02,0,0,1\n0.06,0,0,2\n0.07,0,0,1\n")
                .recording();
        assertThat(recording.samples().sampleCount()).isEqualTo(8);
        assertThat(recording.gaps()).containsExactly(new SampleRange(3, 6));
        assertThat(samples(recording, Channel.ACCELERATION_Z))
                .containsExactly(1, 1, 1, Float.NaN, Float.NaN, Float.NaN, 2, 1);
    }

    @Test
    void leavesOutARepeatedTimeAndSaysSo() throws IOException {
        Recording recording =
                read("time_s,x,y,z\n0.00,0,0,1\n0.01,0,0,1\n0.01,0,0,5\n0.02,0,0,1\n0.03,0,0,1\n0.04,0,0,1\n0.05,0,0,1\n")
                        .recording();
        assertThat(samples(recording, Channel.ACCELERATION_Z)).containsExactly(1, 1, 1, 1, 1, 1);
        assertThat(recording.flags()).extracting(Flag::kind).containsExactly(Flag.Kind.REPEATED_TIME);
    }

    @Test
    void spreadsRowsOverASharedSecond() throws IOException {
        StringBuilder text = new StringBuilder("timestamp (UTC);X [g];Y [g];Z [g]\n");
        for (int i = 0; i < 100; i++) {
            text.append(String.format("2024-05-03 10:00:%02d;0;0;1%n", (i + 13) / 25));
        }
        Recording recording = read(text.toString()).recording();
        assertThat(recording.clock().sampleRateHz()).isEqualTo(25.0);
        // 12 rows stand in the first second, so the first of them was taken 12/25 s before 10:00:01
        assertThat(recording.clock().startUtc()).isEqualTo(Instant.parse("2024-05-03T10:00:00.520Z"));
        assertThat(recording.samples().sampleCount()).isEqualTo(100);
        assertThat(recording.flags()).extracting(Flag::kind).containsExactly(Flag.Kind.SPREAD_WITHIN_STAMP);
    }

    @Test
    void blankSlowChannelsAreMissingBetweenTheirSamples() throws IOException {
        Recording recording =
                read("time_s,accX (g),accY (g),accZ (g),temp (C)\n0.0,0,0,1,12.5\n0.1,0,0,1,\n0.2,0,0,1,12.75\n")
                        .recording();
        assertThat(samples(recording, Channel.TEMPERATURE)).containsExactly(12.5f, Float.NaN, 12.75f);
        assertThat(recording.gaps()).isEmpty();
    }

    @Test
    void flagsAnAxisAtFullScale() throws IOException {
        Recording recording = read("time_s,x,y,z\n0.00,0,0,1\n0.01,0,0,2\n0.02,0,0,2\n0.03,0,0,2\n0.04,0,0,1\n")
                .recording();
        assertThat(recording.flags()).singleElement().satisfies(flag -> {
            assertThat(flag.kind()).isEqualTo(Flag.Kind.CLIPPED);
            assertThat(flag.where()).isEqualTo(new SampleRange(1, 4));
        });
    }

    @Test
    void refusesWhatCannotBeRead() throws IOException {
        refused("", "is empty");
        refused("time_s,x,y,z\n", "no table was found");
        refused("time_s,x,y,z\n0.0,0,0,1\n0.1,0,up,1\n0.2,0,0,1\n", "line 3, column 3: \"up\" is not a number");
        refused(
                "time_s,x,y,z\n0.0,0,0,1\n0.2,0,0,1\n0.1,0,0,1\n",
                "line 4, column 1: time runs backwards: 0.1 s after 0.2 s");
        refused("time_s,x\n0.0,0\n0.1,0\n0.2,0\n", "only 1 of the three acceleration axes was found");
        refused("time_s,x,y,z\n0.0,0,0,1\n0.1,0,0,1\n0.2,0,0\n", "line 4: the row has 3 of the 4 fields needed");
        refused("\u0000\u0001\u0002\u0003\u0004\u0005\u0006 0000", "is a binary file");
    }

    @Test
    void refusesATruncatedGzipAndReadsAWholeOne() throws IOException {
        ByteArrayOutputStream packed = new ByteArrayOutputStream();
        try (GZIPOutputStream gzip = new GZIPOutputStream(packed)) {
            gzip.write("time_s,x,y,z\n".getBytes(StandardCharsets.UTF_8));
            for (int i = 0; i < 5000; i++) {
                gzip.write((i / 100.0 + ",0." + (i * 7919 % 1000) + ",0,1\n").getBytes(StandardCharsets.UTF_8));
            }
        }
        byte[] whole = packed.toByteArray();
        Path file = folder.resolve("a.csv.gz");
        Files.write(file, whole);
        assertThat(TextImport.read(file, null, ImportOptions.none()).rowCount()).isEqualTo(5000);
        Files.write(file, Arrays.copyOf(whole, whole.length * 2 / 3));
        assertThatThrownBy(() -> TextImport.read(file, null, ImportOptions.none()))
                .isInstanceOf(ImportException.class)
                .hasMessageContaining("ends early");
    }

    @Test
    void storesAndReadsBack() throws IOException {
        StringBuilder text = new StringBuilder("time_s,x,y,z,depth (m)\n");
        for (int i = 0; i < 3000; i++) {
            double t = i < 1000 ? i / 50.0 : i / 50.0 + 4;
            text.append(t + "," + i % 7 / 10.0 + "," + i % 11 / 10.0 + ",1," + (i % 50 == 0 ? i / 100.0 : "") + "\n");
        }
        Recording written = read(text.toString()).recording();
        Path file = folder.resolve("it's a recording.parquet");
        ColumnStore.parquet().write(written, file);
        Recording back = ColumnStore.parquet().open(file);
        assertThat(back.clock()).isEqualTo(written.clock());
        assertThat(back.gaps()).isEqualTo(written.gaps()).containsExactly(new SampleRange(1000, 1200));
        assertThat(back.flags()).isEqualTo(written.flags());
        assertThat(back.sourceSha256()).isEqualTo(written.sourceSha256());
        assertThat(back.samples().channels()).isEqualTo(written.samples().channels());
        for (Channel channel : written.samples().channels()) {
            assertThat(samples(back, channel)).isEqualTo(samples(written, channel));
            float[] some = new float[100];
            back.samples().read(channel, 950, 100, some, 0);
            assertThat(some).isEqualTo(Arrays.copyOfRange(samples(written, channel), 950, 1050));
        }
    }

    @Test
    void readsTheTwoRunningLoggers() throws IOException {
        Path data = Path.of(System.getProperty("aftercast.basedir", "."), "../shared/data/running_two_loggers_100hz")
                .normalize();
        assumeThat(Files.isDirectory(data)).as("%s is there", data).isTrue();
        Imported imported = TextImport.read(data.resolve("run_left_hip_100hz.csv.gz"), null, ImportOptions.none());
        assertThat(imported.recording().clock().sampleRateHz()).isEqualTo(100.0);
        assertThat(imported.rowCount()).isEqualTo(150_000);
        assertThat(imported.recording().gaps()).isEmpty();
        float[] x = samples(imported.recording(), Channel.ACCELERATION_X);
        assertThat(Arrays.copyOf(x, 3)).containsExactly(-0.199f, -0.191f, -0.191f);
    }

    private Imported read(String text) throws IOException {
        Path file = folder.resolve("a.csv");
        Files.writeString(file, text);
        return TextImport.read(file, null, ImportOptions.none());
    }

    private void refused(String text, String message) {
        assertThatThrownBy(() -> read(text)).isInstanceOf(ImportException.class).hasMessageContaining(message);
    }

    static float[] samples(Recording recording, Channel channel) {
        float[] samples = new float[(int) recording.samples().sampleCount()];
        recording.samples().read(channel, 0, samples.length, samples, 0);
        return samples;
    }
}
