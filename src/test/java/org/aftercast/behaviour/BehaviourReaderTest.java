package org.aftercast.behaviour;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.aftercast.motion.Beats;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.MotionSettings;
import org.aftercast.motion.SecondTable;
import org.aftercast.sim.Course;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.junit.jupiter.api.Test;

class BehaviourReaderTest {

    private static final BehaviourSettings SET = BehaviourSettings.defaults();

    private static SimulatedRecording simulate(
            Scenario base, Course course, double changeH, double detachH, long seed) {
        Scenario s = base.withLogger(base.logger().with(10, 4))
                .withEnding(base.ending().with(course, changeH, detachH));
        return RecordingSimulator.simulate(s, seed);
    }

    static BehaviourReading read(SimulatedRecording sim, RestsOnBottom rests) {
        MotionReading motion = MotionReader.read(sim.recording(), MotionSettings.defaults());
        BehaviourInputs in = BehaviourInputs.of(
                        sim.recording().durationS(), sim.clock().sampleRateHz())
                .with(rests);
        return BehaviourReader.read(motion, in, SET);
    }

    @Test
    void deckAndDriftAreKeptOut() {
        SimulatedRecording sim = simulate(Scenario.swimmer(), Course.SURVIVES, 1, 3, 4);
        BehaviourReading b = read(sim, RestsOnBottom.NO);
        assertThat(b.release().how()).isEqualTo(Moment.How.FOUND);
        assertThat(b.release().atS()).isCloseTo(sim.truth().releaseS(), within(15.0));
        assertThat(b.detachment().how()).isEqualTo(Moment.How.FOUND);
        assertThat(b.detachment().atS()).isCloseTo(sim.truth().detachS(), within(30.0));
        assertThat(b.bouts().get(0).startS()).isGreaterThanOrEqualTo(b.release().atS());
        assertThat(b.bouts().get(b.bouts().size() - 1).kind()).isEqualTo(BoutKind.AFLOAT);
        assertThat(b.events())
                .allMatch(e -> e.atS() >= b.release().atS()
                        && e.atS() <= b.detachment().atS());
        assertThat(b.still()).isNull();
    }

    @Test
    void givenLimitsAreTakenAsGiven() {
        SimulatedRecording sim = simulate(Scenario.swimmer(), Course.SURVIVES, 1, 3, 4);
        MotionReading motion = MotionReader.read(sim.recording(), MotionSettings.defaults());
        BehaviourReading b = BehaviourReader.read(
                motion, BehaviourInputs.of(sim.recording().durationS(), 10).with(500.0, 9000.0), SET);
        assertThat(b.release().atS()).isEqualTo(500);
        assertThat(b.release().how()).isEqualTo(Moment.How.GIVEN);
        assertThat(b.detachment().atS()).isEqualTo(9000);
    }

    @Test
    void boutsAreInOrderAndTheSameTwice() {
        SimulatedRecording sim = simulate(Scenario.bottomRester(), Course.SURVIVES, 1, 9, 6);
        BehaviourReading b = read(sim, RestsOnBottom.YES);
        for (int i = 0; i < b.bouts().size(); i++) {
            assertThat(b.bouts().get(i).endS()).isGreaterThan(b.bouts().get(i).startS());
            assertThat(b.bouts().get(i).probability()).isBetween(0.0, 1.0);
            if (i > 0) {
                assertThat(b.bouts().get(i).startS())
                        .isGreaterThanOrEqualTo(b.bouts().get(i - 1).endS());
            }
        }
        assertThat(b.bouts()).anyMatch(bout -> bout.kind() == BoutKind.RESTING);
        assertThat(read(sim, RestsOnBottom.YES).bouts()).isEqualTo(b.bouts());
        assertThat(b.detachment().how()).isEqualTo(Moment.How.NOT_SEEN);
    }

