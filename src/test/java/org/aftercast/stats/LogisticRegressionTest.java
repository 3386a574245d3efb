package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import org.aftercast.stats.RegressionFit.Cause;
import org.aftercast.stats.RegressionFit.NotFitted;
import org.junit.jupiter.api.Test;

class LogisticRegressionTest {

    /** Endometrial data, Heinze and Schemper (2002); R 4.2.2, brglm2 0.9 and c.R: quasi-complete separation by NV. */
    @Test
    void firthAgreesWithTheEndometrialData() throws NotFitted {
        Fixture data = Fixture.of("endometrial.csv");
        RegressionFit fit =
                LogisticRegression.fit(data.columns("NV", "PI", "EH"), data.ints("HG"), Penalty.FIRTH, 0.95);
        near(fit.coefficients(), 1e-7, 3.77455971365, 2.92927335320, -0.03475175987, -2.60416392529);
        near(fit.se(), 1e-7, 1.48869166344, 1.55076372945, 0.03957814735, 0.77601764250);
        assertThat(fit.penalisedLogLikelihood()).isCloseTo(-24.0372678, within(5e-8));
        Interval[] limits = fit.limits();
        assertThat(limits).isNotNull();
        near(limits[1], 1e-5, 0.6097244364, 7.854631714);
        near(limits[2], 1e-6, -0.1244587209, 0.04045547318);
        near(limits[3], 1e-5, -4.365183247, -1.232721057);
        assertThat(LogisticRegression.likelihoodRatio(
                        data.columns("NV", "PI", "EH"), data.ints("HG"), Penalty.FIRTH, 1))
                .isCloseTo(6.798457249, within(1e-6));
    }

    /**
     * Slopes and their limits do not depend on where a scale begins: the values of R above must come back when 15 is
     * added to EH (as °C instead of differences), 300 to PI and 5 to NV.
     */
    @Test
    void limitsStayWhereAScaleBeginsFarFromZero() throws NotFitted {
        Fixture data = Fixture.of("endometrial.csv");
        double[][] x = data.columns("NV", "PI", "EH");
        for (double[] row : x) {
            row[0] += 5;
            row[1] += 300;
            row[2] += 15;
        }
        RegressionFit fit = LogisticRegression.fit(x, data.ints("HG"), Penalty.FIRTH, 0.95);
        Interval[] limits = fit.limits();
        assertThat(limits).isNotNull();
        near(limits[1], 1e-5, 0.6097244364, 7.854631714);
        near(limits[2], 1e-6, -0.1244587209, 0.04045547318);
        near(limits[3], 1e-5, -4.365183247, -1.232721057);
    }

    /**
     * Six deaths among nineteen animals over 0.7 °C (invented): the penalty makes both limits finite, and they are the
     * same for the temperature and for its difference from 15 °C, where the older start was good.
     */
    @Test
    void aNarrowRangeFarFromZeroHasFiniteLimits() throws NotFitted {
        double[] tempC = {
            14.8, 14.8, 14.8, 14.8, 14.9, 14.9, 14.9, 15.0, 15.0, 15.0, 15.2, 15.2, 15.2, 15.4, 15.4, 15.4, 15.5, 15.5,
            15.5
        };
        int[] died = {0, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 0, 1, 0, 1, 0, 0};
        double[][] far = new double[tempC.length][];
        double[][] near = new double[tempC.length][];
        for (int i = 0; i < tempC.length; i++) {
            far[i] = new double[] {tempC[i]};
            near[i] = new double[] {tempC[i] - 15.1};
        }
        Interval[] limits =
                LogisticRegression.fit(far, died, Penalty.FIRTH, 0.95).limits();
        Interval[] centred =
                LogisticRegression.fit(near, died, Penalty.FIRTH, 0.95).limits();
        assertThat(limits).isNotNull();
        assertThat(centred).isNotNull();
        assertThat(limits[1].low()).isFinite();
        near(limits[1], 1e-5, centred[1].low(), centred[1].high());
    }

    /** The same data without a penalty: NV parts the classes, the estimate is infinite, and that is said. */
    @Test
    void ordinaryLikelihoodRefusesSeparation() {
        Fixture data = Fixture.of("endometrial.csv");
        NotFitted failure = catchThrowableOfType(
                NotFitted.class,
                () -> LogisticRegression.fit(data.columns("NV", "PI", "EH"), data.ints("HG"), Penalty.NONE, 0));
        assertThat(failure.why()).isEqualTo(Cause.SEPARATED);
    }

