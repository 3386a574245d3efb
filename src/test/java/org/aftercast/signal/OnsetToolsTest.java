package org.aftercast.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class OnsetToolsTest {

    /** Iglewicz & Hoaglin 1993, "How to detect and handle outliers": 0.6745 · 7 / 1. */
    @Test
    void robustZ() {
        double[] z = RobustZ.scores(new double[] {1, 1, 2, 2, 4, 6, 9});
        assertThat(z[6]).isCloseTo(4.7215, within(1e-4));
        assertThat(z[2]).isZero();
    }

    @Test
    void robustZWithoutSpreadOrWithGaps() {
        double[] z = RobustZ.scores(new double[] {2, 2, 2, 2, 5, Double.NaN, 1});
        assertThat(z).containsExactly(0, 0, 0, 0, Double.POSITIVE_INFINITY, Double.NaN, Double.NEGATIVE_INFINITY);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> RobustZ.scores(new double[] {Double.NaN}))
                .withMessageContaining("none of 1");
    }

    /** Closed form: amplitude steps from 1 to 4; 1 s after it 4 / ((9·1 + 1·4)/10) = 3.0769, of squares 16/2.5 = 6.4. */
    @Test
    void overlappingRatioAfterAStep() {
        int rate = 50;
        double[] x = new double[40 * rate];
        double[] squared = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            x[i] = i < 20 * rate ? 1 : 4;
            squared[i] = x[i] * x[i];
        }
        int oneSecondAfter = 21 * rate - 1;
        assertThat(ShortLongRatio.ratio(x, rate, 10 * rate)[oneSecondAfter]).isCloseTo(3.0769, within(1e-3));
        assertThat(ShortLongRatio.ratio(squared, rate, 10 * rate)[oneSecondAfter])
                .isCloseTo(6.4, within(1e-3));
        assertThat(ShortLongRatio.ratio(x, rate, 10 * rate)[0]).isNaN();
    }

    /** An event as long as the long window stays triggered because the long mean is frozen. */
    @Test
    void triggersKeepLongEventsWhole() {
        double[] x = new double[600];
        Arrays.fill(x, 1);
        Arrays.fill(x, 200, 300, 10);
        Arrays.fill(x, 450, 453, 10);
        List<ShortLongRatio.Trigger> found = ShortLongRatio.triggers(x, 2, 60, 4, 2);
        assertThat(found).hasSize(2);
        assertThat(found.get(0).from()).isBetween(200, 201);
        assertThat(found.get(0).to()).isBetween(300, 302);
        assertThat(found.get(0).peakRatio()).isCloseTo(10, within(1e-9));
        assertThat(found.get(1).from()).isBetween(450, 451);
        assertThat(ShortLongRatio.triggers(new double[600], 2, 60, 4, 2)).isEmpty();
    }

    @Test
    void badArgumentsAreNamed() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ShortLongRatio.ratio(new double[] {1, -1}, 1, 2))
                .withMessageContaining("sample 1");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ShortLongRatio.triggers(new double[5], 2, 2, 4, 2))
                .withMessageContaining("1 ≤ short < long");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ShortLongRatio.triggers(new double[5], 1, 2, 2, 4))
                .withMessageContaining("on > off");
    }
}
