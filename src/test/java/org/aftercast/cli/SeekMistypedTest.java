package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.RandomAccessFile;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * {@code aftercast seek} on tables typed wrong, as tired people type them: each answer says what is wrong, where, and what would be
 * accepted; nothing is written. Invented.
 */
class SeekMistypedTest {

    private static final String GOOD = """
            time,lat,lon,kind,values
            2026-08-01T07:00:00Z,52.480,-4.580,start,sd_m=800 planned=2026-08-01T07:30:00Z
            2026-08-01T07:00:00Z,,,beacon,frequency_mhz=151.1 range_nm=8
            2026-08-01T07:00:00Z,,,wind,speed_mps=6 from_deg=225
            2026-08-01T09:00:00Z,,,tide,speed_mps=0.4 to_deg=20
            2026-08-01T07:30:00Z,,,boat,speed_kn=14 fuel_h=9
            ,52.41,-4.15,home,
            2026-08-01T08:10:00Z,52.40,-4.60,listen,heard=no
            2026-08-01T08:20:00Z,52.43,-4.62,bearing,deg=25 source=hand-compass
            2026-08-01T08:30:00Z,52.45,-4.50,sweep,levels=0:12/45:8/90:-/270:18/315:24! source=true gain=2
            """;

    @TempDir
    Path folder;

    private Ran seek(byte[] bytes) throws Exception {
        Path file = folder.resolve("t.csv");
        Files.write(file, bytes);
        return Ran.run("seek", file, "--particles", 1000, "--hours", 1, "--json", folder.resolve("out.json"));
    }

    private Ran seek(String text) throws Exception {
        return seek(text.getBytes(StandardCharsets.UTF_8));
    }

