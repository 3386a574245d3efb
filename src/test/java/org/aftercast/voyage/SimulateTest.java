package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.Channel;
import org.aftercast.sim.DifficultyRange;
import org.aftercast.sim.ScenarioDraw;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SimulateTest {

    @TempDir
    private Path folder;

    @Test
    void writesWhatWasSimulatedAndSaysThatItIsInvented() throws Exception {
        Simulate.Wish wish = new Simulate.Wish("dies-late", "plain", 2.0, 12.0, 41, 1);
        Simulate.Written written =
                new Simulate(FileStore.onDisk()).write(wish, folder).get(0);
        SimulatedRecording made = ScenarioDraw.draw(
                        DifficultyRange.plain().with(12, 2),
                        ScenarioDraw.Use.TUNING,
                        41,
                        org.aftercast.sim.Course.DIES_LATE)
                .simulate();

        List<String> lines = Files.readAllLines(written.csv());
        assertThat(lines.get(0)).startsWith("# INVENTED DATA");
        assertThat(lines.get(2)).isEqualTo("timeUtc,accXG,accYG,accZG,depthM,tempC");
        List<String> rows = lines.subList(3, lines.size());
        assertThat(rows).hasSize((int) made.samples().sampleCount());
        float[] y = new float[rows.size()];
        made.samples().read(Channel.ACCELERATION_Y, 0, y.length, y, 0);
        Instant start = made.truth().scenario().startUtc();
        for (int i = 0; i < rows.size(); i += 97) {
            String[] cells = rows.get(i).split(",", -1);
            assertThat(cells).hasSize(6);
            assertThat(Double.parseDouble(cells[2])).isCloseTo(y[i], within(0.5001e-4));
            Instant at = Instant.parse(cells[0]);
            assertThat(java.time.Duration.between(start, at).toNanos() / 1e9).isCloseTo(i / 12.0, within(1e-6));
        }

        JsonNode truth = new ObjectMapper().readTree(Files.readAllBytes(written.truth()));
        assertThat(truth.get("invented").asBoolean()).isTrue();
        assertThat(truth.at("/fate/call").asText()).isEqualTo("died");
        assertThat(truth.get("beats")).hasSize(made.truth().beatStartS().length);
        List<Integer> ends = new ArrayList<>();
        truth.get("bouts").forEach(bout -> ends.add(bout.get("endS").asInt()));
        assertThat(ends.get(ends.size() - 1)).isEqualTo(7200);
    }

    @Test
    void aMissingStretchDropsItsRows() throws Exception {
        Simulate.Written written = new Simulate(FileStore.onDisk())
                .write(new Simulate.Wish(null, "hard", 2.0, 10.0, 5, 1), folder)
                .get(0);
        JsonNode truth = new ObjectMapper().readTree(Files.readAllBytes(written.truth()));
        long missing = 0;
        for (JsonNode gap : truth.get("gaps")) {
            missing += gap.get("toSample").asLong() - gap.get("fromSample").asLong();
        }
        assertThat(Files.readAllLines(written.csv())).hasSize((int) (3 + 72_000 - missing));
    }

    @Test
    void refusesWhatItCannotDoAndWritesNothing() {
        Simulate simulate = new Simulate(FileStore.onDisk());
        Path absent = folder.resolve("absent");
        assertThatThrownBy(() -> simulate.write(new Simulate.Wish("lives", "plain", 1.0, 5.0, 1, 1), absent))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("--kind")
                .hasMessageContaining("shed-early");
        assertThatThrownBy(() -> simulate.write(new Simulate.Wish(null, "easy", 1.0, 5.0, 1, 1), absent))
                .hasMessageContaining("plain, hard, extreme");
        assertThatThrownBy(() -> simulate.write(new Simulate.Wish(null, "plain", 1000.0, 5.0, 1, 1), absent))
                .hasMessageContaining("--hours");
        assertThatThrownBy(() -> simulate.write(new Simulate.Wish(null, "plain", 1.0, 0.0, 1, 1), absent))
                .hasMessageContaining("--rate-hz");
        assertThatThrownBy(() -> simulate.write(new Simulate.Wish(null, "plain", 1.0, 5.0, 1, 0), absent))
                .hasMessageContaining("--count");
        assertThat(absent).doesNotExist();
    }
}
