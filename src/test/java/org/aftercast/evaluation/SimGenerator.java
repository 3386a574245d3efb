package org.aftercast.evaluation;

import org.aftercast.sim.Course;
import org.aftercast.sim.DifficultyRange;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.ScenarioDraw;
import org.aftercast.sim.SimulatedRecording;

/** The project's own simulator, drawing from the scenarios kept for testing (or, to tune, from the others). */
public final class SimGenerator implements Generator {

    private static final int OFFSET = 10_000;

    private final ScenarioDraw.Use use;

    /** Scenarios for testing. */
    public SimGenerator() {
        this(ScenarioDraw.Use.TESTING);
    }

    SimGenerator(ScenarioDraw.Use use) {
        this.use = use;
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
        long number = (long) OFFSET * purpose.name().length() * 7 + index;
        return switch (purpose) {
            case BEATS -> beats(number);
            case WHOLE -> ScenarioDraw.draw(DifficultyRange.plain(), use, number);
            case HARD -> ScenarioDraw.draw(DifficultyRange.hard(), use, number);
            case MOUNT_SHIFT -> mount(number, true);
            case MOUNT_STILL -> mount(number, false);
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
}