    private void refused(Ran ran, String... told) {
        assertThat(ran.code()).as(ran.err()).isEqualTo(2);
        assertThat(ran.err()).contains("t.csv").contains("accepted:").contains(told);
        assertThat(ran.err()).doesNotContain("Exception");
        assertThat(folder.resolve("out.json")).doesNotExist();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "time,lat,lon,kind,values|time,lat,kind,values|line 1: the header is \"time,lat,kind,values\", without lon",
                "time,lat,lon,kind,values|2026-08-01T06:00:00Z,1,2,here,|line 1: the header is \"2026",
                "time,lat,lon,kind,values|lat,lon,time,kind,values|in this order",
                "speed_mps=6 from_deg=225|speed_kmh=22 from_deg=225|line 4, column 5: kind wind needs a speed; accepted: speed_mps=N or speed_kn=N, one of them (it has from_deg, speed_kmh)",
                "speed_mps=6 from|speed_mps=6m/s from|line 4, column 5: speed_mps: \"6m/s\" is not a number",
                "speed_mps=6 from|speed_mps=600 from|line 4, column 5: speed_mps: 600 is no speed of kind wind; accepted: 0 to 80 m/s (156 kn)",
                "speed_mps=0.4 to|speed_mps=40 to|line 5, column 5: speed_mps: 40 is no speed of kind tide; accepted: 0 to 8 m/s (16 kn)",
                "speed_mps=6 from|speed_mps=-6 from|line 4, column 5: speed_mps: -6 is no speed",
                "from_deg=225|from_deg=400|line 4, column 5: from_deg: 400.0 is no direction; accepted: degrees from 0 to 360",
                "deg=25 source|deg=400 source|line 9, column 5: deg: 400.0 is no direction; accepted: degrees from 0 to 360",
                "deg=25 source|deg=-25 source|line 9, column 5: deg: -25.0 is no direction",
                "deg=25 source|deg=NaN source|line 9, column 5: deg: \"NaN\" is not a number",
                "deg=25 source|bearing=25 source|line 9, column 5: kind bearing needs deg; accepted: deg=N (it has bearing",
                "source=hand-compass|source=phone|accepted: source=true, hand-compass",
                "levels=0:12|levels=400:12|line 10, column 5: levels: 400.0 is no direction",
                "levels=0:12/|levels=0;12/|line 10, column 5",
                "2026-08-01T08:10:00Z|2026-07-31T08:10:00Z|line 8, column 1: 2026-07-31T08:10:00Z is before the last contact",
                "2026-08-01T08:10:00Z|01/08/2026 08:10|line 8, column 1: \"01/08/2026 08:10\" is not a time; accepted: year-month-day",
                "planned=2026-08-01T07:30:00Z|planned=tomorrow|line 2, column 5: planned: \"tomorrow\" is not a time",
                "52.480,-4.580,start|52° 28.8' N,4° 34.8' W,start|line 2, column 2: lat: \"52° 28.8' N\" is not a number; accepted: degrees with a decimal point",
                "52.480,-4.580,start|-4.580,52.480,start|km from where the package came off (start, line 2); accepted: within 250 km",
                "52.480,-4.580,start|152.480,-4.580,start|line 2, column 2: lat: 152.48; accepted: −90 to 90",
                "52.40,-4.60,listen|,,listen|line 8, column 2: kind listen needs lat and lon",
                ",listen,|,heard,|line 8, column 4: \"heard\" is not a kind; accepted: start, beacon",
                "heard=no|gain=2|line 8, column 5: kind listen needs heard; accepted: heard=yes or heard=no",
                "heard=no|heard=perhaps|line 8, column 5: heard: \"perhaps\"; accepted: heard=yes or heard=no",
                "heard=no|heard no|line 8, column 5: \"heard\" is not name=value; accepted: name=value pairs",
                "heard=no|heard=no colour=red|line 8, column 5: \"colour\" is not a value of kind listen; accepted: antenna",
                "deg=25 source|deg=25, source|line 9: 6 fields; accepted: five",
                "speed_mps=6 from|speed_mps=6,5 from|line 4: 6 fields; accepted: five, time,lat,lon,kind,values; numbers have a decimal point",
                "deg=25 source|\"deg=25 source|line 9, column 5: a quotation mark opens here",
                "sd_m=800|sd_m=-5|line 2, column 5: sd_m: -5.0; accepted: 1–100000 m",
                "fuel_h=9|fuel_h=-9|line 6, column 5: fuel_h: -9.0; accepted: 0–500 h",
                "speed_kn=14|speed_kn=140|line 6, column 5: speed_kn: 140 is no speed of kind boat; accepted: 0 to 30 m/s (58 kn)",
            })
    void aWrongCellIsToldWithItsPlace(String right, String wrong, String told) throws Exception {
        assertThat(GOOD).contains(right);
        refused(
                seek(GOOD.replaceFirst(
                        java.util.regex.Pattern.quote(right), java.util.regex.Matcher.quoteReplacement(wrong))),
                told);
    }

    @Test
    void wholeFilesThatAreNoTableAreRefused() throws Exception {
        refused(seek(""), "is empty", "time,lat,lon,kind,values");
        refused(seek("\n\n"), "is empty");
        refused(seek("time,lat,lon,kind,values\n"), "no row of kind start");
        byte[] noise = new byte[20_000];
        new Random(1).nextBytes(noise);
        refused(seek(noise), "not text in UTF-8");
        for (int i = 0; i < noise.length; i++) {
            noise[i] = (byte) (noise[i] & 0x7f);
        }
        refused(seek(noise), "holds a control character");
        refused(seek(GOOD.replace("heard=no", "heard=no\0")), "line 8: holds a control character (code 0)");
        refused(seek(GOOD.getBytes(StandardCharsets.UTF_16)), "UTF-16");
        refused(seek(GOOD.replace("start", "störe").getBytes(Charset.forName("ISO-8859-1"))), "not text in UTF-8");
        refused(seek(GOOD.replace("2026-", "2036-")), "declination row");
        refused(
                seek(GOOD + GOOD.lines().skip(1).findFirst().orElseThrow().replace("800", "900") + "\n"),
                "line 11",
                "second start");
        refused(seek(GOOD + "2026-08-01T09:30:00Z,,,undo,line=99\n"), "line 11, column 5", "line=N");
        refused(
                seek(GOOD + "2026-08-01T09:30:00Z,52.5,-4.6,end,outcome=lost\n"),
                "accepted: outcome=retrieved, stranded, handed-in, abandoned");
        // Semicolons with decimal commas, as some spreadsheets write them.
        refused(
                seek(GOOD.replace(',', ';').replace("52.480", "52,480")),
                "line 2, column 2: lat: \"52,480\" is not a number; accepted: a decimal point, 52.480");
        assertThat(seek(GOOD.replace(',', ';').replace("52.480", "52,480")).err())
                .doesNotContain("needs lat and lon");
    }

    @Test
    void aHugeFileIsRefusedWithoutBeingRead() throws Exception {
        Path file = folder.resolve("t.csv");
        try (RandomAccessFile huge = new RandomAccessFile(file.toFile(), "rw")) {
            huge.setLength(3L << 30); // a hole: takes no room
        }
        refused(Ran.run("seek", file, "--json", folder.resolve("out.json")), "is 3221 MB", "at most 33 MB");
        refused(Ran.run("seek", folder.resolve("none").resolve("t.csv")), "no such file");
        String many = "2026-08-01T08:%02d:%02dZ,52.40,-4.60,listen,heard=no\n";
        StringBuilder text = new StringBuilder(GOOD);
        for (int i = 0; i < 2000; i++) {
            text.append(String.format(many, 10 + i / 60, i % 60));
        }
        text.append(text.substring(GOOD.length()).replace("52.40", "52.41"));
        text.append(text.substring(GOOD.length()).replace("52.4", "52.39"));
        refused(seek(text.toString()), "observations; accepted: at most 5000");
    }

    /** What is no mistake gives the same answer, to the last digit. */
    @Test
    void orderLineEndsSeparatorsAndSpacesDoNotMatter() throws Exception {
        Ran ran = seek(GOOD);
        assertThat(ran.code()).as(ran.err()).isZero();
        String result = packages();
        List<String> lines = GOOD.lines().toList();
        List<String> turned = new java.util.ArrayList<>(lines.subList(1, lines.size()));
        Collections.reverse(turned);
        String[] same = {
            lines.get(0) + "\n" + String.join("\n", turned),
            GOOD.replace("\n", "\r\n"),
            GOOD.replace("\n", "\r"),
            "\uFEFF" + GOOD,
            GOOD.replace(',', ';'),
            GOOD.replace(',', '\t'),
            GOOD.replace(",", " , ").replace("time , lat , lon , kind", "Time , LAT , Lon , Kind"),
            GOOD.replace("2026-08-01T08:10:00Z", "2026-08-01 09:10:00+01:00"),
        };
        for (String text : same) {
            Ran again = seek(text);
            assertThat(again.code()).as(again.err()).isZero();
            assertThat(packages()).as(text).isEqualTo(result);
        }
        // A row typed or sent twice is one look, and it is said.
        String row = lines.get(8) + "\n";
        Ran twice = seek(GOOD.replace(row, row + row + row));
        assertThat(packages()).isEqualTo(result);
        assertThat(twice.out())
                .contains("Line 10 says the same as line 9", "Line 11 says the same as line 9", "counted once");
    }

    private String packages() throws Exception {
        String json = Files.readString(folder.resolve("out.json"));
        Files.delete(folder.resolve("out.json"));
        return json.substring(json.indexOf("\"packages\""));
    }

    /** Cautions and go or no-go first, then the time to turn back, then all else; places inland are told with their lines. */
    @Test
    void cautionsThenTurnBackThenAdviceAndPlacesInlandAreTold() throws Exception {
        String text = GOOD.replace("52.40,-4.60,listen", "52.40,-3.60,listen").replace("-4.15,home", "-3.00,home");
        Ran ran = seek(text);
        assertThat(ran.code()).as(ran.err()).isZero();
        String out = ran.out();
        assertThat(out.lines().limit(2))
                .containsExactly(
                        "Cautions",
                        "  - Go or no-go comes first: wind, sea, visibility, crew, communications. The skipper decides;"
                                + " local rules and licences come before any advice here.");
        assertThat(out.indexOf("Turn back: "))
                .isGreaterThan(out.indexOf("Cautions"))
                .isLessThan(out.indexOf("the package, as of"));
        assertThat(out)
                .contains("Line 7: home lies ")
                .contains("Line 8: the boat lies ")
                .contains("km inland");
        // No way home over water from there: a time is told all the same, along the straight line, and no leg.
        assertThat(out).contains("Turn back: at the latest 2026-08-01T").contains("no way home over water is known");
        assertThat(out).doesNotContain("Leg:");
        assertThat(seek(GOOD).out())
                .doesNotContain("inland")
                .containsPattern("Turn back: at the latest 2026-08-01T12:\\d\\dZ \\(");
        String ended = seek(GOOD.replace(",start,", ",start,package=A ")
                                .replace("heard=no", "heard=no package=A")
                                .replace("hand-compass", "hand-compass package=A")
                                .replace("gain=2", "gain=2 package=A")
                        + "2026-08-01T07:00:00Z,52.440,-4.650,start,sd_m=500 package=C\n"
                        + "2026-08-01T08:25:00Z,52.46,-4.60,end,outcome=handed-in hours=2 miles=3 package=C\n")
                .out();
        assertThat(ended.indexOf("Turn back: "))
                .isLessThan(ended.indexOf("C: handed in at 2026-08-01T08:25Z, after 2.0 h and 3.0 NM"));
        assertThat(Arrays.stream(ended.split("Turn back: ", -1)).count()).isEqualTo(2);
    }
}
