package org.aftercast.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.IntStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Checks the invented recordings against elementary mechanics and against their own truth, never against detectors. */
class RecordingSimulatorTest {

    private static final double G = 9.80665;

    @Test
    void sameSeedSameBitsOtherSeedOtherBits() {
        Scenario scenario = hours(Scenario.swimmer(), 0.5);
        float[] once = axis(RecordingSimulator.simulate(scenario, 7), Channel.ACCELERATION_Y);
        float[] twice = axis(RecordingSimulator.simulate(scenario, 7), Channel.ACCELERATION_Y);
        float[] other = axis(RecordingSimulator.simulate(scenario, 8), Channel.ACCELERATION_Y);
        assertThat(Arrays.equals(once, twice)).isTrue();
        assertThat(Arrays.equals(once, other)).isFalse();
    }

    /** Half the peak-to-peak of the noise-free lateral reading, measured sample by sample at 100 Hz, is the truth. */
    @Test
    void trueAmplitudeAndPeriodAreThoseOfTheNoiseFreeReading() {
        Scenario scenario = calm(hours(Scenario.swimmer(), 0.5), 100);
        SimulatedRecording made = RecordingSimulator.simulate(scenario, 3);
        Truth truth = made.truth();
        float[] y = axis(made, Channel.ACCELERATION_Y);
        int checked = 0;
        for (int k = 0; k < truth.beatStartS().length; k++) {
            double start = truth.beatStartS()[k];
            double end = start + truth.beatPeriodS()[k];
            int second = (int) start;
            if (end + 2 > truth.kindBySecond().length) {
                break;
            }
            if (truth.kindAt(second) != TrueKind.SWIMMING || truth.kindAt((int) end + 1) != TrueKind.SWIMMING) {
                continue;
            }
            float low = Float.MAX_VALUE;
            float high = -Float.MAX_VALUE;
            for (int i = (int) Math.ceil(start * 100); i < end * 100; i++) {
                low = Math.min(low, y[i]);
                high = Math.max(high, y[i]);
            }
            double amplitude = truth.beatAmplitudeG()[k];
            if (amplitude < 0.08) {
                continue; // beats that ramp up or down
            }
            assertThat((high - low) / 2).isCloseTo((float) amplitude, within((float) (0.03 * amplitude + 0.002)));
            checked++;
        }
        assertThat(checked).isGreaterThan(500);
        double[] hz = IntStream.range(0, truth.beatPeriodS().length)
                .filter(k -> truth.beatAmplitudeG()[k] > 0.08)
                .mapToDouble(k -> 1 / truth.beatPeriodS()[k])
                .sorted()
                .toArray();
        assertThat(hz[hz.length / 2]).isCloseTo(0.9, within(0.09));
    }

    /** A lateral displacement of 2 cm at 1 Hz is 0.080514 g: (2πf)²·d, methods/motion.md check 23. */
    @Test
    void accelerationOfASineIsThatOfItsDisplacement() {
        Stroke pure = new Stroke(0, 0, 0);
        double amplitudeG = Math.pow(2 * Math.PI, 2) * 0.02 / G;
        assertThat(amplitudeG).isCloseTo(0.080514, within(1e-6));
        // Integrating the stroke's acceleration twice over a beat gives the displacement back.
        int n = 20_000;
        double speed = -amplitudeG * G / (2 * Math.PI);
        double place = 0;
        double furthest = 0;
        for (int i = 0; i < n; i++) {
            speed += amplitudeG * G * pure.lateral(2 * Math.PI * (i + 0.5) / n) / n;
            place += speed / n;
            furthest = Math.max(furthest, Math.abs(place));
        }
        assertThat(furthest).isCloseTo(0.02, within(1e-5));
        assertThat(pure.roll(1)).isZero();
    }

    @Test
    void strokeRisesThroughZeroAtItsStartAndHasUnitAmplitude() {
        Stroke stroke = new Stroke(0.1, 0.15, 0.4);
        double low = 0;
        double high = 0;
        double mean = 0;
        for (int i = 0; i < 3600; i++) {
            double q = 2 * Math.PI * i / 3600;
            double whole = stroke.lateral(q) + stroke.roll(q);
            low = Math.min(low, whole);
            high = Math.max(high, whole);
            mean += whole / 3600;
        }
        assertThat((high - low) / 2).isCloseTo(1, within(1e-4));
        assertThat(mean).isCloseTo(0, within(1e-9));
        assertThat(stroke.lateral(0) + stroke.roll(0)).isCloseTo(0, within(1e-6));
        assertThat(stroke.lateral(0.01) + stroke.roll(0.01)).isPositive();
    }

