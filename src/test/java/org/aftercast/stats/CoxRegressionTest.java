package org.aftercast.stats;

import static org.aftercast.stats.LogisticRegressionTest.near;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.aftercast.stats.CoxRegression.Ties;
import org.aftercast.stats.RegressionFit.Cause;
import org.aftercast.stats.RegressionFit.NotFitted;
import org.junit.jupiter.api.Test;

class CoxRegressionTest {

    private static final SurvivalTimes REMISSION;
    private static final double[][] ARM = new double[42][1];
    private static final int[] GROUP = new int[42];

    static {
        double[] exit = new double[42];
        int[] event = new int[42];
        for (int i = 0; i < 21; i++) {
            exit[i] = KaplanMeierTest.PLACEBO[i];
            event[i] = 1;
            exit[i + 21] = KaplanMeierTest.SIX_MP[i];
            event[i + 21] = KaplanMeierTest.SIX_MP_EVENT[i];
            ARM[i + 21][0] = 1;
            GROUP[i + 21] = 1;
        }
        REMISSION = SurvivalTimes.fromZero(exit, event);
    }

    /** Freireich et al. (1963); R 4.2.2, survival 3.5.3 (a.R). Efron's value is also in Kalbfleisch and Prentice. */
    @Test
    void agreesWithTheRemissionTimes() throws NotFitted {
        RegressionFit efron = CoxRegression.fit(REMISSION, ARM, Ties.EFRON, Penalty.NONE, 0);
        near(efron.coefficients(), 1e-8, -1.572125149);
        near(efron.se(), 1e-8, .4123967177);
        assertThat(efron.logLikelihood()).isCloseTo(-85.00842458, within(1e-8));
        RegressionFit breslow = CoxRegression.fit(REMISSION, ARM, Ties.BRESLOW, Penalty.NONE, 0);
        near(breslow.coefficients(), 1e-8, -1.509191413);
        near(breslow.se(), 1e-8, .4095644064);
        // R survival, coxph(ties = "exact"), printed to seven figures.
        RegressionFit exact = CoxRegression.fit(REMISSION, ARM, Ties.EXACT, Penalty.NONE, 0);
        near(exact.coefficients(), 1e-6, -1.628244);
        near(exact.se(), 1e-6, .4331313);
        assertThatThrownBy(() -> CoxRegression.fit(REMISSION, ARM, Ties.EXACT, Penalty.FIRTH, 0))
                .hasMessageContaining("no penalised form");
    }

    /** Same data with Firth's penalty: R 4.2.2 (e.R), the penalised likelihood maximised by a general optimiser. */
    @Test
    void firthAgreesWithTheRemissionTimes() throws NotFitted {
        RegressionFit fit = CoxRegression.fit(REMISSION, ARM, Ties.EFRON, Penalty.FIRTH, 0.95);
        near(fit.coefficients(), 1e-6, -1.541739414);
        near(fit.se(), 1e-6, .4101188302);
        assertThat(fit.penalisedLogLikelihood()).isCloseTo(-84.1198408, within(5e-8));
        assertThat(fit.limits()).isNotNull();
        near(fit.limits()[0], 2e-6, -2.381048016, -.7784835955);
        assertThat(CoxRegression.likelihoodRatio(REMISSION, ARM, Ties.EFRON, Penalty.FIRTH, 0))
                .isCloseTo(16.25989058, within(1e-6));
        near(CoxRegression.fit(REMISSION, ARM, Ties.BRESLOW, Penalty.FIRTH, 0).coefficients(), 1e-6, -1.479338317);
    }

    /** Events only where x changes sides in turn: without a penalty the estimate runs to infinity. R 4.2.2 (e.R). */
    @Test
    void firthIsFiniteUnderMonotoneLikelihood() throws NotFitted {
        SurvivalTimes times = SurvivalTimes.fromZero(
                new double[] {1, 2, 3, 4, 5, 6, 7, 8, 10, 10, 10, 10}, new int[] {1, 0, 1, 0, 1, 0, 1, 0, 0, 0, 0, 0});
        double[][] x = {{1}, {0}, {1}, {0}, {1}, {0}, {1}, {0}, {1}, {0}, {0}, {1}};
        RegressionFit fit = CoxRegression.fit(times, x, Ties.EFRON, Penalty.FIRTH, 0.95);
        near(fit.coefficients(), 1e-6, 2.197225);
        assertThat(fit.limits()).isNotNull();
        near(fit.limits()[0], 1e-5, -.03971140839, 7.083907162);
        NotFitted failure =
                catchThrowableOfType(NotFitted.class, () -> CoxRegression.fit(times, x, Ties.EFRON, Penalty.NONE, 0));
        assertThat(failure.why()).isEqualTo(Cause.SEPARATED);
    }

