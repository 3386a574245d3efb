package org.aftercast.behaviour;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

class RecoveryReaderTest {

    private static final BehaviourSettings SET = BehaviourSettings.defaults();

    /** Definition after Grainger et al. 2022 (Front Mar Sci 8:791185): t80 = 9.7 h gives t50 = 4.1776 h, t95 = 18.055 h. */
    @Test
    void exponentialShapeAgreesWithThePublishedDefinition() {
        assertThat(CurveFits.shape(RecoveryCurve.EXPONENTIAL, 9.7, 9.7, 0, 0.8)).isCloseTo(0.2, within(1e-12));
        assertThat(CurveFits.shape(RecoveryCurve.EXPONENTIAL, 1 / 0.165921, 9.7, 0, 0.8))
                .isCloseTo(Math.exp(-1), within(1e-5));
        assertThat(CurveFits.shape(RecoveryCurve.EXPONENTIAL, 4.1776, 9.7, 0, 0.8))
                .isCloseTo(0.5, within(1e-4));
        assertThat(CurveFits.shape(RecoveryCurve.EXPONENTIAL, 18.055, 9.7, 0, 0.8))
                .isCloseTo(0.05, within(1e-4));
    }

    /** Every returning shape has 20 % left at the recovered time and all of it at the release. */
    @Test
    void everyShapeKeepsItsPromise() {
        for (RecoveryCurve curve : RecoveryCurve.values()) {
            if (curve.returns()) {
                assertThat(CurveFits.shape(curve, 3, 3, 6, 0.8))
                        .as(curve.word())
                        .isCloseTo(0.2, within(1e-9));
                assertThat(CurveFits.shape(curve, 0, 3, 6, 0.8))
                        .as(curve.word())
                        .isCloseTo(1, within(1e-9));
            }
        }
    }

    @Test
    void aCleanReturnIsFound() {
        Recovery r = fit(24, 0.25, 4, 0.3, 0.01, 0.3, 1);
        assertThat(r.status()).isEqualTo(Recovery.Status.RECOVERED);
        assertThat(r.recoveredH()).isCloseTo(4, within(0.6));
        assertThat(r.lowH()).isLessThan(4);
        assertThat(r.highH()).isGreaterThan(4);
        assertThat(r.normalValue()).isCloseTo(1, within(0.02));
        assertThat(r.sentence()).contains("80 % of the way back").contains("95 % interval");
    }

    @Test
    void aReturnThatTheRecordCutsIsCensored() {
        Recovery r = fit(6, 0.25, 9, 0.4, 0.01, 0.3, 2);
        assertThat(r.status()).isEqualTo(Recovery.Status.NOT_WITHIN_RECORD);
        assertThat(r.highH()).isInfinite();
        assertThat(r.lowH()).isBetween(0.5, 9.0);
        assertThat(r.recoveredH()).isNaN();
    }

    /** A daily rhythm of 6 % over half a day looks like a return to normal; it must not be called one. */
    @Test
    void aDailyRhythmIsNoRecovery() {
        int recovered = 0;
        for (int seed = 0; seed < 20; seed++) {
            Random random = new Random(seed);
            double[] t = new double[48];
            double[] y = new double[48];
            for (int i = 0; i < t.length; i++) {
                t[i] = (i + 0.5) / 4;
                y[i] = 1 + 0.06 * Math.cos(2 * Math.PI * (t[i] / 24 + seed / 20.0)) + 0.02 * random.nextGaussian();
            }
            Recovery r = RecoveryReader.fit(RecoveryMeasure.BEAT_FREQUENCY, t, y, 15, Double.NaN, SET);
            recovered += r.status() == Recovery.Status.RECOVERED ? 1 : 0;
        }
        assertThat(recovered).isLessThanOrEqualTo(1);
    }

    /**
     * Coverage where the model holds: times drawn evenly in the logarithm, noise autocorrelated, records of 24 h. The
     * interval (censored ones count as [low, ∞)) must hold the truth in 95 % up to the chance of 150 draws.
     */
    @Test
    void intervalsHoldTheTruthAsOftenAsTheySay() {
        Random random = new Random(17);
        int said = 0;
        int held = 0;
        for (int k = 0; k < 150; k++) {
            double t80 = Math.exp(Math.log(1) + random.nextDouble() * Math.log(30));
            Recovery r = fit(24, 0.25, t80, 0.15 + 0.3 * random.nextDouble(), 0.03, 0.5, 1000 + k);
            if (r.status() == Recovery.Status.RECOVERED || r.status() == Recovery.Status.NOT_WITHIN_RECORD) {
                said++;
                held += r.lowH() <= t80 && t80 <= r.highH() ? 1 : 0;
            }
        }
        assertThat(said).isGreaterThan(80);
        assertThat((double) held / said).isBetween(0.91, 0.995);
    }

    @Test
    void undisturbedAnimalsAreSaidToBeSo() {
        int never = 0;
        for (int seed = 0; seed < 60; seed++) {
            never += fit(24, 0.25, 4, 0, 0.03, 0.5, 100 + seed).status() == Recovery.Status.NEVER_DISTURBED ? 1 : 0;
        }
        assertThat(never).isGreaterThanOrEqualTo(52);
    }

    @Test
    void tooFewMeansAreRefused() {
        Recovery r = fit(2, 0.25, 1, 0.3, 0.01, 0, 5);
        assertThat(r.status()).isEqualTo(Recovery.Status.NOT_ENOUGH_DATA);
        assertThat(r.sentence()).contains("at least 10");
    }

    /** Means of an exponential return with first-order autocorrelated noise. */
    private static Recovery fit(
            double hours, double stepH, double t80, double departure, double noise, double rho, long seed) {
        Random random = new Random(seed);
        int n = (int) (hours / stepH);
        double[] t = new double[n];
        double[] y = new double[n];
        double e = random.nextGaussian();
        for (int i = 0; i < n; i++) {
            t[i] = (i + 0.5) * stepH;
            e = i == 0 ? e : rho * e + Math.sqrt(1 - rho * rho) * random.nextGaussian();
            y[i] = 1 + departure * Math.exp(-Math.log(5) * t[i] / t80) + noise * e;
        }
        return RecoveryReader.fit(RecoveryMeasure.BEAT_FREQUENCY, t, y, stepH * 60, Double.NaN, SET);
    }
}
