package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A process that loads is killed at random moments: the study opens, is sound, and loading again ends as if nothing had
 * happened. Small here; {@code -Daftercast.kill.mb=200 -Daftercast.kill.times=20} for the full measure.
 */
class LoadKillTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-05-06T08:00:00Z"));
    private static final int MB = Integer.getInteger("aftercast.kill.mb", 12);
    private static final int TIMES = Integer.getInteger("aftercast.kill.times", 5);

    @TempDir
    Path folder;

    /** The process that is killed. Arguments: study, file. */
    public static void main(String[] args) throws Exception {
        System.out.println("begun");
        load(Path.of(args[0]), Path.of(args[1]));
    }

    private static RecordingRow load(Path study, Path file) throws BadInputException, IOException {
        return new LoadDownload(FileStore.onDisk(), CLOCK)
                .load(new LoadRequest(
                        study,
                        "S01",
                        List.of(file),
                        List.of(),
                        LoadRequest.Guess.ACCEPTED,
                        ImportOptions.none(),
                        null,
                        null,
                        LoadRequest.Battery.NOT_NOTED,
                        "kt",
                        ImportProgress.NONE))
                .row();
    }

    @Test
    void isAllOrNothingWheneverItIsKilled() throws Exception {
        Path file = folder.resolve("a.csv");
        write(file);
        Path calm = folder.resolve("calm");
        make(calm);
        long began = System.nanoTime();
        run(calm, file, Long.MAX_VALUE);
        long wholeMs = Math.max(50, (System.nanoTime() - began) / 1_000_000);
        RecordingRow undisturbed = only(calm);

        Random random = new Random(20);
        Path study = folder.resolve("study");
        make(study);
        int interrupted = 0;
        for (int k = 0; k < TIMES; k++) {
            run(study, file, (long) (random.nextDouble() * wholeMs));
            try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
                List<RecordingRow> rows = store.all(RecordingRow.class);
                assertThat(rows).hasSizeLessThanOrEqualTo(1);
                assertThat(leftovers(study)).isEmpty();
                if (rows.isEmpty()) {
                    interrupted++;
                    assertThat(entries(store.recordingsFolder())).isEmpty();
                    assertThat(entries(store.rawFolder())).isEmpty();
                }
            }
            assertSound(study);
            if (!rows(study).isEmpty()) {
                assertThat(only(study)).isEqualTo(undisturbed);
                FileStore.onDisk().delete(study);
                make(study);
            }
        }
        assertThat(interrupted).as("kills that came in time").isPositive();
        if (rows(study).isEmpty()) {
            load(study, file);
        }
        assertThat(only(study)).isEqualTo(undisturbed);
        assertSound(study);
    }

    private void run(Path study, Path file, long killAfterMs) throws Exception {
        Process process = new ProcessBuilder(
                        ProcessHandle.current().info().command().orElse("java"),
                        "-Djava.io.tmpdir=" + folder,
                        "-cp",
                        System.getProperty("java.class.path"),
                        LoadKillTest.class.getName(),
                        study.toString(),
                        file.toString())
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("out.txt").toFile())
                .start();
        if (killAfterMs == Long.MAX_VALUE) {
            assertThat(process.waitFor())
                    .as(Files.readString(folder.resolve("out.txt")))
                    .isZero();
        } else {
            process.waitFor(killAfterMs, TimeUnit.MILLISECONDS);
            process.destroyForcibly().waitFor();
        }
    }

    private static void make(Path study) throws IOException {
        try (StudyStore store = StudyStore.create(study, StudyInfo.titled("test"), "kt", FileStore.onDisk(), CLOCK)) {
            store.change("kt", change -> {
                change.add(Animal.named("S01"));
                return 0;
            });
        }
    }

    private static void assertSound(Path study) throws Exception {
        assertThat(new VerifyStudy(CLOCK).of(study, path -> {}).problems()).isEmpty();
    }

    private static List<RecordingRow> rows(Path study) throws IOException {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            return store.all(RecordingRow.class);
        }
    }

    private static RecordingRow only(Path study) throws IOException {
        List<RecordingRow> rows = rows(study);
        assertThat(rows).hasSize(1);
        return rows.get(0);
    }

    private static List<Path> leftovers(Path study) throws IOException {
        try (Stream<Path> all = Files.walk(study)) {
            return all.filter(path -> String.valueOf(path.getFileName()).startsWith(".aside-"))
                    .toList();
        }
    }

    private static List<Path> entries(Path folder) throws IOException {
        try (Stream<Path> list = Files.list(folder)) {
            return list.toList();
        }
    }

    private static void write(Path file) throws IOException {
        try (BufferedWriter out = Files.newBufferedWriter(file)) {
            out.write("time_s,x,y,z\n");
            Random random = new Random(1);
            long bytes = 0;
            for (int i = 0; bytes < MB * 1_000_000L; i++) {
                String row = i / 100 + "." + (i / 10 % 10) + i % 10
                        + String.format(
                                Locale.ROOT,
                                ",%.3f,%.3f,%.3f%n",
                                random.nextGaussian() / 10,
                                random.nextGaussian() / 10,
                                1 + random.nextGaussian() / 10);
                out.write(row);
                bytes += row.length();
            }
        }
    }
}
