package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

class SunTest {

    /** The worked example of NREL/TP-560-34302 (Reda and Andreas), table A5.1. */
    private static final Instant TIME = Instant.parse("2003-10-17T19:30:30Z");

    private static final Position PLACE = new Position(39.742476, -105.1786);

    @Test
    void workedExampleOfTheReport() {
        Sun.Stand stand = Sun.at(TIME, PLACE, 1830.14, 820, 11, 67);
        assertThat(stand.zenithDeg()).isCloseTo(50.111622, within(1e-4));
        assertThat(stand.azimuthDeg()).isCloseTo(194.340241, within(1e-4));
    }

    /**
     * Sunrise 06:12:43 and sunset 17:20:19 at UTC−7 in the same report. The report counts days in universal time, so its
     * sunset on 17 October is that of 00:20:19 UT, the evening of 16 October at the place.
     */
    @Test
    void riseAndSetOfTheReport() {
        Sun.Day day = Sun.dayOf(TIME, PLACE, 67);
        assertThat(Duration.between(Instant.parse("2003-10-17T13:12:43Z"), day.rise())
                        .abs())
                .isLessThan(Duration.ofSeconds(5));
        Sun.Day before = Sun.dayOf(TIME.minus(Duration.ofDays(1)), PLACE, 67);
        assertThat(Duration.between(Instant.parse("2003-10-17T00:20:19Z"), before.set())
                        .abs())
                .isLessThan(Duration.ofSeconds(5));
    }

    @Test
    void riseComesBeforeSetAllAroundTheEarth() {
        for (int lon = -180; lon < 180; lon += 15) {
            Sun.Day day = Sun.dayOf(Instant.parse("2026-06-21T03:00:00Z"), new Position(40, lon));
            assertThat(day.kind()).isEqualTo(Sun.Kind.RISES_AND_SETS);
            assertThat(Duration.between(day.rise(), day.set()).toMinutes()).isBetween(890L, 910L);
        }
    }

    @Test
    void polarDayAndNight() {
        assertThat(Sun.dayOf(Instant.parse("2026-06-21T12:00:00Z"), new Position(75, 20))
                        .kind())
                .isEqualTo(Sun.Kind.UP_ALL_DAY);
        assertThat(Sun.dayOf(Instant.parse("2026-12-21T12:00:00Z"), new Position(75, 20))
                        .kind())
                .isEqualTo(Sun.Kind.DOWN_ALL_DAY);
    }
}
