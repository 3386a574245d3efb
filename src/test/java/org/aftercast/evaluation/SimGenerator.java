package org.aftercast.evaluation;

import java.util.Map;
import java.util.SplittableRandom;
import org.aftercast.sim.Course;
import org.aftercast.sim.DifficultyRange;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.ScenarioDraw;
import org.aftercast.sim.SimulatedRecording;

/** The project's own simulator, drawing from the scenarios kept for testing (or, to tune, from the others). */
public final class SimGenerator implements Generator {

    private static final int OFFSET = 10_000;

    /** Each purpose has numbers of its own, so that no scenario serves two. */
    private static final Map<Purpose, Integer> FIRST = Map.of(
            Purpose.BEATS, 1,
            Purpose.WHOLE, 2,
            Purpose.HARD, 3,
            Purpose.MOUNT_SHIFT, 4,
            Purpose.MOUNT_STILL, 5,
            Purpose.RECOVERY, 6,
            Purpose.BURSTS_2, 7,
            Purpose.BURSTS_10, 8,
            Purpose.BURSTS_50, 9);

    private final ScenarioDraw.Use use;

    /** Scenarios for testing. */
    public SimGenerator() {
        this(ScenarioDraw.Use.TESTING);
    }

    SimGenerator(ScenarioDraw.Use use) {
        this.use = use;
    }

    ScenarioDraw.Use use() {
        return use;
    }

    @Override
    public String name() {
        return "sim (" + (use == ScenarioDraw.Use.TESTING ? "testing" : "tuning") + " scenarios)";
    }

    @Override
    public SimulatedRecording make(Purpose purpose, int index) {
        return drawn(purpose, index).simulate();
    }

    private ScenarioDraw.Drawn drawn(Purpose purpose, int index) {
        long number = (long) OFFSET * FIRST.getOrDefault(purpose, 0) + index;
        return switch (purpose) {
            case BEATS -> beats(number);
            case WHOLE -> ScenarioDraw.draw(DifficultyRange.plain(), use, number);
            case HARD -> ScenarioDraw.draw(DifficultyRange.hard(), use, number);
            case MOUNT_SHIFT -> mount(number, true);
            case MOUNT_STILL -> mount(number, false);
            case RECOVERY -> recovery(number);
            case BURSTS_2 -> bursts(number, 2);
            case BURSTS_10 -> bursts(number, 10);
            case BURSTS_50 -> bursts(number, 50);
        };
    }

    /** An hour of a well animal that mostly swims: beats are what is asked about. */
    private ScenarioDraw.Drawn beats(long number) {
        ScenarioDraw.Drawn drawn = ScenarioDraw.draw(DifficultyRange.extreme(), use, number, Course.SURVIVES);
        Scenario s = drawn.scenario();
        return new ScenarioDraw.Drawn(
                s.withHabits(s.habits().withRest(Math.min(0.3, s.habits().restShare()), 8))
                        .withHandling(new Scenario.Handling(2, 15, 1, 0.6, 4)),
                drawn.seed());
    }

    private ScenarioDraw.Drawn mount(long number, boolean shifts) {
        double hours = shifts ? 4 : 24;
        ScenarioDraw.Drawn drawn =
                ScenarioDraw.draw(DifficultyRange.plain().with(20, hours), use, number, Course.SURVIVES);
        Scenario s = drawn.scenario();
        Scenario.Mount m = s.mount();
        boolean pitch = number % 2 == 0;
        double step = number % 4 < 2 ? 20 : -20;
        return new ScenarioDraw.Drawn(
                s.withMount(
                        shifts
                                ? m.withShift(2, 0, pitch ? step : 0, pitch ? 0 : step)
                                : new Scenario.Mount(
                                        m.yawDeg(),
                                        m.pitchDeg(),
                                        m.rollDeg(),
                                        null,
                                        0,
                                        0,
                                        0,
                                        m.floatPitchDeg(),
                                        m.floatRollDeg())),
                drawn.seed());
    }

    /**
     * Records of 12 and 24 h; length over t80 evenly below 1, from 1 to 2 and above 2; one animal in six was never
     * disturbed.
     */
    private ScenarioDraw.Drawn recovery(long number) {
        double attachedH = number / 6 % 2 == 0 ? 12 : 24;
        double hours = attachedH + 0.5;
        ScenarioDraw.Drawn drawn =
                ScenarioDraw.draw(DifficultyRange.plain().with(8, hours), use, number, Course.SURVIVES);
        Scenario s = drawn.scenario();
        SplittableRandom random = new SplittableRandom(drawn.seed());
        double ratio = new double[] {
                    0.35 + 0.6 * random.nextDouble(), 1 + random.nextDouble(), 2 + 10 * random.nextDouble()
                }
                [(int) (number % 3)];
        boolean never = number % 6 == 5;
        Scenario.Body b = s.body();
        Scenario.Body swims = new Scenario.Body(
                b.lengthM(),
                Scenario.Breathing.MUST_SWIM,
                b.cruiseHz(),
                b.cruiseSwayG(),
                b.wanderShare(),
                b.wanderTimeS(),
                b.beatJitterShare(),
                b.harmonic2Share(),
                b.harmonic3Share(),
                b.rollLeakShare(),
                b.speedMps(),
                b.gillHz(),
                b.gillG());
        Scenario.Recovery.Shape shape =
                number % 5 == 0 ? Scenario.Recovery.Shape.STRAIGHT : Scenario.Recovery.Shape.EXPONENTIAL;
        double size = 1.15 + 0.35 * random.nextDouble();
        return new ScenarioDraw.Drawn(
                s.withBody(swims)
                        .withHandling(new Scenario.Handling(6, 15, 1, 0.6, 0))
                        .withEnding(s.ending().with(Course.SURVIVES, 0, attachedH))
                        .withRecovery(
                                never
                                        ? null
                                        : new Scenario.Recovery(
                                                shape,
                                                attachedH / ratio,
                                                random.nextInt(5) == 0 ? 1.6 - size * 0.6 : size,
                                                0.9 + 0.4 * random.nextDouble(),
                                                1.5)),
                drawn.seed());
    }

    private ScenarioDraw.Drawn bursts(long number, double perDay) {
        ScenarioDraw.Drawn drawn =
                ScenarioDraw.draw(DifficultyRange.plain().with(20, 24), use, number, Course.SURVIVES);
        return new ScenarioDraw.Drawn(
                drawn.scenario().withHabits(drawn.scenario().habits().withBurstsPerDay(perDay)), drawn.seed());
    }
}
