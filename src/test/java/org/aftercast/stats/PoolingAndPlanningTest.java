package org.aftercast.stats;

import static org.aftercast.stats.LogisticRegressionTest.near;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.aftercast.stats.RandomEffects.Between;
import org.aftercast.stats.RandomEffects.Errors;
import org.aftercast.stats.RegressionFit.NotFitted;
import org.junit.jupiter.api.Test;

class PoolingAndPlanningTest {

    /** Nodal data (n = 53): R 4.2.2, glm and AICc by its definition (e.R). */
    @Test
    void modelAveragingAgreesWithTheNodalData() throws NotFitted {
        Fixture data = Fixture.of("nodal.csv");
        String[][] models = {{}, {"xray"}, {"acid"}, {"xray", "acid"}, {"stage", "xray", "acid"}};
        double[] logLikelihood = new double[5];
        int[] parameters = new int[5];
        double[] xray = new double[5];
        double[] se = new double[5];
        boolean[] holds = {false, true, false, true, true};
        int[] at = {0, 1, 0, 1, 2};
        for (int m = 0; m < 5; m++) {
            RegressionFit fit = LogisticRegression.fit(data.columns(models[m]), data.ints("r"), Penalty.NONE, 0);
            logLikelihood[m] = fit.logLikelihood();
            parameters[m] = models[m].length + 1;
            xray[m] = holds[m] ? fit.coefficients()[at[m]] : 0;
            se[m] = holds[m] ? fit.se()[at[m]] : 0;
        }
        AkaikeAverage average = AkaikeAverage.of(logLikelihood, parameters, 53);
        near(average.weights(), 1e-9, .0006298240829, .0226097243166, .0092852690931, .1581961178717, .8092790646357);
        AkaikeAverage.Averaged conditional = average.conditional(xray, se, holds);
        assertThat(conditional.value()).isCloseTo(1.911227464, within(1e-8));
        assertThat(conditional.se()).isCloseTo(.7646018505, within(1e-6)); // glm's standard errors are one step old
        assertThat(conditional.importance()).isCloseTo(.9900849068, within(1e-8));
        AkaikeAverage.Averaged full = average.full(xray, se, holds);
        assertThat(full.value()).isCloseTo(1.892277466, within(1e-8));
        assertThat(full.se()).isCloseTo(.7760155587, within(1e-6));
    }

    /** BCG trials, log relative risk (Colditz et al. 1994): R 4.2.2, metafor 3.8.1 (f2.R). */
    @Test
    void randomEffectsAgreeWithTheBcgTrials() {
        Fixture data = Fixture.of("bcg.csv");
        double[][] n = data.columns("tpos", "tneg", "cpos", "cneg");
        double[] y = new double[13];
        double[] v = new double[13];
        for (int i = 0; i < 13; i++) {
            double treated = n[i][0] + n[i][1];
            double control = n[i][2] + n[i][3];
            y[i] = Math.log(n[i][0] / treated / (n[i][2] / control));
            v[i] = 1 / n[i][0] - 1 / treated + 1 / n[i][2] - 1 / control;
        }
        RandomEffects dl = RandomEffects.of(y, v, Between.DERSIMONIAN_LAIRD, Errors.NORMAL, 0.95);
        assertThat(dl.mean()).isCloseTo(-.71411722207, within(1e-10));
        assertThat(dl.se()).isCloseTo(.17874208954, within(1e-10));
        assertThat(dl.tauSquared()).isCloseTo(.30876026286, within(1e-10));
        assertThat(dl.q()).isCloseTo(152.23300808, within(1e-7));
        assertThat(100 * dl.iSquared()).isCloseTo(92.117346855, within(1e-8));
        near(dl.limits(), 1e-9, -1.0644452801, -.36378916406);
        near(dl.prediction(), 5e-5, -1.8582, .4299);
        RandomEffects reml = RandomEffects.of(y, v, Between.REML, Errors.NORMAL, 0.95);
        // metafor stops its own search at about 1e−5
        assertThat(reml.mean()).isCloseTo(-.71453234837, within(5e-7));
        assertThat(reml.se()).isCloseTo(.17978153178, within(5e-6));
        assertThat(reml.tauSquared()).isCloseTo(.31324332598, within(5e-6));
        RandomEffects hk = RandomEffects.of(y, v, Between.DERSIMONIAN_LAIRD, Errors.KNAPP_HARTUNG, 0.95);
        assertThat(hk.se()).isCloseTo(.18069662834, within(1e-10));
        near(hk.limits(), 1e-9, -1.1078213542, -.32041308998);
        RandomEffects fixed = RandomEffects.of(y, v, Between.FIXED, Errors.NORMAL, 0.95);
        assertThat(fixed.mean()).isCloseTo(-.43028516365, within(1e-10));
        assertThat(fixed.se()).isCloseTo(.040498751711, within(1e-11));
    }

