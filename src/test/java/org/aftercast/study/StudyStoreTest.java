package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.fate.Sighting;
import org.aftercast.study.StudyStore.Access;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real database in a real folder. */
class StudyStoreTest {

    private static final Instant NOW = Instant.parse("2026-06-01T10:00:00.123Z");
    private static final InstantSource CLOCK = InstantSource.fixed(NOW);

    @TempDir
    Path folder;

    private StudyStore create() throws IOException {
        return StudyStore.create(folder.resolve("s"), StudyInfo.titled("Trial"), "KB", FileStore.onDisk(), CLOCK);
    }

    private StudyStore open(Access access) throws IOException {
        return StudyStore.open(folder.resolve("s"), access, FileStore.onDisk(), CLOCK);
    }

    @Test
    void aNewStudyHoldsItsOwnRecordAndFolders() throws IOException {
        try (StudyStore store = create()) {
            assertThat(store.info()).isEqualTo(StudyInfo.titled("Trial"));
            assertThat(store.notices()).isEmpty();
            assertThat(store.rawFolder()).isDirectory();
            assertThat(store.history()).singleElement().satisfies(entry -> {
                assertThat(entry.who()).isEqualTo("KB");
                assertThat(entry.atUtc()).isEqualTo(NOW);
                assertThat(entry.what()).isEqualTo(HistoryEntry.What.ADDED);
            });
        }
        try (var left = Files.list(folder.resolve("s"))) {
            assertThat(left.map(p -> p.getFileName().toString()).filter(n -> n.contains("aside")))
                    .isEmpty();
        }
    }

    @Test
    void everyRecordComesBackAsItWasStored() throws IOException {
        String sha = "a".repeat(64);
        List<Record> rows = List.of(
                new Animal("Hå-1", "Mustelus asterias", "deep", "first line\nsecond"),
                new FloatPackage("P7", 151.321, 40.0, 240.0, "corrodible link", 48.5, 12.0, null),
                new Capture(
                        "Hå-1",
                        "T1",
                        "V",
                        "A1",
                        "H2",
                        "rod",
                        Capture.HookType.CIRCLE,
                        Capture.HookLocation.JAW,
                        Capture.HookLeft.TAKEN_OUT,
                        Capture.Bleeding.SLIGHT,
                        NOW,
                        12.5,
                        95.0,
                        18.0,
                        Capture.Barotrauma.DOES_NOT_APPLY,
                        0.93,
                        3.2,
                        Capture.Sex.FEMALE,
                        5,
                        1,
                        2,
                        16.4,
                        52.4,
                        -4.2,
                        "n"),
                new Release(
                        "Hå-1",
                        "P7",
                        NOW,
                        52.41,
                        -4.21,
                        22.5,
                        Release.ReleaseState.SWAM_OFF_WEAKLY,
                        NOW.plusSeconds(86_400)),
                new Detachment("Hå-1", NOW.plusSeconds(90_000), Detachment.Source.ENTERED, null, null),
                new SearchOutcome(
                        "Hå-1",
                        1,
                        NOW,
                        NOW,
                        SearchOutcome.Outcome.RETRIEVED,
                        52.0,
                        -4.0,
                        3.5,
                        22.0,
                        "tooth marks",
                        null),
                new Checklist(
                        "Hå-1",
                        Checklist.StillPoses.DONE,
                        NOW,
                        NOW,
                        null,
                        NOW,
                        Checklist.StopRule.GO_AHEAD,
                        "P/1",
                        null),
                new Photo(sha, "Hå-1", "left side.jpg", sha + ".jpg", 9, NOW, null),
                new Seen("Hå-1", 1, Sighting.What.TOOTH_MARKS, null, "three rows", sha),
                new RecordingRow(sha, "Hå-1", "r.parquet", sha, 10, 25, NOW, "{}", NOW, "0.1.0"),
                new RawFile(sha, sha, 1, "download.csv", sha + "-download.csv", 100),
                new Mark(sha, 1, 0.5, 12.25, BoutKind.INSIDE_PREDATOR, null),
                new ReadingRow(
                        sha,
                        sha,
                        sha,
                        "0.1.0",
                        sha,
                        java.util.Map.of("r.json", sha),
                        NOW,
                        AnimalFate.DIED,
                        RecordEnd.PLANNED_DETACHMENT,
                        new FateProbabilities(0.25, 0.5, 0.125, 0.125),
                        20.5),
                new Verdict(
                        "Hå-1",
                        Verdict.Role.FIRST,
                        1,
                        "KB",
                        sha,
                        AnimalFate.DIED,
                        RecordEnd.PLANNED_DETACHMENT,
                        NOW,
                        "still for hours",
                        NOW));
        try (StudyStore store = create()) {
            store.change("KB", change -> {
                for (Record row : rows) {
                    change.put(row);
                }
                return 0;
            });
        }
        try (StudyStore store = open(Access.READ)) {
            for (Record row : rows) {
                assertThat(store.all(row.getClass())).isEqualTo(List.of(row));
            }
            assertThat(store.find(Animal.class, "hå-1"))
                    .as("case does not matter")
                    .isPresent();
            assertThat(store.history()).hasSize(1 + rows.size());
            assertThat(store.databaseProblems()).isEmpty();
        }
    }

