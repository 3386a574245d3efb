package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

class KaplanMeierTest {

    /** Freireich et al. (1963), Blood 21:699: weeks in remission. */
    static final double[] PLACEBO = {1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23};

    static final double[] SIX_MP = {6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35};
    static final int[] SIX_MP_EVENT = {1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0};

    static final SurvivalTimes SIX_MP_TIMES = SurvivalTimes.fromZero(SIX_MP, SIX_MP_EVENT);

    /** Published many times over (for one Kalbfleisch and Prentice 2002, ch. 1); digits from R 4.2.2, survival 3.5.3. */
    @Test
    void agreesWithTheRemissionTimes() {
        SurvivalCurve curve = KaplanMeier.of(SIX_MP_TIMES, 0.95);
        double[] times = {6, 7, 10, 13, 16, 22, 23};
        double[] survival = {.857143, .806723, .752941, .690196, .627451, .537815, .448179};
        double[] se = {.0763604, .0869353, .0963497, .1068147, .1140539, .1282338, .1345915};
        double[] low = {.619718, .563147, .503200, .431610, .367511, .267779, .188052};
        double[] high = {.951552, .922809, .889362, .849066, .804912, .746791, .680143};
        int[] atRisk = {21, 17, 15, 12, 11, 7, 6};
        assertThat(curve.steps()).hasSize(7);
        for (int i = 0; i < 7; i++) {
            SurvivalCurve.Step step = curve.steps().get(i);
            assertThat(step.time()).isEqualTo(times[i]);
            assertThat(step.atRisk()).isEqualTo(atRisk[i]);
            assertThat(step.survival()).isCloseTo(survival[i], within(5e-7));
            assertThat(step.se()).isCloseTo(se[i], within(5e-8));
            assertThat(step.low()).isCloseTo(low[i], within(5e-7));
            assertThat(step.high()).isCloseTo(high[i], within(5e-7));
        }
        assertThat(curve.median()).isEqualTo(new SurvivalCurve.Quantile(23.0, 13.0, null));
        SurvivalCurve.RestrictedMean mean = curve.restrictedMean(35);
        // R 4.2.2: rmean 23.2874, se 2.82747, upper limit 35
        assertThat(mean.mean()).isCloseTo(23.2874, within(5e-5));
        assertThat(mean.se()).isCloseTo(2.82747, within(5e-6));
        assertThat(curve.falseZero()).isNull();
        assertThat(curve.steps().get(2).censoredBefore()).isEqualTo(2);
    }

    /** Same source; nobody was censored, so the last step at a risk set of one is a true zero. */
    @Test
    void allDyingIsATrueZero() {
        int[] event = new int[PLACEBO.length];
        Arrays.fill(event, 1);
        SurvivalCurve curve = KaplanMeier.of(SurvivalTimes.fromZero(PLACEBO, event), 0.95);
        assertThat(curve.median()).isEqualTo(new SurvivalCurve.Quantile(8.0, 4.0, 11.0));
        SurvivalCurve.Step last = curve.steps().get(curve.steps().size() - 1);
        assertThat(last.survival()).isZero();
        assertThat(last.se()).isNull();
        assertThat(curve.falseZero()).isNull();
        assertThat(curve.reaches(1000)).isTrue();
        // R 4.2.2: at 22, .0476190 (.00332446–.197045)
        SurvivalCurve.Step before = curve.stepAt(22.5);
        assertThat(before).isNotNull();
        assertThat(before.low()).isCloseTo(.00332446, within(5e-8));
        assertThat(before.high()).isCloseTo(.197045, within(5e-7));
    }

    /** Six subjects entering at different times, worked by hand: S(5, 6, 8) = .8, .6, .4 with 5, 4 and 3 at risk. */
    @Test
    void lateEntryCountsOnlyFromTheEntry() {
        SurvivalTimes times = new SurvivalTimes(
                new double[] {0, 0, 2, 3, 0, 4}, new double[] {5, 3, 6, 8, 8, 8}, new int[] {1, 0, 1, 1, 0, 1});
        SurvivalCurve curve = KaplanMeier.of(times, 0.95);
        assertThat(curve.survivalAt(5)).isCloseTo(.8, within(1e-12));
        assertThat(curve.survivalAt(6)).isCloseTo(.6, within(1e-12));
        assertThat(curve.steps().get(2).atRisk()).isEqualTo(3);
    }

