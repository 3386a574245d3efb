package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Each kind of damage, done from outside, is found and named; a sound study is called so. */
class StudyCheckTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T12:00:00Z"));

    @TempDir
    Path temp;

    private Path study;
    private String raw;

    @BeforeEach
    void soundStudy() throws IOException {
        study = temp.resolve("s");
        raw = SmallStudy.make(study, CLOCK);
    }

    private StudyCheck.Report check() throws IOException {
        List<Path> told = new ArrayList<>();
        StudyCheck.Report report = StudyCheck.of(study, CLOCK, told::add);
        assertThat(told).hasSizeGreaterThanOrEqualTo(report.files());
        return report;
    }

    private void sql(String... statements) throws Exception {
        try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + study.resolve("study.db"));
                Statement statement = other.createStatement()) {
            for (String sql : statements) {
                statement.executeUpdate(sql);
            }
        }
    }

    @Test
    void aSoundStudyIsCalledSo() throws IOException {
        StudyCheck.Report report = check();
        assertThat(report.problems()).isEmpty();
        assertThat(report.notes()).isEmpty();
        assertThat(report.files()).isEqualTo(4);
        assertThat(report.records()).isEqualTo(15);
        assertThat(report.entries()).isEqualTo(15);
    }

    @Test
    void aRecordChangedFromOutsideIsFound() throws Exception {
        sql("UPDATE capture SET fightMin = 7.5");
        assertThat(check().problems())
                .containsExactly("capture A1: differs from what its history says: it was changed from outside");
    }

    @Test
    void aRecordAddedOrRemovedFromOutsideIsFound() throws Exception {
        sql("INSERT INTO animal (name) VALUES ('A9')", "DELETE FROM capture WHERE animal = 'A1'");
        assertThat(check().problems())
                .containsExactlyInAnyOrder(
                        "animal A9: the history does not know this record: it was added from outside",
                        "capture a1: the record is missing although its history goes on");
    }

    @Test
    void aHistoryRewrittenPastTheTriggersIsFound() throws Exception {
        sql("DROP TRIGGER historyIsNeverChanged", "UPDATE history SET who = 'nobody' WHERE number = 3");
        assertThat(check().problems())
                .containsExactly(
                        "history, entry 3: its checksum does not fit: it, or one before it, was changed from outside");
    }

    @Test
    void aMissingHistoryEntryIsFound() throws Exception {
        sql("DROP TRIGGER historyIsNeverShortened", "DELETE FROM history WHERE number = 15");
        assertThat(check().problems()).singleElement().asString().contains("the history does not know this record");
        sql("DELETE FROM history WHERE number = 4");
        assertThat(check().problems()).anySatisfy(p -> assertThat(p).contains("entry 4 is missing before it"));
    }

    @Test
    void aBrokenLinkAndABrokenRuleAreFound() throws Exception {
        sql("PRAGMA foreign_keys = OFF", "DELETE FROM animal", "UPDATE \"release\" SET releasedUtc = 'yesterday'");
        assertThat(check().problems())
                .anySatisfy(p -> assertThat(p).contains("refers to a missing row of animal"))
                .anySatisfy(p -> assertThat(p).startsWith("release A1: Text 'yesterday'"));
    }

    @Test
    void changedCutAndMissingFilesAreFound() throws Exception {
        Path file = study.resolve("raw").resolve(raw);
        assertThat(file.toFile().setWritable(true)).isTrue();
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "rw")) {
            bytes.seek(3);
            bytes.write('X'); // one byte of the raw download
        }
        Path parquet = study.resolve("recordings/r.parquet");
        Files.delete(parquet);
        assertThat(check().problems())
                .containsExactly(
                        "raw/" + raw + ": its content was changed (the SHA-256 is not the one recorded)",
                        "recordings/r.parquet: is missing");
        Files.createDirectory(parquet);
        Files.write(file, new byte[2]);
        assertThat(check().problems())
                .containsExactly(
                        "raw/" + raw + ": is 2 bytes long, recorded are 8",
                        "recordings/r.parquet: is not a plain file");
    }

    @Test
    void everyByteOfADamagedDatabasePageIsNoticedOrHarmless() throws Exception {
        Path database = study.resolve("study.db");
        byte[] sound = Files.readAllBytes(database);
        byte[] damaged = sound.clone();
        for (int i = 4096; i < 4096 + 2048; i++) {
            damaged[i] = 0x55;
        }
        Files.write(database, damaged);
        assertThat(check().problems()).isNotEmpty();
        Files.write(database, java.util.Arrays.copyOf(sound, sound.length / 2));
        assertThat(check().problems()).isNotEmpty();
        Files.write(database, new byte[100]);
        assertThat(check().problems()).singleElement().asString().contains("not a database");
    }

    @Test
    void leftoversAreNotesAndNoStudyIsAnError() throws IOException {
        Files.writeString(study.resolve("raw/.aside-1"), "x");
        Files.writeString(study.resolve("recordings/other.parquet"), "x");
        assertThat(check().problems()).isEmpty();
        assertThat(check().notes()).hasSize(2).allSatisfy(n -> assertThat(n).contains("left over"));
        assertThatThrownBy(() -> StudyCheck.of(temp.resolve("none"), CLOCK, p -> {}))
                .isInstanceOf(StudyException.class);
    }

    @Test
    void verdictsThatDoNotHangTogetherAreFound() throws Exception {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            String key = store.all(ReadingRow.class).get(0).key();
            store.change("KB", change -> {
                change.put(new Verdict(
                        "A1",
                        Verdict.Role.SECOND,
                        1,
                        "kb",
                        key,
                        AnimalFate.DIED,
                        RecordEnd.FLOODED,
                        null,
                        "x",
                        CLOCK.instant()));
                return 0;
            });
        }
        assertThat(check().problems()).containsExactly("verdicts on A1: first and second are by the same reader KB");
    }
}
