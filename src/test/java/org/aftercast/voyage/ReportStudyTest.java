package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.report.AnimalSection;
import org.aftercast.report.FigureSet;
import org.aftercast.report.StudyReport;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.FileStore;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.Hashes;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A report from a real study folder: two invented animals, one with a simulated download, one still at sea. */
class ReportStudyTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2031-07-02T08:00:00Z"));
    private static final ObjectMapper MAPPER = new ObjectMapper();

    @TempDir
    static Path folder;

    private static Path study;

    @BeforeAll
    static void makeStudy() throws Exception {
        study = folder.resolve("study");
        Simulate.Written made = new Simulate(FileStore.onDisk())
                .write(new Simulate.Wish("dies-late", "plain", 2.0, 12.0, 41, 1), folder)
                .get(0);
        JsonNode truth = MAPPER.readTree(Files.readAllBytes(made.truth()));
        Instant start = Instant.parse(Files.readAllLines(made.csv()).get(3).split(",")[0]);
        Instant released = start.plusSeconds(Math.round(truth.at("/release/atS").asDouble(60)));
        try (StudyStore store = StudyStore.create(study, info(), "kt", FileStore.onDisk(), CLOCK)) {
            store.change("kt", change -> {
                change.add(new FloatPackage("P1", null, null, null, null, 60.0, 20.0, null));
                change.add(new FloatPackage("P2", null, null, null, null, 60.0, 20.0, null));
                change.add(Animal.named("S-1"));
                change.add(Animal.named("S2"));
                change.add(capture("S-1"));
                change.add(new Release("S-1", "P1", released, 52.4, -4.3, null, released.plusSeconds(7000)));
                change.add(new Release("S2", "P2", released, 52.4, -4.3, null, null));
                return 0;
            });
        }
        new LoadDownload(FileStore.onDisk(), CLOCK)
                .load(new LoadRequest(
                        study,
                        "S-1",
                        List.of(made.csv()),
                        List.of(),
                        LoadRequest.Guess.ACCEPTED,
                        ImportOptions.none(),
                        null,
                        null,
                        LoadRequest.Battery.OK,
                        "kt",
                        ImportProgress.NONE));
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            new ReadStudy(store, CLOCK)
                    .read("kt", List.of(), Settings.defaults(), (animal, done, total, fromCache) -> {});
        }
    }

    private static StudyInfo info() {
        StudyInfo base = StudyInfo.titled("Two invented animals");
        return new StudyInfo(
                base.id(),
                base.title(),
                "Mustelus asterias",
                "Cardigan Bay",
                "Europe/London",
                52.4,
                -4.3,
                StudyInfo.BottomRest.CAN_REST,
                24,
                null,
                1,
                10,
                2,
                StudyInfo.Origin.INVENTED,
                null);
    }

    private static Capture capture(String animal) {
        return new Capture(
                animal,
                "T1",
                null,
                null,
                null,
                "bottom rig",
                Capture.HookType.CIRCLE,
                Capture.HookLocation.JAW,
                null,
                null,
                null,
                12.0,
                45.0,
                20.0,
                null,
                0.92,
                3.1,
                Capture.Sex.FEMALE,
                null,
                null,
                null,
                14.0,
                52.4,
                -4.3,
                null);
    }

    private static ReportStudy.Request request(ReportStudy.Product... products) {
        return new ReportStudy.Request(
                EnumSet.copyOf(List.of(products)),
                null,
                List.of("Invented team"),
                "CC-BY-4.0",
                null,
                FigureSet.PlateImages.VECTOR_ONLY);
    }

    private static ReportStudy.Written write(ReportStudy.Product... products) throws Exception {
        return new ReportStudy(FileStore.onDisk(), CLOCK).write(study, request(products));
    }

    @Test
    void thePageTellsWhatHappenedAndEveryPointerLeadsToTheStoredResult() throws Exception {
        ReportStudy.Written written = write(ReportStudy.Product.HTML);
        String page = Files.readString(written.files().get(0)).replace('\u00a0', ' ');
        assertThat(page)
                .contains("Invented data", "Animal S-1, a 0.92 m female, was hooked in the jaw", "for 12 min")
                .contains("Its package is still at sea; nothing is known after release.");
        AnimalSection.ReadingSection reading = written.report().animals().get(0).reading();
        assertThat(reading).isNotNull();
        AnimalSection.Chain chain = reading.chain();
        assertThat(page)
                .contains(
                        chain.recordingSha256(),
                        chain.readingKey(),
                        chain.raw().get(0).sha256());
        Path result = study.resolve(chain.readingFolder()).resolve(chain.resultFile());
        assertThat(Hashes.ofFile(result)).isEqualTo(chain.readingFiles().get(chain.resultFile()));
        assertThat(Hashes.ofFile(study.resolve(chain.raw().get(0).file())))
                .isEqualTo(chain.raw().get(0).sha256());
        JsonNode json = MAPPER.readTree(Files.readAllBytes(result));
        assertThat(json.at(reading.fate().pointer()).isObject()).isTrue();
        assertThat(reading.recovery()).isNotEmpty();
        for (AnimalSection.RecoveryLine line : reading.recovery()) {
            assertThat(json.at(line.pointer()).get("measure").asText()).isEqualTo(line.measure());
        }
        assertThat(reading.plate().bouts()).hasSize(json.get("bouts").size());
        assertThat(reading.fate().evidence()).hasSize(json.at("/fate/evidence").size());
        assertThat(reading.plate().series().depthM().high()).isNotEmpty();
    }

    @Test
    void theSameStudyGivesTheSameBytes() throws Exception {
        write(ReportStudy.Product.HTML, ReportStudy.Product.PDF, ReportStudy.Product.DATA);
        Map<String, String> first = hashes();
        write(ReportStudy.Product.HTML, ReportStudy.Product.PDF, ReportStudy.Product.DATA);
        assertThat(hashes()).isEqualTo(first).containsKey("data/seconds/animal-1.parquet");
    }

    private static Map<String, String> hashes() throws Exception {
        Map<String, String> out = new HashMap<>();
        Path reports = study.resolve("reports");
        try (Stream<Path> all = Files.walk(reports)) {
            for (Path file : all.filter(Files::isRegularFile).toList()) {
                out.put(reports.relativize(file).toString().replace('\\', '/'), Hashes.ofFile(file));
            }
        }
        return out;
    }

    /** One reader goes before the program, two who disagree leave it undecided, the settled verdict goes before all. */
    @Test
    void verdictsGoBeforeTheProgram() throws Exception {
        Path copy = folder.resolve("judged");
        copyStudy(copy);
        assertThat(outcome(copy).decidedBy()).isEqualTo(StudyOutcomes.DecidedBy.PROGRAM);
        give(copy, Verdict.Role.FIRST, "r1", AnimalFate.EATEN);
        assertThat(outcome(copy).outcome().fate()).isEqualTo(AnimalFate.EATEN);
        assertThat(outcome(copy).decidedBy()).isEqualTo(StudyOutcomes.DecidedBy.ONE_READER);
        assertThat(outcome(copy).outcome().probabilities()).isNull();
        give(copy, Verdict.Role.SECOND, "r2", AnimalFate.ALIVE_AT_END);
        assertThat(outcome(copy).outcome().fate()).isEqualTo(AnimalFate.UNDECIDED);
        give(copy, Verdict.Role.SETTLED, "r1", AnimalFate.ALIVE_AT_END);
        assertThat(outcome(copy).outcome().fate()).isEqualTo(AnimalFate.ALIVE_AT_END);
        assertThat(outcome(copy).decidedBy()).isEqualTo(StudyOutcomes.DecidedBy.TWO_READERS);
        StudyReport report = new ReportStudy(FileStore.onDisk(), CLOCK)
                .write(copy, request(ReportStudy.Product.HTML))
                .report();
        assertThat(report.animals().get(0).reading()).isNotNull();
        assertThat(Files.readString(copy.resolve("reports/report.html")))
                .contains("Verdicts of readers.", "seen on deck");
    }

    private static StudyOutcomes.Decided outcome(Path at) throws Exception {
        try (StudyStore store = StudyStore.open(at, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            List<StudyOutcomes.Decided> all = StudyOutcomes.of(store);
            assertThat(all).hasSize(2);
            assertThat(all.get(1).outcome().end()).isEqualTo(RecordEnd.PACKAGE_LOST);
            return all.get(0);
        }
    }

    private static void give(Path at, Verdict.Role role, String reader, AnimalFate fate) throws Exception {
        try (StudyStore store = StudyStore.open(at, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            String key = store.all(ReadingRow.class).get(0).key();
            store.change(reader, change -> {
                change.add(new Verdict(
                        "S-1",
                        role,
                        1,
                        reader,
                        key,
                        fate,
                        RecordEnd.PLANNED_DETACHMENT,
                        null,
                        "seen on deck",
                        CLOCK.instant()));
                return 0;
            });
        }
    }

    private static void copyStudy(Path target) throws Exception {
        try (Stream<Path> all = Files.walk(study)) {
            for (Path file : all.toList()) {
                Path to = target.resolve(study.relativize(file).toString());
                if (Files.isDirectory(file)) {
                    Files.createDirectories(to);
                } else if (!file.getFileName().toString().contains("lock")) {
                    Files.copy(file, to);
                }
            }
        }
    }

    /** The bundle passes its own check, gives the share again, and every edit is noticed. */
    /** What an earlier report wrote and described goes when a later one no longer writes it; what it did not write stays. */
    @Test
    void whatALaterReportNoLongerWritesIsRemovedFromTheOpenData() throws Exception {
        Path copy = folder.resolve("rewritten");
        copyStudy(copy);
        ReportStudy reporter = new ReportStudy(FileStore.onDisk(), CLOCK);
        reporter.write(copy, request(ReportStudy.Product.DATA));
        Path data = copy.resolve("reports/data");
        Path description = data.resolve("datapackage.json");
        ObjectNode root = (ObjectNode) MAPPER.readTree(Files.readAllBytes(description));
        root.withArray("resources").addObject().put("path", "old.csv");
        Files.write(description, MAPPER.writeValueAsBytes(root));
        Files.writeString(data.resolve("old.csv"), "x\n");
        Files.writeString(data.resolve("mine.txt"), "kept\n");
        reporter.write(copy, request(ReportStudy.Product.DATA));
        assertThat(data.resolve("old.csv")).doesNotExist();
        assertThat(data.resolve("mine.txt")).hasContent("kept\n");
        assertThat(VerifyBundle.of(data).problems()).containsExactly("mine.txt: is not described");
    }

    @Test
    void theOpenDataPassOnReimportAndEditsAreNoticed() throws Exception {
        Path copy = folder.resolve("bundled");
        copyStudy(copy);
        new ReportStudy(FileStore.onDisk(), CLOCK).write(copy, request(ReportStudy.Product.DATA));
        Path data = copy.resolve("reports/data");
        assertThat(VerifyBundle.isBundle(data)).isTrue();
        assertThat(VerifyBundle.of(data).problems()).isEmpty();
        JsonNode estimate = MAPPER.readTree(Files.readAllBytes(data.resolve("estimate.json")));
        EstimateDocument again = new EstimateStudy(FileStore.onDisk())
                .fromTable(
                        data.resolve("fates.csv"),
                        null,
                        org.aftercast.estimate.EstimateSettings.defaults()
                                .change()
                                .horizonH(1)
                                .done());
        assertThat(again.estimate().animals()).isEqualTo(2);
        assertThat(again.estimate().headline().counts().alive())
                .isEqualTo(estimate.at("/estimate/headline/counts/alive").asInt());
        assertThat(again.estimate().headline().counts().unknown())
                .isEqualTo(estimate.at("/estimate/headline/counts/unknown").asInt());
        Path fates = data.resolve("fates.csv");
        String was = Files.readString(fates);
        noticed(data, fates, was.replaceFirst(",died,|,alive-at-end,", ",eaten,"), "SHA-256");
        noticed(data, fates, was.replaceFirst("S-1,", "S-9,"), "[S-9] is not in animals");
        noticed(data, fates, was + was.lines().skip(1).findFirst().orElseThrow() + "\n", "there already");
        noticed(data, fates, was.replaceFirst("atRiskH", "atRiskD"), "the columns are");
        Path animals = data.resolve("animals.csv");
        noticed(data, animals, Files.readString(animals).replaceFirst(",12,", ",twelve,"), "is no number");
        Path readme = data.resolve("README.md");
        noticed(data, readme, Files.readString(readme).replace("CC-BY-4.0", "CC0-1.0"), "README.md: its content");
        Path second = data.resolve("seconds/animal-1.parquet");
        byte[] bytes = Files.readAllBytes(second);
        bytes[bytes.length / 2] ^= 1;
        Files.write(second, bytes);
        assertThat(VerifyBundle.of(data).problems()).singleElement().asString().contains("animal-1.parquet");
        bytes[bytes.length / 2] ^= 1;
        Files.write(second, bytes);
        Files.writeString(data.resolve("more.csv"), "x\n1\n");
        assertThat(VerifyBundle.of(data).problems()).containsExactly("more.csv: is not described");
        Files.delete(data.resolve("more.csv"));
        Path description = data.resolve("datapackage.json");
        noticed(
                data,
                description,
                Files.readString(description).replace("\"path\" : \"fates.csv\"", "\"path\" : \"../../study.db\""),
                "leaves the folder");
        assertThat(VerifyBundle.of(data).problems()).isEmpty();
    }

    private static void noticed(Path data, Path file, String edited, String said) throws Exception {
        byte[] was = Files.readAllBytes(file);
        assertThat(edited).isNotEqualTo(new String(was, java.nio.charset.StandardCharsets.UTF_8));
        Files.writeString(file, edited);
        assertThat(VerifyBundle.of(data).problems()).anyMatch(problem -> problem.contains(said));
        Files.write(file, was);
    }
}
