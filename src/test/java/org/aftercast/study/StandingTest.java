package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import org.aftercast.study.Standing.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where animals stand, by hand for each stage of the voyage. */
class StandingTest {

    private static final Instant NOW = Instant.parse("2026-06-10T12:00:00Z");
    private static final InstantSource CLOCK = InstantSource.fixed(NOW);

    @TempDir
    Path temp;

    private static Release release(String animal, Integer releasedHoursAgo, Integer plannedHoursAgo) {
        return new Release(
                animal,
                "P-" + animal,
                releasedHoursAgo == null ? null : NOW.minusSeconds(releasedHoursAgo * 3600L),
                null,
                null,
                null,
                null,
                plannedHoursAgo == null ? null : NOW.minusSeconds(plannedHoursAgo * 3600L));
    }

    private static SearchOutcome search(String animal, int number, SearchOutcome.Outcome outcome) {
        return new SearchOutcome(animal, number, null, NOW, outcome, null, null, null, null, null, null);
    }

    @Test
    void overdueFirstThenAlongTheVoyage() throws IOException {
        SmallStudy.make(temp.resolve("s"), CLOCK); // A1: judged once
        try (StudyStore store =
                StudyStore.open(temp.resolve("s"), StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            store.change("KB", change -> {
                for (String name : new String[] {
                    "planned", "ready", "stopped", "bare", "out", "early", "late", "later", "sought", "lost", "found"
                }) {
                    change.put(Animal.named(name));
                    change.put(new FloatPackage("P-" + name, null, null, null, null, null, null, null));
                }
                change.put(release("ready", null, null));
                change.put(new Checklist(
                        "ready",
                        Checklist.StillPoses.DONE,
                        NOW,
                        NOW,
                        null,
                        null,
                        Checklist.StopRule.GO_AHEAD,
                        null,
                        null));
                change.put(new Checklist(
                        "stopped", Checklist.StillPoses.DONE, NOW, NOW, NOW, NOW, Checklist.StopRule.STOP, null, null));
                change.put(new Release("bare", null, NOW.minusSeconds(60), null, null, null, null, null));
                change.put(release("out", 1, -23));
                change.put(release("early", 1, -23));
                change.put(new Detachment("early", NOW.minusSeconds(600), Detachment.Source.ENTERED, null, null));
                change.put(release("late", 30, 6));
                change.put(release("later", 50, 26));
                change.put(release("sought", 40, 16));
                change.put(search("sought", 1, SearchOutcome.Outcome.NOT_FOUND));
                change.put(release("lost", 90, 66));
                change.put(search("lost", 1, SearchOutcome.Outcome.NOT_FOUND));
                change.put(search("lost", 2, SearchOutcome.Outcome.ABANDONED));
                change.put(release("found", 90, 66));
                change.put(search("found", 1, SearchOutcome.Outcome.RETRIEVED));
                change.put(search("found", 2, SearchOutcome.Outcome.NOT_FOUND));
                return 0;
            });
            assertThat(Standing.of(store, NOW).stream()
                            .map(s -> s.animal() + " " + Words.of(s.stage()) + " " + s.overdueH() + " " + s.next()))
                    .containsExactly(
                            "later adrift 26.0 search for package P-later",
                            "sought adrift 16.0 search for package P-sought",
                            "late adrift 6.0 search for package P-late",
                            "planned planned 0.0 assign a package",
                            "ready planned 0.0 before release: taps timed by GPS (2 of 3), beacon heard in air",
                            "stopped planned 0.0 no package on this animal: the stop rule says so",
                            "bare released 0.0 ",
                            "out released 0.0 wait until 2026-06-11T11:00:00Z",
                            "early adrift 0.0 search for package P-early",
                            "lost adrift 0.0 nothing: the search for its package was abandoned",
                            "found retrieved 0.0 load the download",
                            "A1 judged 0.0 give a second verdict, blind");
            assertThat(Standing.of(store, NOW).get(11).stage()).isEqualTo(Stage.JUDGED);
        }
    }
}