    /** 4/10 against 0/10: closed form log((4.5/6.5)/(0.5/10.5)), R 4.2.2 (c.R). */
    @Test
    void firthOfATwoByTwoAddsHalfToEveryCell() throws NotFitted {
        RegressionFit fit = twoByTwo(4, 10, 0, 10);
        assertThat(fit.coefficients()[1]).isCloseTo(Math.log(4.5 * 10.5 / (6.5 * 0.5)), within(1e-9));
        near(fit.coefficients(), 1e-7, -3.044522438, 2.676797658);
        near(fit.se(), 1e-7, 1.518144231, 1.648768364);
        assertThat(fit.limits()).isNotNull();
        near(fit.limits()[1], 1e-5, 0.2077210086, 7.625857874);
    }

    /** Hook types, Horodysky and Graves (2005): 7/20 against 0/20; R 4.2.2. */
    @Test
    void firthAgreesWithTheHookStudy() throws NotFitted {
        RegressionFit fit = twoByTwo(7, 20, 0, 20);
        assertThat(fit.coefficients()[1]).isCloseTo(3.125785, within(5e-7));
        assertThat(fit.se()[1]).isCloseTo(1.539155, within(5e-7));
        assertThat(fit.limits()).isNotNull();
        near(fit.limits()[1], 5e-5, 0.88761, 8.02223);
    }

    /** Nodal data (n = 53), ordinary likelihood: R 4.2.2, glm (e.R). */
    @Test
    void ordinaryLikelihoodAgreesWithTheNodalData() throws NotFitted {
        Fixture data = Fixture.of("nodal.csv");
        RegressionFit fit =
                LogisticRegression.fit(data.columns("stage", "xray", "acid"), data.ints("r"), Penalty.NONE, 0);
        near(fit.coefficients(), 1e-7, -3.051786608, 1.645346373, 1.911625834, 1.637778079);
        near(fit.se(), 1e-7, 0.8420409412, 0.7296743921, 0.7771335679, 0.7539432576);
        assertThat(fit.logLikelihood()).isCloseTo(-24.59016690, within(1e-8));
    }

    @Test
    void correctedInterceptMakesPredictionsAddUp() throws NotFitted {
        RegressionFit fit = twoByTwo(1, 30, 0, 10);
        double[][] x = groups(30, 10);
        int[] y = events(1, 30, 0, 10);
        double intercept = LogisticRegression.correctedIntercept(x, y, fit.coefficients());
        double sum = 30 * LogisticRegression.risk(intercept + fit.coefficients()[1])
                + 10 * LogisticRegression.risk(intercept);
        assertThat(sum).isCloseTo(1, within(1e-9));
        assertThat(intercept).isLessThan(fit.coefficients()[0]);
    }

    @Test
    void refusesColumnsThatSayTheSame() {
        double[][] x = {{1, 2}, {2, 4}, {3, 6}, {5, 10}};
        NotFitted failure = catchThrowableOfType(
                NotFitted.class, () -> LogisticRegression.fit(x, new int[] {0, 1, 0, 1}, Penalty.FIRTH, 0));
        assertThat(failure.why()).isEqualTo(Cause.COLUMNS_NOT_DISTINCT);
        assertThat(failure).hasMessageContaining("cannot be told apart");
    }

    static double[][] groups(int n1, int n2) {
        double[][] x = new double[n1 + n2][1];
        for (int i = 0; i < n1; i++) {
            x[i][0] = 1;
        }
        return x;
    }

    static int[] events(int x1, int n1, int x2, int n2) {
        int[] y = new int[n1 + n2];
        java.util.Arrays.fill(y, 0, x1, 1);
        java.util.Arrays.fill(y, n1, n1 + x2, 1);
        return y;
    }

    private static RegressionFit twoByTwo(int x1, int n1, int x2, int n2) throws NotFitted {
        return LogisticRegression.fit(groups(n1, n2), events(x1, n1, x2, n2), Penalty.FIRTH, 0.95);
    }

    static void near(double[] found, double tolerance, double... wanted) {
        assertThat(found).hasSize(wanted.length);
        for (int i = 0; i < wanted.length; i++) {
            assertThat(found[i]).isCloseTo(wanted[i], within(tolerance));
        }
    }

    static void near(Interval found, double tolerance, double low, double high) {
        assertThat(found.low()).isCloseTo(low, within(tolerance));
        assertThat(found.high()).isCloseTo(high, within(tolerance));
    }
}
