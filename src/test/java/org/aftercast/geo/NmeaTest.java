package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class NmeaTest {

    private static final Instant NOW = Instant.parse("2026-08-01T10:00:00Z");
    private static final String RMC = "GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W";

    private static String line(String body) {
        return "$" + body + "*" + NmeaSentence.checksum(body);
    }

    /** Checksums of sentences widely printed in receivers' manuals (common practice). */
    @Test
    void checksums() {
        assertThat(NmeaSentence.checksum(RMC)).isEqualTo("6A");
        assertThat(NmeaSentence.checksum("HCHDG,101.1,,,7.1,W")).isEqualTo("3C");
        assertThat(NmeaSentence.checksum("GPVTG,054.7,T,034.4,M,005.5,N,010.2,K"))
                .isEqualTo("48");
    }

    @Test
    void readsAFix() {
        NmeaReader reader = new NmeaReader();
        assertThat(reader.accept("$" + RMC + "*6A\r\n", NOW)).isTrue();
        OwnShip ship = reader.state();
        assertThat(ship.position().latDeg()).isCloseTo(48 + 7.038 / 60, within(1e-9));
        assertThat(ship.position().lonDeg()).isCloseTo(11 + 31.0 / 60, within(1e-9));
        assertThat(ship.gpsTime()).isEqualTo(Instant.parse("1994-03-23T12:35:19Z"));
        assertThat(ship.speedMps()).isCloseTo(22.4 * 1852 / 3600, within(1e-9));
        assertThat(ship.courseDeg()).isEqualTo(84.4);
        assertThat(ship.isStale(NOW.plusSeconds(5), Duration.ofSeconds(10))).isFalse();
        assertThat(ship.isStale(NOW.plusSeconds(11), Duration.ofSeconds(10))).isTrue();
        assertThat(OwnShip.NOTHING.isStale(NOW, Duration.ofSeconds(10))).isTrue();
    }

    @Test
    void headingsWithDeviationAndVariation() {
        NmeaReader reader = new NmeaReader();
        reader.accept("$HCHDG,101.1,2.0,E,7.1,W*" + NmeaSentence.checksum("HCHDG,101.1,2.0,E,7.1,W"), NOW);
        assertThat(reader.state().headingMagneticDeg()).isCloseTo(103.1, within(1e-9));
        assertThat(reader.state().headingTrueDeg()).isCloseTo(96.0, within(1e-9));
        reader.accept(line("HEHDT,15.5,T"), NOW);
        assertThat(reader.state().headingTrueDeg()).isEqualTo(15.5);
        // Without variation the true heading is not made up: the old one stays.
        reader.accept(line("HCHDG,350.0,,,,"), NOW);
        assertThat(reader.state().headingMagneticDeg()).isEqualTo(350);
        assertThat(reader.state().headingTrueDeg()).isEqualTo(15.5);
    }

    @Test
    void courseMeansNothingWhenStopped() {
        NmeaReader reader = new NmeaReader();
        reader.accept(line("GPRMC,100000,A,5218.000,N,00436.000,W,0.3,211.0,010826,,"), NOW);
        assertThat(reader.state().courseDeg()).isNull();
        assertThat(reader.state().speedMps()).isCloseTo(0.154, within(0.001));
        assertThat(reader.state().position().lonDeg()).isCloseTo(-4.6, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "GPRMC,100000,V,5218.000,N,00436.000,W,0.3,211.0,010826,,",
                "GPGGA,100000,5218.000,N,00436.000,W,0,00,,,M,,M,,",
                "GPGLL,5218.000,N,00436.000,W,100000,V",
                "GPGGA,100000,5278.000,N,00436.000,W,1,08,1.0,3,M,,M,,",
                "GPGGA,100000,9918.000,N,00436.000,W,1,08,1.0,3,M,,M,,",
                "GPGGA,100000,5218.000,Q,00436.000,W,1,08,1.0,3,M,,M,,",
                "GPGGA,100000,abc,N,00436.000,W,1,08,1.0,3,M,,M,,"
            })
    void refusesWhatIsNoFix(String body) {
        NmeaReader reader = new NmeaReader();
        assertThat(reader.accept(line(body), NOW)).isFalse();
        assertThat(reader.state().position()).isNull();
        assertThat(reader.counts().refused()).isEqualTo(1);
        assertThat(reader.problems()).hasSize(1);
    }

    @Test
    void damagedLinesAndMissingChecksums() {
        assertThatThrownBy(() -> NmeaSentence.parse("$" + RMC + "*6B")).hasMessageContaining("should be 6A");
        assertThatThrownBy(() -> NmeaSentence.parse("hello")).hasMessageContaining("does not start with $");
        NmeaReader reader = new NmeaReader();
        assertThat(reader.accept("$" + RMC, NOW)).isTrue();
        assertThat(reader.counts().withoutChecksum()).isEqualTo(1);
        // Empty fields change nothing.
        assertThat(reader.accept(line("GNGGA,123520,,,,,1,08,,,M,,M,,"), NOW)).isFalse();
        assertThat(reader.state().position()).isNotNull();
    }

    /** GGA has no date: without RMC or ZDA the time is not made up. */
    @Test
    void timeNeedsADate() {
        NmeaReader reader = new NmeaReader();
        reader.accept(line("GPGGA,100000.25,5218.000,N,00436.000,W,1,08,1.0,3,M,,M,,"), NOW);
        assertThat(reader.state().gpsTime()).isNull();
        reader.accept(line("GPZDA,100000,01,08,2026,00,00"), NOW);
        reader.accept(line("GPGGA,100001.25,5218.000,N,00436.000,W,1,08,1.0,3,M,,M,,"), NOW);
        assertThat(reader.state().gpsTime()).isEqualTo(Instant.parse("2026-08-01T10:00:01.250Z"));
        assertThat(reader.state().satellites()).isEqualTo(8);
    }

    /** 20 000 damaged copies of good lines: never an exception, never a place off the earth. */
    @Test
    void survivesNoise() {
        Random random = new Random(7);
        String[] good = {
            RMC, "HCHDG,101.1,2.0,E,7.1,W", "GPGGA,100000.25,5218.000,N,00436.000,W,1,08,1.0,3,M,,M,,", "GPZDA,1,2,3,4"
        };
        NmeaReader reader = new NmeaReader();
        for (int i = 0; i < 20_000; i++) {
            StringBuilder body = new StringBuilder(good[random.nextInt(good.length)]);
            for (int k = random.nextInt(4); k >= 0; k--) {
                body.setCharAt(random.nextInt(body.length()), (char) (32 + random.nextInt(95)));
            }
            reader.accept(random.nextBoolean() ? line(body.toString()) : "$" + body, NOW);
        }
        assertThat(reader.counts().lines()).isEqualTo(20_000);
        assertThat(reader.problems()).hasSize(50);
    }
}
