package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CorrelatedMeanTest {

    /** Independent values: close to Student's interval; quantile 2.262 for 9 degrees of freedom (t table, from memory). */
    @Test
    void independentValuesGiveStudentsInterval() {
        // Alternating signs about 5 have negative lag-one correlation, so all ten values count as independent.
        double[] x = {4, 6, 4, 6, 4, 6, 4, 6, 4, 6};
        CorrelatedMean m = CorrelatedMean.of(x, 0.95);
        assertThat(m.mean()).isCloseTo(5, within(1e-12));
        assertThat(m.effectiveN()).isCloseTo(10, within(1e-12));
        double sd = Math.sqrt(10.0 / 9);
        assertThat(m.high() - 5).isCloseTo(2.262 * sd / Math.sqrt(10), within(2e-4));
        assertThat(5 - m.low()).isCloseTo(m.high() - 5, within(1e-12));
    }

    /** Long first-order series: effective number n(1 − ρ)/(1 + ρ), and the interval holds the true mean as often as said. */
    @ParameterizedTest
    @CsvSource({"0.0, 400", "0.5, 400", "0.8, 1000", "0.9, 1440"})
    void coversUnderAutocorrelation(double rho, int n) {
        SplittableRandom random = new SplittableRandom(11);
        int holds = 0;
        int runs = 1000;
        double effective = 0;
        for (int r = 0; r < runs; r++) {
            double[] x = new double[n];
            double v = random.nextGaussian() / Math.sqrt(1 - rho * rho);
            for (int i = 0; i < n; i++) {
                x[i] = 3 + v;
                v = rho * v + random.nextGaussian();
            }
            CorrelatedMean m = CorrelatedMean.of(x, 0.95);
            holds += m.low() <= 3 && 3 <= m.high() ? 1 : 0;
            effective += m.effectiveN() / runs;
        }
        // Standard error of a share of 0.95 in 1000 runs: 0.7 points.
        assertThat(holds / (double) runs).isBetween(0.92, 0.98);
        assertThat(effective).isCloseTo(n * (1 - rho) / (1 + rho), within(0.25 * n * (1 - rho) / (1 + rho)));
    }

    @Test
    void tooLittleGivesNoInterval() {
        assertThat(CorrelatedMean.of(new double[] {2}, 0.95).low()).isNaN();
        assertThat(CorrelatedMean.of(new double[] {2, 2, 2}, 0.95).low()).isNaN();
        double[] drift = new double[50];
        for (int i = 0; i < drift.length; i++) {
            drift[i] = i;
        }
        assertThat(CorrelatedMean.of(drift, 0.95).effectiveN()).isLessThan(3);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> CorrelatedMean.of(new double[] {1, Double.NaN}, 0.95))
                .withMessageContaining("value 1");
        assertThatIllegalArgumentException().isThrownBy(() -> CorrelatedMean.of(new double[0], 0.95));
    }
}
