package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CancellationException;
import java.util.stream.Stream;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportException;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.Detachment;
import org.aftercast.study.FileStore;
import org.aftercast.study.Hashes;
import org.aftercast.study.RawFile;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Downloads into a real study folder. */
class LoadDownloadTest {

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
                return 0;
            });
        }
    }

    @Test
    void keepsRawBytesRecordingAndRow() throws Exception {
        Path file = write("S01 first.csv", table(0, 500));
        Loaded loaded = new LoadDownload(FileStore.onDisk(), CLOCK).load(request(List.of(file)));
        String sha256 = Hashes.ofFile(file);
        assertThat(loaded.row().sha256()).isEqualTo(sha256);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            assertThat(store.notices()).isEmpty();
            RawFile raw = store.find(RawFile.class, sha256).orElseThrow();
            assertThat(raw.originalName()).isEqualTo("S01 first.csv");
            Path kept = store.rawFolder().resolve(raw.storedName());
            assertThat(kept).hasSameBinaryContentAs(file);
            assertThat(Files.getPosixFilePermissions(kept).toString()).doesNotContain("WRITE");
            RecordingRow row = store.find(RecordingRow.class, sha256).orElseThrow();
            Path parquet = store.recordingsFolder().resolve(row.parquetName());
            assertThat(Hashes.ofFile(parquet)).isEqualTo(row.parquetSha256());
            Recording recording = ColumnStore.parquet().open(parquet);
            assertThat(recording.clock().startUtc()).isEqualTo("2026-05-03T10:00:00Z");
            assertThat(recording.samples().sampleCount()).isEqualTo(500);
            float[] z = new float[500];
            recording.samples().read(Channel.ACCELERATION_Z, 0, 500, z, 0);
            assertThat(z[499]).isEqualTo(0.9f);
        }
        assertThat(entries(study.resolve("raw"))).hasSize(1);
        assertThat(entries(study.resolve("recordings"))).hasSize(1);
    }

    @Test
    void noticesTheSameFileUnderAnotherName() throws Exception {
        LoadDownload load = new LoadDownload(FileStore.onDisk(), CLOCK);
        load.load(request(List.of(write("a.csv", table(0, 500)))));
        assertThatThrownBy(() -> load.load(request(List.of(write("b.csv", table(0, 500))))))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("b.csv: is in the study already, loaded for S01 on 2026-05-06T08:00:00Z as ");
        assertThat(entries(study.resolve("raw"))).hasSize(1);
    }

    @Test
    void keepsNothingOfAFileThatCannotBeRead() throws Exception {
        String text = table(0, 500) + "2026-05-03 10:00:20,0,up,0.9\n";
        assertThatThrownBy(
                        () -> new LoadDownload(FileStore.onDisk(), CLOCK).load(request(List.of(write("a.csv", text)))))
                .isInstanceOf(ImportException.class)
                .hasMessageEndingWith("a.csv, line 502, column 3: \"up\" is not a number; accepted: a number such as"
                        + " -0.25, or an empty field for a missing value");
        assertUntouched();
    }

    @Test
    void keepsNothingWhenCancelled() throws Exception {
        ImportProgress cancel = new ImportProgress() {
            @Override
            public void at(long bytesDone, long bytesTotal) {}

            @Override
            public boolean isCancelled() {
                return true;
            }
        };
        LoadRequest request = request(List.of(write("a.csv", table(0, 500))), "S01", cancel);
        assertThatThrownBy(() -> new LoadDownload(FileStore.onDisk(), CLOCK).load(request))
                .isInstanceOf(CancellationException.class);
        assertUntouched();
    }

    @Test
    void keepsNothingWhenTheDiskIsFull() throws Exception {
        for (String at : List.of("arriving-", ".parquet")) {
            FileStore full = new FullDisk(FileStore.onDisk(), at);
            assertThatThrownBy(() ->
                            new LoadDownload(full, CLOCK).load(request(List.of(write("a.csv", table(0, 500))))))
                    .isInstanceOf(IOException.class)
                    .hasMessageContaining("No space left on device");
            assertUntouched();
        }
    }

    @Test
    void refusesAnimalsThatAreNotThere() throws Exception {
        Path file = write("a.csv", table(0, 500));
        assertThatThrownBy(() -> new LoadDownload(FileStore.onDisk(), CLOCK)
                        .load(request(List.of(file), "../../etc", ImportProgress.NONE)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("cannot be a name");
        assertThatThrownBy(() -> new LoadDownload(FileStore.onDisk(), CLOCK)
                        .load(request(List.of(file), "S02", ImportProgress.NONE)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("animal \"S02\" is not in the study; accepted: S01");
        assertUntouched();
    }

    @Test
    void loadsFilesThatContinueOneAnotherAsOneRecording() throws Exception {
        Path one = write("1.csv", table(0, 300));
        Path two = write("2.csv", table(300, 250));
        Loaded loaded = new LoadDownload(FileStore.onDisk(), CLOCK).load(request(List.of(one, two)));
        assertThat(loaded.row().sampleCount()).isEqualTo(550);
        assertThat(loaded.gaps()).isEmpty();
        assertThat(entries(study.resolve("raw"))).hasSize(2);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(store.all(RawFile.class)).allSatisfy(raw -> {
                assertThat(raw.recordingSha256()).isEqualTo(loaded.row().sha256());
                assertThat(Hashes.ofFile(store.rawFolder().resolve(raw.storedName())))
                        .isEqualTo(raw.sha256());
                assertThat(raw.ordinal()).isEqualTo(raw.originalName().equals("1.csv") ? 1 : 2);
            });
        }
    }

    @Test
    void saysWhetherTheLoggerMayBeErased() throws Exception {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            store.change("kt", change -> {
                change.add(
                        new Release("S01", null, Instant.parse("2026-05-03T10:00:01Z"), null, null, null, null, null));
                change.add(new Detachment(
                        "S01", Instant.parse("2026-05-03T10:00:15Z"), Detachment.Source.ENTERED, null, null));
                return 0;
            });
        }
        Path file = write("a.csv", table(0, 500));
        LoadRequest bare = request(List.of(file));
        Loaded loaded = new LoadDownload(FileStore.onDisk(), CLOCK)
                .load(new LoadRequest(
                        bare.study(),
                        bare.animal(),
                        bare.files(),
                        bare.layouts(),
                        bare.guess(),
                        bare.options(),
                        new DownloadLayout.ClockNotes(
                                null,
                                null,
                                Instant.parse("2026-05-06T07:00:00Z"),
                                Instant.parse("2026-05-06T07:00:00Z")),
                        folder.resolve("stick"),
                        LoadRequest.Battery.OK,
                        "kt",
                        ImportProgress.NONE));
        assertThat(loaded.card().checks())
                .allSatisfy(check -> assertThat(check.answer()).isEqualTo(EraseCard.Answer.YES));
        assertThat(loaded.card().mayBeErased()).isEqualTo(EraseCard.Answer.YES);
        assertThat(entries(folder.resolve("stick")))
                .singleElement()
                .satisfies(copy -> assertThat(copy).hasSameBinaryContentAs(file));
        Loaded other =
                new LoadDownload(FileStore.onDisk(), CLOCK).load(request(List.of(write("b.csv", table(0, 200)))));
        assertThat(other.card().mayBeErased()).isEqualTo(EraseCard.Answer.NO);
        assertThat(other.card().checks())
                .extracting(EraseCard.Check::note)
                .anySatisfy(note -> assertThat(note).isEqualTo("it ends 7 s before the detachment"));
    }

    private LoadRequest request(List<Path> files) {
        return request(files, "S01", ImportProgress.NONE);
    }

    private LoadRequest request(List<Path> files, String animal, ImportProgress progress) {
        return new LoadRequest(
                study,
                animal,
                files,
                List.of(),
                LoadRequest.Guess.ACCEPTED,
                ImportOptions.none(),
                null,
                null,
                LoadRequest.Battery.NOT_NOTED,
                "kt",
                progress);
    }

    private void assertUntouched() throws IOException {
        assertThat(entries(study.resolve("raw"))).isEmpty();
        assertThat(entries(study.resolve("recordings"))).isEmpty();
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(store.all(RecordingRow.class)).isEmpty();
            assertThat(store.all(RawFile.class)).isEmpty();
        }
    }

    private static List<Path> entries(Path folder) throws IOException {
        try (Stream<Path> list = Files.list(folder)) {
            return list.toList();
        }
    }

    private Path write(String name, String text) {
        try {
            return Files.writeString(folder.resolve(name), text);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    /** 25 rows a second from 10:00:00 on. */
    private static String table(int from, int rows) {
        StringBuilder text = new StringBuilder("time (UTC),x (g),y (g),z (g)\n");
        for (int i = from; i < from + rows; i++) {
            text.append(
                    String.format(Locale.ROOT, "2026-05-03 10:00:%05.2f,0.01,%.3f,0.9%n", i / 25.0, i % 40 / 1000.0));
        }
        return text.toString();
    }

    /** Fails where a name contains a given text. */
    private record FullDisk(FileStore disk, String failing) implements FileStore {
        @Override
        public void write(Path target, Writer writer) throws IOException {
            if (target.toString().contains(failing)) {
                disk.write(target, aside -> {
                    Files.writeString(aside, "half");
                    throw new IOException("No space left on device");
                });
            }
            disk.write(target, writer);
        }

        @Override
        public void makeReadOnly(Path file) throws IOException {
            disk.makeReadOnly(file);
        }

        @Override
        public void makeFolder(Path folder) throws IOException {
            disk.makeFolder(folder);
        }

        @Override
        public void move(Path from, Path to) throws IOException {
            disk.move(from, to);
        }

        @Override
        public void delete(Path fileOrFolder) throws IOException {
            disk.delete(fileOrFolder);
        }

        @Override
        public List<Path> sweep(Path folder) throws IOException {
            return disk.sweep(folder);
        }
    }
}