    /**
     * Loblolly pines (R datasets; Kung 1986), random asymptote. The exact maximum and its standard errors: R 4.2.2,
     * optim on the multivariate normal density (h.R). nlme 3.1.162 prints −114.7428 at 101.4496, −8.627331, −3.233751,
     * 3.650642, .7188625: that is the exact likelihood at its estimate, but not the maximum, because its algorithm
     * linearises about each unit's own asymptote.
     */
    @Test
    void mixedFitAgreesWithTheLoblollyPines() {
        Fixture data = Fixture.of("loblolly.csv");
        String[] seed = data.text("seed");
        MixedAsymptoticFit fit = MixedAsymptoticFit.of(seed, data.column("age"), data.column("height"));
        assertThat(fit.units()).isEqualTo(14);
        assertThat(fit.logLikelihood()).isCloseTo(-114.6967989, within(1e-6));
        // optim by simplex settles to about 1e−5 relative
        assertThat(fit.asymptote()).isCloseTo(102.1196311334, within(2e-3));
        assertThat(fit.start()).isCloseTo(-8.5494151581, within(2e-4));
        assertThat(fit.logRate()).isCloseTo(-3.2439705708, within(2e-5));
        assertThat(fit.sdAsymptote()).isCloseTo(3.6758619795, within(1e-3));
        assertThat(fit.residualSd()).isCloseTo(.7183937017, within(1e-5));
        // R's are from the observed Hessian without n/(n − 3); 2 % covers both differences
        double scale = Math.sqrt(81.0 / 84);
        assertThat(fit.seAsymptote() * scale).isCloseTo(2.45232569563, within(.05));
        assertThat(fit.seStart() * scale).isCloseTo(.31062020927, within(.0062));
        assertThat(fit.seLogRate() * scale).isCloseTo(.03383459984, within(.0007));
        MixedAsymptoticFit atNlme = new MixedAsymptoticFit(
                101.4496000168, -8.6273307283, -3.2337507439, 0, 0, 0, 3.65064180268, .71886254577, 0, 14);
        assertThat(atNlme.logLikelihoodOf(seed, data.column("age"), data.column("height")))
                .isCloseTo(-114.7428166, within(1e-6));
    }

    /** City data (boot 1.3.28): ratio of means; percentile and BCa limits from 99 999 draws, to ± .01. */
    @Test
    void bootstrapAgreesWithTheCityData() {
        Fixture data = Fixture.of("city.csv");
        double[][] city = data.columns("u", "x");
        Bootstrap boot = Bootstrap.of(10, drawn -> ratio(city, drawn), 99_999, 1);
        assertThat(boot.estimate()).isCloseTo(1.5203125, within(1e-12));
        near(boot.percentile(0.95), .01, 1.251, 2.114);
        // boot.ci's own influence values, by regression on its resamples (i.R)
        double[] influence = {
            -1.11649141,
            -0.68076326,
            -0.44323133,
            -0.33087139,
            0.00379651,
            0.11197982,
            0.10952552,
            0.24454279,
            1.16783495,
            0.93367779
        };
        near(boot.bca(influence, 0.95), .01, 1.256, 2.137);
    }

    private static double ratio(double[][] city, int[] drawn) {
        double u = 0;
        double x = 0;
        for (int i : drawn) {
            u += city[i][0];
            x += city[i][1];
        }
        return x / u;
    }

