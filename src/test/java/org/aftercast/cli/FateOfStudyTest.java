package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.aftercast.fate.Sighting;
import org.aftercast.fate.SightingOdds;
import org.aftercast.study.FileStore;
import org.aftercast.study.Seen;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** From a study on the command line to a fate: what people saw, the other animals, adjustable odds. Invented throughout. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class FateOfStudyTest {

    private static final List<String> ANIMALS = List.of("A1", "A2", "A3", "A4");

    private Path temp = Path.of("");

    private String study = "";
    private String lastRead = "";

    @BeforeAll
    void make(@TempDir Path folder) throws IOException {
        temp = folder;
        study = temp.resolve("s").toString();
        run("new", study, "--title", "Invented", "--rests-on-bottom", "no", "--time-zone", "UTC", "--who", "KB");
        Path invented = temp.resolve("invented");
        run(
                "simulate",
                "--kind",
                "survives",
                "--hours",
                "0.5",
                "--rate-hz",
                "10",
                "--seed",
                "11",
                "--count",
                "4",
                "--out",
                invented.toString());
        List<Path> csv;
        try (Stream<Path> files = Files.list(invented)) {
            csv = files.filter(p -> p.toString().endsWith(".csv")).sorted().toList();
        }
        assertThat(csv).hasSize(4);
        StringBuilder captures =
                new StringBuilder("animal,packageSerial,releasedUtc,plannedDetachmentUtc,releaseState\n");
        for (int i = 0; i < 4; i++) {
            Path truth = csv.get(i)
                    .resolveSibling(csv.get(i).getFileName().toString().replace(".csv", ".truth.json"));
            JsonNode t = new ObjectMapper().readTree(truth.toFile());
            Instant start = Instant.parse(t.path("startUtc").asText());
            Instant released =
                    start.plusMillis(Math.round(1000 * t.at("/fate/releaseS").asDouble()));
            captures.append(ANIMALS.get(i) + ",P" + i + "," + released + "," + released.plusSeconds(86_400) + ","
                    + (i == 0 ? "swam-off-weakly" : "not-seen") + "\n");
        }
        Path table = Files.writeString(temp.resolve("captures.csv"), captures);
        assertThat(run("enter", study, table.toString())).contains("4 added");
        for (int i = 0; i < 4; i++) {
            assertThat(run("load", study, ANIMALS.get(i), csv.get(i).toString(), "--accept"))
                    .doesNotContain("refused");
        }
        try (StudyStore store =
                StudyStore.open(Path.of(study), StudyStore.Access.WRITE, FileStore.onDisk(), InstantSource.system())) {
            store.change("KB", change -> {
                change.add(new Seen("A1", 1, Sighting.What.TOOTH_MARKS, null, "two rows, photo 3", null));
                return 0;
            });
        }
        lastRead = run("read", study);
    }

    private static String run(String... args) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PrintStream oldOut = System.out;
        PrintStream oldErr = System.err;
        try {
            System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
            System.setErr(new PrintStream(out, true, StandardCharsets.UTF_8));
            Aftercast.run(args);
            return out.toString(StandardCharsets.UTF_8);
        } finally {
            System.setOut(oldOut);
            System.setErr(oldErr);
        }
    }

    /** The newest result of the first animal. */
    private List<JsonNode> results() throws IOException {
        List<JsonNode> found = new ArrayList<>();
        try (Stream<Path> files = Files.walk(Path.of(study, "readings"))) {
            for (Path file :
                    files.filter(p -> p.endsWith("result.json")).sorted().toList()) {
                JsonNode tree = new ObjectMapper().readTree(file.toFile());
                if (tree.at("/recording/source").asText().equals("A1")) {
                    found.add(tree);
                }
            }
        }
        return found;
    }

    private static double odds(JsonNode probabilities, String fate) {
        double alive = probabilities.path("survived").asDouble()
                + probabilities.path("shed").asDouble();
        return Math.log(probabilities.path(fate).asDouble() / alive);
    }

    private static double shift(JsonNode result, String fate) {
        return odds(result.at("/fate/probabilities"), fate) - odds(result.at("/fate/recordOnlyProbabilities"), fate);
    }

    @Test
    void whatIsKeptIsUsedWithoutBeingToldAndCanBeTakenBack() {
        assertThat(run("plan", "--share", "0.1", "--half-width", "0.15", "--keep", study, "--who", "KB"))
                .contains("Kept in " + study + " as plan 1");
        assertThat(run("plan", "--share", "0.2", "--half-width", "0.15", "--keep", study, "--who", "KB"))
                .contains("as plan 2");
        assertThat(run("plan", "--share", "0.2", "--half-width", "0.15", "--keep", study, "--who", "KB"))
                .as("the same again is the same plan")
                .contains("as plan 2");
        String kept = run(
                "estimate",
                study,
                "--horizon",
                "0.2",
                "--controls",
                "10",
                "--control-deaths",
                "1",
                "--released",
                "500",
                "--released-between",
                "400,650",
                "--keep",
                "--who",
                "KB");
        assertThat(kept).contains("The study keeps", "controls: 1 of 10 died", "Dead among 500 released");
        String later = run("estimate", study, "--horizon", "0.2");
        assertThat(later)
                .contains("controls: 1 of 10 died", "Dead among 500 released", "What was planned, and what came of it")
                .contains("Plan number 2 (the last counts)", "after the first animal was released");
        assertThat(run("estimate", study, "--horizon", "0.2", "--controls", "20", "--control-deaths", "0"))
                .as("an option goes before what is kept")
                .contains("controls: 0 of 20 died");
        assertThat(run("estimate", study, "--take-back", "controls,fishery", "--who", "KB"))
                .contains("Taken back: controls.", "Taken back: fishery.")
                .doesNotContain("controls: 1 of 10");
        assertThat(run("plan", "--take-back", study, "--who", "KB")).contains("Taken back");
        assertThat(run("estimate", study, "--horizon", "0.2")).contains("The plan was kept");
        assertThat(run("estimate", study, "--keep")).contains("There is nothing to keep; accepted with --keep");
        assertThat(run("verify", study)).doesNotContain("changed from outside");
    }

    @Test
    void whatPeopleSawShiftsTheOddsAndCanBeAdjusted() throws IOException {
        SightingOdds marks =
                org.aftercast.fate.FateSettings.defaults().sightingOdds().get(Sighting.What.TOOTH_MARKS);
        SightingOdds weak =
                org.aftercast.fate.FateSettings.defaults().sightingOdds().get(Sighting.What.SWAM_OFF_WEAKLY);
        JsonNode first = results().get(0);
        assertThat(shift(first, "eaten")).isCloseTo(marks.eaten() + weak.eaten(), within(1e-9));
        assertThat(shift(first, "died")).isCloseTo(marks.died() + weak.died(), within(1e-9));
        assertThat(first.at("/fate/evidence").toString())
                .contains("People noted that the package had tooth marks (two rows, photo 3).")
                .contains("People noted that it swam off weakly.");
        assertThat(first.at("/known/sightings")).hasSize(2);

        Path settings = Files.writeString(
                temp.resolve("odds.json"),
                "{\"fate\": {\"sightingOdds\": {\"TOOTH_MARKS\": {\"died\": 0, \"eaten\": 1.25, \"shed\": 0}}}}");
        assertThat(run("read", study, "A1", "--settings", settings.toString())).contains("fate");
        assertThat(results())
                .anySatisfy(r -> assertThat(shift(r, "eaten")).isCloseTo(1.25 + weak.eaten(), within(1e-9)));
    }

    @Test
    void theOtherAnimalsAreTheYardstick() {
        assertThat(lastRead).contains("the median of 3 other animals is");
        // One animal read alone is still held against the readings kept of the others.
        assertThat(run("read", study, "A2")).contains("the median of 3 other animals is");
    }

    @Test
    void aResultOfAStudyIsReproducedFromItsFileAlone() throws IOException {
        JsonNode first = results().get(0);
        assertThat(first.at("/known/restsOnBottom").asText()).isEqualTo("no");
        assertThat(first.at("/known/releaseUtc").isTextual()).isTrue();
        assertThat(first.at("/recovery/statement").isTextual()).isTrue();
    }
}
