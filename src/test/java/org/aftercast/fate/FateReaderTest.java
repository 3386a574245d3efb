package org.aftercast.fate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumSet;
import java.util.List;
import org.aftercast.behaviour.BehaviourInputs;
import org.aftercast.behaviour.BehaviourReader;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.BehaviourSettings;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.behaviour.Sign;
import org.aftercast.behaviour.Turning;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionSettings;
import org.aftercast.recording.Channel;
import org.aftercast.sim.Course;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FateReaderTest {

    private static final FateSettings SET = FateSettings.defaults();

    private static SimulatedRecording simulate(boolean rests, Course course, double changeH, double detachH) {
        Scenario base = rests ? Scenario.bottomRester() : Scenario.swimmer();
        return RecordingSimulator.simulate(
                base.withLogger(base.logger().with(10, 6))
                        .withEnding(base.ending().with(course, changeH, detachH)),
                21);
    }

    private static BehaviourReading behaviour(SimulatedRecording sim, RestsOnBottom rests) {
        return BehaviourReader.read(
                MotionReader.read(sim.recording(), MotionSettings.defaults()),
                BehaviourInputs.of(sim.recording().durationS(), 10).with(rests),
                BehaviourSettings.defaults());
    }

    /** Simulated; the truth is the simulator's, which shares no code with the reader. */
    @ParameterizedTest
    @CsvSource({
        "false, SURVIVES, 2, 5.2, SURVIVED",
        "true, SURVIVES, 2, 5.2, SURVIVED",
        "false, DIES_AT_ONCE, 0, 5.2, DIED",
        "false, DIES_LATE, 2, 5.2, DIED",
        "true, DIES_LATE, 2, 5.2, DIED",
        "false, SWALLOWED_BY_WARM, 2, 5.2, EATEN",
        "true, SWALLOWED_BY_COLD, 2, 9, EATEN",
        "false, SHED_EARLY, 3, 5.2, SHED",
    })
    void theClearCases(boolean rests, Course course, double changeH, double detachH, FateCall expected) {
        SimulatedRecording sim = simulate(rests, course, changeH, detachH);
        BehaviourReading b = behaviour(sim, rests ? RestsOnBottom.YES : RestsOnBottom.NO);
        FateReading f = FateReader.read(b, FateInputs.planned(sim.truth().releaseS() + detachH * 3600), SET);
        assertThat(f.call()).as(f.summary()).isEqualTo(expected);
        assertThat(f.evidence()).isNotEmpty();
        Double change = sim.truth().changeS();
        ChangeTime found = f.changeAtS();
        if (change != null && found != null) {
            assertThat(found.midS()).isCloseTo(change, within(600.0));
        }
    }

    /** The same without a depth channel; the release is known, as in a study. Simulated. */
    @ParameterizedTest
    @CsvSource({
        "false, SURVIVES, 2, 5.2, SURVIVED, PLANNED_DETACHMENT",
        "true, SURVIVES, 2, 9, SURVIVED, LOGGER_STOPPED",
        "false, DIES_LATE, 2, 5.2, DIED, PLANNED_DETACHMENT",
        "true, SWALLOWED_BY_COLD, 2, 9, EATEN, LOGGER_STOPPED",
        "false, SHED_EARLY, 3, 5.2, SHED, SHED_EARLY",
        "true, SHED_EARLY, 3, 5.2, SHED, SHED_EARLY",
    })
    void withoutDepthPoseAndWavesTell(
            boolean rests, Course course, double changeH, double detachH, FateCall expected, RecordEnd end) {
        Scenario base = rests ? Scenario.bottomRester() : Scenario.swimmer();
        SimulatedRecording sim = RecordingSimulator.simulate(
                base.withLogger(base.logger().with(10, 6).withChannels(EnumSet.of(Channel.TEMPERATURE)))
                        .withEnding(base.ending().with(course, changeH, detachH)),
                22);
        double releaseS = sim.truth().releaseS();
        BehaviourReading b = BehaviourReader.read(
                MotionReader.read(sim.recording(), MotionSettings.defaults()),
                BehaviourInputs.of(sim.recording().durationS(), 10)
                        .with(rests ? RestsOnBottom.YES : RestsOnBottom.NO)
                        .with(releaseS, null),
                BehaviourSettings.defaults());
        FateReading f = FateReader.read(b, FateInputs.planned(releaseS + detachH * 3600), SET);
        assertThat(f.call()).as(f.summary()).isEqualTo(expected);
        assertThat(f.recordEnd()).as(b.detachment().note()).isEqualTo(end);
        Double off = sim.truth().detachS();
        if (off != null) {
            assertThat(b.detachment().atS()).isCloseTo(off, within(180.0));
        }
    }

    /** Change a number and the sentence changes. */
    @Test
    void sentencesComeFromTheNumbers() {
        for (Sign.What what : Sign.What.values()) {
            String a = Sentences.say(new Sign(what, 0.4, 0.7, 1, 0, 7200), Turning.Kind.STILL);
            String b = Sentences.say(new Sign(what, 120.5, 3.3, 1, 0, 36000), Turning.Kind.STILL);
            assertThat(a).as(what.name()).isNotEqualTo(b).endsWith(".");
            assertThat(a + b).doesNotContain("NaN").doesNotContain("null");
        }
        assertThat(Sentences.say(new Sign(Sign.What.SANK, 23, 0.31, 1, 0, 60), Turning.Kind.STILL))
                .contains("23 m")
                .contains("0.31 m/s");
    }

    @Test
    void whatPeopleSawShiftsTheOddsByTheStatedAmount() {
        SimulatedRecording sim = simulate(false, Course.SURVIVES, 2, 5.2);
        BehaviourReading b = behaviour(sim, RestsOnBottom.NO);
        FateReading without = FateReader.read(b, FateInputs.none(), SET);
        FateReading with = FateReader.read(
                b,
                new FateInputs(null, null, List.of(new Sighting(Sighting.What.TOOTH_MARKS, null, "photo 3")), null),
                SET);
        double shift = Math.log(with.probabilities().eaten()
                        / (with.probabilities().survived()
                                + with.probabilities().shed()))
                - Math.log(without.probabilities().eaten()
                        / (without.probabilities().survived()
                                + without.probabilities().shed()));
        assertThat(shift)
                .isCloseTo(SET.sightingOdds().get(Sighting.What.TOOTH_MARKS).eaten(), within(1e-9));
        assertThat(with.recordOnly()).isEqualTo(without.probabilities());
        assertThat(with.evidence())
                .anyMatch(e ->
                        e.source() == Evidence.Source.PEOPLE && e.sentence().contains("tooth marks"));
    }

    /** An animal that can rest and lies still, upright, at the end is not called dead for that. */
    @Test
    void immobilityAloneIsNotDeath() {
        SimulatedRecording sim = simulate(true, Course.SURVIVES, 2, 9);
        BehaviourReading b = behaviour(sim, RestsOnBottom.YES);
        Turning still = new Turning(
                Turning.Kind.STILL,
                9000,
                8900,
                9100,
                21600,
                List.of(new Sign(Sign.What.STILL_HOURS, 30, 0.5, 1.5, 9000, 21600)));
        BehaviourReading lying = new BehaviourReading(
                b.settings(),
                b.inputs(),
                b.release(),
                b.detachment(),
                b.afloatFromS(),
                b.floatPoseStepDeg(),
                b.riseMps(),
                b.bouts(),
                b.events(),
                b.burstThreshold(),
                b.falseBurstsPerDay(),
                b.recovery(),
                b.minutes(),
                b.normal(),
                still,
                null,
                b.lastOwnBeatS(),
                b.notes());
        FateReading f = FateReader.read(lying, FateInputs.none(), SET);
        assertThat(f.call()).isNotEqualTo(FateCall.DIED);
    }
}
