package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Studies that break naive formulas, through the command: an answer or a reason, never NaN, never a silent default. */
class HostileTablesTest {

    private static final ObjectMapper MAPPER = new ObjectMapper();
    private static final String HEAD = "animal,fate,recordEnd,atRiskH,hook,trip,fightMin,recoveryH,recoverySeen\n";

    @TempDir
    Path folder;

    private record Run(int code, String out, String err, JsonNode json) {}

    private Run run(String table, String... more) throws IOException {
        Path file = folder.resolve("fates.csv");
        Path json = folder.resolve("out.json");
        Files.deleteIfExists(json);
        Files.writeString(file, table);
        List<String> args = new ArrayList<>(List.of("estimate", file.toString(), "--json", json.toString()));
        args.addAll(List.of(more));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        PrintStream oldOut = System.out;
        PrintStream oldErr = System.err;
        int code;
        try {
            System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
            System.setErr(new PrintStream(err, true, StandardCharsets.UTF_8));
            code = Aftercast.run(args.toArray(String[]::new));
        } finally {
            System.setOut(oldOut);
            System.setErr(oldErr);
        }
        JsonNode read = MAPPER.createObjectNode();
        if (Files.exists(json)) {
            String text = Files.readString(json);
            assertThat(text).doesNotContain("NaN").doesNotContain("Infinity");
            assertThat(EstimateCommandTest.problems(text)).isEmpty();
            read = MAPPER.readTree(text).get("estimate");
        }
        return new Run(code, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8), read);
    }

    private static String rows(int n, String fate, String end, String atRiskH, String hook, int from) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < n; i++) {
            int k = from + i;
            text.append(String.format(
                    Locale.ROOT,
                    "A%d,%s,%s,%s,%s,t%d,%d,%d,yes%n",
                    k,
                    fate,
                    end,
                    atRiskH,
                    hook,
                    k % 6,
                    3 + k % 17,
                    1 + k % 5));
        }
        return text.toString().replace("\r", "");
    }

    static List<Arguments> studies() {
        String planned = "planned-detachment";
        String alive = rows(12, "survived", planned, "24", "circle", 0);
        return List.of(
                Arguments.of("no deaths", HEAD + alive, "None of 12 died"),
                Arguments.of("all deaths", HEAD + rows(9, "died", planned, "3", "j", 0), "9 of 9 dead"),
                Arguments.of("one animal, alive", HEAD + rows(1, "survived", planned, "24", "j", 0), "None of 1 died"),
                Arguments.of("one animal, dead", HEAD + rows(1, "died", planned, "2", "j", 0), "1 of 1 dead"),
                Arguments.of(
                        "one animal, lost",
                        HEAD + "A1,undecided,package-lost,,j,t1,4,,\n",
                        "No animal was watched for 24 h"),
                Arguments.of(
                        "complete separation", HEAD + alive + rows(6, "died", planned, "2", "j", 20), "6 of 18 dead"),
                Arguments.of(
                        "all censored before the horizon",
                        HEAD + rows(8, "shed", "shed-early", "5", "j", 0),
                        "No answer. No animal was watched for 24 h"),
                Arguments.of(
                        "tied times",
                        HEAD
                                + rows(5, "died", planned, "6", "j", 0)
                                + rows(5, "shed", "shed-early", "6", "circle", 10)
                                + rows(5, "survived", planned, "24", "circle", 20),
                        "5 of 15 dead"),
                Arguments.of(
                        "death at the release and at the horizon",
                        HEAD
                                + rows(2, "died", planned, "0", "j", 0)
                                + rows(2, "eaten", planned, "24", "j", 10)
                                + alive.replace("A", "B"),
                        "4 of 16 dead"),
                Arguments.of(
                        "a curve that falls to 0 by one animal",
                        HEAD
                                + rows(6, "shed", "shed-early", "3", "j", 0)
                                + rows(1, "died", planned, "20", "j", 10)
                                + rows(0, "survived", planned, "24", "j", 20),
                        "No answer"),
                Arguments.of(
                        "a group without a known fate",
                        HEAD + alive + rows(3, "shed", "shed-early", "1", "j", 30),
                        "No answer"),
                Arguments.of(
                        "everything blank but what must be there",
                        "animal,fate,atRiskH\nA,survived,24\n",
                        "None of 1"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("studies")
    void anAnswerOrAReason(String name, String table, String said) throws IOException {
        boolean columns = table.contains("hook");
        Run run = columns
                ? run(
                        table,
                        "--by",
                        "hook",
                        "--risk",
                        "hook",
                        "--risk",
                        "fightMin",
                        "--cluster",
                        "trip",
                        "--scale-up",
                        "hook",
                        "--weight",
                        "j=0.4",
                        "--weight",
                        "circle=0.6",
                        "--controls",
                        "10",
                        "--control-deaths",
                        "1")
                : run(table);
        assertThat(run.err()).as(name).isEmpty();
        assertThat(run.code()).isZero();
        assertThat(run.out())
                .contains(said)
                .doesNotContain("NaN")
                .doesNotContain("null")
                .doesNotContain("Infinity");
        answersOrRefuses(run.json(), name);
    }

    /** Wherever a method refuses it says why; wherever it does not, its result is there. */
    private static void answersOrRefuses(JsonNode estimate, String name) {
        JsonNode headline = estimate.get("headline");
        assertThat(headline.get("died").isNull())
                .as(name)
                .isEqualTo(!headline.at("/method/refusal").isNull());
        for (JsonNode model : estimate.at("/riskFactors/models")) {
            assertThat(model.get("terms").isEmpty())
                    .as(name)
                    .isEqualTo(!model.at("/method/refusal").isNull());
        }
        JsonNode scaled = estimate.get("scaledUp");
        assertThat(scaled.get("fishery").isNull())
                .as(name)
                .isEqualTo(!scaled.at("/method/refusal").isNull());
        JsonNode clusters = estimate.get("clusters");
        if (!clusters.isNull()) {
            assertThat(clusters.get("died").isNull())
                    .as(name)
                    .isEqualTo(!clusters.at("/method/refusal").isNull());
        }
    }

    static List<Arguments> refused() {
        String head = "animal,fate,atRiskH,fightMin\n";
        return List.of(
                Arguments.of("negative time", head + "A,died,-3,5\n", "line 2, column 3"),
                Arguments.of("missing time", head + "A,died,,5\n", "line 2, column 3"),
                Arguments.of("time that is not a number", head + "A,died,NaN,5\n", "line 2, column 3"),
                Arguments.of("endless time", head + "A,died,Infinity,5\n", "line 2, column 3"),
                Arguments.of("time beyond all numbers", head + "A,died,1e999,5\n", "line 2, column 3"),
                Arguments.of("NaN in a measure", head + "A,died,3,NaN\nB,survived,24,5\n", "line 2, column 4"),
                Arguments.of("NA in a measure", head + "A,died,3,7\nB,survived,24,NA\n", "line 3, column 4"),
                Arguments.of("fate missing", head + "A,,3,5\n", "line 2, column 2"),
                Arguments.of("the same animal twice", head + "A,died,3,5\nA,survived,24,5\n", "line 3, column 1"),
                Arguments.of("no rows", head, "animal"),
                Arguments.of("nothing", "", "empty"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("refused")
    void badTablesAreRefusedWithThePlace(String name, String table, String said) throws IOException {
        Run run = run(table);
        assertThat(run.code()).as(name).isEqualTo(2);
        assertThat(run.err()).contains(said).contains("accepted");
        assertThat(run.out()).isEmpty();
        assertThat(Files.exists(folder.resolve("out.json"))).isFalse();
    }

    @Test
    void tenThousandAnimals() throws IOException {
        SplittableRandom random = new SplittableRandom(3);
        StringBuilder text = new StringBuilder(HEAD);
        for (int i = 0; i < 10_000; i++) {
            boolean dies = random.nextInt(5) == 0;
            boolean shed = random.nextInt(6) == 0;
            String fate = dies ? "died" : shed ? "shed" : "survived";
            double hours = dies || shed ? 24 * random.nextDouble() : 24;
            text.append(String.format(
                    Locale.ROOT,
                    "A%d,%s,,%.3f,%s,t%d,%d,,%n",
                    i,
                    fate,
                    hours,
                    random.nextInt(4) == 0 ? "j" : "circle",
                    i / 8,
                    2 + random.nextInt(30)));
        }
        Run run = run(
                text.toString().replace("\r", ""), "--by", "hook", "--risk", "fightMin,hook", "--replicates", "500");
        assertThat(run.err()).isEmpty();
        assertThat(run.code()).isZero();
        assertThat(run.json().at("/headline/died/value").asDouble()).isBetween(.19, .23);
        assertThat(run.json().at("/riskFactors/models/0/terms").size()).isEqualTo(2);
        assertThat(run.out()).doesNotContain("NaN").doesNotContain("null");
    }
}