    /** R 4.2.2 (g.R). */
    @Test
    void planningAgrees() {
        Planning.Precision cp = Planning.precision(BinomialInterval.CLOPPER_PEARSON, 30, 0.1, 0.95);
        assertThat(cp.halfWidth()).isCloseTo(.1179, within(5e-5));
        assertThat(cp.coverage()).isCloseTo(.9922, within(5e-5));
        Planning.Precision wilson = Planning.precision(BinomialInterval.WILSON, 30, 0.1, 0.95);
        assertThat(wilson.halfWidth()).isCloseTo(.1075, within(5e-5));
        assertThat(wilson.coverage()).isCloseTo(.9742, within(5e-5));
        assertThat(Planning.precision(BinomialInterval.WILSON, 100, 0.3, 0.95).coverage())
                .isCloseTo(.9372, within(5e-5));
        assertThat(Planning.precision(BinomialInterval.WILSON, 20, 0.1, 0.95).none())
                .isCloseTo(.1216, within(5e-5));
        assertThat(Planning.subjectsForHalfWidth(BinomialInterval.CLOPPER_PEARSON, .2, .1, .95))
                .isEqualTo(68);
        assertThat(Planning.subjectsForHalfWidth(BinomialInterval.WILSON, .2, .1, .95))
                .isEqualTo(59);
        assertThat(Planning.subjectsForHalfWidth(BinomialInterval.CLOPPER_PEARSON, .1, .1, .95))
                .isEqualTo(42);
        assertThat(Planning.subjectsForHalfWidth(BinomialInterval.CLOPPER_PEARSON, .1, .05, .95))
                .isEqualTo(155);
        assertThat(Planning.fisherPower(72, 72, .1, .3, .05)).isCloseTo(.826108945, within(1e-8));
        assertThat(Planning.fisherPower(20, 20, .1, .3, .05)).isCloseTo(.241679239, within(1e-8));
        assertThat(Planning.normalFormula(.1, .3, .05, .8)).isCloseTo(61.598804, within(1e-4));
        // Textbook normal formula 1.96²·.2·.8/.1² = 61.5.
        assertThat(Planning.normalSubjectsForHalfWidth(.2, .1, .95)).isEqualTo(62);
        assertThat(Planning.deployFor(30, .8, .9)).isEqualTo(42);
        assertThat(Planning.deployFor(30, .79, .95)).isEqualTo(44);
        assertThat(Planning.subjectsToSeeOne(.05, .95)).isEqualTo(59);
        assertThatThrownBy(() -> Planning.subjectsForHalfWidth(BinomialInterval.WILSON, .5, .001, .95))
                .hasMessageContaining("more than 5000");
    }

    /** Worked by hand from the formula of Benoît et al. (2015): π .2, α .5, γ 1, M .002. */
    @Test
    void mixtureSurvivalAgreesAtGivenTimes() {
        MixtureSurvival model = new MixtureSurvival(.2, .5, 1, .002);
        double[] times = {0, 1, 5, 10, 30};
        double[] wanted = {1, .919465, .808294, .785480, .753412};
        for (int i = 0; i < times.length; i++) {
            assertThat(model.at(times[i])).isCloseTo(wanted[i], within(5e-7));
        }
    }

    /** Melanoma data, death from melanoma, no natural rate: R 4.2.2, optim (d.R). */
    @Test
    void mixtureFitAgreesWithTheMelanomaData() {
        Fixture data = Fixture.of("melanoma.csv");
        int[] died = Arrays.stream(data.ints("status")).map(s -> s == 1 ? 1 : 0).toArray();
        SurvivalTimes times = SurvivalTimes.fromZero(data.column("time"), died);
        MixtureSurvival.Fit plain = MixtureSurvival.fit(times, 0, MixtureSurvival.Form.EXPONENTIAL);
        assertThat(plain.logLikelihood()).isCloseTo(-566.868756, within(1e-5));
        assertThat(plain.model().hurt()).isCloseTo(.577665399, within(1e-3));
        assertThat(plain.model().rate()).isCloseTo(.000265337528, within(1e-6));
        MixtureSurvival.Fit weibull = MixtureSurvival.fit(times, 0, MixtureSurvival.Form.WEIBULL);
        assertThat(weibull.logLikelihood()).isCloseTo(-562.633097, within(1e-5));
        assertThat(weibull.model().hurt()).isCloseTo(.361333583, within(1e-3));
        assertThat(weibull.model().shape()).isCloseTo(1.6020051, within(2e-3));
    }
}