    /** Whatever the mount, turning the readings back by the true rotation shows gravity on the dorsal axis. */
    @Test
    void mountIsUndoneByItsTrueRotation() {
        Scenario.Mount mount = new Scenario.Mount(115, 35, -70, 0.6, 20, 0, 15, 60, 0);
        Scenario scenario = calm(hours(Scenario.swimmer(), 1), 20).withMount(mount);
        SimulatedRecording made = RecordingSimulator.simulate(scenario, 5);
        Truth truth = made.truth();
        assertThat(truth.mountShiftS()).isCloseTo(truth.releaseS() + 2160, within(1e-9));
        double[] before = meanUp(made, truth.mountRotation(), 1200, 2100);
        double[] after = meanUp(made, java.util.Objects.requireNonNull(truth.shiftedRotation()), 2600, 3500);
        for (double[] up : new double[][] {before, after}) {
            assertThat(up[2]).isGreaterThan(0.97);
            assertThat(Math.hypot(up[0], up[1])).isLessThan(0.1);
        }
    }

    /** Rising and sinking follow pitch: d(depth)/dt = −speed·sin(pitch). */
    @Test
    void depthFollowsPitchWhileSwimming() {
        Scenario scenario = calm(hours(Scenario.swimmer(), 2), 10);
        Truth truth = RecordingSimulator.simulate(scenario, 11).truth();
        double product = 0;
        double pitch2 = 0;
        double fall2 = 0;
        for (int s = 1800; s < truth.depthMBySecond().length - 2; s++) {
            if (truth.kindAt(s) != TrueKind.SWIMMING || truth.kindAt(s + 1) != TrueKind.SWIMMING) {
                continue;
            }
            double fall = truth.depthMBySecond()[s + 1] - truth.depthMBySecond()[s];
            double sine = Math.sin(Math.toRadians(truth.pitchDegBySecond()[s]));
            product += fall * sine;
            pitch2 += sine * sine;
            fall2 += fall * fall;
        }
        assertThat(product / Math.sqrt(pitch2 * fall2)).isLessThan(-0.9);
        assertThat(-product / pitch2).isCloseTo(0.7, within(0.1)); // the cruising speed, glides and bursts included
    }

    /**
     * Deep-water waves: at depth z the motion is exp(−k·z) of the surface's, so half a wavelength down it is exp(−π) =
     * 4.3 % (linear theory, "wave base", textbook, from memory).
     */
    @Test
    void wavesAreNearlyGoneHalfAWavelengthDown() {
        double periodS = 6;
        double wavelengthM = G * periodS * periodS / (2 * Math.PI);
        double[] rms = new double[2];
        for (int k = 0; k < 2; k++) {
            Waves waves = new Waves(1, periodS, 0.1, new Dice(4));
            waves.atDepth(k * wavelengthM / 2);
            double sum = 0;
            for (int i = 0; i < 100_000; i++) {
                waves.step();
                sum += waves.pressureM() * waves.pressureM();
            }
            rms[k] = Math.sqrt(sum / 100_000);
        }
        assertThat(rms[0]).isCloseTo(0.25, within(0.01)); // significant height = 4 standard deviations
        assertThat(rms[1] / rms[0]).isBetween(0.02, 0.09); // components on both sides of the peak
    }