    /** Two at risk at first, one dies, then the other: the curve is 0 although most lived long (the Channing house trap). */
    @Test
    void aTinyRiskSetThatDrivesTheCurveToZeroIsFound() {
        SurvivalTimes times = new SurvivalTimes(
                new double[] {0, 0, 5, 5, 5, 5}, new double[] {2, 3, 9, 9, 9, 9}, new int[] {1, 1, 0, 0, 0, 1});
        SurvivalCurve.Step zero = KaplanMeier.of(times, 0.95).falseZero();
        assertThat(zero).isNotNull();
        assertThat(zero.time()).isEqualTo(3);
        assertThat(zero.atRisk()).isEqualTo(1);
    }

    /** Without censoring the curve is the share still alive, and Greenwood's variance the binomial one. */
    @Test
    void withoutCensoringItIsTheShareAlive() {
        int[] event = new int[PLACEBO.length];
        Arrays.fill(event, 1);
        SurvivalCurve curve = KaplanMeier.of(SurvivalTimes.fromZero(PLACEBO, event), 0.95);
        for (SurvivalCurve.Step step : curve.steps()) {
            double alive = Arrays.stream(PLACEBO).filter(t -> t > step.time()).count() / 21.0;
            assertThat(step.survival()).isCloseTo(alive, within(1e-14));
            if (step.se() != null) {
                assertThat(step.se()).isCloseTo(Math.sqrt(alive * (1 - alive) / 21), within(1e-14));
            }
        }
    }

    @Test
    void deathAtReleaseCountsAndAllCensoredStaysAtOne() {
        SurvivalCurve curve =
                KaplanMeier.of(SurvivalTimes.fromZero(new double[] {0, 4, 5, 6}, new int[] {1, 0, 0, 0}), 0.95);
        assertThat(curve.survivalAt(0)).isEqualTo(0.75);
        SurvivalCurve none = KaplanMeier.of(SurvivalTimes.fromZero(new double[] {4, 4}, new int[2]), 0.95);
        assertThat(none.steps()).isEmpty();
        assertThat(none.survivalAt(4)).isEqualTo(1);
        assertThat(none.reaches(4)).isTrue();
        assertThat(none.reaches(4.1)).isFalse();
        assertThat(none.median().time()).isNull();
        assertThatThrownBy(() -> none.restrictedMean(5)).hasMessageContaining("until");
    }

    @Test
    void refusesBadTimes() {
        assertThatThrownBy(() -> SurvivalTimes.fromZero(new double[] {-1}, new int[] {0}))
                .hasMessageContaining("subject 0");
        assertThatThrownBy(() -> SurvivalTimes.fromZero(new double[] {Double.NaN}, new int[] {0}))
                .hasMessageContaining("subject 0");
        assertThatThrownBy(() -> KaplanMeier.of(SurvivalTimes.fromZero(new double[0], new int[0]), 0.95))
                .hasMessageContaining("no subject");
    }

    /** Fay, Brittain and Proschan (2013): without censoring the beta product limits are Clopper–Pearson. */
    @Test
    void betaProductIsClopperPearsonWithoutCensoring() {
        double[] exit = new double[20];
        int[] event = new int[20];
        Arrays.fill(exit, 24);
        for (int i = 0; i < 7; i++) {
            exit[i] = 1;
            event[i] = 1;
        }
        SurvivalCurve curve = KaplanMeier.of(SurvivalTimes.fromZero(exit, event), 0.95);
        Interval limits = BetaProduct.of(curve, 24, 13).complement();
        // R 4.2.2: 7/20
        assertThat(limits.low()).isCloseTo(.1539092, within(5e-8));
        assertThat(limits.high()).isCloseTo(.5921885, within(5e-8));
        SurvivalCurve none = KaplanMeier.of(SurvivalTimes.fromZero(new double[20], new int[20]), 0.95);
        assertThat(BetaProduct.of(none, 0, 20).complement().high()).isCloseTo(.1684335, within(5e-8));
        assertThat(BetaProduct.of(none, 1, 0)).isEqualTo(new Interval(0, 1));
    }
}
