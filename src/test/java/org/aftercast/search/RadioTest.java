package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RadioTest {

    /** ITU-R P.525: 150 MHz over 18.52 km. */
    @Test
    void freeSpace() {
        assertThat(Radio.freeSpaceDb(150, 18_520)).isCloseTo(101.27, within(0.01));
    }

    /** d = 2.23 (√h₁ + √h₂) nautical miles, as printed in marine radio handbooks. */
    @Test
    void horizon() {
        assertThat(Radio.horizonM(0.15, 3) / 1852).isCloseTo(4.73, within(0.01));
        assertThat(Radio.horizonM(0.15, 5) / 1852).isCloseTo(5.85, within(0.01));
    }

    /** ITU-R P.526 worked case: 900 MHz, 50 km, 30 and 1.5 m, effective earth 8494.67 km, β = 1: about 49.5 dB. */
    @Test
    void diffractionOverASmoothEarth() {
        assertThat(Radio.diffractionDb(900, 50_000, 30, 1.5, 8494.67, 1, 1e-3)).isCloseTo(49.52, within(0.1));
    }

    /** P.526 over the sea, vertical, 150 MHz, 0.15 and 4 m, recomputed outside the project from the recommendation. */
    @ParameterizedTest
    @CsvSource({"1,95.0", "2,107.2", "3,114.4", "5,123.7", "7.5,131.4", "10,137.1", "15,145.8"})
    void overTheSea(double miles, double decibel) {
        assertThat(Radio.seaDiffractionDb(150, miles * 1852, 0.15, 4, Radio.Polarisation.VERTICAL))
                .isCloseTo(decibel, within(0.2));
    }

    /** The same with plane earth and effective heights, recomputed outside the project. */
    @ParameterizedTest
    @CsvSource({"1,94.0", "2,106.0", "3,113.1", "5,122.0", "7.5,129.0", "10,134.0", "15,141.0"})
    void planeEarthWithEffectiveHeights(double miles, double decibel) {
        assertThat(Radio.planeEarthDb(miles * 1852, Radio.effectiveHeightM(0.15, 150), Radio.effectiveHeightM(4, 150)))
                .isCloseTo(decibel, within(0.15));
    }

    /** Horizontal polarisation at ten miles is 38–43 dB worse (from the same recommendation). */
    @Test
    void elementsMustBeUpright() {
        double vertical = Radio.seaDiffractionDb(150, 18_520, 0.15, 4, Radio.Polarisation.VERTICAL);
        double horizontal = Radio.seaDiffractionDb(150, 18_520, 0.15, 4, Radio.Polarisation.HORIZONTAL);
        assertThat(horizontal - vertical).isBetween(38.0, 43.0);
    }

    /** Plane earth: 40 log 1000 − 20 log 45 = 86.94 dB (from memory of the textbook formula; recomputed). */
    @Test
    void planeEarth() {
        assertThat(Radio.planeEarthDb(1000, 1.5, 30)).isCloseTo(86.94, within(0.01));
    }

    /** Range ratios of 3, 6, 10, 12, 20 dB: 10^(dB/10n). */
    @ParameterizedTest
    @CsvSource({"3,1.41,1.19", "6,2.00,1.41", "10,3.16,1.78", "12,3.98,2.00", "20,10,3.16"})
    void rangeRatios(double decibel, double square, double fourth) {
        assertThat(Radio.rangeRatio(decibel, 2)).isCloseTo(square, within(0.006));
        assertThat(Radio.rangeRatio(decibel, 4)).isCloseTo(fourth, within(0.006));
    }

    @Test
    void lossNeverFallsWithDistance() {
        Hearing hearing = new Hearing(SearchSettings.defaults().hearing());
        double before = hearing.relativeLossDb(1);
        for (double d = 5; d < 300_000; d *= 1.02) {
            double loss = hearing.relativeLossDb(d);
            assertThat(loss).isGreaterThanOrEqualTo(before);
            before = loss;
        }
        assertThat(hearing.relativeLossDb(18_520)).isCloseTo(0, within(0.05));
        assertThat(hearing.distanceOfLoss(hearing.relativeLossDb(4000))).isCloseTo(4000, within(5.0));
    }

    @Test
    void halfOfTheLooksHearAtTheReferenceDistance() {
        Hearing hearing = new Hearing(SearchSettings.defaults().hearing());
        assertThat(hearing.chance(18_520, 1, 0, 0)).isCloseTo((0.01 + 0.95) / 2, within(0.002));
        assertThat(hearing.chance(500, 1, 0, 0)).isCloseTo(0.95, within(1e-4));
        assertThat(hearing.chance(200_000, 1, 0, 0)).isCloseTo(0.01, within(1e-4));
        Hearing.Range first = hearing.ranges(0, 8).get(0);
        assertThat(first.surelyM()).isLessThan(first.halfM());
        assertThat(first.halfM()).isCloseTo(18_520, within(50.0));
        assertThat(first.hardlyM()).isGreaterThan(first.halfM());
        // Φ(−1.959964) = 0.025 (normal tables).
        assertThat(Hearing.normal(-1.959963985)).isCloseTo(0.025, within(1e-7));
    }
}
