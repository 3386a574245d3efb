package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.Estimate;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.EstimateSettings.ReleasedCatch;
import org.aftercast.estimate.EstimateSettings.ScaleUp;
import org.aftercast.estimate.EstimateSettings.Weight;
import org.aftercast.estimate.PackageReturns;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.report.EstimateSection;
import org.junit.jupiter.api.Test;

/** Two sentences about one number must not contradict each other. Invented: 20 animals, 10 hooked in the lip. */
class EstimateWordsTest {

    private static final EstimateSettings RELEASED = EstimateSettings.defaults()
            .change()
            .released(new ReleasedCatch(1800, null, null, null))
            .done();

    /**
     * By hand: 6 of 20 is 30 %. Jeffreys means of 1 of 10 and 5 of 10 are 1.5/11 and 5.5/11; at shares of .9 and .1 that is
     * 17.3 %, and 311 of 1800.
     */
    @Test
    void theNumberOfDeadSaysWhoseShareItComesFrom() {
        EstimateSettings weighted = RELEASED.change()
                .scaleUp(new ScaleUp("hook", List.of(new Weight("lip", .9), new Weight("gut", .1)), 0))
                .done();
        assertThat(inNumbers(Estimate.of(animals(), null, weighted)))
                .contains("Weighted to the fishery, about 17 in 100 die within 24 h (in this study, about 30)")
                .contains("about 311 (")
                .doesNotContain("share of this study holds");
        assertThat(inNumbers(Estimate.of(animals(), null, RELEASED)))
                .contains("about 540 die within 24 h")
                .contains("if the share of this study holds for them")
                .doesNotContain("Weighted");
    }

    @Test
    void rowsOfUnknownFatesAndPackagesAddUp() {
        List<AnimalOutcome> animals = animals();
        animals.add(animal("x1", "lip", AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0));
        animals.add(animal("x2", "lip", AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0));
        animals.add(animal("x3", "lip", AnimalFate.UNDECIDED, RecordEnd.SHED_EARLY, 2));
        EstimateResult result =
                Estimate.of(animals, null, new PackageReturns(0, 0, 0, 1, 0), List.of(), List.of(), RELEASED);
        assertThat(result.whoWasTagged().stages())
                .extracting(s -> s.animals() + " " + s.name() + ", of " + s.ofKind())
                .contains(
                        "2 package not retrieved, of TAGGED",
                        "1 search abandoned, of PACKAGE_LOST",
                        "1 still at sea, of PACKAGE_LOST",
                        "3 fate not known, of TAGGED",
                        "2 without a record, of UNDECIDED",
                        "1 undecided: the record cannot tell, of UNDECIDED");
    }

    @Test
    void aGroupShareFromTheCurveIsSaidToBeOne() {
        List<AnimalOutcome> animals = animals();
        animals.add(animal("x3", "gut", AnimalFate.ALIVE_AT_END, RecordEnd.SHED_EARLY, 2));
        EstimateSettings grouped =
                RELEASED.change().groupBy(List.of("hook")).replicates(200).done();
        String words = EstimateBlocks.of(Estimate.of(animals, null, grouped), null).stream()
                .flatMap(block -> block.sentences().stream())
                .reduce("", (a, b) -> a + " " + b);
        assertThat(words).contains("The share of gut is read from the survival curve, not deaths divided by animals");
    }

    private static String inNumbers(EstimateResult result) {
        return EstimateBlocks.of(result, null).stream()
                .filter(block -> block.title().equals(EstimateSection.IN_NUMBERS))
                .findFirst()
                .orElseThrow()
                .sentences()
                .get(0)
                .replace('\u00a0', ' ');
    }

    private static List<AnimalOutcome> animals() {
        List<AnimalOutcome> out = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            boolean dead = i == 0 || i >= 15;
            out.add(animal(
                    "a" + i,
                    i < 10 ? "lip" : "gut",
                    dead ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    dead ? 3 : 24));
        }
        return out;
    }

    private static AnimalOutcome animal(String name, String hook, AnimalFate fate, RecordEnd end, double atRiskH) {
        return new AnimalOutcome(name, Map.of("hook", hook), Map.of(), fate, end, atRiskH, null);
    }
}
