package org.aftercast.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.aftercast.estimate.EstimateSettings.Controls;
import org.aftercast.estimate.EstimateSettings.ReleasedCatch;
import org.aftercast.estimate.EstimateSettings.ScaleUp;
import org.aftercast.estimate.EstimateSettings.Weight;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.BinomialInterval;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EstimateChecksTest {

    private static final EstimateSettings DEFAULTS = EstimateSettings.defaults();

    private static Animals hooks() {
        return Animals.make()
                .add(1, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, 2, Map.of("hook", "lip"), Map.of())
                .add(19, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, Map.of("hook", "lip"), Map.of())
                .add(4, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, 2, Map.of("hook", "gill"), Map.of())
                .add(11, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, Map.of("hook", "gill"), Map.of())
                .add(6, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, 2, Map.of("hook", "gut"), Map.of())
                .add(2, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, Map.of("hook", "gut"), Map.of());
    }

    /** Weights .6/.3/.1 with 1/20, 4/15, 6/8: R 4.2.2 (g.R); Jeffreys posterior mean and limits from 2·10⁶ draws. */
    @Test
    void scalingUpAgrees() {
        List<Weight> weights = List.of(new Weight("lip", .6), new Weight("gill", .3), new Weight("gut", .1));
        ScaledUp fixed = Estimate.of(
                        hooks().list(),
                        null,
                        DEFAULTS.change()
                                .scaleUp(new ScaleUp("hook", weights, 0))
                                .done())
                .scaledUp();
        assertThat(fixed.weightedShare()).isCloseTo(.185, within(1e-12));
        assertThat(fixed.seFixedWeights()).isCloseTo(.0475679339, within(1e-10));
        assertThat(fixed.fishery()).isNotNull();
        assertThat(fixed.fishery().value()).isCloseTo(.199454365, within(1e-9));
        assertThat(fixed.fishery().low()).isCloseTo(.117108708, within(.005));
        assertThat(fixed.fishery().high()).isCloseTo(.306856091, within(.006));
        ScaledUp sampled = Estimate.of(
                        hooks().list(),
                        null,
                        DEFAULTS.change()
                                .scaleUp(new ScaleUp("hook", weights, 500))
                                .done())
                .scaledUp();
        assertThat(sampled.seAllWeights()).isCloseTo(.0485018041, within(1e-10));
    }

    /**
     * Dead animals among those released: R 4.2.2, j.R (limits recovered on the log scale, Zou and Donner 2008), and with a
     * known number simply Clopper–Pearson times the number.
     */
    @ParameterizedTest
    @CsvSource({
        "0, 0, 0, 578.51654111",
        "3, 400, 83.1337768551, 1088.22670892",
        "29, 3866.66666667, 2946.65971372, 4845.11864731",
        "30, 4000, 3100.34793855, 5000"
    })
    void numbersOfDeadAnimalsAgree(int died, double dead, double low, double high) {
        EstimateSettings settings = DEFAULTS.change()
                .released(new ReleasedCatch(4000, 3200.0, 5000.0, "invented"))
                .done();
        ScaledUp.InNumbers numbers = Estimate.of(
                        Animals.make().died(died, 2).alive(30 - died, 24).list(), null, settings)
                .scaledUp()
                .inNumbers();
        assertThat(numbers.dead()).isNotNull();
        assertThat(numbers.dead().dead()).isCloseTo(dead, within(1e-6));
        assertThat(numbers.dead().low()).isCloseTo(low, within(1e-6));
        assertThat(numbers.dead().high()).isCloseTo(high, within(1e-6));
    }

    @Test
    void aKnownNumberReleasedTakesTheLimitsOfTheShare() {
        ScaledUp.InNumbers numbers = Estimate.of(
                        Animals.make().died(3, 2).alive(27, 24).list(),
                        null,
                        DEFAULTS.change()
                                .released(new ReleasedCatch(1000, null, null, null))
                                .controls(new Controls(20, 1))
                                .done())
                .scaledUp()
                .inNumbers();
        // Clopper–Pearson of 3/30, table of methods/survival.md
        assertThat(numbers.dead()).isNotNull();
        assertThat(numbers.dead().low()).isCloseTo(21.11714, within(1e-5));
        assertThat(numbers.dead().high()).isCloseTo(265.28845, within(1e-5));
        assertThat(numbers.otherwise()).extracting(ScaledUp.Dead::share).contains("above the control animals");
        assertThat(numbers.method().assumptions()).anyMatch(a -> a.contains("known without error"));
    }

    @Test
    void aWeightedShareWithoutAnswerIsNotReplacedByAnUnweightedOne() {
        ScaleUp scale = new ScaleUp("hook", List.of(new Weight("lip", .6), new Weight("foul", .4)), 0);
        ScaledUp.InNumbers numbers = Estimate.of(
                        hooks().list(),
                        null,
                        DEFAULTS.change()
                                .scaleUp(scale)
                                .released(new ReleasedCatch(1000, null, null, null))
                                .done())
                .scaledUp()
                .inNumbers();
        assertThat(numbers.dead()).isNull();
        assertThat(numbers.method().refusal()).contains("no answer");
    }

    /**
     * With one group column the model is saturated: Firth's estimate adds one half to each cell (Heinze and Schemper 2002),
     * and the logit's standard error is 1/√(n·p·(1 − p)) at that p. The corrected intercept moves the middle: 4 of 10 and
     * 0 of 10 must add up to 4 deaths.
     */
    @Test
    void aPredictedRiskHasTheLimitsOfTheSaturatedModel() {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            boolean gut = i < 10;
            animals.add(new AnimalOutcome(
                    "a" + i,
                    Map.of("hook", gut ? "gut" : "jaw"),
                    Map.of(),
                    i < 4 ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    i < 4 ? 3 : 24,
                    null));
        }
        RiskFactors.Prediction risk = Estimate.of(
                        animals,
                        null,
                        DEFAULTS.change().riskModels(List.of(List.of("hook"))).done())
                .riskFactors()
                .models()
                .get(0)
                .predictions()
                .get(0);
        double logit = Math.log(risk.risk() / (1 - risk.risk()));
        double p = risk.animal().contains("gut") ? 4.5 / 11 : 0.5 / 11;
        double spread = 1.959963984540054 / Math.sqrt(10 * p * (1 - p));
        assertThat(Math.log(risk.low() / (1 - risk.low()))).isCloseTo(logit - spread, within(1e-6));
        assertThat(Math.log(risk.high() / (1 - risk.high()))).isCloseTo(logit + spread, within(1e-6));
        assertThat(risk.animal()).doesNotContain("all else");
    }

    /** Trips alike to the last animal: every resample gives the same, and an interval without width would be a lie. */
    @Test
    void tripsThatAreAllAlikeGiveNoIntervalWithoutWidth() {
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < 18; i++) {
            animals.add(new AnimalOutcome(
                    "a" + i,
                    Map.of("trip", "t" + i % 6),
                    Map.of(),
                    i < 6 ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    i < 6 ? 3 : 24,
                    null));
        }
        ClusterCheck check = Estimate.of(
                        animals, null, DEFAULTS.change().clusterBy("trip").done())
                .clusters();
        assertThat(check).isNotNull();
        assertThat(check.died()).isNull();
        assertThat(check.method().refusal()).contains("same share of deaths");
    }

    /** One recovery among two animals left to watch halves the curve: no time by which half had recovered is told. */
    @Test
    void aMedianThatTwoAnimalsDriveIsNotTold() {
        List<AnimalRecovery> recoveries = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            recoveries.add(new AnimalRecovery("a" + i, "beats", 0.5, AnimalRecovery.Seen.LATER_THAN, null, null));
        }
        recoveries.add(new AnimalRecovery("b", "beats", 1.2, AnimalRecovery.Seen.RECOVERED, 0.2, 9.0));
        recoveries.add(new AnimalRecovery("c", "beats", 2.0, AnimalRecovery.Seen.LATER_THAN, null, null));
        RecoveryAcross beats = Estimate.of(Animals.make().alive(10, 24).list(), null, recoveries, List.of(), DEFAULTS)
                .recovery()
                .get(0);
        assertThat(beats.median()).isNull();
    }

    @Test
    void scalingUpRefusesAGroupOfWhichNothingIsKnown() {
        ScaleUp scale = new ScaleUp("hook", List.of(new Weight("lip", .6), new Weight("foul", .4)), 0);
        ScaledUp scaled = Estimate.of(
                        hooks().list(), null, DEFAULTS.change().scaleUp(scale).done())
                .scaledUp();
        assertThat(scaled.method().refusal()).contains("foul");
        assertThat(scaled.fishery()).isNull();
    }

    /** Abbott: (.3 − .05)/.95 = .2631579. */
    @Test
    void controlAnimalsAreTakenOff() {
        ScaledUp.ControlAdjusted adjusted = Estimate.of(
                        Animals.make().died(6, 1).alive(14, 24).list(),
                        null,
                        DEFAULTS.change().controls(new Controls(20, 1)).done())
                .scaledUp()
                .controls();
        assertThat(adjusted.adjusted()).isNotNull();
        assertThat(adjusted.adjusted().value()).isCloseTo(.2631579, within(5e-8));
        assertThat(adjusted.adjusted().low()).isBetween(0.0, .2631579);
    }

    /** R 4.2.2 (e.R): three dead for certain, thirteen alive, four in doubt; imputation agrees with the mixture. */
    @Test
    void uncertainFatesAreCarriedThrough() {
        List<AnimalOutcome> animals =
                new ArrayList<>(Animals.make().died(3, 1).alive(13, 24).list());
        for (double q : new double[] {.8, .5, .3, .1}) {
            animals.add(new AnimalOutcome(
                    "q" + q,
                    Map.of(),
                    Map.of(),
                    AnimalFate.UNDECIDED,
                    RecordEnd.PLANNED_DETACHMENT,
                    3,
                    new FateProbabilities(1 - q, q, 0, 0)));
        }
        UncertainFates fates = Estimate.of(animals, null, DEFAULTS).uncertainFates();
        assertThat(fates.expectedDeaths()).isCloseTo(4.7, within(1e-12));
        assertThat(fates.mixture()).isNotNull();
        assertThat(fates.mixture().value()).isCloseTo(.235, within(1e-12));
        assertThat(fates.mixture().low()).isCloseTo(.08020147546, within(1e-8));
        assertThat(fates.mixture().high()).isCloseTo(.4650360803, within(1e-8));
        assertThat(fates.imputed()).isNotNull();
        // 10 000 draws: four standard errors of a quantile
        assertThat(fates.imputed().value()).isCloseTo(.235, within(.003));
        assertThat(fates.imputed().low()).isCloseTo(.0802, within(.007));
        assertThat(fates.imputed().high()).isCloseTo(.4650, within(.012));
        assertThat(fates.allDoubtfulAlive())
                .isNotNull()
                .extracting(Share::value)
                .isEqualTo(.15);
        assertThat(fates.allDoubtfulDead()).isNotNull().extracting(Share::value).isEqualTo(.35);
        // bounds 3/20 and 7/20: R 4.2.2
        assertThat(fates.allDoubtfulAlive().low()).isCloseTo(.03207093719, within(1e-9));
        assertThat(fates.allDoubtfulDead().high()).isCloseTo(.5921885345, within(1e-9));
    }

    /** Clusters of identical animals: the variance is that of so many clusters, the design effect near their size. */
    @Test
    void clustersOfLikeAnimalsWiden() {
        Animals animals = Animals.make();
        for (int trip = 0; trip < 20; trip++) {
            animals.add(
                    5,
                    trip < 4 ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    24,
                    Map.of("trip", "t" + trip),
                    Map.of());
        }
        ClusterCheck check = Estimate.of(
                        animals.list(),
                        null,
                        DEFAULTS.change().clusterBy("trip").done())
                .clusters();
        assertThat(check).isNotNull();
        assertThat(check.designEffect()).isCloseTo(5, within(.35));
        assertThat(check.died()).isNotNull();
        // percentile limits of Binomial(20, .2)/20: R's qbinom(c(.025, .975), 20, .2)/20 = .05, .4
        assertThat(check.died().low()).isEqualTo(.05);
        assertThat(check.died().high()).isEqualTo(.4);
    }

    /** Horodysky and Graves (2005): J hook 7/20 against circle hook 0/20. */
    @Test
    void groupsAndRiskAgreeWithTheHookStudy() {
        Animals animals = Animals.make()
                .add(7, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, 2, Map.of("hook", "J"), Map.of())
                .add(13, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, Map.of("hook", "J"), Map.of())
                .add(20, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, Map.of("hook", "circle"), Map.of());
        EstimateResult result = Estimate.of(
                animals.list(),
                null,
                DEFAULTS.change()
                        .groupBy(List.of("hook"))
                        .riskModels(List.of(List.of("hook")))
                        .done());
        GroupComparison.TwoGroups two = result.groups().get(0).two();
        assertThat(two).isNotNull();
        assertThat(two.fisherP()).isCloseTo(.008316008, within(5e-10));
        assertThat(two.boschlooP()).isCloseTo(.003359, within(5e-7));
        RiskFactors.Model model = result.riskFactors().models().get(0);
        assertThat(model.terms().get(0).name()).isEqualTo("hook = circle");
        assertThat(model.terms().get(0).logRatio()).isCloseTo(-3.125785, within(5e-7));
        assertThat(Math.log(model.terms().get(0).low())).isCloseTo(-8.02223, within(5e-5));
        // with separation the ordinary likelihood has no fit: the comparison says so
        assertThat(result.riskFactors().averaging().method().refusal()).contains("infinite");
    }

    @Test
    void fewEventsSayThatTheDataCannotTell() {
        Animals animals = Animals.make();
        for (int i = 0; i < 30; i++) {
            animals.add(
                    1,
                    i % 10 == 0 ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    RecordEnd.PLANNED_DETACHMENT,
                    24,
                    Map.of(),
                    Map.of("fightMin", (double) (i * 7 % 13)));
        }
        RiskFactors risk = Estimate.of(
                        animals.list(),
                        null,
                        DEFAULTS.change()
                                .riskModels(List.of(List.of("fightMin")))
                                .done())
                .riskFactors();
        assertThat(risk.models().get(0).caution()).contains("3 deaths for 1 term the data cannot tell");
        assertThat(risk.averaging().method().refusal()).contains("at least 5 a term");
    }

    /** The fast share and the headline are two routes to one number. */
    @Test
    void fastShareAgreesWithTheHeadline() {
        Animals animals = Animals.make()
                .died(3, 2)
                .eaten(2, 7)
                .shed(4, 5)
                .died(1, 20)
                .alive(8, 30)
                .lost(2);
        for (EatenRule eaten : EatenRule.values()) {
            DeathRule rule = new DeathRule(eaten, null);
            int[] one = new int[animals.list().size()];
            Arrays.fill(one, 1);
            double fast = new HorizonShare(animals.list(), 24, rule).of(one);
            Share slow = HeadlineAnalysis.answer(animals.list(), DEFAULTS, rule).died();
            assertThat(slow).isNotNull();
            assertThat(fast).isCloseTo(slow.value(), within(1e-12));
        }
    }

    /** R 4.2.2 (g.R): 68 for a half-width of .10 at .2; 42 to have 30 back at 80 % with 90 %; 59 to see one at .05. */
    @Test
    void plansAgree() {
        PlanQuestion question = new PlanQuestion(
                .2, .1, 30, null, .8, .8, 0, .9, 1, 0, 24, 12.0, BinomialInterval.CLOPPER_PEARSON, .95);
        Plan plan = Plan.of(question);
        assertThat(plan.forHalfWidth()).isNotNull();
        assertThat(plan.forHalfWidth().usable()).isEqualTo(68);
        assertThat(plan.missedByHorizon()).isEqualTo(.25);
        Plan two = Plan.of(new PlanQuestion(
                .05, null, null, null, .8, .8, 0, .95, 5, .25, 24, null, BinomialInterval.WILSON, .95));
        assertThat(two.toSeeOne().independent()).isEqualTo(59);
        assertThat(two.designEffect()).isEqualTo(2);
        assertThat(two.toSeeOne().usable()).isEqualTo(118);
        assertThat(Plan.of(new PlanQuestion(
                                .1, null, 144, .3, .826, 1, 0, .9, 1, 0, 24, null, BinomialInterval.WILSON, .95))
                        .rows())
                .filteredOn(row -> row.animals() == 144)
                .singleElement()
                .extracting(Plan.Row::power)
                .satisfies(power -> assertThat(power).isCloseTo(.826108945, within(1e-8)));
        assertThatThrownBy(() -> new PlanQuestion(
                        0, null, null, null, .8, .8, 0, .9, 1, 0, 24, null, BinomialInterval.WILSON, .95))
                .hasMessageContaining("share");
    }

    /** Truth known: normals of mean 1 Hz (SD 0.1), start 1.6 Hz, 80 % back after 4 h; invented. */
    @Test
    void oneCurveForAllAnimalsFindsTheTruth() {
        SplittableRandom random = new SplittableRandom(11);
        List<AnimalOutcome> animals = Animals.make().alive(12, 24).list();
        List<AnimalRecovery> recoveries = new ArrayList<>();
        List<RecoveryTrack> tracks = new ArrayList<>();
        double rate = Math.log(5) / 4;
        for (AnimalOutcome animal : animals) {
            double normal = 1 + 0.1 * random.nextGaussian();
            double[] hours = new double[40];
            double[] values = new double[40];
            for (int i = 0; i < hours.length; i++) {
                hours[i] = 0.25 + 0.5 * i;
                values[i] = normal + (1.6 - normal) * Math.exp(-rate * hours[i]) + 0.03 * random.nextGaussian();
            }
            recoveries.add(
                    new AnimalRecovery(animal.animal(), "beat frequency", 4, AnimalRecovery.Seen.RECOVERED, 2.0, 8.0));
            tracks.add(new RecoveryTrack(animal.animal(), "beat frequency", "Hz", hours, values));
        }
        RecoveryAcross.Common common = Estimate.of(animals, null, recoveries, tracks, DEFAULTS)
                .recovery()
                .get(0)
                .common();
        assertThat(common).isNotNull();
        assertThat(common.animals()).isEqualTo(12);
        assertThat(common.backH()).isCloseTo(4, within(.3));
        // limits are ± 1.96 standard errors of the log; over 650 such studies they held the truth in 95.1 %
        double se = Math.log(common.highH() / common.lowH()) / (2 * 1.96);
        assertThat(Math.abs(Math.log(common.backH() / 4))).isLessThan(4 * se);
        assertThat(common.normal()).isCloseTo(1, within(.1));
        assertThat(common.start()).isCloseTo(1.6, within(.05));
        assertThat(common.residualSd()).isCloseTo(.03, within(.005));
        // half of a return is no return: records of one hour do not show where the normal lies
        List<RecoveryTrack> early = tracks.stream()
                .map(t -> new RecoveryTrack(
                        t.animal(), t.measure(), t.unit(), Arrays.copyOf(t.hours(), 2), Arrays.copyOf(t.values(), 2)))
                .toList();
        RecoveryAcross.Common none = Estimate.of(animals, null, recoveries, early, DEFAULTS)
                .recovery()
                .get(0)
                .common();
        assertThat(none).isNotNull();
        assertThat(none.backH()).isNull();
        assertThat(none.method().refusal()).isNotBlank();
    }

    /** Animals that died are in neither the curve nor the typical time. */
    @Test
    void theDeadAreNotAmongThoseWhoRecover() {
        List<AnimalOutcome> animals = Animals.make().alive(4, 24).died(1, 6).list();
        List<AnimalRecovery> recoveries = animals.stream()
                .map(a -> new AnimalRecovery(a.animal(), "activity", 3, AnimalRecovery.Seen.RECOVERED, 2.0, 4.0))
                .toList();
        assertThat(Estimate.of(animals, null, recoveries, List.of(), DEFAULTS)
                        .recovery()
                        .get(0)
                        .animals())
                .isEqualTo(4);
    }

    /** With animals lost from sight, priors are not left out: the curve counts as a sample of its own worth. */
    @Test
    void priorsAreShownWithAnimalsLostFromSight() {
        Robustness moved = Estimate.of(
                        Animals.make().died(3, 2).shed(4, 5).alive(8, 30).list(), null, DEFAULTS)
                .robustness();
        assertThat(moved.rows())
                .filteredOn(row -> row.question() == Robustness.Question.PRIOR)
                .hasSize(3)
                .allSatisfy(row -> assertThat(row.died()).isNotNull());
    }
}
