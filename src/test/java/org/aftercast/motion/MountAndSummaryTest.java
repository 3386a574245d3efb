package org.aftercast.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.sim.Course;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A package whose place is given, and what a stretch amounts to. Signals are invented in closed form. */
class MountAndSummaryTest {

    private static final int RATE = 25;

    @ParameterizedTest
    @CsvSource({"0,0,0", "30,35.26439,0", "-40,120,75", "10,-170,-179", "85,5,90", "0,180,45"})
    void aPoseComesBackFromItsRotation(double pitch, double roll, double yaw) {
        MountPose pose = new MountPose(12, pitch, roll, yaw);
        double[] r = pose.rotation();
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                double dot = 0;
                for (int k = 0; k < 3; k++) {
                    dot += r[3 * i + k] * r[3 * j + k];
                }
                assertThat(dot).isCloseTo(i == j ? 1 : 0, within(1e-12));
            }
        }
        MountPose back = MountPose.of(12, r);
        assertThat(back.pitchDeg()).isCloseTo(pitch, within(1e-9));
        assertThat(Math.cos(Math.toRadians(back.rollDeg() - roll))).isCloseTo(1, within(1e-12));
        assertThat(Math.cos(Math.toRadians(back.yawDeg() - yaw))).isCloseTo(1, within(1e-12));
    }

    /** A level animal whose head is along the sensor's y axis: seen from above a quarter turn anticlockwise from x. */
    @Test
    void headAlongTheSensorsSecondAxisIsAYawOfNinety() {
        double[] r = new MountPose(0, 0, 0, 90).rotation();
        assertThat(r).containsExactly(new double[] {0, 1, 0, -1, 0, 0, 0, 0, 1}, within(1e-12));
    }

    @Test
    void whatIsGivenIsUsedAndSaid() {
        MountPose pose = new MountPose(0, 20, -35, 60);
        MountPose later = new MountPose(600, 5, 10, 60);
        Recording recording = swimmer(pose, later, 600);
        MotionReading reading =
                MotionReader.read(recording, MotionSettings.defaults().withMounts(List.of(pose, later)));
        assertThat(reading.frames()).extracting(FrameBlock::status).containsOnly(FrameBlock.Status.GIVEN);
        assertThat(reading.notes()).contains("How the package sits was given, not estimated.");
        for (int k : new int[] {100, 300, 500, 700, 900, 1100}) {
            assertThat((double) reading.seconds().pitchDeg()[k]).isCloseTo(0, within(0.3));
            assertThat((double) reading.seconds().rollDeg()[k]).isCloseTo(0, within(0.8));
        }
        assertThat(1 / (double) reading.beats().periodS()[200]).isCloseTo(1.1, within(0.01));
        assertThat(reading.methodAgreement()).isGreaterThan(0.99);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> MotionReader.read(
                        recording, MotionSettings.defaults().withMounts(List.of(pose, new MountPose(9000, 0, 0, 0)))))
                .withMessageContaining("number 2 starts at 9000 s; the recording ends at 1200 s");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> MotionSettings.defaults().withMounts(List.of(later)))
                .withMessageContaining("the first must start at 0 s");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new MountPose(0, 91, 0, 0))
                .withMessageContaining("pitchDeg 91.0 is outside −90.0 to 90.0");
    }

    @Test
    void theSummaryCountsPostureAndMeansWithIntervals() {
        MountPose straight = new MountPose(0, 0, 0, 0);
        MountPose onItsBack = new MountPose(900, 0, 180, 0);
        // Read with one pose throughout, so that the last 300 s are upside down.
        MotionReading reading = MotionReader.read(
                swimmer(straight, onItsBack, 900), MotionSettings.defaults().withMounts(List.of(straight)));
        MotionSummary summary = MotionSummary.of(reading, 0, 1200);
        assertThat(summary.postureS()).isEqualTo(1200);
        assertThat(summary.upsideDownS()).isCloseTo(300, within(3.0));
        MotionSummary.Line beat = summary.lines().get(0);
        assertThat(beat.measure()).isEqualTo("beatHz");
        assertThat(beat.median()).isCloseTo(1.1, within(0.01));
        assertThat(beat.mean().low()).isLessThanOrEqualTo(beat.mean().mean());
        assertThat(beat.mean().mean()).isCloseTo(1.1, within(0.01));
        assertThat(beat.mean().n()).isEqualTo(20);
        MotionSummary firstHalf = MotionSummary.of(reading, 0, 600);
        assertThat(firstHalf.upsideDownS()).isZero();
        assertThat(MotionSummary.of(reading, 600, 600).lines()).isEmpty();
    }

    @Test
    void rollRateGoesTheShortWayRound() {
        float[] rate = MotionSummary.rollRate(new float[] {170, -170, -150, Float.NaN, 10});
        assertThat(rate[1]).isEqualTo(20);
        assertThat(rate[2]).isEqualTo(20);
        assertThat(rate[3]).isNaN();
        assertThat(rate[4]).isNaN();
    }

    /** Deep-water waves fade as exp(−ω²z/g): at 0.2 Hz to one hundredth at 28.6 m, at 0.5 Hz at 4.6 m. */
    @Test
    void wavesAreSuspectedOnlyWhereTheyReach() {
        assertThat(BeatCheck.perhapsWave(0.2, 0.05, 0.05f, 28)).isTrue();
        assertThat(BeatCheck.perhapsWave(0.2, 0.05, 0.05f, 29)).isFalse();
        assertThat(BeatCheck.perhapsWave(0.5, 0.05, 0.05f, 4.5)).isTrue();
        assertThat(BeatCheck.perhapsWave(0.5, 0.05, 0.05f, 4.7)).isFalse();
        assertThat(BeatCheck.perhapsWave(0.5, 0.05, 0.05f, Double.NaN)).isTrue();
        assertThat(BeatCheck.perhapsWave(0.5, 0.08, 0.05f, 1)).isFalse();
        assertThat(BeatCheck.perhapsWave(1.2, 0.05, 0.5f, 0)).isFalse();
    }

    @Test
    void beatsOnWhichTheMethodsDifferLoseConfidenceAndAreSaid() {
        Beats beats = new Beats(
                new double[] {0, 1, 2, 3},
                new float[] {1, 1, 1, 1},
                new float[] {.1f, .1f, .1f, .1f},
                new float[] {.2f, .2f, .2f, .2f},
                new float[] {1, 1, 1, 1});
        float[] ridge = {1, 1, 1, 1};
        float[] crossings = {2, 2, 2, 2};
        float[] calm = new float[4];
        float[] deep = {50, 50, 50, 50};
        List<String> notes = new ArrayList<>();
        BeatCheck apart = BeatCheck.of(beats, ridge, crossings, calm, deep, notes);
        assertThat(apart.agreement()).isZero();
        assertThat(apart.beats().confidence()).containsOnly(0.5f);
        assertThat(notes).singleElement().asString().contains("at only 0 % of the beats");
        notes.clear();
        BeatCheck same = BeatCheck.of(beats, ridge, ridge, calm, deep, notes);
        assertThat(same.agreement()).isEqualTo(1);
        assertThat(same.beats().confidence()).containsOnly(1f);
        assertThat(notes).isEmpty();
    }

    @Test
    void fullScaleIsFoundWhereItIsReachedAndNotElsewhere() {
        Recording calm = swimmer(new MountPose(0, 0, 0, 0), new MountPose(0, 0, 0, 0), 600);
        assertThat(MotionReader.read(calm, MotionSettings.defaults()).notes()).noneMatch(n -> n.contains("full scale"));
        int n = (int) calm.samples().sampleCount();
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        for (Channel axis : calm.samples().channels()) {
            float[] x = new float[n];
            calm.samples().read(axis, 0, n, x, 0);
            columns.put(axis, x);
        }
        float[] y = java.util.Objects.requireNonNull(columns.get(Channel.ACCELERATION_Y));
        for (int second : new int[] {200, 640}) { // two bursts of 3 g cut at 2 g
            for (int i = 0; i < RATE; i++) {
                double v = 3 * Math.sin(2 * Math.PI * 2 * i / RATE);
                y[second * RATE + i] = (float) Math.max(-2, Math.min(2, v));
            }
        }
        Recording cut = new Recording(
                "0".repeat(64), new SampleClock(null, RATE), new MemorySamples(columns), List.of(), List.of());
        MotionReading reading = MotionReader.read(cut, MotionSettings.defaults());
        assertThat(reading.notes())
                .anyMatch(note -> note.contains(
                        "The y axis of the sensor stands at its full scale of 2.00 g for 14 samples in 2 s"))
                .anyMatch(note -> note.contains("full scale of -2.00 g"));
        assertThat(reading.seconds().quality()[200]).isEqualTo(0.5f);
        assertThat(reading.seconds().quality()[640]).isEqualTo(0.5f);
        assertThat(reading.seconds().quality()[400]).isEqualTo(1f);
    }

    /** Re-levelling uses swimming only: a carcass that comes to lie belly up is not turned upright (invented recording). */
    @Test
    void aCarcassLyingBellyUpStaysBellyUp() {
        Scenario base = Scenario.swimmer();
        Scenario.Ending e = base.ending();
        Scenario dies = base.withLogger(base.logger().with(20, 6))
                .withRecovery(null)
                .withEnding(new Scenario.Ending(
                        Course.DIES_LATE,
                        2,
                        5.5,
                        e.declineMin(),
                        0,
                        180,
                        e.sinkMps(),
                        e.riseMps(),
                        1000,
                        e.predatorHz(),
                        e.predatorSwayG(),
                        e.predatorTempC(),
                        e.predatorLagMin(),
                        e.egestedAfterH()));
        SimulatedRecording made = RecordingSimulator.simulate(dies, 11);
        MotionReading reading = MotionReader.read(made.recording(), MotionSettings.defaults());
        int upsideDown = 0;
        int seconds = 0;
        for (int k = (int) (3.5 * 3600); k < 5 * 3600; k++) {
            seconds++;
            upsideDown += Math.abs(reading.seconds().rollDeg()[k]) > MotionSummary.UPSIDE_DOWN_DEG ? 1 : 0;
        }
        assertThat(upsideDown).isGreaterThan(95 * seconds / 100);
        assertThat(MotionSummary.of(reading, 600, 6600).upsideDownS()).isLessThan(60);
    }

    /** 1200 s of level swimming, 1.1 Hz, seen through a package that sits one way and, from {@code shiftS} on, another. */
    private static Recording swimmer(MountPose first, MountPose second, int shiftS) {
        int n = 1200 * RATE;
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        float[][] axes = new float[3][n];
        for (int i = 0; i < n; i++) {
            double[] r = (i < shiftS * RATE ? first : second).rotation();
            double[] body = {0, 0.1 * Math.sin(2 * Math.PI * 1.1 * i / RATE), 1};
            for (int k = 0; k < 3; k++) { // sensor = rotation transposed × body
                axes[k][i] = (float) (r[k] * body[0] + r[3 + k] * body[1] + r[6 + k] * body[2]);
            }
        }
        columns.put(Channel.ACCELERATION_X, axes[0]);
        columns.put(Channel.ACCELERATION_Y, axes[1]);
        columns.put(Channel.ACCELERATION_Z, axes[2]);
        return new Recording(
                "0".repeat(64), new SampleClock(null, RATE), new MemorySamples(columns), List.of(), List.of());
    }
}