    @Test
    void aFailingChangeChangesNothing() throws IOException {
        try (StudyStore store = create()) {
            assertThatThrownBy(() -> store.change("KB", change -> {
                        change.put(Animal.named("A1"));
                        throw new IOException("the disk went away");
                    }))
                    .hasMessage("the disk went away");
            assertThat(store.all(Animal.class)).isEmpty();
            assertThat(store.history()).hasSize(1);
            assertThatThrownBy(() -> store.change("KB", change -> {
                        change.put(new Release("nobody", null, null, null, null, null, null, null));
                        return 0;
                    }))
                    .isInstanceOf(StudyException.class)
                    .hasMessageContaining("FOREIGN KEY");
            assertThat(store.history()).hasSize(1);
        }
    }

    @Test
    void historyTellsBeforeAndAfterAndTheSameAgainLeavesNoTrace() throws IOException {
        try (StudyStore store = create()) {
            for (String group : List.of("x", "x", "y")) {
                store.change("KB", change -> {
                    change.put(new Animal("A1", null, group, null));
                    return 0;
                });
            }
            store.change("TM", change -> {
                change.remove(change.find(Animal.class, "a1").orElseThrow());
                return 0;
            });
            List<HistoryEntry> history = store.history();
            assertThat(history.stream().map(HistoryEntry::what).map(Words::of))
                    .containsExactly("added", "added", "changed", "removed");
            assertThat(history.get(2).before()).contains("\"group\":\"x\"");
            assertThat(history.get(2).after()).contains("\"group\":\"y\"");
            assertThat(history.get(3).who()).isEqualTo("TM");
            assertThat(history.get(3).after()).isNull();
        }
    }

    @Test
    void theDatabaseItselfRefusesToRewriteHistoryAndVerdicts() throws Exception {
        everyRecordComesBackAsItWasStored();
        try (Connection other = DriverManager.getConnection(
                        "jdbc:sqlite:" + folder.resolve("s").resolve("study.db"));
                Statement statement = other.createStatement()) {
            for (String sql : List.of(
                    "UPDATE history SET who = 'x'",
                    "DELETE FROM history",
                    "INSERT OR REPLACE INTO history SELECT * FROM history WHERE number = 1",
                    "UPDATE verdict SET reason = 'x'",
                    "DELETE FROM verdict",
                    "INSERT OR REPLACE INTO verdict SELECT * FROM verdict")) {
                assertThatThrownBy(() -> statement.executeUpdate(sql))
                        .as(sql)
                        .isInstanceOf(SQLException.class)
                        .hasMessageMatching("(?s).*(append-only|locked).*");
            }
        }
    }

    @Test
    void oneWriterAtATimeButReadersMayLook() throws IOException {
        try (StudyStore writer = create()) {
            assertThatThrownBy(() -> open(Access.WRITE))
                    .isInstanceOf(StudyException.class)
                    .hasMessageContaining("another aftercast is writing")
                    .hasMessageContaining("process " + ProcessHandle.current().pid());
            try (StudyStore reader = open(Access.READ)) {
                writer.change("KB", change -> {
                    change.put(Animal.named("A1"));
                    return 0;
                });
                assertThat(reader.all(Animal.class)).hasSize(1);
                assertThatThrownBy(() -> reader.change("KB", change -> 0)).hasMessageContaining("reading only");
            }
        }
        open(Access.WRITE).close();
    }

    @Test
    void whatIsNoStudyIsNamed() throws IOException {
        assertThatThrownBy(() -> open(Access.READ)).hasMessageContaining("no study here");
        Files.createDirectories(folder.resolve("s"));
        Files.writeString(folder.resolve("s/study.db"), "this is not a database at all, only some text".repeat(50));
        assertThatThrownBy(() -> open(Access.READ))
                .isInstanceOf(StudyException.class)
                .hasMessageContaining("not a database");
        assertThatThrownBy(this::create).hasMessageContaining("there is a study here already");
        Files.delete(folder.resolve("s/study.db"));
        Files.writeString(folder.resolve("s/holiday.jpg"), "x");
        assertThatThrownBy(this::create).hasMessageContaining("not empty");
    }

    @Test
    void leftoversOfInterruptedWorkAreTidiedAndSaid() throws IOException {
        create().close();
        Path s = folder.resolve("s");
        Files.writeString(s.resolve("raw/.aside-x-y"), "half");
        Files.writeString(s.resolve("raw/abc-download.csv"), "whole");
        Files.writeString(s.resolve("recordings/abc.parquet"), "x");
        Files.createDirectories(s.resolve("readings/abc/deep"));
        Files.writeString(s.resolve("readings/abc/deep/r.json"), "x");
        try (StudyStore store = open(Access.READ)) {
            assertThat(store.notices()).isEmpty();
        }
        try (StudyStore store = open(Access.WRITE)) {
            assertThat(store.notices()).hasSize(4).anySatisfy(n -> assertThat(n).contains("set-aside"));
        }
        assertThat(s.resolve("set-aside/abc-download.csv")).hasContent("whole");
        assertThat(s.resolve("readings")).isEmptyDirectory();
        assertThat(s.resolve("recordings")).isEmptyDirectory();
        assertThat(s.resolve("raw")).isEmptyDirectory();
        try (StudyStore store = open(Access.WRITE)) {
            assertThat(store.notices()).isEmpty();
        }
    }
}
