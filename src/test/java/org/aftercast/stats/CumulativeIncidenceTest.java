package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class CumulativeIncidenceTest {

    private static final SurvivalTimes HAND = SurvivalTimes.fromZero(
            new double[] {1, 2, 2, 3, 4, 5, 6, 8, 10, 10}, new int[] {1, 2, 0, 1, 0, 2, 1, 0, 0, 0});

    /** Worked by hand: .3514286 and .2371429 at 6; variances of cmprsk 2.2.11 (R 4.2.2, d.R), Gray's estimator. */
    @Test
    void agreesWithTheHandExample() {
        CumulativeIncidence first = CumulativeIncidence.of(HAND, 1, 0.95);
        CumulativeIncidence second = CumulativeIncidence.of(HAND, 2, 0.95);
        assertThat(first.shareAt(6)).isCloseTo(.3514286, within(5e-8));
        assertThat(second.shareAt(6)).isCloseTo(.2371429, within(5e-8));
        double[] times = {1, 3, 6};
        double[] variance = {0.01, 0.0208868733, 0.0345237591};
        for (int i = 0; i < 3; i++) {
            CumulativeIncidence.Step step = first.stepAt(times[i]);
            assertThat(step).isNotNull();
            assertThat(step.se() * step.se()).isCloseTo(variance[i], within(5e-11));
        }
        CumulativeIncidence.Step atTwo = second.stepAt(2);
        CumulativeIncidence.Step atSix = second.stepAt(6);
        assertThat(atTwo).isNotNull();
        assertThat(atSix).isNotNull();
        assertThat(atTwo.se() * atTwo.se()).isCloseTo(0.0101234568, within(5e-11));
        assertThat(atSix.se() * atSix.se()).isCloseTo(0.0268901990, within(5e-11));
    }

    /** All kinds of end and the survivors make up everybody. */
    @Test
    void kindsAndSurvivorsSumToOne() {
        CumulativeIncidence first = CumulativeIncidence.of(HAND, 1, 0.95);
        CumulativeIncidence second = CumulativeIncidence.of(HAND, 2, 0.95);
        SurvivalCurve all = KaplanMeier.of(HAND, 0.95);
        for (double t : new double[] {0.5, 1, 2, 3.5, 6, 10}) {
            assertThat(first.shareAt(t) + second.shareAt(t) + all.survivalAt(t)).isCloseTo(1, within(1e-14));
        }
    }
}
