package org.aftercast.fate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumSet;
import java.util.List;
import org.aftercast.behaviour.BehaviourInputs;
import org.aftercast.behaviour.BehaviourReader;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.BehaviourSettings;
import org.aftercast.behaviour.Moment;
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

    /** Each story has its own likeliest ending, and the endings share out what the four fates have. Simulated. */
    @ParameterizedTest
    @CsvSource({
        "false, SURVIVES, 2, 5.2, ALIVE_AT_DETACHMENT",
        "false, SURVIVES, 2, 9, ALIVE_AT_RECORD_END",
        "false, SHED_EARLY, 2.5, 5.2, SHED_EARLY",
        "false, DIES_AT_ONCE, 2, 5.2, DIED_AT_RELEASE",
        "false, DIES_ON_THE_WAY_DOWN, 2, 5.2, DIED_ON_THE_WAY_DOWN",
        "true, DIES_LATE, 2.5, 5.2, DIED_LATER",
        "false, SWALLOWED_BY_WARM, 2.5, 5.2, SWALLOWED_BY_WARM",
        "false, SWALLOWED_BY_COLD, 2.5, 5.2, SWALLOWED_BY_COLD",
        "false, BITTEN, 2.5, 5.2, BITTEN",
    })
    void eachStoryHasItsEnding(boolean rests, Course course, double changeH, double detachH, Ending.Kind expected) {
        SimulatedRecording sim = simulate(rests, course, changeH, detachH);
        double releaseS = sim.truth().releaseS();
        BehaviourReading b = BehaviourReader.read(
                MotionReader.read(sim.recording(), MotionSettings.defaults()),
                BehaviourInputs.of(sim.recording().durationS(), 10)
                        .with(rests ? RestsOnBottom.YES : RestsOnBottom.NO)
                        .with(releaseS, null),
                BehaviourSettings.defaults());
        FateReading f = FateReader.read(b, FateInputs.planned(releaseS + detachH * 3600), SET);
        assertThat(f.endings().get(0).kind()).as(f.endings().toString()).isEqualTo(expected);
        assertThat(f.endings().stream().mapToDouble(Ending::probability).sum()).isBetween(0.95, 1 + 1e-9);
        assertThat(f.endings().stream()
                        .filter(e -> e.kind().of() == FateCall.DIED)
                        .mapToDouble(Ending::probability)
                        .sum())
                .isCloseTo(f.probabilities().died(), within(0.015));
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
        for (Sign.What what : Sign.What.values()) { // the value alone
            String a = Sentences.say(new Sign(what, 0.4, 0.7, 1, 0, 7200), Turning.Kind.STILL);
            String b = Sentences.say(new Sign(what, 9.5, 0.7, 1, 0, 7200), Turning.Kind.STILL);
            assertThat(a).as(what.name()).isNotEqualTo(b);
        }
        assertThat(FateReader.swamToTheEnd(7200, Moment.How.FOUND))
                .isEqualTo("It still swam 2.0 h before the package came off.")
                .isNotEqualTo(FateReader.swamToTheEnd(3600, Moment.How.FOUND));
        assertThat(FateReader.swamToTheEnd(10, Moment.How.NOT_SEEN)).isEqualTo("It still swam when the record ends.");
        assertThat(Sentences.say(new Sign(Sign.What.SANK, 23, 0.31, 1, 0, 60), Turning.Kind.STILL))
                .contains("23 m")
                .contains("0.31 m/s");
    }

    /** Each number alone carries its sentence: the first changed, the second changed where it is said. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "STILL_HOURS | 8.7 | 0 | It made no tailbeat during the last 8.7 h; it had not rested before.",
                "STILL_HOURS | 0.5 | 1.2 | It made no tailbeat during the last 30 min; the longest rest before that lasted 72 min.",
                "MOTIONLESS_HOURS | 3 | 0 | Nothing moved during the last 3.0 h (sampled too slowly to see tailbeats); it had not rested before.",
                "QUIETER_THAN_REST | 1.99 | 0.01 | Its movement was 199 % of what it was in earlier rests: livelier than when it rested and breathed.",
                "QUIETER_THAN_REST | 0.5 | 0.01 | Its movement was 50 % of what it was in earlier rests: quieter than when it rested and breathed.",
                "POSE_STEP | 2 | 9 | The package's mean pose hardly changed (2°; it varied by 9° before).",
                "POSE_STEP | 71 | 9 | The package's mean pose turned by 71° and stayed so (it varied by 9° before).",
                "BEAT_STEP | -0.446 | 0.16 | Tailbeat frequency fell to 0.64 times what it was (minutes varied by 16 % before).",
                "BEAT_STEP | 0.01 | 0.1 | Tailbeat frequency stayed at 1.01 times what it was (minutes varied by 10 % before).",
                "MOVED_LATER | 0.2 | 74 | The package was moved again for less than a minute, 74° from the pose in which the animal swam.",
                "WARMER_THAN_BEFORE | 12.3 | 16.1 | The package was 12.3 °C warmer than the warmest water before (16.1 °C).",
                "CAME_TO_SITE_DEPTH | 33.4 | 34 | It came to lie at 33 m; the water at the release is 34 m deep.",
                "POSE_WANDERS | 12 | 0.4 | Though no tailbeat was seen, its pose kept turning: by 12° from one ten minutes to the next (at most 0.4° in earlier rests).",
            })
    void aSentenceSaysItsNumbers(Sign.What what, double value, double reference, String sentence) {
        assertThat(Sentences.say(new Sign(what, value, reference, 1, 0, 7200), Turning.Kind.STILL))
                .isEqualTo(sentence);
    }

    /** The plan's and the sightings' sentences too. */
    @Test
    void theOtherSentencesComeFromTheirNumbersToo() {
        SimulatedRecording sim = simulate(false, Course.SHED_EARLY, 2.5, 5.2);
        BehaviourReading b = behaviour(sim, RestsOnBottom.NO);
        double off = b.detachment().atS();
        assertThat(cameOff(FateReader.read(b, FateInputs.planned(off + 7200), SET)))
                .startsWith("The package came off 2.0 h before it was meant to");
        assertThat(cameOff(FateReader.read(b, FateInputs.planned(off + 10_800), SET)))
                .startsWith("The package came off 3.0 h before it was meant to");
        assertThat(cameOff(FateReader.read(b, FateInputs.planned(off - 1200), SET)))
                .startsWith("The package came off 20 min after it was meant to");
        assertThat(cameOff(FateReader.read(b, FateInputs.none(), SET))).contains("is not known");
        for (Sighting.What what : Sighting.What.values()) {
            FateReading f = FateReader.read(
                    b, new FateInputs(null, null, List.of(new Sighting(what, null, "note 7")), null), SET);
            assertThat(f.evidence().stream().map(Evidence::sentence))
                    .contains("People noted that " + what.words() + " (note 7).");
        }
    }

    private static String cameOff(FateReading f) {
        return f.evidence().stream()
                .filter(e -> e.seen().equals("CAME_OFF"))
                .findFirst()
                .orElseThrow()
                .sentence();
    }

    @Test
    void theOthersOfAStudyAreTheYardstick() {
        FateInputs.Yardstick y = FateInputs.Yardstick.of(new double[] {1, 1.1, 0.9, 1.05, 0.95});
        assertThat(y).isNotNull();
        assertThat(FateReader.among(1.02, y)).contains("as the others do").contains("of 5 other animals is 1.00 Hz");
        assertThat(FateReader.among(2, y)).contains("faster than nearly all others");
        assertThat(FateReader.among(Double.NaN, y)).isEmpty();
        assertThat(FateInputs.Yardstick.of(new double[] {1, 2})).isNull();
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
