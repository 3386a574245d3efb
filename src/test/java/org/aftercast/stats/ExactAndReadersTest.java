package org.aftercast.stats;

import static org.aftercast.stats.LogisticRegressionTest.near;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Tables of counts, uncertain counts and two readers. */
class ExactAndReadersTest {

    /** Fisher's tea tasting (1935) and the twins; R 4.2.2, fisher.test (c.R). */
    @Test
    void fisherAgreesWithTheClassics() {
        TwoByTwo tea = new TwoByTwo(3, 4, 1, 4);
        assertThat(tea.fisher()).isCloseTo(.4857143, within(5e-8));
        assertThat(tea.fisherGreater()).isCloseTo(.2428571, within(5e-8));
        assertThat(tea.conditionalOddsRatio()).isCloseTo(6.408308867, within(1e-4));
        TwoByTwo twins = new TwoByTwo(2, 12, 15, 18);
        assertThat(twins.fisher()).isCloseTo(.0005367241, within(5e-11));
        assertThat(twins.fisherLess()).isCloseTo(.0004651809, within(5e-11));
        assertThat(twins.conditionalOddsRatio()).isCloseTo(.04693660883, within(1e-6));
        assertThat(new TwoByTwo(4, 10, 0, 10).fisher()).isCloseTo(.08668731, within(5e-9));
        assertThat(new TwoByTwo(4, 10, 0, 10).conditionalOddsRatio()).isInfinite();
    }

    /** Hook types, Horodysky and Graves (2005): 7/20 v 0/20; R 4.2.2 and scipy. */
    @Test
    void hookTypesAgree() {
        TwoByTwo hooks = new TwoByTwo(7, 20, 0, 20);
        assertThat(hooks.fisher()).isCloseTo(.008316008, within(5e-10));
        assertThat(hooks.boschloo()).isCloseTo(.003359, within(5e-7));
        near(hooks.difference(0.95), 5e-5, .1166, .5671);
    }

    /**
     * [[7, 12], [8, 3]], columns are the groups; src/test/reference/survival/tables.py, scipy 1.17.1. Four tables tie
     * with the observed |z| in exact fractions; scipy's barnard_exact compares rounded numbers, loses two of them and
     * prints .0681534. The value here is the supremum over the tables that tie in exact fractions. Boschloo's statistic
     * is Fisher's one-sided p.
     */
    @Test
    void barnardAndBoschlooAgree() {
        TwoByTwo table = new TwoByTwo(7, 15, 12, 15);
        assertThat(table.barnard()).isCloseTo(.06821830925, within(1e-9));
        assertThat(table.boschloo()).isCloseTo(.0682183093231948, within(1e-9));
        assertThat(table.fisherLess()).isCloseTo(.0640680, within(5e-8));
    }

    /** Newcombe (1998b), Stat Med 17:873: 56/70 − 48/80 and 9/10 − 3/10. */
    @Test
    void differencesAgreeWithNewcombe() {
        near(new TwoByTwo(56, 70, 48, 80).difference(0.95), 5e-8, .0524315, .3338727);
        near(new TwoByTwo(9, 10, 3, 10).difference(0.95), 5e-8, .1705227, .8090180);
    }

    /** R 4.2.2 (e.R): three deaths for certain, thirteen for certain alive, four in doubt. */
    @Test
    void uncertainCountsAgree() {
        double[] p = new double[20];
        System.arraycopy(new double[] {1, 1, 1, .8, .5, .3, .1}, 0, p, 0, 7);
        PoissonBinomial deaths = PoissonBinomial.of(p);
        double[] wanted = {0, 0, 0, .063, .349, .425, .151, .012};
        for (int k = 0; k < wanted.length; k++) {
            assertThat(deaths.probabilities()[k]).isCloseTo(wanted[k], within(1e-12));
        }
        assertThat(deaths.mean()).isCloseTo(4.7, within(1e-12));
        assertThat(deaths.variance()).isCloseTo(.71, within(1e-12));
        near(deaths.mixture(0.5, 0.95), 1e-8, .08020147546, .4650360803);
    }

    /** With every fate certain the mixture is the Jeffreys interval itself. */
    @Test
    void certainCountsGiveJeffreys() {
        Interval mixture =
                PoissonBinomial.of(new double[] {1, 1, 0, 0, 0, 0, 0, 0, 0, 0}).mixture(0.5, 0.95);
        Interval jeffreys = BinomialInterval.JEFFREYS.of(2, 10, 0.95);
        near(mixture, 1e-10, jeffreys.low(), jeffreys.high());
    }

    /** R 4.2.2, mice 3.15.0, pool.scalar (e.R). */
    @Test
    void rubinAgrees() {
        double[] q = {.20, .25, .15, .20, .25};
        double[] u = new double[5];
        for (int i = 0; i < 5; i++) {
            u[i] = q[i] * (1 - q[i]) / 20;
        }
        RubinPooling pooled = RubinPooling.of(q, u, 19);
        assertThat(pooled.mean()).isCloseTo(.21, within(1e-12));
        assertThat(pooled.within()).isCloseTo(.008225, within(1e-12));
        assertThat(pooled.between()).isCloseTo(.00175, within(1e-12));
        assertThat(pooled.total()).isCloseTo(.010325, within(1e-12));
        assertThat(pooled.degreesOfFreedom()).isCloseTo(12.0455474572, within(1e-9));
        assertThat(RubinPooling.of(q, u, Double.POSITIVE_INFINITY).degreesOfFreedom())
                .isCloseTo(96.6944444444, within(1e-9));
    }

    /** R 4.2.2 (e.R); MS patients (Winnipeg) from vcd 1.4.11. */
    @Test
    void readersAgree() {
        ReaderAgreement first = ReaderAgreement.of(new int[][] {{20, 5}, {10, 15}});
        assertThat(first.kappa()).isCloseTo(.4, within(1e-12));
        assertThat(first.kappaSe()).isCloseTo(.1269960629, within(1e-9));
        assertThat(first.kappaNullSe()).isCloseTo(.1385640646, within(1e-9));
        assertThat(first.ac1()).isCloseTo(.4059405941, within(1e-9));
        ReaderAgreement lopsided = ReaderAgreement.of(new int[][] {{118, 5}, {2, 0}});
        assertThat(lopsided.kappa()).isCloseTo(-.02339181287, within(1e-9));
        assertThat(lopsided.ac1()).isCloseTo(.9407763376, within(1e-9));
        int[][] ms = {{38, 5, 0, 1}, {33, 11, 3, 0}, {10, 14, 5, 6}, {3, 7, 3, 10}};
        ReaderAgreement winnipeg = ReaderAgreement.of(ms);
        assertThat(winnipeg.kappa()).isCloseTo(.2079425, within(5e-8));
        assertThat(winnipeg.kappaSe()).isCloseTo(.05045537, within(5e-9));
        // vcd's weights are linear
        assertThat(ReaderAgreement.weightedKappa(ms, ReaderAgreement.Weights.LINEAR))
                .isCloseTo(.3797305, within(5e-8));
    }

    @Test
    void readersWhoUseOneCategoryHaveNoKappaButAgree() {
        ReaderAgreement all = ReaderAgreement.of(new int[][] {{9, 0}, {0, 0}});
        assertThat(all.kappa()).isNull();
        assertThat(all.ac1()).isEqualTo(1);
        assertThatThrownBy(() -> ReaderAgreement.of(new int[2][2])).hasMessageContaining("no subject");
    }
}
