package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Random;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.CaptureSheet;
import org.aftercast.study.Detachment;
import org.aftercast.study.FileStore;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.EnterCaptures.Existing;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class EnterCapturesTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T12:00:00Z"));

    @TempDir
    Path temp;

    private Path study;

    @BeforeEach
    void newStudy() throws Exception {
        study = temp.resolve("s");
        new NewStudy(FileStore.onDisk(), CLOCK).make(study, StudyInfo.titled("t"), "KB");
    }

    private EnterCaptures.Result enter(String csv, Existing existing) throws Exception {
        return enter(csv.getBytes(StandardCharsets.UTF_8), existing);
    }

    private EnterCaptures.Result enter(byte[] csv, Existing existing) throws Exception {
        Path file = temp.resolve("c.csv");
        Files.write(file, csv);
        return new EnterCaptures(FileStore.onDisk(), CLOCK).enter(study, file, existing, "KB");
    }

    private List<String> refused(String csv) throws Exception {
        long before = Files.size(study.resolve("study.db"));
        int entries = history().size();
        BadInputException bad = catchThrowableOfType(BadInputException.class, () -> enter(csv, Existing.REFUSE));
        assertThat(bad).as("refused: " + csv).isNotNull();
        assertThat(history()).hasSize(entries);
        assertThat(Files.size(study.resolve("study.db"))).isEqualTo(before);
        return bad.problems().stream()
                .map(p -> p.replace(temp.toString() + "/", ""))
                .toList();
    }

    private List<HistoryEntry> history() throws IOException {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            return store.history();
        }
    }

    private List<CaptureSheet.Entry> stored() throws IOException {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            return CaptureSheet.of(store);
        }
    }

    @Test
    void entersEveryRecordOfARow() throws Exception {
        EnterCaptures.Result result = enter("""
                animal,hookedUtc,fightMin,hookLocation,lengthM,massKg,packageSerial,frequencyMHz,packageMassG,releasedUtc,plannedDetachmentUtc,detachedUtc,notes
                SH-01,2026-06-01T08:00:00Z,12.5,jaw,0.93,3.0,P1,151.100,70,2026-06-01 08:20,2026-06-02T08:20:00+01:00,2026-06-02T09:00Z,"two lines
                of ""notes""\"
                SH-02,,,,,,,,,,,,
                """, Existing.REFUSE);
        assertThat(result.added()).isEqualTo(2);
        assertThat(result.warnings()).singleElement().asString().contains("SH-01", "2.3 % of the animal", "2.0 %");
        CaptureSheet.Entry first = stored().get(0);
        assertThat(first.animal()).isEqualTo(new Animal("SH-01", null, null, "two lines\nof \"notes\""));
        assertThat(first.capture()).isNotNull();
        assertThat(first.capture().fightMin()).isEqualTo(12.5);
        assertThat(first.capture().hookLocation()).isEqualTo(Capture.HookLocation.JAW);
        assertThat(first.release())
                .isEqualTo(new Release(
                        "SH-01",
                        "P1",
                        Instant.parse("2026-06-01T08:20:00Z"),
                        null,
                        null,
                        null,
                        null,
                        Instant.parse("2026-06-02T07:20:00Z")));
        assertThat(first.detachment()).isNotNull();
        assertThat(first.floatPackage()).isEqualTo(new FloatPackage("P1", 151.1, null, null, null, 70.0, null, null));
        assertThat(stored().get(1))
                .isEqualTo(new CaptureSheet.Entry(Animal.named("SH-02"), null, null, null, null, null));
    }

    @Test
    void everyBadRowIsNamedWithLineAndColumn() throws Exception {
        assertThat(refused("""
                        animal,fightMin,lengthM,hookedUtc,releasedUtc
                        A1,ten,0.9,2026-06-01T08:00Z,
                        A2,-3,NaN,01/06/2026 08:00,
                        A3,5,0.9
                        A1,5,93,2026-06-01T08:00Z,2026-06-01T08:04Z
                        A4,5,0.9,2026-06-11T08:00Z,2026-06-12T08:00Z
                        """))
                .containsExactly(
                        "c.csv, line 2, column 2: fightMin: \"ten\" is not a number",
                        "c.csv, line 3, column 2: fightMin: -3 is outside 0 to 1440 min",
                        "c.csv, line 3, column 3: lengthM: \"NaN\" is not a number",
                        "c.csv, line 3, column 4: hookedUtc: \"01/06/2026 08:00\" is not a time; accepted: year-month-day"
                                + " hour:minute in UTC, such as 2026-06-01T14:05:00Z or 2026-06-01 14:05",
                        "c.csv, line 4: 3 cells where the header has 5",
                        "c.csv, line 5, column 1: animal \"A1\" stands in line 2 already",
                        "c.csv, line 5, column 3: lengthM: 93 is outside 0.01 to 20 m",
                        "c.csv, line 6, column 4: hookedUtc: 2026-06-11T08:00:00Z lies in the future (this computer's"
                                + " clock says 2026-06-10T12:00:00Z)",
                        "c.csv, line 6, column 5: releasedUtc: 2026-06-12T08:00:00Z lies in the future (this"
                                + " computer's clock says 2026-06-10T12:00:00Z)");
        assertThat(refused("animal,hookedUtc,fightMin,releasedUtc\nA1,2026-06-01T08:00Z,5,2026-06-01T08:04Z\n"))
                .containsExactly("c.csv, line 2, column 4: releasedUtc: 2026-06-01T08:04:00Z lies before hookedUtc plus"
                        + " fightMin, 2026-06-01T08:05:00Z");
        assertThat(refused("animal,releasedUtc,detachedUtc\nA1,2026-06-01T08:00Z,2026-06-01T07:59Z\n"))
                .containsExactly("c.csv, line 2, column 3: detachedUtc: 2026-06-01T07:59:00Z lies before releasedUtc"
                        + " 2026-06-01T08:00:00Z");
        assertThat(refused("animal,fightMin\nA1,\"12,5\"\n"))
                .singleElement()
                .asString()
                .endsWith("write 12.5");
    }

    @Test
    void badHeadersAndFilesAreNamed() throws Exception {
        assertThat(refused("")).singleElement().asString().contains("the file is empty");
        assertThat(refused("animal\n")).singleElement().asString().contains("no rows below the header");
        assertThat(refused("name,fight\nA,1\n"))
                .containsExactly(
                        "c.csv, line 1: the column animal is missing",
                        "c.csv, line 1, column 1: no column is called \"name\"; accepted: the columns that aftercast"
                                + " enter --template prints",
                        "c.csv, line 1, column 2: no column is called \"fight\"; accepted: fightMin");
        assertThat(refused("animal,animal\nA,B\n")).singleElement().asString().contains("stands twice");
        assertThat(refused("animal\nA\0B\n")).singleElement().asString().contains("line 2: this is not text");
        assertThatThrownBy(() -> enter(new byte[] {'a', '\n', (byte) 0xff, 'x'}, Existing.REFUSE))
                .hasMessageContaining("line 2: a character is not UTF-8");
        assertThatThrownBy(() -> enter("animal\nA\n".getBytes(StandardCharsets.UTF_16), Existing.REFUSE))
                .hasMessageContaining("UTF-16");
        assertThat(refused("animal,notes\nA,\"never closed\nB,x\n"))
                .singleElement()
                .asString()
                .contains("Unclosed quoted field at end of input (record starting at line 2)");
        assertThatThrownBy(() -> new EnterCaptures(FileStore.onDisk(), CLOCK)
                        .enter(study, temp.resolve("none.csv"), Existing.REFUSE, "KB"))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("there is no such file");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "../../etc/passwd",
                "a/b",
                "a\\b",
                "=HYPERLINK(1)",
                "@x",
                "+1",
                "-1",
                "..",
                "a\u0000b",
                "a\u202eb",
                "\"two\nlines\"",
                "x.",
                "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
            })
    void hostileNamesAreRefused(String name) throws Exception {
        assertThat(refused("animal\n" + name + "\n")).hasSize(1);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "lengthM | inf",
                "lengthM | 1e999",
                "lengthM | 0x1p3",
                "lengthM | 1_000",
                "injuryScore | 4",
                "injuryScore | 1.0",
                "hookLocation | lip",
                "hookedUtc | 2026-02-30T08:00Z",
                "hookedUtc | 2026-06-01",
                "hookedUtc | 1026-06-01T08:00Z",
                "captureLatDeg | 91",
                "captureLonDeg | 5",
                "reflexesMissing | 3",
                "detachedUtc | 2026-06-01T08:00Z",
                "searchOutcome | retrieved",
                "frequencyMHz | 151.1",
            })
    void valuesOutsideTheRulesAreRefused(String column, String value) throws Exception {
        assertThat(refused("animal," + column + "\nA1," + value + "\n"))
                .isNotEmpty()
                .allSatisfy(p -> assertThat(p).startsWith("c.csv, line 2"));
    }

    @Test
    void anAnimalThatIsThereIsRefusedOrReplacedAsAsked() throws Exception {
        enter(
                "animal,fightMin,lengthM,packageSerial,frequencyMHz,releasedUtc\nA1,5,0.9,P1,151.1,2026-06-01T08:00Z\n",
                Existing.REFUSE);
        assertThat(refused("animal,fightMin\nB1,4\na1,6\n"))
                .containsExactly(
                        "c.csv, line 3, column 1: animal \"a1\" is in the study already; to change what is known"
                                + " of it use --replace");
        EnterCaptures.Result result = enter(
                "animal;fightMin;detachedUtc\na1;6;2026-06-02T08:00Z\nB1;4;\n".replace("B1;4;\n", ""),
                Existing.REPLACE);
        assertThat(result.changed()).isEqualTo(1);
        CaptureSheet.Entry entry = stored().get(0);
        assertThat(entry.animal().name()).isEqualTo("A1");
        assertThat(entry.capture()).isNotNull();
        assertThat(entry.capture().fightMin()).isEqualTo(6);
        assertThat(entry.capture().lengthM())
                .as("a column the file does not have stays")
                .isEqualTo(0.9);
        assertThat(history().stream().filter(h -> h.what() == HistoryEntry.What.CHANGED))
                .singleElement()
                .satisfies(h -> assertThat(h.before()).contains("\"fightMin\":5.0"));
        enter("animal,lengthM,detachedUtc,packageSerial\nA1,,,P2\n", Existing.REPLACE);
        entry = stored().get(0);
        assertThat(entry.capture().lengthM())
                .as("an empty cell means not known")
                .isNull();
        assertThat(entry.detachment()).isNull();
        assertThat(entry.floatPackage())
                .as("another package does not inherit the frequency")
                .isEqualTo(new FloatPackage("P2", null, null, null, null, null, null, null));
        assertThat(enter(ExportCaptures.of(study, CLOCK), Existing.REPLACE).unchanged())
                .isEqualTo(1);
    }

    @Test
    void beaconsThatCannotBeToldApartAndPackagesOnTwoAnimalsAreRefused() throws Exception {
        assertThat(refused("animal,packageSerial,frequencyMHz\nA1,P1,151.100\nA2,P2,151.109\n"))
                .containsExactly("c.csv: frequencyMHz: packages P1 (151.1 MHz) and P2 (151.109 MHz) are 9.0 kHz apart;"
                        + " accepted: at least 10.0 kHz, so that their beacons can be told apart");
        enter("animal,packageSerial,frequencyMHz\nA1,P1,151.100\nA2,P2,151.110\n", Existing.REFUSE);
        assertThat(refused("animal,packageSerial,frequencyMHz\nA3,P3,151.105\n"))
                .hasSize(2);
        assertThat(refused("animal,packageSerial,releasedUtc,detachedUtc\n"
                        + "B1,P9,2026-06-01T08:00Z,2026-06-02T08:00Z\nB2,P9,2026-06-02T07:00Z,\n"))
                .singleElement()
                .asString()
                .contains("package P9 would be on animals B1 and B2 at once");
        enter(
                "animal,packageSerial,releasedUtc,detachedUtc\n"
                        + "B1,P9,2026-06-01T08:00Z,2026-06-02T08:00Z\nB2,P9,2026-06-02T09:00Z,\n",
                Existing.REFUSE);
        assertThat(refused("animal,packageSerial,frequencyMHz\nC1,Q,151.2\nC2,Q,151.3\n"))
                .singleElement()
                .asString()
                .contains("described differently");
    }

    @Test
    void formulasComeOutHarmlessAndBackUnchanged() throws Exception {
        for (String text : List.of("=1+1", "+x", "-x", "@x", "'=x", "''=x", "'quoted'", "plain", "''", "a=b", "'")) {
            assertThat(CaptureTable.unguarded(CaptureTable.guarded(text))).isEqualTo(text);
            assertThat("=+-@").doesNotContain(CaptureTable.guarded(text).substring(0, 1));
        }
        enter("animal,notes,captureLonDeg,captureLatDeg\nA1,\"'=cmd()\",-4.5,52\n", Existing.REFUSE);
        assertThat(stored().get(0).animal().notes()).isEqualTo("=cmd()");
        assertThat(ExportCaptures.of(study, CLOCK)).contains(",'=cmd(),").contains(",-4.5,");
    }

    /** Any table of records: exported and entered elsewhere it gives the same records. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void exportAndEnterIsARoundTrip(long seed) throws Exception {
        Random random = new Random(seed);
        List<CaptureSheet.Entry> made = new java.util.ArrayList<>();
        for (int i = 0; i < 30; i++) {
            made.add(entry(i, random));
        }
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            store.change("KB", change -> {
                for (CaptureSheet.Entry entry : made) {
                    for (Record row : new Record[] {
                        entry.animal(),
                        entry.capture(),
                        entry.floatPackage(),
                        entry.release(),
                        entry.detachment(),
                        entry.search()
                    }) {
                        if (row != null) {
                            change.put(row);
                        }
                    }
                }
                return 0;
            });
        }
        List<CaptureSheet.Entry> original = stored();
        assertThat(original).containsExactlyInAnyOrderElementsOf(made);
        String csv = ExportCaptures.of(study, CLOCK);
        study = temp.resolve("again");
        new NewStudy(FileStore.onDisk(), CLOCK).make(study, StudyInfo.titled("t"), "KB");
        assertThat(enter(csv, Existing.REFUSE).added()).isEqualTo(30);
        assertThat(stored()).isEqualTo(original);
        assertThat(ExportCaptures.of(study, CLOCK)).isEqualTo(csv);
    }

    private static CaptureSheet.Entry entry(int i, Random r) {
        String name = "A " + i + "-ö#";
        Instant released = Instant.parse("2026-05-01T00:00:00Z").plusMillis(r.nextInt(1_000_000_000));
        String serial = r.nextInt(5) == 0 ? null : "P" + i;
        Capture capture = r.nextInt(6) == 0
                ? null
                : new Capture(
                        name,
                        text(r),
                        text(r),
                        text(r),
                        null,
                        text(r),
                        pick(r, Capture.HookType.values()),
                        pick(r, Capture.HookLocation.values()),
                        pick(r, Capture.HookLeft.values()),
                        pick(r, Capture.Bleeding.values()),
                        released.minusSeconds(90_000),
                        r.nextDouble() * 1440,
                        (double) r.nextInt(7200),
                        r.nextDouble() * 100,
                        null,
                        0.01 + r.nextDouble(),
                        0.001 + r.nextDouble() * 1e-3,
                        pick(r, Capture.Sex.values()),
                        5,
                        r.nextInt(6),
                        r.nextInt(4),
                        -r.nextDouble(),
                        r.nextDouble() * 180 - 90,
                        -r.nextDouble() * 1e-9,
                        text(r));
        return new CaptureSheet.Entry(
                new Animal(name, text(r), text(r), text(r)),
                capture,
                serial == null
                        ? null
                        : new FloatPackage(serial, 150 + i * 0.01, 40.5, null, text(r), 50.25, 3.0, text(r)),
                new Release(
                        name,
                        serial,
                        released,
                        50.5,
                        -4.25,
                        r.nextDouble() * 50,
                        pick(r, Release.ReleaseState.values()),
                        released.plusMillis(r.nextInt(100_000_000))),
                r.nextBoolean()
                        ? null
                        : new Detachment(name, released.plusMillis(1), Detachment.Source.ENTERED, null, null),
                serial == null
                        ? null
                        : new SearchOutcome(
                                name,
                                1,
                                null,
                                released,
                                pick(r, SearchOutcome.Outcome.values()),
                                null,
                                null,
                                r.nextBoolean() ? null : r.nextDouble() * 100,
                                r.nextBoolean() ? null : r.nextDouble() * 1000,
                                text(r),
                                text(r)));
    }

    private static <T> T pick(Random r, T[] values) {
        return values[r.nextInt(values.length)];
    }

    private static String text(Random r) {
        String letters = "ab=+-@',;\"ö漢. ";
        StringBuilder text = new StringBuilder();
        for (int n = 1 + r.nextInt(8); n > 0; n--) {
            text.append(letters.charAt(r.nextInt(letters.length())));
        }
        String stripped = text.toString().strip();
        return stripped.isEmpty() ? null : stripped;
    }
}
