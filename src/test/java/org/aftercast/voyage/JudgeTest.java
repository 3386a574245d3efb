package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.SmallStudy;
import org.aftercast.study.Standing;
import org.aftercast.study.StudyCheck;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.Verdict.Role;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The small study: A1 has a reading and a first verdict by KB. */
class JudgeTest {

    private static final Instant NOW = Instant.parse("2026-06-10T12:00:00Z");
    private static final InstantSource CLOCK = InstantSource.fixed(NOW);

    @TempDir
    Path temp;

    private StudyStore store;
    private Judge judge;

    @BeforeEach
    void open() throws IOException {
        SmallStudy.make(temp.resolve("s"), CLOCK);
        store = StudyStore.open(temp.resolve("s"), StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK);
        judge = new Judge(store);
    }

    @AfterEach
    void close() throws IOException {
        store.close();
    }

    private static Judge.Opinion opinion(String reader, AnimalFate fate) {
        return new Judge.Opinion(
                "a1",
                reader,
                fate,
                RecordEnd.PLANNED_DETACHMENT,
                fate == AnimalFate.ALIVE_AT_END ? null : NOW.minusSeconds(3600),
                "because");
    }

    @Test
    void aSecondReaderIsBlindUntilTheirOwnVerdictIsLocked() throws Exception {
        Judge.Bench blind = judge.bench("A1", "TM");
        assertThat(blind.sight()).isEqualTo(Judge.Sight.BLIND);
        assertThat(blind.capture()).isNull();
        assertThat(blind.reading()).isNull();
        assertThat(blind.verdicts()).isEmpty();
        assertThat(blind.recordingSha256()).hasSize(64);
        assertThat(blind.next()).isEqualTo(Role.SECOND);

        assertThat(judge.bench("A1", "kb").sight())
                .as("the first reader has locked theirs")
                .isEqualTo(Judge.Sight.OPEN);
        assertThat(judge.bench("A1", "kb").next()).isNull();

        assertThat(judge.give(opinion("TM", AnimalFate.DIED)).role()).isEqualTo(Role.SECOND);
        Judge.Bench open = judge.bench("A1", "TM");
        assertThat(open.capture()).isNotNull();
        assertThat(open.reading()).isNotNull();
        assertThat(open.verdicts()).hasSize(2);
        assertThat(open.next()).isEqualTo(Role.SETTLED);
    }

    @Test
    void nobodyJudgesTwiceAndNothingIsSettledEarly() throws Exception {
        assertThatThrownBy(() -> judge.give(opinion("kb", AnimalFate.DIED)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("kb has given a verdict already, and it is locked");
        assertThatThrownBy(() -> judge.settle(opinion("TM", AnimalFate.DIED)))
                .hasMessageContaining("a second verdict is missing");
        judge.give(opinion("TM", AnimalFate.DIED));
        assertThatThrownBy(() -> judge.give(opinion("XY", AnimalFate.DIED)))
                .hasMessageContaining("two readers have given their verdicts already");
        assertThat(store.all(Verdict.class)).hasSize(2);
    }

    @Test
    void disagreementIsSettledOnRecordAndEverythingStays() throws Exception {
        assertThat(judge.progress().firstOnly()).containsExactly("A1");
        assertThat(judge.agreement()).isNull();
        judge.give(opinion("TM", AnimalFate.DIED));
        assertThat(judge.progress().open()).containsExactly("A1");
        assertThat(judge.agreement()).isNotNull();
        assertThat(judge.agreement().agreement()).isZero();
        assertThat(Standing.of(store, NOW).get(0).next()).isEqualTo("settle the two verdicts");
        judge.settle(opinion("KB", AnimalFate.EATEN));
        judge.settle(opinion("TM", AnimalFate.DIED));
        assertThat(judge.progress().settled()).containsExactly("A1");
        assertThat(store.all(Verdict.class).stream().map(Verdict::role))
                .containsExactly(Role.FIRST, Role.SECOND, Role.SETTLED, Role.SETTLED);
        assertThat(judge.bench("A1", "ZZ").verdicts()).hasSize(4);
        assertThat(Standing.of(store, NOW).get(0).next()).isEmpty();
        store.close();
        assertThat(StudyCheck.of(temp.resolve("s"), CLOCK, p -> {}).problems()).isEmpty();
        open2();
    }

    private void open2() throws IOException {
        store = StudyStore.open(temp.resolve("s"), StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK);
    }

    @Test
    void twoReadersWhoAgreeNeedNotSettle() throws Exception {
        judge.give(opinion("TM", AnimalFate.ALIVE_AT_END));
        assertThat(judge.progress().agreed()).containsExactly("A1");
        assertThat(judge.agreement()).isNotNull();
        assertThat(judge.agreement().agreement()).isEqualTo(1);
        assertThat(judge.agreement().subjects()).isEqualTo(1);
    }

    @Test
    void opinionsThatCannotBeAreRefused() throws Exception {
        assertThatThrownBy(() -> judge.give(
                        new Judge.Opinion("A1", "TM", AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, null, "still")))
                .hasMessageContaining("died needs the time of the change");
        assertThatThrownBy(() -> judge.give(new Judge.Opinion(
                        "A1", "TM", AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, NOW.minusSeconds(100_000), "still")))
                .hasMessageContaining("lies before the release");
        assertThatThrownBy(() -> judge.give(new Judge.Opinion(
                        "A1", "../x", AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, null, " ")))
                .isInstanceOf(BadInputException.class);
        assertThatThrownBy(() -> judge.bench("A7", "TM")).hasMessageContaining("there is no animal \"A7\"");
        store.change("KB", change -> {
            change.put(Animal.named("A2"));
            return 0;
        });
        assertThatThrownBy(() -> judge.bench("A2", "TM")).hasMessageContaining("no recording is loaded yet");
        assertThat(store.all(Verdict.class)).hasSize(1);
    }
}
