package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RandomDrawsTest {

    /** Beta(½, 20½), Beta(3½, 27½) …: quantiles of the draws against the exact law; 40 000 draws, 4 standard errors. */
    @ParameterizedTest
    @CsvSource({"0.5,20.5", "3.5,27.5", "0.05,0.5", "200,800"})
    void betaDrawsFollowTheLaw(double a, double b) {
        RandomDraws draws = new RandomDraws(7);
        double[] x = new double[40_000];
        Arrays.setAll(x, i -> draws.beta(a, b));
        for (double p : new double[] {0.025, 0.25, 0.5, 0.9, 0.975}) {
            double q = BetaLaw.quantile(p, a, b);
            double below = Arrays.stream(x).filter(v -> v <= q).count() / 40_000.0;
            assertThat(below).isCloseTo(p, within(4 * Math.sqrt(p * (1 - p) / 40_000)));
        }
    }

    /** Normal and gamma moments: mean and variance of a gamma are its shape. */
    @ParameterizedTest
    @CsvSource({"0.3", "1", "17.5"})
    void gammaMomentsAreTheShape(double shape) {
        RandomDraws draws = new RandomDraws(3);
        double[] x = new double[40_000];
        Arrays.setAll(x, i -> draws.gamma(shape));
        double mean = Arrays.stream(x).average().orElseThrow();
        double variance = Arrays.stream(x).map(v -> (v - mean) * (v - mean)).sum() / (x.length - 1);
        assertThat(mean).isCloseTo(shape, within(4 * Math.sqrt(shape / x.length)));
        assertThat(variance).isCloseTo(shape, within(0.1 * shape + 0.02));
    }
}
