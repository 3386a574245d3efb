package org.aftercast.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class BinomialIntervalTest {

    /**
     * R 4.2.2 (src/test/reference/a.R); 81/263, 15/148, 0/20 and 1/29 are the published cases of Newcombe (1998),
     * Stat Med 17:857, table I. Printed to 7 digits.
     */
    @ParameterizedTest
    @CsvSource({
        "81,263,.2527367,.3676219,.2552885,.3662096,.2545219,.3656475,.2544021,.3657735",
        "15,148,.05784401,.16165049,.0623864,.1604872,.06044852,.15764314,.0600636,.1581217",
        "0,20,0,.1684335,0,.1611252,0,.116639,0,.1391083",
        "1,29,.0008726469,.1776443,.006113214,.1717552,.003746174,.1500777,.00172477,.15853738",
        "2,20,.01234853,.31698271,.02786648,.30103365,.02137249,.28385326,.01711843,.29286224",
        "7,20,.1539092,.5921885,.1811918,.5671457,.1722762,.5677661,.1677347,.5730487",
        "3,30,.02111714,.26528845,.03459989,.25621083,.02898062,.24340161,.02607336,.24851033"
    })
    void agreesWithThePublishedCases(
            int x, int n, double cl, double ch, double wl, double wh, double jl, double jh, double ml, double mh) {
        near(BinomialInterval.CLOPPER_PEARSON.of(x, n, 0.95), cl, ch);
        near(BinomialInterval.WILSON.of(x, n, 0.95), wl, wh);
        near(BinomialInterval.JEFFREYS.of(x, n, 0.95), jl, jh);
        near(BinomialInterval.MID_P.of(x, n, 0.95), ml, mh);
    }

    /**
     * Published tagging figures: 3/31 exact .0204–.2575 and 0/13 → 0–.2471 (sharks); 577/731 → .76–.82 (Musyl 2011);
     * 1/59 → .00043–.09086 (Graves and Horodysky 2008); 0/19 → .176 (Marcek and Graves 2014 print "0–10 %", which is
     * another interval). Digits beyond the printed ones from R 4.2.2.
     */
    @ParameterizedTest
    @CsvSource({
        "3,31,.0204,.2575,5e-5",
        "0,13,0,.2471,5e-5",
        "577,731,.7579451,.8183584,5e-8",
        "1,59,.00043,.09086,5e-6",
        "0,19,0,.1765,5e-5"
    })
    void agreesWithPublishedTaggingStudies(int x, int n, double low, double high, double tolerance) {
        Interval exact = BinomialInterval.CLOPPER_PEARSON.of(x, n, 0.95);
        assertThat(exact.low()).isCloseTo(low, within(tolerance));
        assertThat(exact.high()).isCloseTo(high, within(tolerance));
    }

    /** R 4.2.2 (g.R): one-sided 95 % upper limit at 0 of 30 and 0 of 14. */
    @Test
    void ruleOfThreeIsTheOneSidedExactLimit() {
        assertThat(BinomialInterval.upperWhenNone(30, 0.95)).isCloseTo(0.0950338529, within(1e-10));
        assertThat(BinomialInterval.upperWhenNone(14, 0.95)).isCloseTo(0.192636176, within(1e-9));
    }

    /** Closed form: at none of n the two-sided exact upper limit is 1 − (α/2)^(1/n). */
    @Test
    void noneAndAllHaveClosedForms() {
        Interval none = BinomialInterval.CLOPPER_PEARSON.of(0, 10, 0.95);
        assertThat(none.high()).isCloseTo(1 - Math.pow(0.025, 0.1), within(1e-13));
        Interval all = BinomialInterval.CLOPPER_PEARSON.of(10, 10, 0.95);
        assertThat(all.low()).isCloseTo(Math.pow(0.025, 0.1), within(1e-13));
        assertThat(all.high()).isEqualTo(1);
    }

    /** The definition itself, summed term by term: the exact limits put α/2 in the tail. */
    @Test
    void exactLimitsPutHalfOfAlphaInTheTail() {
        Interval limits = BinomialInterval.CLOPPER_PEARSON.of(4, 25, 0.9);
        double upTo = 0;
        double from = 0;
        for (int k = 0; k <= 25; k++) {
            upTo += k <= 4 ? term(25, k, limits.high()) : 0;
            from += k >= 4 ? term(25, k, limits.low()) : 0;
        }
        assertThat(upTo).isCloseTo(0.05, within(1e-12));
        assertThat(from).isCloseTo(0.05, within(1e-12));
    }

    @ParameterizedTest
    @EnumSource(BinomialInterval.class)
    void isMirroredAndOrderedForAllCountsAndLevels(BinomialInterval kind) {
        for (int n : new int[] {1, 2, 7, 1000}) {
            for (int x = 0; x <= n; x += Math.max(1, n / 20)) {
                Interval interval = kind.of(x, n, 0.95);
                Interval mirror = kind.of(n - x, n, 0.95).complement();
                assertThat(interval.low()).isCloseTo(mirror.low(), within(1e-12));
                assertThat(interval.high()).isCloseTo(mirror.high(), within(1e-12));
                assertThat(interval.holds((double) x / n)).isTrue();
                assertThat(kind.of(x, n, 0.99).width()).isGreaterThan(interval.width());
            }
        }
    }

    @Test
    void refusesWhatIsOutOfRange() {
        assertThatThrownBy(() -> BinomialInterval.WILSON.of(3, 2, 0.95)).hasMessageContaining("0 ≤ x ≤ n");
        assertThatThrownBy(() -> BinomialInterval.WILSON.of(0, 0, 0.95)).hasMessageContaining("n ≥ 1");
        assertThatThrownBy(() -> BinomialInterval.WILSON.of(1, 2, Double.NaN)).hasMessageContaining("level");
    }

    private static double term(int n, int k, double p) {
        double c = 1;
        for (int i = 0; i < k; i++) {
            c = c * (n - i) / (i + 1);
        }
        return c * Math.pow(p, k) * Math.pow(1 - p, n - k);
    }

    /** Seven printed digits. */
    private static void near(Interval interval, double low, double high) {
        assertThat(interval.low()).isCloseTo(low, within(1e-7 * Math.max(low, 0.5)));
        assertThat(interval.high()).isCloseTo(high, within(1e-7));
    }
}
