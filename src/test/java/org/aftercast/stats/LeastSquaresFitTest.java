package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;

class LeastSquaresFitTest {

    /** NIST Statistical Reference Datasets, nonlinear regression, "Misra1a" (dental research data), certified values. */
    @Test
    void misra1a() throws LeastSquaresFit.NotFitted {
        double[] x = {77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
        double[] y = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                x, y, (t, b) -> b[0] * (1 - Math.exp(-b[1] * t)), new double[] {500, 1e-4}, new double[] {1, 1e-4});
        assertThat(fit.parameters()[0]).isCloseTo(238.94212918, relative(238.94212918, 1e-6));
        assertThat(fit.parameters()[1]).isCloseTo(5.5015643181e-4, relative(5.5015643181e-4, 1e-6));
        assertThat(fit.standardErrors()[0]).isCloseTo(2.7070075241, relative(2.7070075, 1e-6));
        assertThat(fit.standardErrors()[1]).isCloseTo(7.2668688436e-6, relative(7.2668688e-6, 1e-6));
        assertThat(fit.residualSumOfSquares()).isCloseTo(1.2455138894e-1, relative(1.2455138894e-1, 1e-8));
    }

    /** NIST Statistical Reference Datasets, nonlinear regression, "BoxBOD" (higher difficulty), certified values, start 2. */
    @Test
    void boxBod() throws LeastSquaresFit.NotFitted {
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                new double[] {1, 2, 3, 5, 7, 10},
                new double[] {109, 149, 149, 191, 213, 224},
                (t, b) -> b[0] * (1 - Math.exp(-b[1] * t)),
                new double[] {100, 0.75},
                new double[] {1, 1});
        assertThat(fit.parameters()[0]).isCloseTo(213.80940889, relative(213.80940889, 1e-7));
        assertThat(fit.parameters()[1]).isCloseTo(.54723748542, relative(.54723748542, 1e-7));
        assertThat(fit.standardErrors()[0]).isCloseTo(12.354515176, relative(12.354515176, 1e-6));
        assertThat(fit.standardErrors()[1]).isCloseTo(.10455993237, relative(.10455993237, 1e-6));
    }

    /**
     * NIST, "MGH17" (Osborne's first problem), certified values, start 2. The ordinates were typed in from memory; the
     * certified residual sum of squares, met to ten digits, shows that they are the right ones.
     */
    @Test
    void mgh17() throws LeastSquaresFit.NotFitted {
        double[] y = {
            .844, .908, .932, .936, .925, .908, .881, .850, .818, .784, .751, .718, .685, .658, .628, .603, .580, .558,
            .538, .522, .506, .490, .478, .467, .457, .448, .438, .431, .424, .420, .414, .411, .406
        };
        double[] x = new double[33];
        for (int i = 0; i < x.length; i++) {
            x[i] = 10.0 * i;
        }
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                x,
                y,
                (t, b) -> b[0] + b[1] * Math.exp(-t * b[3]) + b[2] * Math.exp(-t * b[4]),
                new double[] {.5, 1.5, -1, .01, .02},
                new double[] {1, 1, 1, .01, .01});
        double[] certified = {.37541005211, 1.9358469127, -1.4646871366, .012867534640, .022122699662};
        for (int j = 0; j < certified.length; j++) {
            assertThat(fit.parameters()[j]).isCloseTo(certified[j], relative(certified[j], 1e-6));
        }
        assertThat(fit.residualSumOfSquares()).isCloseTo(5.4648946975e-5, relative(5.4648946975e-5, 1e-10));
    }

    /** NIST, "MGH09" (Kowalik and Osborne), certified values, start 2; a rational curve with nearly parallel parameters. */
    @Test
    void mgh09() throws LeastSquaresFit.NotFitted {
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                new double[] {4, 2, 1, .5, .25, .167, .125, .1, .0833, .0714, .0625},
                new double[] {.1957, .1947, .1735, .1600, .0844, .0627, .0456, .0342, .0323, .0235, .0246},
                (t, b) -> b[0] * (t * t + t * b[1]) / (t * t + t * b[2] + b[3]),
                new double[] {.25, .39, .415, .39},
                new double[] {.1, .1, .1, .1});
        double[] certified = {.192806935, .191282329, .123056507, .136062331};
        for (int j = 0; j < certified.length; j++) {
            assertThat(fit.parameters()[j]).isCloseTo(certified[j], relative(certified[j], 1e-5));
        }
    }

    /** R 4.2.2, nls(height ~ SSasymp(age, Asym, R0, lrc)) on Loblolly seed 329; see reference/fits_and_changes.R. */
    @Test
    void asymptoticFit() throws LeastSquaresFit.NotFitted {
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                new double[] {3, 5, 10, 15, 20, 25},
                new double[] {3.93, 9.34, 26.08, 37.79, 48.31, 56.43},
                (t, b) -> b[0] + (b[1] - b[0]) * Math.exp(-Math.exp(b[2]) * t),
                new double[] {70, 0, -2.5},
                new double[] {10, 10, 1});
        assertThat(fit.parameters()[0]).isCloseTo(94.12820, within(1e-4));
        assertThat(fit.parameters()[1]).isCloseTo(-8.25075, within(1e-4));
        assertThat(fit.parameters()[2]).isCloseTo(-3.217578, within(1e-4));
        assertThat(fit.standardErrors()[0]).isCloseTo(8.403017640, within(1e-3));
        assertThat(Math.log(5) / Math.exp(fit.parameters()[2])).isCloseTo(40.1838, within(1e-3));
    }

    /** R 4.2.2, nls(density ~ SSlogis(log(conc), Asym, xmid, scal)) on DNase run 1; see reference/fits_and_changes.R. */
    @Test
    void logisticFit() throws LeastSquaresFit.NotFitted {
        double[] concentration = {
            0.048828125,
            0.048828125,
            0.1953125,
            0.1953125,
            0.390625,
            0.390625,
            0.78125,
            0.78125,
            1.5625,
            1.5625,
            3.125,
            3.125,
            6.25,
            6.25,
            12.5,
            12.5
        };
        double[] x = new double[16];
        for (int i = 0; i < 16; i++) {
            x[i] = Math.log(concentration[i]);
        }
        double[] y = {
            0.017, 0.018, 0.121, 0.124, 0.206, 0.215, 0.377, 0.374, 0.614, 0.609, 1.019, 1.001, 1.334, 1.364, 1.730,
            1.710
        };
        LeastSquaresFit.Fit fit = LeastSquaresFit.fit(
                x, y, (t, b) -> b[0] / (1 + Math.exp((b[1] - t) / b[2])), new double[] {2, 1, 1}, new double[] {1, 1, 1
                });
        assertThat(fit.parameters()[0]).isCloseTo(2.345182, within(1e-5));
        assertThat(fit.parameters()[1]).isCloseTo(1.483092, within(1e-5));
        assertThat(fit.parameters()[2]).isCloseTo(1.041455, within(1e-5));
        assertThat(fit.standardErrors()[1]).isCloseTo(0.0813533260, within(1e-5));
    }

    @Test
    void whatCannotBeToldApartIsRefused() {
        assertThatThrownBy(() -> LeastSquaresFit.fit(
                        new double[] {1, 2, 3},
                        new double[] {1, 2, 3},
                        (t, b) -> (b[0] + b[1]) * t,
                        new double[] {0, 0},
                        new double[] {1, 1}))
                .isInstanceOf(LeastSquaresFit.NotFitted.class);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LeastSquaresFit.fit(
                        new double[] {1}, new double[] {1}, (t, b) -> b[0], new double[] {0, 0}, new double[] {1, 1}))
                .withMessageContaining("n ≥ p");
    }

    /** Burnham & Anderson 2002, Model selection and multimodel inference, eq. 2.4 (from memory): n=10, RSS=10, K=3. */
    @Test
    void correctedAkaike() {
        assertThat(LeastSquaresFit.correctedAkaike(10, 10, 2)).isCloseTo(6 + 24.0 / 6, within(1e-12));
        assertThat(LeastSquaresFit.correctedAkaike(10, 4, 2)).isInfinite();
    }

    /** Closed form n(1−ρ)/(1+ρ) (Bayley & Hammersley 1946, from memory): 100 · 0.2 / 1.8. */
    @Test
    void effectiveN() {
        assertThat(EffectiveN.of(100, 0.8)).isCloseTo(11.11, within(0.01));
        assertThat(EffectiveN.of(100, 0)).isEqualTo(100);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> EffectiveN.of(10, 1))
                .withMessageContaining("lagOne");
    }

    /** Worked by hand: deviations ±1, three products of −1 over four squares of 1. */
    @Test
    void lagOneOfSimpleSeries() {
        assertThat(EffectiveN.lagOne(new double[] {1, -1, 1, -1})).isCloseTo(-0.75, within(1e-12));
        assertThat(EffectiveN.lagOne(new double[] {5, 5, 5})).isZero();
    }

    private static Offset<Double> relative(double value, double share) {
        return within(Math.abs(value) * share);
    }
}
