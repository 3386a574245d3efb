package org.aftercast.cli;

import static org.aftercast.cli.Ran.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EstimateCommandTest {

    private static final String TABLE = "animal,fate,atRiskH,hook,trip\n"
            + "A1,survived,24,lip,1\nA2,died,3,gut,1\nA3,survived,30,lip,2\nA4,shed,10,gut,2\nA5,lost,,lip,2\n"
            + "A6,eaten,6,lip,3\nA7,survived,26,gut,3\nA8,survived,26,gut,3\n";

    @TempDir
    Path folder;

    private String table(String text) throws IOException {
        Path file = folder.resolve("fates.csv");
        Files.writeString(file, text);
        return file.toString();
    }

    @Test
    void printsTheHeadlineAndWritesJsonThatItsSchemaAccepts() throws IOException {
        Path json = folder.resolve("estimate.json");
        Ran run = run(
                "estimate",
                table(TABLE),
                "--json",
                json.toString(),
                "--landed",
                "12",
                "--dead-at-vessel",
                "2",
                "--not-tagged",
                "too small=2");
        assertThat(run.err()).isEmpty();
        assertThat(run.code()).isZero();
        assertThat(run.out())
                .contains("Share that died within 24 h of release")
                .contains("2 of 8 dead, 4 alive, 2 unknown")
                .contains("package not retrieved")
                .contains("if every unknown animal died");
        String text = Files.readString(json);
        JsonNode root = new ObjectMapper().readTree(text);
        assertThat(root.at("/estimate/headline/kind").asText()).isEqualTo("SURVIVAL_CURVE");
        assertThat(root.at("/sourceSha256").asText()).hasSize(64);
        assertThat(problems(text)).isEmpty();
        assertThat(Files.list(folder)).hasSize(2);
    }

    @Test
    void sameInputGivesTheSameBytes() throws IOException {
        Path one = folder.resolve("one.json");
        Path two = folder.resolve("two.json");
        String table = table(TABLE);
        run("estimate", table, "--json", one.toString());
        run("estimate", table, "--json", two.toString());
        assertThat(Files.readString(one)).isEqualTo(Files.readString(two));
    }

    @Test
    void aStudyWithoutDeathsIsANormalCase() throws IOException {
        Ran run = run("estimate", table("animal,fate,atRiskH\nA1,survived,24\nA2,survived,24\nA3,survived,25\n"));
        assertThat(run.code()).isZero();
        assertThat(run.out()).contains("None of 3 died").contains("one-sided");
    }

    @Test
    void badInputEndsWithTwoAndSaysWhere() throws IOException {
        Ran run = run("estimate", table("animal,fate,atRiskH\nA1,gone,24\n"), "--json", folder + "/x.json");
        assertThat(run.code()).isEqualTo(2);
        assertThat(run.err()).contains("line 2, column 2 (fate): \"gone\" is not a fate");
        assertThat(Files.exists(folder.resolve("x.json"))).isFalse();
        assertThat(run("estimate", folder + "/none.csv").code()).isEqualTo(2);
        assertThat(run("estimate", table(TABLE), "--by", "colour").err()).contains("no column \"colour\"");
        assertThat(run("estimate", table(TABLE), "--horizon", "-1").code()).isEqualTo(2);
        assertThat(run("estimate", table(TABLE), "--interval", "magic").err()).contains("clopper-pearson");
        assertThat(run("estimate", table(TABLE), "--dead-at-vessel", "1").err()).contains("--landed");
    }

    static java.util.List<String> problems(String json) throws IOException {
        try (InputStream schema =
                EstimateCommandTest.class.getResourceAsStream("/org/aftercast/docs/estimate.schema.json")) {
            assertThat(schema).isNotNull();
            return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                    .getSchema(schema, InputFormat.JSON)
                    .validate(json, InputFormat.JSON)
                    .stream()
                    .map(Object::toString)
                    .toList();
        }
    }
}
