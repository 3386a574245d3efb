package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.aftercast.fate.AnimalFate;
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
    @ValueSource(ints = {1, 2})
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
        }
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).problems()).isEmpty();
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
