package org.aftercast.behaviour;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DwellModelTest {

    private static final int[] DWELL = {1, 3, 2};
    private static final double[] LEAVE = {0.3, 0.2, 0.4};
    private static final double[][] GOES = {{0, 0.7, 0.3}, {0.5, 0, 0.5}, {0, 1, 0}};
    private static final double[] START = {0.5, 0.3, 0.2};

    /**
     * Slow plain twin: every sequence of states is listed, its probability worked out bout by bout from the definition of
     * the durations, and posteriors summed.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void equalsTheSumOverAllSequences(long seed) {
        Random random = new Random(seed);
        int n = 8;
        double[][] emission = new double[n][3];
        for (double[] row : emission) {
            for (int s = 0; s < 3; s++) {
                row[s] = 1.5 * random.nextGaussian();
            }
        }
        double total = 0;
        double[][] posterior = new double[n][3];
        double best = 0;
        int[] bestPath = new int[n];
        int[] path = new int[n];
        for (int code = 0; code < Math.pow(3, n); code++) {
            int rest = code;
            for (int t = 0; t < n; t++) {
                path[t] = rest % 3;
                rest /= 3;
            }
            double p = probability(path, emission);
            total += p;
            for (int t = 0; t < n; t++) {
                posterior[t][path[t]] += p;
            }
            if (p > best) {
                best = p;
                bestPath = path.clone();
            }
        }
        DwellModel.Decoded found = new DwellModel(DWELL, LEAVE, GOES, START).decode(emission);
        assertThat(found.logEvidence()).isCloseTo(Math.log(total), within(1e-9));
        assertThat(found.path()).containsExactly(bestPath);
        for (int t = 0; t < n; t++) {
            for (int s = 0; s < 3; s++) {
                assertThat(found.posterior()[t][s]).isCloseTo(posterior[t][s] / total, within(1e-9));
            }
        }
    }

    private static double probability(int[] path, double[][] emission) {
        double p = 1;
        for (int t = 0; t < path.length; t++) {
            p *= Math.exp(emission[t][path[t]]);
        }
        int begin = 0;
        p *= START[path[0]];
        for (int t = 1; t <= path.length; t++) {
            boolean ends = t == path.length || path[t] != path[begin];
            if (!ends) {
                continue;
            }
            int s = path[begin];
            int length = t - begin;
            // The first bout began before the record: it is past its shortest length from its first step on.
            int free = begin == 0 ? length : length - DWELL[s] + 1;
            if (t < path.length) {
                p *= free < 1 ? 0 : Math.pow(1 - LEAVE[s], free - 1) * LEAVE[s] * GOES[s][path[t]];
            } else if (free >= 1) {
                p *= Math.pow(1 - LEAVE[s], free - 1);
            }
            begin = t;
        }
        return p;
    }
}
