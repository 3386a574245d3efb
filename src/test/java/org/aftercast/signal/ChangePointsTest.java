package org.aftercast.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.aftercast.stats.EffectiveN;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ChangePointsTest {

    /** Annual flow of the Nile at Aswan 1871–1970, data set "Nile" of R 4.2.2. */
    private static final double[] NILE = {
        1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
        1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
        831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759, 781, 865,
        845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050,
        918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740
    };

    /** One change after 1898 (Zeileis et al. 2003, Comput Stat Data Anal 44:109); sums from R 4.2.2, see reference/. */
    @Test
    void nileChangesOnceAfter1898() {
        double variance = 28637.95;
        ChangePoints.Segments found = ChangePoints.find(NILE, 2 * Math.log(100) * variance, 1);
        assertThat(found.starts()).containsExactly(0, 28);
        assertThat(found.residualSumOfSquares()).isCloseTo(1597457.19, within(0.01));
        assertThat(found.means()[0][0]).isCloseTo(1097.75, within(0.01));
        assertThat(found.means()[1][0]).isCloseTo(849.97, within(0.01));
        assertThat(ChangePoints.find(NILE, 1e12, 1).residualSumOfSquares()).isCloseTo(2835156.75, within(0.01));
    }

    /** Slow plain twin: the full recursion without pruning, costs summed afresh each time. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
    void equalsTheUnprunedSearch(long seed) {
        Random random = new Random(seed);
        int n = 40 + random.nextInt(60);
        int series = 1 + random.nextInt(3);
        int least = 1 + random.nextInt(6);
        double penalty = random.nextDouble() * 20;
        double[][] x = new double[series][n];
        for (double[] one : x) {
            double level = 0;
            for (int i = 0; i < n; i++) {
                level = random.nextDouble() < 0.06 ? random.nextGaussian() * 4 : level;
                one[i] = level + random.nextGaussian();
            }
        }
        ChangePoints.Segments found = ChangePoints.find(x, penalty, least);
        assertThat(found.penalisedCost()).isCloseTo(unpruned(x, penalty, least), within(1e-7));
        for (int p = 0; p < found.starts().length; p++) {
            int to = p + 1 < found.starts().length ? found.starts()[p + 1] : n;
            assertThat(to - found.starts()[p]).isGreaterThanOrEqualTo(least);
        }
    }

    private static double unpruned(double[][] x, double penalty, int least) {
        int n = x[0].length;
        double[] best = new double[n + 1];
        Arrays.fill(best, Double.POSITIVE_INFINITY);
        best[0] = -penalty;
        for (int t = least; t <= n; t++) {
            for (int from = 0; from <= t - least; from++) {
                double cost = 0;
                for (double[] one : x) {
                    double mean = Arrays.stream(one, from, t).average().orElseThrow();
                    cost += Arrays.stream(one, from, t)
                            .map(v -> (v - mean) * (v - mean))
                            .sum();
                }
                best[t] = Math.min(best[t], best[from] + cost + penalty);
            }
        }
        return best[n];
    }

    @Test
    void constantSeriesHasNoChangeAndNoNoise() {
        double[] x = new double[50];
        Arrays.fill(x, 1e9);
        assertThat(ChangePoints.find(x, 0.1, 1).changes()).isZero();
        assertThat(ChangePoints.differenceNoise(x)).isZero();
        assertThat(ChangePoints.find(new double[] {3}, 1, 10).starts()).containsExactly(0);
    }

    /** White noise of standard deviation 2: the robust estimate is consistent (tolerance: its own standard error × 4). */
    @Test
    void differenceNoiseSeesTheNoiseNotTheStep() {
        Random random = new Random(7);
        double[] x = new double[4000];
        for (int i = 0; i < x.length; i++) {
            x[i] = 2 * random.nextGaussian() + (i < 2000 ? 0 : 50);
        }
        assertThat(ChangePoints.differenceNoise(x)).isCloseTo(2, within(0.15));
        assertThat(ChangePoints.find(x, ChangePoints.penalty(2, x.length, 0), 1).starts())
                .containsExactly(0, 2000);
    }

    /** Under first-order autocorrelation the plain penalty cuts too often; the inflated one holds. */
    @Test
    void inflatedPenaltyHoldsUnderAutocorrelation() {
        Random random = new Random(11);
        int plain = 0;
        int inflated = 0;
        for (int trial = 0; trial < 40; trial++) {
            double[] x = new double[300];
            for (int i = 1; i < x.length; i++) {
                x[i] = 0.7 * x[i - 1] + random.nextGaussian();
            }
            double noise = ChangePoints.differenceNoise(x);
            double rho = Math.max(0, EffectiveN.lagOne(x));
            plain +=
                    ChangePoints.find(x, ChangePoints.penalty(noise, 300, 0), 1).changes() > 0 ? 1 : 0;
            inflated += ChangePoints.find(x, ChangePoints.penalty(noise, 300, rho), 1)
                                    .changes()
                            > 0
                    ? 1
                    : 0;
        }
        assertThat(plain).isGreaterThan(30);
        assertThat(inflated).isLessThan(8);
    }

    @Test
    void badArgumentsAreNamed() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ChangePoints.find(new double[] {1, Double.NaN}, 1, 1))
                .withMessageContaining("sample 1");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ChangePoints.find(new double[] {}, 1, 1))
                .withMessageContaining("empty");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ChangePoints.find(new double[] {1}, -1, 1))
                .withMessageContaining("penalty");
    }
}
