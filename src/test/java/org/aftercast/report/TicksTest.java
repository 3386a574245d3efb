package org.aftercast.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Ticks against hand-written axes and against the calendar. */
class TicksTest {

    /** Heckbert, "Nice numbers for graph labels", Graphics Gems (1990): 105–543 with five ticks gives 100–600 by 100 (from memory). */
    @Test
    void widensToHeckbertsExample() {
        assertThat(Ticks.niceRange(105, 543, 5)).containsExactly(100, 600);
        assertThat(Ticks.nice(100, 600, 6).labels()).containsExactly("100", "200", "300", "400", "500", "600");
    }

    @ParameterizedTest
    @CsvSource({"0,1,6", "-0.2,0.2,5", "3,3.0001,4", "-1e6,7e6,9", "0,0.07,3", "12,15,2"})
    void neverMoreThanAskedAndAlwaysInside(double low, double high, int atMost) {
        Ticks ticks = Ticks.nice(low, high, atMost);
        assertThat(ticks.values().length).isBetween(1, atMost);
        double slack = (high - low) * 1e-9;
        for (double value : ticks.values()) {
            assertThat(value).isBetween(low - slack, high + slack);
        }
        assertThat(ticks.labels()).doesNotHaveDuplicates();
    }

    @Test
    void zeroIsWrittenWithoutMinusAndNegativesWithOne() {
        assertThat(Ticks.nice(-0.2, 0.2, 5).labels()).containsExactly("−0.2", "−0.1", "0.0", "0.1", "0.2");
    }

    @Test
    void hoursSinceReleaseStandOnWholeSteps() {
        Ticks ticks = Ticks.elapsedHours(-600, 86400, 10);
        assertThat(ticks.labels()).containsExactly("0", "3", "6", "9", "12", "15", "18", "21", "24");
        assertThat(ticks.values()[1]).isEqualTo(10800);
    }

    @Test
    void clockTicksNameTheDayWhereItBegins() {
        Ticks ticks = Ticks.clock(Instant.parse("2031-06-14T09:40:00Z"), ZoneOffset.UTC, 0, 86400, 8);
        assertThat(ticks.labels())
                .containsExactly("14 Jun 12:00", "15:00", "18:00", "21:00", "15 Jun", "03:00", "06:00", "09:00");
        assertThat(ticks.values()[0]).isEqualTo(2 * 3600 + 20 * 60);
    }

    /** In London clocks went forward at 01:00 UTC on 29 March 2026: midnight to midnight is 23 h. */
    @Test
    void clockTicksKeepTheirTimeWhenSummerTimeBegins() {
        ZoneId london = ZoneId.of("Europe/London");
        Ticks ticks = Ticks.clock(Instant.parse("2026-03-29T00:00:00Z"), london, 0, 23 * 3600, 24);
        assertThat(ticks.labels()).startsWith("29 Mar", "02:00", "03:00").endsWith("30 Mar");
    }

    @Test
    void refusesWhatIsNoRange() {
        assertThatIllegalArgumentException().isThrownBy(() -> Ticks.nice(1, 1, 5));
        assertThatIllegalArgumentException().isThrownBy(() -> Ticks.nice(0, Double.NaN, 5));
        assertThatIllegalArgumentException().isThrownBy(() -> Ticks.nice(0, Double.POSITIVE_INFINITY, 5));
    }
}
