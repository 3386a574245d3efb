package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The disk fails at every step of each kind of work in turn: afterwards the study is as before or as after, never between. */
class FaultsTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T12:00:00Z"));
    private static final int MORE_STEPS_THAN_ANY_WORK = 60;
    private static final byte[] JPEG = {(byte) 0xff, (byte) 0xd8, (byte) 0xff, (byte) 0xe0, 1, 2, 3, 4, 5, 6};

    @TempDir
    Path temp;

    private interface Work {
        void on(FileStore files) throws IOException;
    }

    /** Runs the work with the fault at step 0, 1, 2 … until it is not reached any more; after each the check. */
    private static int atEveryStep(FaultyFileStore.Fault fault, Work before, Work work, Work after) throws IOException {
        for (int step = 0; step < MORE_STEPS_THAN_ANY_WORK; step++) {
            before.on(FileStore.onDisk());
            FaultyFileStore faulty = new FaultyFileStore(fault, step);
            Throwable failure = catchThrowable(() -> work.on(faulty));
            if (!faulty.failed()) {
                assertThat(failure).isNull();
                return step;
            }
            if (fault == FaultyFileStore.Fault.DISK_FULL) {
                assertThat(failure)
                        .as("step " + step)
                        .isInstanceOf(IOException.class)
                        .hasMessageContaining("No space left");
            }
            after.on(FileStore.onDisk());
        }
        throw new AssertionError("the work never came to its end");
    }

    private static void sound(Path study) throws IOException {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            assertThat(store.info().title()).isNotEmpty();
        }
        StudyCheck.Report report = StudyCheck.of(study, CLOCK, p -> {});
        assertThat(report.problems()).isEmpty();
        assertThat(report.notes()).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void makingAStudy(FaultyFileStore.Fault fault) throws IOException {
        int[] n = {0};
        int steps = atEveryStep(
                fault,
                files -> n[0]++,
                files -> StudyStore.create(temp.resolve("s" + n[0]), StudyInfo.titled("t"), "KB", files, CLOCK)
                        .close(),
                files -> {
                    Path study = temp.resolve("s" + n[0]);
                    if (!Files.exists(study.resolve(StudyStore.DATABASE))) {
                        StudyStore.create(study, StudyInfo.titled("again"), "KB", files, CLOCK)
                                .close();
                    }
                    sound(study);
                });
        assertThat(steps).isGreaterThan(3);
    }

    @ParameterizedTest
    @EnumSource
    void addingAPhotograph(FaultyFileStore.Fault fault) throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        Path source = temp.resolve("on deck.jpg");
        int[] n = {0};
        int[] added = {0};
        int steps = atEveryStep(
                fault,
                files -> {
                    byte[] content = JPEG.clone();
                    content[9] = (byte) n[0]++;
                    Files.write(source, content);
                },
                files -> {
                    try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, files, CLOCK)) {
                        store.addPhoto("KB", "A1", source, null, "left side");
                    }
                },
                files -> {
                    sound(study);
                    try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, files, CLOCK)) {
                        int now = store.all(Photo.class).size();
                        assertThat(now).isBetween(added[0], added[0] + 1);
                        added[0] = now;
                    }
                });
        assertThat(steps).isGreaterThan(2);
    }

    @ParameterizedTest
    @EnumSource
    void copyingAStudy(FaultyFileStore.Fault fault) throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        int[] n = {0};
        atEveryStep(
                fault,
                files -> n[0]++,
                files -> {
                    try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, files, CLOCK)) {
                        store.copyTo(temp.resolve("copy" + n[0]));
                    }
                },
                files -> {
                    Path copy = temp.resolve("copy" + n[0]);
                    if (Files.exists(copy.resolve(StudyStore.DATABASE))) {
                        sound(copy);
                    } else {
                        assertThatThrownBy(() -> StudyCheck.of(copy, CLOCK, p -> {}))
                                .hasMessageContaining("no study here");
                    }
                });
        sound(study);
    }

    @Test
    void aCopyOfAnOpenStudyIsSoundAndComplete() throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        Path source = temp.resolve("p.jpg");
        Files.write(source, JPEG);
        Path copy = temp.resolve("copy");
        try (StudyStore writer = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            writer.addPhoto("KB", "A1", source, null, null);
            try (StudyStore reader = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
                reader.copyTo(copy);
                assertThatThrownBy(() -> reader.copyTo(copy)).hasMessageContaining("is not empty");
                assertThatThrownBy(() -> reader.copyTo(study.resolve("raw/x")))
                        .hasMessageContaining("inside the study");
            }
        }
        sound(copy);
        List<HistoryEntry> histories = new ArrayList<>();
        for (Path folder : List.of(study, copy)) {
            try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
                if (histories.isEmpty()) {
                    histories.addAll(store.history());
                } else {
                    assertThat(store.history()).isEqualTo(histories);
                }
            }
        }
        assertThat(copy.resolve("photos").toFile().list()).hasSize(1);
    }

    /** A file in every folder that any part of the program writes, and in one a person made: all are in the copy. */
    @Test
    void aCopyHoldsEveryFileOfTheFolder() throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        Path source = Files.write(temp.resolve("p.jpg"), JPEG);
        try (StudyStore writer = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            writer.addPhoto("KB", "A1", source, null, null);
        }
        byte[] bytes = new byte[70_000];
        new java.util.Random(5).nextBytes(bytes);
        for (String name : List.of(
                "searches/A1.csv",
                "tracks/2026-06-01.csv",
                "maps/bay.mbtiles",
                "maps/islet.geojson",
                "summaries/x.minmax",
                "reports/report.html",
                "reports/figures/A1.svg",
                "reports/data/read me.txt",
                "set-aside/lost.csv",
                "layouts/tag.json",
                "plan.json",
                "study.db-as-of-monday",
                "mine/a/b/letter.txt")) {
            Files.createDirectories(study.resolve(name).getParent());
            Files.write(study.resolve(name), bytes);
            bytes[0]++;
        }
        Path copy = temp.resolve("copy");
        try (StudyStore reader = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(reader.copyTo(copy)).isEmpty();
            Path stray = Files.write(study.resolve("raw/nobody-names-it.csv"), new byte[] {1});
            assertThat(reader.copyTo(temp.resolve("second"))).containsExactly(stray);
            Files.delete(stray);
        }
        assertThat(copy.resolve("study.lock")).doesNotExist();
        sound(copy);
        List<String> seen = new ArrayList<>();
        try (var walk = Files.walk(study)) {
            for (Path file : walk.filter(Files::isRegularFile).toList()) {
                String name = study.relativize(file).toString().replace('\\', '/');
                if (!List.of("study.db", "study.lock", "study.db-journal").contains(name)) {
                    assertThat(copy.resolve(name)).hasSameBinaryContentAs(file);
                    seen.add(name.replaceFirst("/.*", ""));
                }
            }
        }
        assertThat(seen)
                .contains(
                        "raw",
                        "recordings",
                        "photos",
                        "reports",
                        "searches",
                        "tracks",
                        "maps",
                        "summaries",
                        "layouts",
                        "mine",
                        "plan.json");
    }

    @Test
    void aCopyThatReadsBackOtherwiseIsNoStudy() throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        Path copy = temp.resolve("copy");
        // a disk that loses the last byte
        FileStore bad = new FaultyFileStore.Losing("A1.csv");
        try (StudyStore reader = StudyStore.open(study, StudyStore.Access.READ, bad, CLOCK)) {
            assertThatThrownBy(() -> reader.copyTo(copy)).hasMessageContaining("was not copied right");
        }
        assertThat(copy.resolve("study.db")).doesNotExist();
    }

    @Test
    void aMissingTableOfASearchIsTold() throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).notes()).isEmpty();
        Files.delete(study.resolve("searches").resolve("A1.csv"));
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).notes())
                .singleElement()
                .asString()
                .contains("A1.csv: is not there", "the search for A1 was taken from it");
    }

    @Test
    void whatIsNoPhotographIsRefused() throws IOException {
        Path study = temp.resolve("s");
        SmallStudy.make(study, CLOCK);
        Path text = Files.writeString(temp.resolve("p.jpg"), "this is text");
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            assertThatThrownBy(() -> store.addPhoto("KB", "A1", text, null, null))
                    .hasMessageContaining("JPEG or PNG");
            Files.write(text, JPEG);
            assertThatThrownBy(() -> store.addPhoto("KB", "A9", text, null, null))
                    .hasMessageContaining("no animal");
            store.addPhoto("KB", "A1", text, null, null);
            assertThatThrownBy(() -> store.addPhoto("KB", "A1", text, null, null))
                    .hasMessageContaining("in the study already");
        }
        sound(study);
    }
}
