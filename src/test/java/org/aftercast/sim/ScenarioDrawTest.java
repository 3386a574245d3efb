package org.aftercast.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import org.aftercast.sim.ScenarioDraw.Use;
import org.junit.jupiter.api.Test;

class ScenarioDrawTest {

    @Test
    void theSameNumberGivesTheSameScenarioAndUsesStayApart() {
        Set<Long> seeds = new HashSet<>();
        Set<Scenario> scenarios = new HashSet<>();
        for (int i = 0; i < 500; i++) {
            for (Use use : Use.values()) {
                ScenarioDraw.Drawn drawn = ScenarioDraw.draw(DifficultyRange.hard(), use, i);
                assertThat(ScenarioDraw.draw(DifficultyRange.hard(), use, i)).isEqualTo(drawn);
                seeds.add(drawn.seed());
                scenarios.add(drawn.scenario());
            }
        }
        assertThat(seeds).hasSize(1000);
        assertThat(scenarios).hasSize(1000);
    }

    @Test
    void rangesHoldAndEveryCourseComesUp() {
        Map<Course, Integer> courses = new EnumMap<>(Course.class);
        for (DifficultyRange range :
                new DifficultyRange[] {DifficultyRange.plain(), DifficultyRange.hard(), DifficultyRange.extreme()}) {
            for (int i = 0; i < 400; i++) {
                Scenario s = ScenarioDraw.draw(range, Use.TUNING, i).scenario();
                courses.merge(s.ending().course(), 1, Integer::sum);
                assertThat(s.body().cruiseHz()).isBetween(range.lowHz(), range.highHz());
                assertThat(s.body().cruiseSwayG()).isBetween(range.lowSwayG() - 1e-9, range.highSwayG() + 1e-9);
                assertThat(s.sea().bottomDepthM()).isBetween(range.lowBottomM() - 1e-9, range.highBottomM() + 1e-9);
                double white = s.logger().noiseG();
                double nyquist = s.logger().sampleRateHz() / 2;
                double inBand = white * Math.sqrt(Math.min(1, 1.5 * s.body().cruiseHz() / nyquist));
                assertThat(s.body().cruiseSwayG() / inBand)
                        .isBetween(range.lowSignalToNoise() * 0.999, range.highSignalToNoise() * 1.001);
            }
        }
        assertThat(courses).containsOnlyKeys(Course.values());
    }

    @Test
    void shortDrawsRunWhateverTheCourse() {
        int undecidable = 0;
        for (int i = 0; i < 45; i++) {
            Course course = Course.values()[i % Course.values().length];
            Truth truth = ScenarioDraw.draw(DifficultyRange.plain().with(5, 4), Use.TUNING, i, course)
                    .simulate()
                    .truth();
            undecidable += truth.decidable() == Truth.Decidable.NO ? 1 : 0;
            assertThat(truth.decidable() == Truth.Decidable.NO).isEqualTo(truth.undecidableBecause() != null);
        }
        assertThat(undecidable).isLessThan(30);
    }
}
