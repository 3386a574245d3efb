package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.AnimalRecovery;
import org.aftercast.estimate.DeathRule;
import org.aftercast.estimate.EatenRule;
import org.aftercast.estimate.Estimate;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.EstimateSettings.Controls;
import org.aftercast.estimate.EstimateSettings.ReleasedCatch;
import org.aftercast.estimate.EstimateSettings.ScaleUp;
import org.aftercast.estimate.EstimateSettings.Weight;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.report.StudyDocument;
import org.aftercast.report.StudyReport;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Invented studies that ask for everything and carry little: an answer or a reason, and never a NaN. */
class HostileStudiesTest {

    private static final EstimateSettings EVERYTHING = EstimateSettings.defaults()
            .change()
            .clusterBy("trip")
            .groupBy(List.of("hook", "trip"))
            .riskModels(List.of(List.of("fightMin"), List.of("hook"), List.of("fightMin", "hook")))
            .scaleUp(new ScaleUp("hook", List.of(new Weight("lip", .7), new Weight("gut", .3)), 200))
            .controls(new Controls(10, 1))
            .released(new ReleasedCatch(4000, 3000.0, 6000.0, "invented"))
            .replicates(300)
            .done();

    record Study(String name, List<AnimalOutcome> animals) {
        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Study> studies() {
        return Stream.of(
                new Study("no animal", List.of()),
                new Study("no deaths", make(20, 0, 24, true)),
                new Study("all deaths", make(20, 20, 24, true)),
                new Study("one animal alive", make(1, 0, 24, true)),
                new Study("one animal dead", make(1, 1, 24, true)),
                new Study("two animals", make(2, 1, 24, true)),
                new Study("all censored at 5 h", make(20, 0, 5, true)),
                new Study("all at time 0", make(12, 4, 0, true)),
                new Study("everything tied", make(30, 10, 24, true)),
                new Study("no columns", make(15, 3, 24, false)),
                new Study("complete separation", separated()),
                new Study("one group empty of known fates", emptyGroup()),
                new Study("uncertain fates", uncertain(30)),
                new Study("all packages lost", lost()),
                new Study("everything mixed", mixed(60)),
                new Study("huge times and measures", huge()));
    }

    @ParameterizedTest
    @MethodSource("studies")
    void anAnswerOrAReason(Study study) throws IOException {
        for (EatenRule rule : EatenRule.values()) {
            for (LandedCounts landed :
                    new LandedCounts[] {null, new LandedCounts(40, 40, List.of()), new LandedCounts(40, 0, List.of())
                    }) {
                check(
                        study.animals(),
                        landed,
                        EVERYTHING.change().deaths(new DeathRule(rule, null)).done());
            }
            check(
                    study.animals(),
                    null,
                    EVERYTHING
                            .change()
                            .deaths(new DeathRule(rule, 2.0))
                            .horizonH(48)
                            .done());
        }
    }

    @ParameterizedTest
    @EnumSource(AnimalFate.class)
    void hundredsOfRandomStudies(AnimalFate leading) throws IOException {
        SplittableRandom random = new SplittableRandom(leading.ordinal());
        for (int k = 0; k < 60; k++) {
            List<AnimalOutcome> animals = new ArrayList<>();
            int n = 1 + random.nextInt(12);
            for (int i = 0; i < n; i++) {
                AnimalFate fate = random.nextInt(2) == 0
                        ? leading
                        : AnimalFate.values()[random.nextInt(AnimalFate.values().length)];
                RecordEnd end = RecordEnd.values()[random.nextInt(RecordEnd.values().length)];
                double hours = new double[] {0, 1, 5, 23.9, 24, 24.1, 100}[random.nextInt(7)];
                animals.add(
                        animal(i, fate, end, hours, "lip", random.nextInt(3), random.nextInt(2) == 0 ? half() : null));
            }
            check(animals, null, EVERYTHING);
        }
    }

    private static void check(List<AnimalOutcome> animals, @Nullable LandedCounts landed, EstimateSettings settings)
            throws IOException {
        List<AnimalRecovery> recoveries = List.of(
                new AnimalRecovery("a", "activity", 3, AnimalRecovery.Seen.RECOVERED, 2.0, 5.0),
                new AnimalRecovery("b", "activity", 3, AnimalRecovery.Seen.RECOVERED, 2.0, 5.0),
                new AnimalRecovery("c", "activity", 0, AnimalRecovery.Seen.LATER_THAN, null, null),
                new AnimalRecovery("d", "activity", 3, AnimalRecovery.Seen.RECOVERED, 2.0, 5.0));
        EstimateResult result = Estimate.of(animals, landed, recoveries, List.of(), settings);
        // the writer refuses a number that is not finite
        JsonNode json = new ObjectMapper().readTree(ResultJson.of(result));
        assertThat(json.toString()).doesNotContain("NaN").doesNotContain("Infinity");
        eachMethodSpeaks(json);
        theReportSpeaks(result, animals);
        if (result.headline().died() == null) {
            assertThat(result.headline().method().refusal()).isNotBlank();
        } else {
            assertThat(result.headline().method().assumptions()).isNotEmpty();
            assertThat(result.headline().died().low())
                    .isLessThanOrEqualTo(result.headline().died().value());
            assertThat(result.headline().died().high())
                    .isGreaterThanOrEqualTo(result.headline().died().value());
        }
    }

