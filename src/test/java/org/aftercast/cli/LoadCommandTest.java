package org.aftercast.cli;

import static org.aftercast.cli.Ran.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import org.aftercast.intake.ColumnStore;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code load --explain}, {@code load} and {@code export} as a person types them. The downloads are invented. */
class LoadCommandTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-05-06T08:00:00Z"));

    @TempDir
    Path folder;

    private Path study;

    @BeforeEach
    void makeStudy() throws IOException {
        study = folder.resolve("study");
        try (StudyStore store = StudyStore.create(study, StudyInfo.titled("test"), "kt", FileStore.onDisk(), CLOCK)) {
            store.change("kt", change -> {
                change.add(Animal.named("S01"));
                change.add(Animal.named("S02"));
                return 0;
            });
        }
    }

    @Test
    void explainsFilesThatContinueOneAnotherAsOneRecording() throws IOException {
        Ran ran = run("load", "--explain", table("1.csv", 0, 300), table("2.csv", 325, 200));
        assertThat(ran.code()).as(ran.err()).isZero();
        // 300 rows, 25 missing, 200 rows at 25 Hz: seconds 0 to 21
        assertThat(ran.out())
                .contains("The 2 files together, as one recording:")
                .contains("  525 samples at 25.0000 Hz, 0.01 h, from 2026-05-03T10:00:00Z to 2026-05-03T10:00:21Z")
                .contains("  gap: 1.000 s from 12.000 s on");
        assertThat(ran.out().indexOf("1.csv"))
                .isNotNegative()
                .isLessThan(ran.out().indexOf("2.csv"));
        Ran back = run("load", "--explain", folder.resolve("2.csv"), folder.resolve("1.csv"));
        assertThat(back.code()).isEqualTo(2);
        assertThat(back.err()).contains("1.csv").contains("; accepted: ");
    }

    @Test
    void explainsASensorPerFileTogetherAndDoubtsAlone() throws IOException {
        Path acceleration = table("acc.csv", 0, 100);
        Path depth = write(
                "depth.csv",
                "time (UTC),depth (m)\n2026-05-03 10:00:00,5\n2026-05-03 10:00:01,6\n"
                        + "2026-05-03 10:00:02,7\n2026-05-03 10:00:03,8\n");
        Ran ran = run("load", "--explain", acceleration, depth);
        assertThat(ran.code()).as(ran.err()).isZero();
        assertThat(ran.out())
                .contains("  100 samples at 25.0000 Hz")
                .containsPattern("depthM +5\\.0+ +8\\.0+ +5\\.0+ +8\\.0+ +4\\R");
        assertThat(run("load", study, "S01", acceleration, depth, "--accept").code())
                .isZero();
        Recording joined = ColumnStore.parquet().open(stored());
        float[] depths = samples(joined, Channel.DEPTH);
        assertThat(depths[25]).isEqualTo(6f);
        assertThat(depths[26]).isNaN();
        assertThat(run("load", "--explain", depth).out()).contains("NOT CLEAR: no acceleration axes were found");
        Path doubtful = write(
                "doubt.csv",
                "date,time,x (g),y (g),z (g)\n03/05/2026,10:00:00.00,0,0,1\n"
                        + "03/05/2026,10:00:00.04,0,0,1\n03/05/2026,10:00:00.08,0,0,1\n");
        Ran doubt = run("load", "--explain", acceleration, doubtful);
        assertThat(doubt.code()).isEqualTo(2);
        assertThat(doubt.out())
                .contains("NOT CLEAR: ")
                .contains("The 2 files are shown together, as one recording, once each of them is clear.");
    }

    @Test
    void exportsCsvThatLoadsBackToTheSameSamplesAndTheStudysOwnParquet() throws IOException {
        assertThat(run("load", study, "S01", table("a.csv", 0, 300), table("b.csv", 325, 200), "--accept")
                        .code())
                .isZero();
        Path csv = folder.resolve("out.csv");
        Ran ran = run("export", study, "S01", csv);
        assertThat(ran.code()).as(ran.err()).isZero();
        assertThat(ran.out())
                .isEqualTo(String.format(
                        "Written: %s (525 samples), %s.%n", csv, folder.resolve("out.csv.dictionary.json")));
        JsonNode said = new ObjectMapper()
                .readTree(folder.resolve("out.csv.dictionary.json").toFile());
        assertThat(said.at("/animal").asText()).isEqualTo("S01");
        assertThat(said.at("/firstSampleUtc").asText()).isEqualTo("2026-05-03T10:00:00Z");
        assertThat(said.at("/gaps").toString()).isEqualTo("[{\"fromSample\":300,\"toSample\":325}]");
        List<String> lines = Files.readAllLines(csv);
        assertThat(lines).hasSize(526);
        assertThat(lines.get(0)).isEqualTo("time_s,accXG,accYG,accZG");
        assertThat(lines.get(1)).isEqualTo("0.0,0.01,0.0,0.9");
        assertThat(lines.get(301)).isEqualTo("12.0,,,");
        assertThat(lines.get(525)).isEqualTo("20.96,0.01,0.004,0.9"); // row 524, and 524 mod 40 = 4 thousandths

        Path parquet = folder.resolve("out.parquet");
        assertThat(run("export", study, "S01", parquet).code()).isZero();
        assertThat(folder.resolve("out.parquet.dictionary.json")).content().doesNotContain("time_s");
        assertThat(parquet).hasSameBinaryContentAs(stored());
        assertThat(run("load", study, "S02", csv, "--accept", "--start", "2026-05-03T10:00:00Z")
                        .code())
                .isZero();
        Recording first = ColumnStore.parquet().open(parquet);
        Recording again = ColumnStore.parquet().open(stored());
        assertThat(again.gaps()).isEqualTo(first.gaps());
        for (Channel channel : first.samples().channels()) {
            assertThat(samples(again, channel)).isEqualTo(samples(first, channel));
        }
    }

    @Test
    void exportRefusesWhatItCannotDoAndWritesNothing() throws IOException {
        Path out = folder.resolve("out.csv");
        assertThat(run("export", study, "S01", out).err())
                .isEqualTo(String.format(
                        "S01: has no recording yet; accepted: an animal whose download was loaded (aftercast load)%n"));
        assertThat(run("load", study, "S01", table("a.csv", 0, 300), "--accept").code())
                .isZero();
        Ran unknown = run("export", study, "S09", out);
        assertThat(unknown.code()).isEqualTo(2);
        assertThat(unknown.err()).isEqualTo(String.format("S09: is not in the study; accepted: S01%n"));
        assertThat(run("export", study, "S01", folder.resolve("out.txt")).err())
                .contains("out.txt: ends in neither; accepted: a file that ends in .csv or .parquet");
        Path inside = study.resolve("recordings").resolve("x.parquet");
        assertThat(run("export", study, "S01", inside).err()).contains("lies in the study's folder");
        assertThat(inside).doesNotExist();

        assertThat(run("load", study, "S01", table("b.csv", 1000, 200), "--accept")
                        .code())
                .isZero();
        Ran several = run("export", study, "S01", out);
        assertThat(several.code()).isEqualTo(2);
        assertThat(several.err()).contains("2 recordings are meant; accepted: --recording with the beginning of one");
        assertThat(out).doesNotExist();
        List<RecordingRow> rows = rows();
        assertThat(run(
                                "export",
                                study,
                                "S01",
                                out,
                                "--recording",
                                rows.get(1).sha256().substring(0, 12))
                        .out())
                .contains("(" + rows.get(1).sampleCount() + " samples)");

        Path damaged = study.resolve("recordings").resolve(rows.get(1).parquetName());
        byte[] bytes = Files.readAllBytes(damaged);
        bytes[bytes.length / 2] ^= 1;
        Files.write(damaged, bytes);
        Files.delete(out);
        Ran refused =
                run("export", study, "S01", out, "--recording", rows.get(1).sha256());
        assertThat(refused.code()).isEqualTo(2);
        assertThat(refused.err()).contains("is not what was stored when the download was loaded; nothing was exported");
        assertThat(out).doesNotExist();
    }

    private List<RecordingRow> rows() throws IOException {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            return store.all(RecordingRow.class);
        }
    }

    /** The recording that was loaded last. */
    private Path stored() throws IOException {
        RecordingRow row = rows().stream()
                .max(java.util.Comparator.comparing(RecordingRow::loadedUtc))
                .orElseThrow();
        return study.resolve("recordings").resolve(row.parquetName());
    }

    private static float[] samples(Recording recording, Channel channel) throws IOException {
        int n = Math.toIntExact(recording.samples().sampleCount());
        float[] samples = new float[n];
        recording.samples().read(channel, 0, n, samples, 0);
        return samples;
    }

    private Path write(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    /** 25 rows a second from 10:00:00 on. */
    private Path table(String name, int from, int rows) throws IOException {
        StringBuilder text = new StringBuilder("time (UTC),x (g),y (g),z (g)\n");
        for (int i = from; i < from + rows; i++) {
            text.append(String.format(
                    Locale.ROOT,
                    "2026-05-03 10:%02d:%05.2f,0.01,%.3f,0.9%n",
                    i / 1500,
                    i % 1500 / 25.0,
                    i % 40 / 1000.0));
        }
        return write(name, text.toString());
    }
}
