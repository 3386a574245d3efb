package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PlanCommandTest {

    @TempDir
    Path folder;

    private record Run(int code, String out, String err) {}

    private static Run run(String typed, String... args) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        PrintStream oldOut = System.out;
        PrintStream oldErr = System.err;
        InputStream oldIn = System.in;
        try {
            System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
            System.setErr(new PrintStream(err, true, StandardCharsets.UTF_8));
            System.setIn(new ByteArrayInputStream(typed.getBytes(StandardCharsets.UTF_8)));
            int code = Aftercast.run(args);
            return new Run(code, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
        } finally {
            System.setOut(oldOut);
            System.setErr(oldErr);
            System.setIn(oldIn);
        }
    }

    /** R 4.2.2 (g.R): 68 animals for ± .10 at .2, half-width .1179 at .1 with 30; Fisher power 72 + 72 at .1/.3 = .826109. */
    @Test
    void tellsTheNumbersAndWritesJsonThatItsSchemaAccepts() throws IOException {
        Path json = folder.resolve("plan.json");
        Run run = run(
                "", "plan", "--share", "0.2", "--half-width", "0.1", "--half-time", "12", "--json", json.toString());
        assertThat(run.err()).isEmpty();
        assertThat(run.code()).isZero();
        assertThat(run.out()).contains("68 usable records").contains("miss 25.0 % of the deaths");
        String text = Files.readString(json);
        try (InputStream schema = PlanCommandTest.class.getResourceAsStream("/org/aftercast/docs/plan.schema.json")) {
            assertThat(schema).isNotNull();
            assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                            .getSchema(schema, InputFormat.JSON)
                            .validate(text, InputFormat.JSON))
                    .isEmpty();
        }
        JsonNode plan = new ObjectMapper().readTree(text);
        assertThat(plan.at("/forHalfWidth/usable").asInt()).isEqualTo(68);
        for (JsonNode row : plan.get("rows")) {
            // fewer come back than are tagged: what is tagged shows less than what is usable
            assertThat(row.get("halfWidthIfTagged").asDouble())
                    .isGreaterThan(row.get("halfWidth").asDouble());
        }
        Run two = run(
                "", "plan", "--share", "0.1", "--other-share", "0.3", "--animals", "144", "--json", json.toString());
        assertThat(two.code()).isZero();
        JsonNode powered = new ObjectMapper().readTree(Files.readString(json));
        for (JsonNode row : powered.get("rows")) {
            if (row.get("animals").asInt() == 144) {
                assertThat(row.get("power").asDouble()).isCloseTo(.826109, within(5e-7));
            }
            if (row.get("animals").asInt() == 30) {
                assertThat(row.get("halfWidth").asDouble()).isCloseTo(.1179, within(5e-5));
            }
        }
    }

    /** By hand: of two tagged with 50 % back, none ¼ (half-width ½), one ½, two ¼. Deaths 0.1 within 24 h, half in 24 h. */
    @Test
    void lossIsWeighedOverEveryNumberThatMayComeBack() throws IOException {
        Path json = folder.resolve("plan.json");
        run(
                "",
                "plan",
                "--share",
                "0.1",
                "--animals",
                "2",
                "--back",
                "0.5",
                "--half-time",
                "24",
                "--json",
                json.toString());
        JsonNode plan = new ObjectMapper().readTree(Files.readString(json));
        JsonNode two = plan.get("rows").get(0);
        assertThat(two.get("animals").asInt()).isEqualTo(2);
        // Clopper–Pearson: 0 of 1 is 0–.975, 1 of 1 .025–1; 0 of 2 0–.8419, 1 of 2 .0126–.9874, 2 of 2 .1581–1
        double one = .975 / 2;
        double both = (.81 * .84189 + .18 * (.98742 - .01258) + .01 * .84189) / 2;
        assertThat(two.get("halfWidthIfTagged").asDouble()).isCloseTo(.25 * .5 + .5 * one + .25 * both, within(1e-4));
        for (JsonNode length : plan.get("recordLengths")) {
            if (length.get("hours").asDouble() == 48) {
                assertThat(length.get("missed").asDouble()).isEqualTo(.25);
                assertThat(length.get("seenShare").asDouble()).isCloseTo(.15, within(1e-12));
            }
        }
    }

    @Test
    void asksWhenNothingIsGiven() {
        Run run = run("0.2\nlots\n0.1\n\n\n\n\n\n\n", "plan");
        assertThat(run.err()).isEmpty();
        assertThat(run.code()).isZero();
        assertThat(run.out()).contains("\"lots\" is not a number").contains("68 usable records");
        Run nobody = run("", "plan");
        assertThat(nobody.code()).isEqualTo(2);
        assertThat(nobody.err()).contains("Give the options instead");
    }

    @Test
    void drawsAFigureAndRefusesOtherKinds() throws IOException {
        Path svg = folder.resolve("plan.svg");
        assertThat(run(
                                "",
                                "plan",
                                "--share",
                                "0.1",
                                "--other-share",
                                "0.3",
                                "--half-time",
                                "12",
                                "--figure",
                                svg.toString())
                        .code())
                .isZero();
        assertThat(Files.readString(svg)).contains("usable animals").contains("power to see the difference");
        byte[] first = Files.readAllBytes(svg);
        run("", "plan", "--share", "0.1", "--other-share", "0.3", "--half-time", "12", "--figure", svg.toString());
        assertThat(Files.readAllBytes(svg)).isEqualTo(first);
        Run odd = run("", "plan", "--share", "0.1", "--figure", folder + "/plan.docx");
        assertThat(odd.code()).isEqualTo(2);
        assertThat(odd.err()).contains("accepted: a name ending in .svg");
        assertThat(run("", "plan", "--share", "1.2").code()).isEqualTo(2);
        assertThat(run("", "plan", "--share", "0.5", "--half-width", "0.0001").err())
                .contains("5000");
    }
}
