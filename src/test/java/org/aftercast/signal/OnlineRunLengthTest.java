package org.aftercast.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.aftercast.signal.OnlineRunLength.Prior;
import org.junit.jupiter.api.Test;

class OnlineRunLengthTest {

    private static final Prior STANDARD = new Prior(0, 1, 1, 1);

    /** Recursion of Adams & MacKay 2007 (arXiv 0710.3742) carried out independently in numpy. */
    @Test
    void threeSamples() {
        double[] p =
                new OnlineRunLength(STANDARD, 0.1).run(new double[] {0, 0, 3}).last();
        assertThat(p[0]).isCloseTo(0.1, within(1e-6));
        assertThat(p[1]).isCloseTo(0.250687, within(1e-6));
        assertThat(p[2]).isCloseTo(0.085349, within(1e-6));
        assertThat(p[3]).isCloseTo(0.563964, within(1e-6));
    }

    /** Student's t with 2 degrees of freedom and squared scale 2 at its centre: 1/(2√2·√2) = 1/4 exactly. */
    @Test
    void predictiveDensityAtTheCentre() {
        assertThat(OnlineRunLength.predictiveDensity(0, STANDARD)).isCloseTo(0.25, within(1e-12));
    }

    /**
     * Slow plain twin: every way of cutting the series into regimes is listed, weighed by its prior and by the marginal
     * likelihood of each regime, which the normal–gamma prior gives in closed form (Murphy 2007, from memory).
     */
    @Test
    void equalsTheSumOverAllPartitions() {
        Random random = new Random(3);
        int n = 9;
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = random.nextGaussian() + (i > 4 ? 3 : 0);
        }
        Prior prior = new Prior(0.3, 0.5, 1.5, 0.8);
        double hazard = 0.2;
        double[] byLastRun = new double[n + 1];
        for (int cuts = 0; cuts < 1 << n; cuts++) { // bit i: the run length falls to 0 after sample i
            double weight = 1;
            int start = 0;
            for (int i = 0; i < n; i++) {
                boolean cut = (cuts >> i & 1) == 1;
                weight *= cut ? hazard : 1 - hazard;
                if (cut || i == n - 1) {
                    weight *= marginal(x, start, i + 1, prior);
                }
                if (cut) {
                    start = i + 1;
                }
            }
            byLastRun[n - start] += weight;
        }
        double total = 0;
        for (double w : byLastRun) {
            total += w;
        }
        OnlineRunLength.RunLengths found = new OnlineRunLength(prior, hazard).run(x);
        for (int r = 0; r <= n; r++) {
            assertThat(found.last()[r]).isCloseTo(byLastRun[r] / total, within(1e-10));
        }
        assertThat(found.logEvidence()).isCloseTo(Math.log(total), within(1e-9));
    }

    private static double marginal(double[] x, int from, int to, Prior prior) {
        int n = to - from;
        double mean = 0;
        for (int i = from; i < to; i++) {
            mean += x[i] / n;
        }
        double squares = 0;
        for (int i = from; i < to; i++) {
            squares += (x[i] - mean) * (x[i] - mean);
        }
        double kappa = prior.kappa() + n;
        double alpha = prior.alpha() + n / 2.0;
        double d = mean - prior.mean();
        double beta = prior.beta() + squares / 2 + prior.kappa() * n * d * d / (2 * kappa);
        double log = org.hipparchus.special.Gamma.logGamma(alpha)
                - org.hipparchus.special.Gamma.logGamma(prior.alpha())
                + prior.alpha() * Math.log(prior.beta())
                - alpha * Math.log(beta)
                + 0.5 * Math.log(prior.kappa() / kappa)
                - n / 2.0 * Math.log(2 * Math.PI);
        return Math.exp(log);
    }

    @Test
    void theMostProbableRunRestartsAtAStep() {
        Random random = new Random(5);
        double[] x = new double[120];
        for (int i = 0; i < x.length; i++) {
            x[i] = random.nextGaussian() + (i < 60 ? 0 : 8);
        }
        int[] run = new OnlineRunLength(STANDARD, 0.01).run(x).mostProbable();
        assertThat(run[59]).isBetween(55, 60);
        assertThat(run[119]).isBetween(55, 62);
    }

    @Test
    void badArgumentsAreNamed() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new OnlineRunLength(STANDARD, 1))
                .withMessageContaining("hazard");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Prior(0, 0, 1, 1))
                .withMessageContaining("kappa");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new OnlineRunLength(STANDARD, 0.5).run(new double[] {Double.POSITIVE_INFINITY}))
                .withMessageContaining("sample 0");
        assertThat(new OnlineRunLength(STANDARD, 0.5).run(new double[0]).last()).containsExactly(1);
    }
}