    /** Lung data (n = 227, 164 events) and ovarian data: R 4.2.2, survival 3.5.3 (b.R). */
    @Test
    void agreesWithLungAndOvarian() throws NotFitted {
        Fixture lung = Fixture.of("lung.csv");
        int[] event =
                Arrays.stream(lung.ints("status")).map(s -> s == 2 ? 1 : 0).toArray();
        RegressionFit fit = CoxRegression.fit(
                SurvivalTimes.fromZero(lung.column("time"), event),
                lung.columns("age", "sex", "ph.ecog"),
                Ties.EFRON,
                Penalty.NONE,
                0);
        assertThat(event).hasSize(227);
        near(fit.coefficients(), 1e-8, .01106676456, -.55261239570, .46372847537);
        near(fit.se(), 1e-8, .009267411014, .167739053787, .113577266162);
        Fixture ovarian = Fixture.of("ovarian.csv");
        SurvivalTimes times = SurvivalTimes.fromZero(ovarian.column("futime"), ovarian.ints("fustat"));
        RegressionFit plain = CoxRegression.fit(times, ovarian.columns("age", "rx"), Ties.EFRON, Penalty.NONE, 0);
        near(plain.coefficients(), 1e-8, .1473265955, -.8039730127);
        assertThat(plain.logLikelihood()).isCloseTo(-27.04189886, within(1e-8));
        // e.R scales age as (age − 56)/10
        RegressionFit firth = CoxRegression.fit(times, ovarian.columns("age", "rx"), Ties.EFRON, Penalty.FIRTH, 0);
        near(firth.coefficients(), 1e-6, .136831157, -.8328910383);
        near(firth.se(), 1e-6, .04400673978, .6245882056);
    }

    /** R 4.2.2, survdiff (a.R, b.R). */
    @Test
    void logRankAgrees() {
        LogRank test = LogRank.of(REMISSION, GROUP, 2, 0);
        assertThat(test.chiSquare()).isCloseTo(16.79294099, within(1e-8));
        assertThat(test.p()).isCloseTo(4.168809109e-05, within(1e-13));
        near(test.expected(), 1e-8, 10.74949905, 19.25050095);
        assertThat(LogRank.of(REMISSION, GROUP, 2, 1).chiSquare()).isCloseTo(14.45715082, within(1e-8));
        Fixture ovarian = Fixture.of("ovarian.csv");
        int[] arm = Arrays.stream(ovarian.ints("rx")).map(v -> v - 1).toArray();
        assertThat(LogRank.of(SurvivalTimes.fromZero(ovarian.column("futime"), ovarian.ints("fustat")), arm, 2, 0)
                        .chiSquare())
                .isCloseTo(1.062739861, within(1e-8));
    }

    /** Melanoma data, Andersen et al. (1993); R 4.2.2, cmprsk 2.2.11 (d.R). Status 1 melanoma, 2 alive, 3 other. */
    @Test
    void incidenceAndGraysTestAgreeWithTheMelanomaData() {
        Fixture data = Fixture.of("melanoma.csv");
        int[] event =
                Arrays.stream(data.ints("status")).map(s -> s == 2 ? 0 : s).toArray();
        SurvivalTimes times = SurvivalTimes.fromZero(data.column("time"), event);
        CumulativeIncidence melanoma = CumulativeIncidence.of(times, 1, 0.95);
        CumulativeIncidence other = CumulativeIncidence.of(times, 3, 0.95);
        CumulativeIncidence.Step step = melanoma.stepAt(1826);
        assertThat(step).isNotNull();
        assertThat(step.share()).isCloseTo(.2235395984, within(1e-10));
        assertThat(step.se()).isCloseTo(.0295178661, within(1e-10));
        CumulativeIncidence.Step otherStep = other.stepAt(1826);
        assertThat(otherStep).isNotNull();
        assertThat(otherStep.share()).isCloseTo(.0441977897, within(1e-10));
        assertThat(otherStep.se()).isCloseTo(.0144438644, within(1e-10));
        assertThat(melanoma.shareAt(3000)).isCloseTo(.309620166, within(1e-9));
        assertThat(other.shareAt(3000)).isCloseTo(.058111429, within(1e-9));
        // treating the other deaths as censored overstates: 1 − KM
        int[] only = Arrays.stream(event).map(e -> e == 1 ? 1 : 0).toArray();
        SurvivalCurve naive = KaplanMeier.of(SurvivalTimes.fromZero(data.column("time"), only), 0.95);
        assertThat(1 - naive.survivalAt(1826)).isCloseTo(.231262928, within(1e-9));
        assertThat(1 - naive.survivalAt(3000)).isCloseTo(.323158853, within(1e-9));
        GrayTest bySex = GrayTest.of(times, 1, data.ints("sex"), 2);
        assertThat(bySex.chiSquare()).isCloseTo(5.814020856, within(1e-8));
        assertThat(bySex.p()).isCloseTo(.0158989024, within(1e-9));
        assertThat(GrayTest.of(times, 3, data.ints("sex"), 2).chiSquare()).isCloseTo(.854365595, within(1e-8));
    }
}