    @ParameterizedTest
    @EnumSource(Course.class)
    void everyCourseRunsAndEndsAsItSays(Course course) {
        Scenario plain = Scenario.bottomRester();
        Scenario scenario = hours(plain, 5).withEnding(plain.ending().with(course, 2, 4.5));
        SimulatedRecording made = RecordingSimulator.simulate(scenario, 21);
        Truth truth = made.truth();
        Set<TrueKind> kinds = EnumSet.noneOf(TrueKind.class);
        for (int s = 0; s < truth.kindBySecond().length; s++) {
            kinds.add(truth.kindAt(s));
        }
        assertThat(kinds).contains(TrueKind.ON_DECK, TrueKind.AFLOAT);
        assertThat(truth.call()).isEqualTo(course.call());
        assertThat(truth.animalFate()).isEqualTo(course.animalFate());
        assertThat(truth.recordEnd()).isEqualTo(course == Course.SHED_EARLY ? "shed-early" : "planned-detachment");
        switch (course) {
            case SURVIVES -> {
                assertThat(truth.changeS()).isNull();
                assertThat(kinds).contains(TrueKind.SWIMMING, TrueKind.RESTING, TrueKind.WEAK_AT_SURFACE);
            }
            case SHED_EARLY -> assertThat(truth.detachS()).isEqualTo(truth.changeS());
            case DIES_AT_ONCE -> {
                assertThat(truth.changeS()).isCloseTo(truth.releaseS(), within(0.5));
                assertThat(kinds).contains(TrueKind.MOTIONLESS).doesNotContain(TrueKind.SWIMMING);
            }
            case DIES_ON_THE_WAY_DOWN ->
                assertThat(kinds).contains(TrueKind.MOTIONLESS).doesNotContain(TrueKind.RESTING);
            case DIES_LATE -> assertThat(kinds).contains(TrueKind.SWIMMING, TrueKind.MOTIONLESS);
            case DIES_THEN_SCAVENGED, BITTEN -> assertThat(kinds).contains(TrueKind.FED_UPON, TrueKind.MOTIONLESS);
            case SWALLOWED_BY_WARM, SWALLOWED_BY_COLD ->
                assertThat(kinds).contains(TrueKind.INSIDE_PREDATOR, TrueKind.UNDER_ATTACK);
        }
        // A still package reads 1 g; nothing reads nonsense.
        for (Channel channel : made.samples().channels()) {
            for (float v : axis(made, channel)) {
                assertThat(Math.abs(v)).isLessThan(100f);
            }
        }
    }

    @Test
    void carcassLiesAsToldAndWarmPredatorWarms() {
        Scenario plain = hours(Scenario.swimmer(), 5);
        Truth dead = RecordingSimulator.simulate(
                        plain.withEnding(
                                plain.ending().with(Course.DIES_LATE, 2, 4.5).withCarcass(4, 170)),
                        2)
                .truth();
        int second = (int) (dead.releaseS() + 4 * 3600);
        assertThat(dead.kindAt(second)).isEqualTo(TrueKind.MOTIONLESS);
        assertThat(dead.rollDegBySecond()[second]).isCloseTo(170, within(0.5f));
        assertThat(dead.pitchDegBySecond()[second]).isCloseTo(4, within(0.5f));

        SimulatedRecording eaten =
                RecordingSimulator.simulate(plain.withEnding(plain.ending().with(Course.SWALLOWED_BY_WARM, 2, 4.5)), 2);
        float[] temp = axis(eaten, Channel.TEMPERATURE);
        double atS = eaten.truth().releaseS() + 4 * 3600;
        assertThat(temp[(int) (atS * 20)]).isCloseTo(33, within(1f));
    }

    @Test
    void tideMovesTheDepthOfARestingAnimal() {
        Scenario scenario = hours(Scenario.bottomRester(), 14)
                .withEnding(Scenario.bottomRester().ending().with(Course.SURVIVES, 0, 13.5));
        scenario = scenario.withHabits(scenario.habits().withRest(0.9, 60));
        Truth truth = RecordingSimulator.simulate(scenario, 9).truth();
        float low = Float.MAX_VALUE;
        float high = 0;
        for (int s = 0; s < truth.kindBySecond().length; s++) {
            if (truth.kindAt(s) == TrueKind.RESTING) {
                low = Math.min(low, truth.depthMBySecond()[s]);
                high = Math.max(high, truth.depthMBySecond()[s]);
            }
        }
        assertThat(high - low).isCloseTo(3f, within(0.4f)); // twice the amplitude of 1.5 m
    }

    @Test
    void recoveryPassesEightyPercentAtItsT80() {
        for (Scenario.Recovery.Shape shape : Scenario.Recovery.Shape.values()) {
            Scenario.Recovery recovery = new Scenario.Recovery(shape, 6, 1.4, 0.6, 2);
            assertThat(recovery.left(0)).isCloseTo(1, within(1e-9));
            assertThat(recovery.left(6)).isCloseTo(0.2, within(1e-9));
        }
    }