    /** The same study as a document: words only, without a number that is none. */
    private static void theReportSpeaks(EstimateResult result, List<AnimalOutcome> animals) {
        StudyReport report = new StudyReport(
                new StudyReport.About(
                        "Hostile",
                        null,
                        null,
                        null,
                        null,
                        null,
                        ZoneOffset.UTC,
                        StudyReport.Origin.OBSERVED,
                        List.of(),
                        null,
                        LocalDate.EPOCH,
                        null),
                List.of(),
                EstimateSections.of(result, animals, List.of(), null),
                null,
                new StudyReport.MadeWith("0", List.of(), "{}", 1, 0, null));
        String words = StudyDocument.html(report)
                .replaceAll("(?s)<style>.*?</style>", " ")
                .replaceAll("(?s)<(title|desc)>", " ")
                .replaceAll("(?s)<[^>]*>", " ");
        assertThat(words).doesNotContainPattern("\\b(NaN|Infinity|null|undefined)\\b|∞|�");
        if (result.headline().died() == null) {
            assertThat(words).contains("No share is stated.");
        }
    }

    @Test
    void tenThousandAnimalsInTheReport() throws IOException {
        check(mixed(10_000), null, EVERYTHING.change().replicates(100).done());
    }

    /** Every method either states assumptions or says why it is silent, never both. */
    private static void eachMethodSpeaks(JsonNode node) {
        if (node.has("assumptions") && node.has("refusal")) {
            boolean silent = node.get("refusal").isTextual();
            assertThat(node.get("assumptions").isEmpty()).as(node.toString()).isEqualTo(silent);
            assertThat(!silent || node.get("refusal").asText().length() > 10).isTrue();
        }
        node.forEach(HostileStudiesTest::eachMethodSpeaks);
    }

    private static AnimalOutcome animal(
            int i,
            AnimalFate fate,
            RecordEnd end,
            double hours,
            String hook,
            double fight,
            @Nullable FateProbabilities probabilities) {
        return new AnimalOutcome(
                "a" + i,
                Map.of("hook", hook, "trip", "t" + i % 6),
                Map.of("fightMin", fight),
                fate,
                end,
                hours,
                probabilities);
    }

    private static List<AnimalOutcome> make(int n, int deaths, double hours, boolean columns) {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            AnimalFate fate = i < deaths ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END;
            AnimalOutcome full =
                    animal(i, fate, RecordEnd.PLANNED_DETACHMENT, hours, i % 2 == 0 ? "lip" : "gut", i, null);
            animals.add(
                    columns
                            ? full
                            : new AnimalOutcome(full.animal(), Map.of(), Map.of(), fate, full.end(), hours, null));
        }
        return animals;
    }

    private static List<AnimalOutcome> separated() {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < 30; i++) {
            boolean gut = i < 6;
            animals.add(animal(
                    i,
                    gut ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    gut ? i + 1 : 30,
                    gut ? "gut" : "lip",
                    gut ? 20 + i : i % 10,
                    null));
        }
        return animals;
    }

    private static List<AnimalOutcome> emptyGroup() {
        List<AnimalOutcome> animals = new ArrayList<>(make(12, 3, 24, true));
        for (int i = 12; i < 15; i++) {
            animals.add(animal(i, AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0, "foul", 5, null));
        }
        return animals;
    }

    private static FateProbabilities half() {
        return new FateProbabilities(.4, .4, .1, .1);
    }

    private static List<AnimalOutcome> uncertain(int n) {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            animals.add(animal(
                    i, AnimalFate.UNDECIDED, RecordEnd.LOGGER_STOPPED, i, i % 2 == 0 ? "lip" : "gut", i, half()));
        }
        return animals;
    }

    private static List<AnimalOutcome> lost() {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            animals.add(animal(i, AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0, "lip", i, null));
        }
        return animals;
    }

    private static List<AnimalOutcome> mixed(int n) {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            AnimalFate fate = AnimalFate.values()[i % 5];
            animals.add(animal(
                    i,
                    fate,
                    RecordEnd.values()[i % 4],
                    1 + i % 40,
                    i % 3 == 0 ? "gut" : "lip",
                    i % 7,
                    i % 4 == 0 ? half() : null));
        }
        return animals;
    }

    private static List<AnimalOutcome> huge() {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            animals.add(animal(
                    i,
                    i % 3 == 0 ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    i % 3 == 0 ? 1e-9 * i : 1e12 + i,
                    i % 2 == 0 ? "gut" : "lip",
                    1e12 * (i % 5) - 1e6,
                    null));
        }
        return animals;
    }
}
