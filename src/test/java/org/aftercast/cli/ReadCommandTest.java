package org.aftercast.cli;

import static org.aftercast.cli.Ran.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command from the outside: what it writes, and that bad input is told by file, line and column with exit code 2. */
class ReadCommandTest {

    @TempDir
    private Path folder;

    /** A minute and a half of a 1.3 Hz beat on y, gravity on z, 20 samples a second. */
    private String beating() {
        StringBuilder csv = new StringBuilder("time_s,x,y,z\n");
        Random random = new Random(4);
        for (int i = 0; i < 1800; i++) {
            double t = i / 20.0;
            csv.append(String.format(
                    Locale.ROOT,
                    "%.2f,%.4f,%.4f,%.4f%n",
                    t,
                    0.002 * random.nextGaussian(),
                    0.2 * Math.sin(2 * Math.PI * 1.3 * t) + 0.002 * random.nextGaussian(),
                    1 + 0.002 * random.nextGaussian()));
        }
        return csv.toString();
    }

    private Path file(String name, String content) throws IOException {
        return Files.writeString(folder.resolve(name), content);
    }

    @Test
    void findsTheBeatAndWritesJsonAndSeries() throws IOException {
        Path csv = file("beat.csv", beating());
        Path json = folder.resolve("out.json");
        Path series = folder.resolve("series.csv");
        Ran ran = run("read", csv.toString(), "--json", json.toString(), "--series", series.toString());
        assertThat(ran.code()).as(ran.err()).isZero();
        JsonNode tree = new ObjectMapper().readTree(json.toFile());
        assertThat(tree.at("/beats/medianHz").asDouble()).isBetween(1.295, 1.305);
        assertThat(tree.at("/beats/medianAmplitudeG").asDouble()).isBetween(0.195, 0.205);
        assertThat(tree.at("/beats/count").asInt()).isBetween(113, 117);
        assertThat(tree.at("/recording/startUtc").isNull()).isTrue();
        assertThat(tree.at("/recording/channels").toString()).isEqualTo("[\"accXG\",\"accYG\",\"accZG\"]");
        assertThat(Files.readAllLines(series)).hasSize(91);
        assertThat(Files.readAllLines(series).get(0)).startsWith("secondS,depthM,verticalSpeedMps,tempC,pitchDeg");
        Path parquet = folder.resolve("series.parquet");
        assertThat(run("read", csv.toString(), "--series", parquet.toString()).code())
                .isZero();
        assertThat(Files.readAllBytes(parquet)).startsWith("PAR1".getBytes(StandardCharsets.US_ASCII));
    }

    @Test
    void gzipReadsTheSame() throws IOException {
        Path packed = folder.resolve("beat.csv.gz");
        try (GZIPOutputStream out = new GZIPOutputStream(Files.newOutputStream(packed))) {
            out.write(beating().getBytes(StandardCharsets.UTF_8));
        }
        Ran ran = run("read", packed.toString());
        assertThat(ran.code()).as(ran.err()).isZero();
        assertThat(ran.out()).contains("median 1.300 Hz");
    }

    @Test
    void startAndRateStandInForATimeColumn() throws IOException {
        StringBuilder csv = new StringBuilder("x,y,z\n");
        beating()
                .lines()
                .skip(1)
                .forEach(l -> csv.append(l.substring(l.indexOf(',') + 1)).append('\n'));
        Path file = file("bare.csv", csv.toString());
        Ran refused = run("read", file.toString());
        assertThat(refused.code()).isEqualTo(2);
        assertThat(refused.err()).contains("bare.csv").containsIgnoringCase("rate");
        Path json = folder.resolve("out.json");
        Ran ran = run(
                "read",
                file.toString(),
                "--start",
                "2026-06-01T08:00:00Z",
                "--rate-hz",
                "20",
                "--json",
                json.toString());
        assertThat(ran.code()).as(ran.err()).isZero();
        JsonNode tree = new ObjectMapper().readTree(json.toFile());
        assertThat(tree.at("/recording/startUtc").asText()).isEqualTo("2026-06-01T08:00:00Z");
        assertThat(tree.at("/recording/sampleRateHz").asDouble()).isEqualTo(20);
        assertThat(tree.at("/beats/medianHz").asDouble()).isBetween(1.295, 1.305);
    }