    @Test
    void gapsAreMissingAndListed() {
        Scenario plain = hours(Scenario.swimmer(), 4);
        SimulatedRecording made =
                RecordingSimulator.simulate(plain.withLogger(plain.logger().withFaults(0.1, 0.1, 60)), 2);
        float[] x = axis(made, Channel.ACCELERATION_X);
        long missing = 0;
        for (float v : x) {
            missing += Float.isNaN(v) ? 1 : 0;
        }
        assertThat(missing)
                .isEqualTo(made.truth().gaps().stream()
                        .mapToLong(SampleRange::sampleCount)
                        .sum());
        assertThat((double) missing / x.length).isBetween(0.05, 0.16);
    }

    @Test
    void burstsComeAsOftenAsAsked() {
        Scenario plain = hours(Scenario.swimmer(), 24)
                .withHabits(Scenario.swimmer().habits().withBurstsPerDay(50));
        plain = plain.withLogger(plain.logger().with(5, 24))
                .withEnding(plain.ending().with(Course.SURVIVES, 0, 23.9));
        int bursts = RecordingSimulator.simulate(plain, 1).truth().bursts().size();
        assertThat(bursts).isBetween(30, 75); // Poisson, mean about 50: ±3.5 standard deviations
    }

    @Test
    void contradictionsAreRefused() {
        Scenario plain = Scenario.swimmer();
        assertThatThrownBy(() -> RecordingSimulator.simulate(
                        plain.withEnding(plain.ending().with(Course.DIES_LATE, 10, 9)), 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("changeH");
        assertThatThrownBy(() -> plain.logger().with(0, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("sampleRateHz");
    }

    /** Printed, not asserted tightly: a shared machine is no stopwatch. */
    @Test
    void tenHoursAtTwentyHertzAreQuick() {
        Scenario scenario = Scenario.swimmer();
        RecordingSimulator.simulate(scenario, 1);
        long from = System.nanoTime();
        RecordingSimulator.simulate(scenario, 2);
        double seconds = (System.nanoTime() - from) / 1e9;
        System.out.printf("simulated 10 h at 20 Hz in %.2f s%n", seconds);
        assertThat(seconds).isLessThan(5);
    }

    private static double[] meanUp(SimulatedRecording made, double[] rotation, int fromS, int toS) {
        float[] x = axis(made, Channel.ACCELERATION_X);
        float[] y = axis(made, Channel.ACCELERATION_Y);
        float[] z = axis(made, Channel.ACCELERATION_Z);
        double[] sum = new double[3];
        int n = 0;
        for (int i = fromS * 20; i < toS * 20; i++, n++) {
            for (int row = 0; row < 3; row++) {
                sum[row] += rotation[3 * row] * x[i] + rotation[3 * row + 1] * y[i] + rotation[3 * row + 2] * z[i];
            }
        }
        return new double[] {sum[0] / n, sum[1] / n, sum[2] / n};
    }

    private static Scenario hours(Scenario scenario, double durationH) {
        return scenario.withLogger(scenario.logger().with(20, durationH))
                .withEnding(scenario.ending().with(Course.SURVIVES, 0, 1000));
    }

    /** No noise, no steps, no waves, no posture wander, no turns. */
    private static Scenario calm(Scenario s, double rateHz) {
        Scenario.Logger l = s.logger();
        Scenario.Habits h = s.habits();
        Scenario.Sea sea = s.sea();
        return s.withLogger(new Scenario.Logger(
                        rateHz, l.durationH(), rateHz, l.channels(), 0, 0, 16, 0, 0, 0, 0, 5, 0, 0, 10))
                .withHabits(new Scenario.Habits(
                        0, 20, 0.3, 3, 0, 0, 2, 4, 4, h.depthChangeMin(), h.shallowestShare(), h.deepestShare(), 0, 0))
                .withSea(new Scenario.Sea(sea.bottomDepthM(), 0, 0, 6, 15, 11, 18, 6));
    }

    private static float[] axis(SimulatedRecording made, Channel channel) {
        int n = (int) made.samples().sampleCount();
        float[] values = new float[n];
        made.samples().read(channel, 0, n, values, 0);
        return values;
    }
}
