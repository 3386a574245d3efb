package org.aftercast.evaluation;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.aftercast.evaluation.Generator.Purpose;
import org.aftercast.sim.ScenarioDraw;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A fixed small part of {@code ./evaluate}, on scenarios set aside for tuning: it notices a detector that broke, it does
 * not measure accuracy. The bounds are wide for so few recordings; the figures stand in docs/evaluation.
 */
class EvaluationSmallTest {

    private final SimGenerator generator = new SimGenerator(ScenarioDraw.Use.TUNING);

    @Test
    void beatsOfAFewRecordings() {
        List<MotionParts.BeatCase> cases = MotionParts.pick(
                MotionParts.beatCases(generator, Purpose.BEATS, 16),
                c -> c.samplesPerBeat() >= 4 && c.signalToNoise() >= 6 && !c.refused());
        assertThat(cases).hasSizeGreaterThan(6);
        double f1 = cases.stream().mapToDouble(c -> c.score().f1()).average().orElse(0);
        double bias = cases.stream()
                .mapToDouble(c -> Math.abs(c.score().frequencyBias()))
                .average()
                .orElse(1);
        assertThat(f1).isGreaterThan(0.96);
        assertThat(bias).isLessThan(0.01);
    }

    @Test
    void fatesOfAFewRecordings() {
        List<FateCase> cases = FateParts.cases(generator, Purpose.WHOLE, 16, FateCase.Known.AS_IN_A_STUDY);
        List<FateCase> told = MotionParts.pick(cases, FateCase::decidable);
        assertThat(told).hasSizeGreaterThan(8);
        long right = told.stream().filter(c -> c.wrongCall() == null).count();
        assertThat((double) right / told.size()).isGreaterThan(0.7);
        long deadSurvivors = cases.stream()
                .filter(c -> c.trueCall().equals("survived") && c.call().equals("died"))
                .count();
        assertThat(deadSurvivors).isLessThanOrEqualTo(1);
        double seconds =
                (double) cases.stream().mapToInt(FateCase::secondsRight).sum()
                        / cases.stream().mapToInt(FateCase::secondsScored).sum();
        assertThat(seconds).isGreaterThan(0.85);
    }

    /** Another person's generator, named on the command line, is measured like the project's own. */
    @Test
    void anotherGeneratorIsPluggedInByItsClassName(@TempDir Path out) throws Exception {
        Evaluation.main(new String[] {
            "--generator", PlainGenerator.class.getName(), "--share", "0.02", "--out", out.toString(), "fates"
        });
        assertThat(out.resolve("fates.md"))
                .content()
                .contains("from the plain example generator;")
                .contains("| recordings | 4 |")
                .contains("| survived | 2 | 0 | 0 | 0 | 0 |")
                .contains("| died | 0 | 2 | 0 | 0 | 0 |")
                .contains("![Stated probability against how often it came true](fates-reliability.svg)");
        assertThat(out.resolve("fates-reliability.svg")).content().contains("simulated, 4 recordings</title>");
    }

    @Test
    void everyPartMakesAPage() {
        for (String part : List.of("mount", "bursts", "recovery")) {
            assertThat(Evaluation.page(part, generator, 0.001).text())
                    .contains("*Simulated.*")
                    .contains("| --- |");
        }
    }

    @Test
    void beatsScoredAgainstThemselvesAreAllRight() {
        org.aftercast.sim.Truth truth = generator.make(Purpose.BEATS, 3).truth();
        org.aftercast.motion.Beats same = new org.aftercast.motion.Beats(
                truth.beatStartS(),
                truth.beatPeriodS(),
                truth.beatAmplitudeG(),
                truth.beatAmplitudeG(),
                truth.beatAmplitudeG());
        BeatScore score = BeatScore.of(truth, same);
        assertThat(score.f1()).isEqualTo(1);
        assertThat(score.inPhase()).isGreaterThan(0.999);
        // Another convention of "start", half a beat later, scores the same.
        double[] later = truth.beatStartS().clone();
        for (int i = 0; i < later.length; i++) {
            later[i] += 0.5 * truth.beatPeriodS()[i];
        }
        BeatScore shifted = BeatScore.of(
                truth,
                new org.aftercast.motion.Beats(
                        later,
                        truth.beatPeriodS(),
                        truth.beatAmplitudeG(),
                        truth.beatAmplitudeG(),
                        truth.beatAmplitudeG()));
        assertThat(shifted.f1()).isGreaterThan(0.97);
        // Half of the beats missing: recall falls to a half.
        int n = truth.beatStartS().length / 2;
        BeatScore half = BeatScore.of(
                truth,
                new org.aftercast.motion.Beats(
                        java.util.Arrays.copyOf(truth.beatStartS(), n),
                        java.util.Arrays.copyOf(truth.beatPeriodS(), n),
                        java.util.Arrays.copyOf(truth.beatAmplitudeG(), n),
                        java.util.Arrays.copyOf(truth.beatAmplitudeG(), n),
                        java.util.Arrays.copyOf(truth.beatAmplitudeG(), n)));
        assertThat(half.f1()).isBetween(0.55, 0.75);
    }
}
