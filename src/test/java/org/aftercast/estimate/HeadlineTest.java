package org.aftercast.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class HeadlineTest {

    private static final EstimateSettings DEFAULTS = EstimateSettings.defaults();

    private static Headline of(Animals animals) {
        return Estimate.of(animals.list(), null, DEFAULTS).headline();
    }

    /** 2/20 Clopper–Pearson: R 4.2.2. */
    @Test
    void countsWhenEveryFateIsKnown() {
        Headline headline = of(Animals.make().alive(18, 24).died(1, 3).died(1, 24));
        assertThat(headline.kind()).isEqualTo(Headline.Kind.COUNT);
        Share died = headline.died();
        assertThat(died).isNotNull();
        assertThat(died.value()).isEqualTo(0.1);
        assertThat(died.low()).isCloseTo(.01234853, within(5e-9));
        assertThat(died.high()).isCloseTo(.31698271, within(5e-9));
        assertThat(headline.otherIntervals())
                .extracting(Share::interval)
                .containsExactly("Wilson", "Jeffreys", "mid-P");
    }

    /** A death after the horizon is an animal alive at the horizon. */
    @Test
    void deathsAfterTheHorizonAreAliveAtIt() {
        Headline headline = of(Animals.make().alive(9, 48).died(1, 30));
        assertThat(headline.counts()).isEqualTo(new Headline.Counts(10, 0, 0, 10, 0));
        assertThat(headline.noDeaths()).isNotNull();
    }

    /** 10 at risk, one dies at 2 h, 4 are shed at 5 h, one of 5 dies at 10 h: S = 9/10 · 4/5. */
    @Test
    void usesTheCurveWhenSomeAreLostFromSight() {
        Headline headline = of(Animals.make().died(1, 2).shed(4, 5).died(1, 10).alive(4, 24));
        assertThat(headline.kind()).isEqualTo(Headline.Kind.SURVIVAL_CURVE);
        Share died = headline.died();
        assertThat(died).isNotNull();
        assertThat(died.value()).isCloseTo(1 - 0.9 * 0.8, within(1e-12));
        assertThat(headline.best()).isNotNull().extracting(Share::value).isEqualTo(0.2);
        assertThat(headline.worst()).isNotNull().extracting(Share::value).isEqualTo(0.6);
        assertThat(headline.method().assumptions()).anyMatch(words -> words.contains("4 animals of 10"));
    }

    /** The same with the death at 2 h by a predator, and eaten not counting: F = 0.9·(1/5). */
    @Test
    void eatenAsAnotherEndCompetes() {
        Animals animals = Animals.make().eaten(1, 2).shed(4, 5).died(1, 10).alive(4, 24);
        EstimateSettings settings = DEFAULTS.change()
                .deaths(new DeathRule(EatenRule.OTHER_END, null))
                .done();
        Headline headline = Estimate.of(animals.list(), null, settings).headline();
        assertThat(headline.kind()).isEqualTo(Headline.Kind.CUMULATIVE_INCIDENCE);
        assertThat(headline.died()).isNotNull();
        assertThat(headline.died().value()).isCloseTo(0.18, within(1e-12));
        assertThat(headline.eatenOtherWay()).isNotNull();
        assertThat(headline.eatenOtherWay().value()).isCloseTo(0.28, within(1e-12));
    }

    @Test
    void refusesAHorizonThatNobodyReached() {
        Headline headline = of(Animals.make().shed(3, 5).died(2, 1));
        assertThat(headline.kind()).isEqualTo(Headline.Kind.REFUSED);
        assertThat(headline.method().refusal()).contains("longest time at risk is 5 h");
        assertThat(headline.died()).isNull();
    }

    @Test
    void refusesACurveThatTheLastFewDriveToZero() {
        Headline headline = of(Animals.make().shed(8, 5).died(1, 10));
        assertThat(headline.method().refusal()).contains("only 1 animal was still watched");
    }

    /**
     * Published longline figures: at-vessel share .54 with 4 of 33 after release gives .5958 in all (printed 59 %);
     * Clopper–Pearson limits of 4/33 and 12/41 by R 4.2.2. Landed counts chosen to give .54.
     */
    @Test
    void addsDeathsBeforeRelease() {
        Animals animals = Animals.make().alive(29, 24).died(4, 1);
        Headline headline = Estimate.of(animals.list(), new LandedCounts(100, 54, List.of()), DEFAULTS)
                .headline();
        Headline.VesselDeaths vessel = headline.vessel();
        assertThat(vessel).isNotNull();
        assertThat(vessel.total().value()).isCloseTo(.5958, within(5e-5));
        assertThat(vessel.total().low()).isBetween(.48, .5958);
        assertThat(vessel.total().high()).isBetween(.5958, .72);
        // 29 alive, 4 dead, 6 early, 2 silent: between 4/33 and 12/41, "12–29 %" as printed
        Headline all = of(Animals.make().alive(29, 24).died(4, 1).shed(6, 4).lost(2));
        assertThat(4.0 / 33).isCloseTo(.12, within(.005));
        assertThat(all.worst()).isNotNull().extracting(Share::value).isEqualTo(12.0 / 41);
    }
}
