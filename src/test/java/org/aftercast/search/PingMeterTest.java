package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.aftercast.search.PingMeter.Reading;
import org.aftercast.search.PingMeter.Verdict;
import org.junit.jupiter.api.Test;

class PingMeterTest {

    private static final PingMeter.Settings SETTINGS = PingMeter.Settings.defaults();

    /** Goertzel 1958 as printed in signal processing texts: k = 18, N = 205 gives 1.703275; tone on a bin (A N/2)². */
    @Test
    void goertzel() {
        assertThat(PingMeter.goertzelCoefficient(18.0 / 205)).isCloseTo(1.703275, within(1e-6));
        double[] block = new double[205];
        for (int i = 0; i < 205; i++) {
            block[i] = 0.7 * Math.cos(2 * Math.PI * 18 * i / 205 + 0.4);
        }
        double expected = (0.7 * 205 / 2) * (0.7 * 205 / 2);
        assertThat(PingMeter.goertzelPower(block, 18.0 / 205)).isCloseTo(expected, within(1e-9 * expected));
    }

    /** Albersheim 1981: 13.11 dB for one pulse and 4.99 dB for ten at Pd 0.9, Pfa 1e-6. */
    @Test
    void albersheim() {
        assertThat(PingMeter.neededAboveNoiseDb(0.9, 1e-6, 1)).isCloseTo(13.11, within(0.01));
        assertThat(PingMeter.neededAboveNoiseDb(0.9, 1e-6, 10)).isCloseTo(4.99, within(0.01));
    }

    @Test
    void findsPitchRateAndLevel() {
        float[] sound = PingSound.make(1, 20, 12, 1000, 60, PingSound.Receiver.PLAIN);
        Reading reading = PingMeter.measure(sound, PingSound.RATE_HZ, SETTINGS);
        assertThat(reading.verdict()).isEqualTo(Verdict.PINGS);
        assertThat(reading.pitchHz()).isCloseTo(1000, within(50.0));
        assertThat(reading.perMinute()).isCloseTo(60, within(0.6));
        assertThat(reading.aboveNoiseDb()).isCloseTo(12, within(2.0));
        // Six decibels more in, six decibels more out.
        float[] louder = PingSound.make(1, 20, 18, 1000, 60, PingSound.Receiver.PLAIN);
        Reading second = PingMeter.measure(louder, PingSound.RATE_HZ, SETTINGS);
        assertThat(second.levelDb() - reading.levelDb()).isCloseTo(6, within(1.0));
    }

    /** Invented sound with noise and engine: the ping's power over all sound while it lasts (docs/evaluation/pings.md). */
    @Test
    void findsPingsThatAreWeakerThanTheNoise() {
        double[] levels = {-6, -3, 0, 6, 12};
        for (int k = 0; k < levels.length; k++) {
            PingSound.Wanted wanted = new PingSound.Wanted(
                    15,
                    levels[k],
                    PingSound.Against.ALL_SOUND,
                    700 + 400 * k,
                    50 + 12 * k,
                    k % 2 == 0 ? 0.018 : 0.03,
                    PingSound.Receiver.PLAIN);
            Reading reading = PingMeter.measure(PingSound.make(20 + k, wanted), PingSound.RATE_HZ, SETTINGS);
            assertThat(reading.verdict()).as(levels[k] + " dB").isEqualTo(Verdict.PINGS);
            assertThat(reading.pitchHz()).isCloseTo(wanted.pitchHz(), within(40.0));
            assertThat(reading.perMinute()).isCloseTo(wanted.perMinute(), within(0.02 * wanted.perMinute()));
        }
    }

    /** A tone of 1000 Hz at 44 100 samples a second keeps its amplitude when samples are thinned out; 9 kHz is held off. */
    @Test
    void thinsOutSamplesWithoutLettingHighTonesThrough() {
        double[] hertz = {1000, 9000};
        double[] left = new double[2];
        for (int k = 0; k < 2; k++) {
            float[] x = new float[44_100];
            for (int i = 0; i < x.length; i++) {
                x[i] = (float) Math.sin(2 * Math.PI * hertz[k] * i / 44_100);
            }
            float[] fewer = PingMeter.decimate(x, 5);
            for (int i = 200; i < fewer.length - 200; i++) {
                left[k] = Math.max(left[k], Math.abs(fewer[i]));
            }
        }
        assertThat(left[0]).isCloseTo(1, within(0.02));
        assertThat(left[1]).isLessThan(0.01);
    }

    @Test
    void hearsNothingInNoise() {
        int alarms = 0;
        for (int k = 0; k < 4; k++) {
            float[] sound = PingSound.make(100 + k, 15, Double.NEGATIVE_INFINITY, 1000, 60, PingSound.Receiver.PLAIN);
            alarms += PingMeter.measure(sound, PingSound.RATE_HZ, SETTINGS).verdict() == Verdict.NO_PINGS ? 0 : 1;
        }
        assertThat(alarms).isZero();
    }

    @Test
    void refusesAutomaticGainAndTellsSaturation() {
        for (PingSound.Receiver receiver :
                new PingSound.Receiver[] {PingSound.Receiver.AUTOMATIC_GAIN, PingSound.Receiver.NOISE_GATE}) {
            float[] sound = PingSound.make(3, 20, 38, 1200, 50, receiver);
            Reading reading = PingMeter.measure(sound, PingSound.RATE_HZ, SETTINGS);
            assertThat(reading.verdict()).as(receiver.name()).isEqualTo(Verdict.AUTOMATIC_GAIN);
            assertThat(reading.levelDb()).isNaN();
            assertThat(reading.note()).contains("Levels mean nothing");
        }
        float[] cut = PingSound.make(4, 20, 30, 1200, 50, PingSound.Receiver.SATURATED);
        assertThat(PingMeter.measure(cut, PingSound.RATE_HZ, SETTINGS).verdict())
                .isEqualTo(Verdict.SATURATED);
    }

    @Test
    void refusesWhatCannotBeMeasured() {
        assertThat(PingMeter.measure(new float[8000], 8000, SETTINGS).verdict()).isEqualTo(Verdict.TOO_SHORT);
        assertThat(PingMeter.measure(new float[0], 8000, SETTINGS).verdict()).isEqualTo(Verdict.TOO_SHORT);
        assertThat(PingMeter.measure(new float[160_000], 8000, SETTINGS).verdict())
                .isEqualTo(Verdict.NO_PINGS);
        assertThatThrownBy(() -> PingMeter.measure(new float[100], 4000, SETTINGS))
                .hasMessageContaining("sampleRateHz");
        assertThatThrownBy(() -> new PingMeter.Settings(50, 3000, 30, 120, 20)).hasMessageContaining("lowHz");
    }
}
