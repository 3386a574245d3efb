package org.aftercast.evaluation;

import static org.assertj.core.api.Assertions.assertThat;

import org.aftercast.evaluation.Generator.Purpose;
import org.aftercast.sim.ScenarioDraw;
import org.junit.jupiter.api.Test;

/** Invented recording with known truth (a tuning scenario). */
class FrameOfEatenAnimalTest {

    /**
     * An animal that is swallowed after some hours of swimming: the other body's swimming, in another pose along another axis,
     * must not tilt the frame of the animal's own. With all swimming in the frame pitch is off by 8° and roll by 17°.
     */
    @Test
    void theOtherBodysSwimmingStaysOutOfTheFrame() {
        FateCase eaten = FateCase.of(
                new SimGenerator(ScenarioDraw.Use.TUNING).make(Purpose.WHOLE, 139), FateCase.Known.AS_IN_A_STUDY);
        assertThat(eaten.trueCall()).isEqualTo("eaten");
        assertThat(eaten.beats().pitchRmsDeg()).isLessThan(2);
        assertThat(eaten.beats().rollRmsDeg()).isLessThan(2);
    }
}