    /**
     * Sampled at 5 Hz, an animal that beats at 1.8 Hz has fewer than three samples a beat: motion refuses its beats, and that
     * must not read as death. Simulated.
     */
    @Test
    void beatsTooFastForTheSamplingAreNotStillness() {
        Scenario base = Scenario.swimmer();
        Scenario.Body b = base.body();
        Scenario.Body fast = new Scenario.Body(
                0.6,
                b.breathing(),
                1.8,
                0.15,
                b.wanderShare(),
                b.wanderTimeS(),
                b.beatJitterShare(),
                b.harmonic2Share(),
                b.harmonic3Share(),
                b.rollLeakShare(),
                b.speedMps(),
                b.gillHz(),
                b.gillG());
        SimulatedRecording sim = RecordingSimulator.simulate(
                base.withBody(fast)
                        .withLogger(base.logger().with(5, 4))
                        .withEnding(base.ending().with(Course.SURVIVES, 1, 3.4)),
                8);
        MotionReading motion = MotionReader.read(sim.recording(), MotionSettings.defaults());
        assertThat(motion.beatRefusal()).isNotNull();
        BehaviourReading read = BehaviourReader.read(
                motion,
                BehaviourInputs.of(sim.recording().durationS(), 5)
                        .with(RestsOnBottom.NO)
                        .with(sim.truth().releaseS(), null),
                SET);
        assertThat(read.bouts()).noneMatch(bout -> bout.kind() == BoutKind.MOTIONLESS);
        assertThat(read.still()).isNull();
        assertThat(read.notes()).anyMatch(note -> note.contains("movement of the body stands in"));
    }

    /** Two tides and noise: what the tide explains is not movement (definition of the residual, by hand). */
    @Test
    void theTideIsTakenOut() {
        Random random = new Random(1);
        double[] lying = new double[600];
        double[] moving = new double[600];
        for (int i = 0; i < 600; i++) {
            double tide = 2 * Math.cos(2 * Math.PI * i / 60.0 / 12.4206 + 1);
            lying[i] = 30 + tide + 0.05 * random.nextGaussian();
            moving[i] = 30 + tide + (i / 20 % 2) * 3;
        }
        assertThat(Tide.residualSpreadM(lying, 60)).isCloseTo(0.05, within(0.01));
        assertThat(Tide.residualSpreadM(moving, 60)).isGreaterThan(1.2);
        assertThat(Tide.residualSpreadM(new double[5], 60)).isNaN();
    }

    @Test
    void emptyMissingAndTinyTables() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> BehaviourReader.read(table(0), BehaviourInputs.of(1, 10), SET))
                .withMessageContaining("empty");
        for (int seconds : new int[] {1, 30, 70, 4000}) {
            BehaviourReading b = BehaviourReader.read(table(seconds), BehaviourInputs.of(seconds, 10), SET);
            assertThat(b.events()).isEmpty();
            assertThat(b.recovery().headline().status()).isEqualTo(Recovery.Status.NOT_ENOUGH_DATA);
        }
    }

    /** A table in which nothing is known. */
    private static MotionReading table(int seconds) {
        float[][] c = new float[13][seconds];
        for (float[] column : c) {
            Arrays.fill(column, Float.NaN);
        }
        SecondTable s =
                new SecondTable(c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8], c[9], c[10], c[11], c[12]);
        return new MotionReading(
                MotionSettings.defaults(),
                0.2,
                3,
                "test",
                0.3,
                Double.NaN,
                List.of(),
                new Beats(new double[0], new float[0], new float[0], new float[0], new float[0]),
                s,
                List.of(),
                null,
                Double.NaN);
    }

    @Test
    void badInputsAreNamed() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> BehaviourInputs.of(-1, 10))
                .withMessageContaining("durationS");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> BehaviourInputs.of(100, 10).with(200.0, null))
                .withMessageContaining("releaseS");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> BehaviourInputs.of(100, 10).with(50.0, 20.0))
                .withMessageContaining("detachS");
    }

    @Test
    void theSunIsUpBetweenRiseAndSet() {
        SunTimes sun = new SunTimes(new double[] {1000, 87400}, new double[] {40000});
        assertThat(sun.isUp(0)).isFalse();
        assertThat(sun.isUp(2000)).isTrue();
        assertThat(sun.isUp(50000)).isFalse();
        assertThat(sun.isUp(90000)).isTrue();
    }
}