    @Test
    void emptyFile() throws IOException {
        refused(file("empty.csv", ""), "empty.csv");
    }

    @Test
    void missingAxis() throws IOException {
        refused(file("oneaxis.csv", beating().replaceAll("(?m),[^,\n]*,[^,\n]*$", "")), "oneaxis.csv");
    }

    @Test
    void textInANumber() throws IOException {
        String[] lines = beating().split("\n");
        lines[700] = "34.95,0.001,abc,1.0";
        refused(file("text.csv", String.join("\n", lines)), "text.csv", "line 701", "column 3");
    }

    @Test
    void timeRunningBackwards() throws IOException {
        String[] lines = beating().split("\n");
        lines[700] = "3.00,0.001,0.01,1.0";
        refused(file("back.csv", String.join("\n", lines)), "back.csv", "line 701");
    }

    @Test
    void truncatedGzip() throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (GZIPOutputStream out = new GZIPOutputStream(bytes)) {
            out.write(beating().getBytes(StandardCharsets.UTF_8));
        }
        Path cut = folder.resolve("cut.csv.gz");
        Files.write(cut, Arrays.copyOf(bytes.toByteArray(), bytes.size() / 2));
        refused(cut, "cut.csv.gz");
    }

    @Test
    void binaryFile() throws IOException {
        byte[] noise = new byte[50_000];
        new Random(1).nextBytes(noise);
        Path file = folder.resolve("noise.csv");
        Files.write(file, noise);
        refused(file, "noise.csv");
    }

    @Test
    void missingFileAndBadOptions() throws IOException {
        assertThat(run("read", folder.resolve("nothing.csv").toString()).code()).isEqualTo(2);
        Path csv = file("beat.csv", beating());
        assertThat(run("read", csv.toString(), "--band-hz", "3").code()).isEqualTo(2);
        assertThat(run("read", csv.toString(), "--band-hz", "3,1").err()).contains("band");
        assertThat(run("read", csv.toString(), "--beat-axis", "up").err()).contains("accepted: sway");
        assertThat(run("read", csv.toString(), "--release-utc", "noon").err()).contains("ISO 8601");
        assertThat(run("read", csv.toString(), "--release-utc", "2026-06-01T08:00:00Z")
                        .err())
                .contains("no time of day");
        assertThat(run("read", csv.toString(), "--length-m", "-1").code()).isEqualTo(2);
        Path bad = folder.resolve("series.txt");
        assertThat(run("read", csv.toString(), "--series", bad.toString()).code())
                .isEqualTo(2);
        assertThat(bad).doesNotExist();
        assertThat(run(
                                "read",
                                csv.toString(),
                                "--json",
                                folder.resolve("no/such/out.json").toString())
                        .code())
                .isEqualTo(2);
    }

    private void refused(Path file, String... told) throws IOException {
        Path json = folder.resolve("refused.json");
        Ran ran = run("read", file.toString(), "--json", json.toString());
        assertThat(ran.code()).as(ran.out() + ran.err()).isEqualTo(2);
        assertThat(ran.err()).contains(told).contains("accepted").doesNotContain("\tat ");
        assertThat(json).doesNotExist();
        try (Stream<Path> left = Files.list(folder)) {
            assertThat(left.filter(p -> p.getFileName().toString().startsWith(".aside")))
                    .isEmpty();
        }
    }

    /** A result is its own settings file: read again from it, every digit is the same; what is wrong in one is named. */
    @Test
    void aResultGivesTheSettingsForTheSameReadingAgain() throws IOException {
        Path file = Files.writeString(folder.resolve("beat.csv"), beating());
        Path first = folder.resolve("first.json");
        Path again = folder.resolve("again.json");
        String[] how = {"--band-hz", "0.6,2.6", "--mount-deg", "2,-3,10", "--noise-g", "0.004"};
        Stream<String> all =
                Stream.concat(Stream.of("read", file.toString(), "--json", first.toString()), Stream.of(how));
        assertThat(run(all.toArray()).code()).isZero();
        Ran second = run("read", file.toString(), "--json", again.toString(), "--settings", first.toString());
        assertThat(second.err()).isEmpty();
        assertThat(Files.readString(again)).isEqualTo(Files.readString(first));
        JsonNode frame = new ObjectMapper().readTree(first.toFile()).at("/motion/frames/0");
        assertThat(frame.path("status").asText()).isEqualTo("given");
        assertThat(frame.path("mountRollDeg").asDouble()).isCloseTo(-3, org.assertj.core.data.Offset.offset(1e-9));

        Path wrong = Files.writeString(folder.resolve("wrong.json"), "{\"motion\": {\"lengthCm\": 120}}");
        Ran named = run("read", file.toString(), "--settings", wrong.toString());
        assertThat(named.code()).isEqualTo(2);
        assertThat(named.err()).contains("no setting is called motion.lengthCm; accepted: bandLowHz");
        Files.writeString(wrong, "{\"motion\": {\"lengthM\": 120}}");
        assertThat(run("read", file.toString(), "--settings", wrong.toString()).err())
                .contains("lengthM: 120.0 is outside 0.02–20 m");
        Files.writeString(wrong, "{\"motion\": \n oops}");
        assertThat(run("read", file.toString(), "--settings", wrong.toString()).err())
                .contains("line 2")
                .contains("not JSON");
        assertThat(run("read", file.toString(), "--mount-deg", "2,3").err()).contains("accepted: pitch, roll and yaw");
        assertThat(run("read", file.toString(), "--mount-deg", "99,3,0").err()).contains("outside");
    }

    /** What people saw counts, stays in the result, and the fate without it stands beside. */
    @Test
    void whatPeopleSawIsToldOnTheCommandLine() throws IOException {
        Path file = Files.writeString(folder.resolve("beat.csv"), beating());
        Path out = folder.resolve("seen.json");
        Path again = folder.resolve("again.json");
        assertThat(run(
                                "read",
                                file.toString(),
                                "--json",
                                out.toString(),
                                "--seen",
                                "tooth-marks=photo 3",
                                "--seen",
                                "larger-fish-about@60")
                        .code())
                .isZero();
        JsonNode result = new ObjectMapper().readTree(out.toFile());
        assertThat(result.at("/known/sightings/0/what").asText()).isEqualTo("tooth-marks");
        assertThat(result.at("/known/sightings/0/note").asText()).isEqualTo("photo 3");
        assertThat(result.at("/fate/probabilities/eaten").asDouble())
                .isGreaterThan(result.at("/fate/recordOnlyProbabilities/eaten").asDouble());
        assertThat(result.at("/fate/evidence").toString()).contains("the package had tooth marks (photo 3)");
        assertThat(run("read", file.toString(), "--json", again.toString(), "--settings", out.toString())
                        .code())
                .isZero();
        assertThat(new ObjectMapper().readTree(again.toFile()).at("/fate")).isEqualTo(result.at("/fate"));

        for (String wrong : new String[] {"teeth", "tooth-marks@noon", "tooth-marks@1@2"}) {
            Ran named = run("read", file.toString(), "--seen", wrong);
            assertThat(named.code()).isEqualTo(2);
            assertThat(named.err()).contains("'" + wrong + "'").contains("seen-alive-later");
        }
    }

    /** Every kind of sighting is named in the help. */
    @Test
    void everySightingIsNamed() {
        for (org.aftercast.fate.Sighting.What what : org.aftercast.fate.Sighting.What.values()) {
            assertThat(ReadCommand.SEEN_WORDS)
                    .contains(what.name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'));
        }
    }
}
