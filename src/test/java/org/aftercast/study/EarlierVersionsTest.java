package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.aftercast.fate.AnimalFate;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A small study of each released version of the records opens, is brought up to date, and holds what it held. */
class EarlierVersionsTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T12:00:00Z"));

    @TempDir
    Path temp;

    private Path unpack(int version) throws IOException {
        Path study = temp.resolve("v" + version);
        try (InputStream in = getClass().getResourceAsStream("study-v" + version + ".zip")) {
            assertThat(in).as("study of version " + version).isNotNull();
            ZipInputStream zip = new ZipInputStream(in);
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                Path target = study.resolve(entry.getName());
                if (entry.isDirectory()) {
                    Files.createDirectories(target);
                } else {
                    Files.createDirectories(target.getParent());
                    Files.write(target, zip.readAllBytes());
                }
            }
        }
        return study;
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void opensAndHoldsWhatItHeld(int version) throws IOException {
        Path study = unpack(version);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            assertThat(store.info().title()).isEqualTo("Small");
            assertThat(store.all(Animal.class)).containsExactly(Animal.named("A1"));
            assertThat(store.find(Capture.class, "A1").orElseThrow().fightMin()).isEqualTo(12.5);
            assertThat(store.find(FloatPackage.class, "P1").orElseThrow().frequencyMHz())
                    .isEqualTo(151.1);
            assertThat(store.all(RecordingRow.class).get(0).sampleRateHz()).isEqualTo(25);
            assertThat(store.all(ReadingRow.class).get(0).animalFate()).isEqualTo(AnimalFate.ALIVE_AT_END);
            assertThat(store.all(Verdict.class).get(0).reason()).isEqualTo("swam to the end");
            assertThat(store.all(Landing.class)).hasSize(version < 2 ? 0 : 1);
            assertThat(store.all(SearchOutcome.class)).hasSize(version < 3 ? 0 : 1);
            assertThat(store.notices())
                    .containsExactlyElementsOf(
                            version == Schema.VERSION
                                    ? List.of()
                                    : List.of("records brought from version " + version + " to " + Schema.VERSION));
            assertThat(store.all(KeptPlan.class)).hasSize(version < 4 ? 0 : 1);
            assertThat(store.find(ControlAnimals.class, ControlAnimals.ID))
                    .isEqualTo(version < 4 ? Optional.empty() : Optional.of(ControlAnimals.of(10, 1)));
            assertThat(store.find(Fishery.class, Fishery.ID).map(Fishery::groupShares))
                    .isEqualTo(version < 4 ? Optional.empty() : Optional.of(Map.of("jaw", 0.7, "gut", 0.3)));
        }
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).problems()).isEmpty();
    }

    /**
     * Version 2 knew three outcomes of a search; what a search log said beyond them stood in the notes. Rolled forward, each
     * has its own outcome, hours and miles, the history says so, and the check finds nothing wrong.
     */
    @Test
    void outcomesOfSearchesOfVersionTwoGetTheirOwnWords() throws Exception {
        Path study = unpack(2);
        String[][] rows = {
            {"given-up", null, "abandoned", null, null},
            {"given-up", "From the search log: abandoned after 7.0 h and 61.5 NM.", "abandoned", "7.0", "61.5"},
            {"retrieved", "From the search log: handed in after 3.5 h and 22.0 NM.", "handed-in", "3.5", "22.0"},
            {"retrieved", "From the search log: stranded after 0.4 h and 0.0 NM.", "stranded", "0.4", "0.0"},
            {"retrieved", "From the search log: retrieved after 1.2 h and 9.3 NM.", "retrieved", "1.2", "9.3"},
            {"retrieved", "after some hours", "retrieved", null, null},
            {"not-found", "From the search log: its end was taken back.", "not-found", null, null},
        };
        try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + study.resolve("study.db"))) {
            for (int i = 0; i < rows.length; i++) {
                addAsVersionTwo(other, 12 + i, i + 1, rows[i][0], rows[i][1]);
            }
        }
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            List<SearchOutcome> all = store.all(SearchOutcome.class);
            for (int i = 0; i < rows.length; i++) {
                assertThat(Words.of(all.get(i).outcome())).isEqualTo(rows[i][2]);
                assertThat(all.get(i).searchH()).isEqualTo(rows[i][3] == null ? null : Double.valueOf(rows[i][3]));
                assertThat(all.get(i).searchNm()).isEqualTo(rows[i][4] == null ? null : Double.valueOf(rows[i][4]));
            }
            List<HistoryEntry> history = store.history();
            assertThat(history).hasSize(11 + rows.length + 5);
            assertThat(history.subList(11 + rows.length, history.size())).allSatisfy(entry -> {
                assertThat(entry.who()).isEqualTo(Version3.WHO);
                assertThat(entry.what()).isEqualTo(HistoryEntry.What.CHANGED);
                assertThat(entry.atUtc()).isEqualTo(CLOCK.instant());
            });
            assertThat(history.get(11 + rows.length).before()).contains("given-up");
        }
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).problems()).isEmpty();
        try (StudyStore again = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(again.history()).hasSize(11 + rows.length + 5); // once only
        }
    }

    /** A row and its entry in the history as the program of version 2 wrote them. */
    private static void addAsVersionTwo(Connection db, int entry, int number, String outcome, @Nullable String notes)
            throws Exception {
        String json = "{\"animal\":\"A1\",\"endedUtc\":null,\"foundLatDeg\":null,\"foundLonDeg\":null,\"number\":"
                + number + ",\"outcome\":\"" + outcome + "\",\"packageCondition\":null,\"searchNotes\":"
                + (notes == null ? "null" : "\"" + notes + "\"") + ",\"startedUtc\":null}";
        try (PreparedStatement row =
                db.prepareStatement("INSERT INTO searchOutcome VALUES ('A1', ?, NULL, NULL, ?, NULL, NULL, NULL, ?)")) {
            row.setInt(1, number);
            row.setString(2, outcome);
            row.setString(3, notes);
            row.executeUpdate();
        }
        String previous;
        try (Statement statement = db.createStatement();
                ResultSet last =
                        statement.executeQuery("SELECT chainSha256 FROM history ORDER BY number DESC LIMIT 1")) {
            previous = last.getString(1);
        }
        String at = "2026-06-10T12:00:00.000Z";
        String key = "A1 / " + number;
        try (PreparedStatement row = db.prepareStatement(
                "INSERT INTO history VALUES (?, ?, 'KB', 'added', 'searchOutcome', ?, NULL, ?, ?)")) {
            row.setInt(1, entry);
            row.setString(2, at);
            row.setString(3, key);
            row.setString(4, json);
            row.setString(5, HistoryEntry.chain(previous, entry, at, "KB", "added", "searchOutcome", key, null, json));
            row.executeUpdate();
        }
    }

    @Test
    void everyVersionSoFarHasItsStudy() throws IOException {
        for (int version = 1; version <= Schema.VERSION; version++) {
            assertThat(unpack(version)).isDirectory();
        }
    }

    @Test
    void aStudyOfANewerProgramIsRefused() throws Exception {
        Path study = unpack(1);
        try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + study.resolve("study.db"));
                Statement statement = other.createStatement()) {
            statement.executeUpdate("PRAGMA user_version = 99");
        }
        assertThatThrownBy(() -> StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK))
                .isInstanceOf(StudyException.class)
                .hasMessageContaining("written by a newer aftercast (records version 99");
    }
}
