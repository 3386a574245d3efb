package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.concurrent.ForkJoinPool;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.Sighting;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.sim.Course;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** One recording, one answer: whatever the number of threads, and from the result's own file. Invented recordings. */
class SameReadingTest {

    @TempDir
    private Path temp;

    private static SimulatedRecording simulate(Course course) {
        Scenario base = Scenario.bottomRester();
        return RecordingSimulator.simulate(
                base.withLogger(base.logger().with(10, 4))
                        .withEnding(base.ending().with(course, 1.5, 3.4)),
                5);
    }

    private static ReadContext known(SimulatedRecording made) {
        Instant start = made.recording().clock().startUtc();
        if (start == null) {
            throw new IllegalStateException("the simulated clock has no start");
        }
        Instant release = start.plusMillis(Math.round(1000 * made.truth().releaseS()));
        return new ReadContext(
                release,
                null,
                release.plusSeconds(12_240),
                RestsOnBottom.YES,
                made.truth().scenario().sea().bottomDepthM(),
                null,
                null,
                null,
                List.of(new Sighting(Sighting.What.SCRATCHES, null, "one side")),
                null);
    }

    private static String read(Recording recording, ReadContext context, Settings settings) throws BadInputException {
        return new String(
                ReadingDocument.of(ReadRecording.read(recording, context, settings), "invented", null, List.of())
                        .toJson(),
                StandardCharsets.UTF_8);
    }

    /** Motion, behaviour and fate: identical to the last bit on 1, 2 and 4 threads. */
    @ParameterizedTest
    @EnumSource(
            value = Course.class,
            names = {"SURVIVES", "DIES_LATE", "SWALLOWED_BY_WARM"})
    void threadsChangeNoDigit(Course course) throws Exception {
        SimulatedRecording made = simulate(course);
        ReadContext context = known(made);
        String first = null;
        for (int threads : new int[] {1, 2, 4}) {
            ForkJoinPool pool = new ForkJoinPool(threads);
            try {
                String json = pool.submit(() -> read(made.recording(), context, Settings.defaults()))
                        .get();
                first = first == null ? json : first;
                assertThat(json).as("%d threads", threads).isEqualTo(first);
            } finally {
                pool.shutdown();
            }
        }
    }

    /** Everything that was chosen or known stands in the result: its file alone gives the same reading. */
    @Test
    void theWholeReadingComesFromItsFile() throws Exception {
        SimulatedRecording made = simulate(Course.DIES_LATE);
        String first = read(made.recording(), known(made), Settings.defaults());
        Path file = Files.writeString(temp.resolve("result.json"), first);
        assertThat(read(made.recording(), SettingsFile.known(file), SettingsFile.read(file)))
                .isEqualTo(first);
        assertThat(read(made.recording(), ReadContext.nothingKnown(), SettingsFile.read(file)))
                .isNotEqualTo(first);
        Path bare = Files.writeString(temp.resolve("bare.json"), "{}");
        assertThat(SettingsFile.known(bare)).isEqualTo(ReadContext.nothingKnown());
    }

    /** Attack, kind of predator, first rest and both definitions of recovery reach the result. Simulated. */
    @Test
    void attackPredatorRestAndRecoveryReachTheResult() throws Exception {
        SimulatedRecording made = simulate(Course.SWALLOWED_BY_WARM);
        String json = read(made.recording(), known(made), Settings.defaults());
        var tree = new com.fasterxml.jackson.databind.ObjectMapper().readTree(json);
        assertThat(tree.at("/fate/call").asText())
                .as(tree.at("/fate/summary").asText())
                .isEqualTo("eaten");
        assertThat(tree.at("/fate/predator").asText()).isEqualTo("warm");
        assertThat(tree.at("/events").toString()).contains("predator-attack");
        assertThat(tree.at("/recovery/firstRestFromHours").isNumber()).isTrue();
        assertThat(tree.at("/recovery/statement").asText()).contains("It first rested");
        assertThat(tree.at("/recoveryMeasures")).hasSize(5);
        assertThat(tree.at("/recoveryMeasures/0").has("ownMeanHours")).isTrue();

        Scenario base = Scenario.bottomRester();
        SimulatedRecording noDepth = RecordingSimulator.simulate(
                base.withLogger(base.logger().with(10, 4).withChannels(EnumSet.of(Channel.TEMPERATURE)))
                        .withEnding(base.ending().with(Course.SWALLOWED_BY_WARM, 1.5, 3.4)),
                5);
        var shallow = new com.fasterxml.jackson.databind.ObjectMapper()
                .readTree(read(noDepth.recording(), known(noDepth), Settings.defaults()));
        assertThat(shallow.at("/fate/predator").asText()).isEqualTo("warm");
        assertThat(shallow.at("/fate/evidence").toString()).contains("warmer than the warmest water before");
    }
}
