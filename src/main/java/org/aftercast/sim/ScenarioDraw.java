package org.aftercast.sim;

import java.time.Instant;
import org.aftercast.sim.Scenario.Breathing;
import org.jspecify.annotations.Nullable;

/**
 * Draws random scenarios. The unit square of length, beat, noise, waves and depth is cut like a chess board, five
 * dimensions of four cells: {@link Use#TUNING} draws from the white cells, {@link Use#TESTING} from the black. So no
 * combination of scenario parameters that was seen while tuning comes back in a test, and no seed does either.
 */
public final class ScenarioDraw {

    private static final double G = 9.80665;
    private static final int CELLS = 4;

    private ScenarioDraw() {}

    /** What a drawn scenario is for. */
    public enum Use {
        /** For setting thresholds and settings. */
        TUNING,
        /** For accuracy tables only. */
        TESTING
    }

    /**
     * A scenario and the seed to simulate it with.
     *
     * @param scenario everything physical
     * @param seed for {@link RecordingSimulator#simulate}
     */
    public record Drawn(Scenario scenario, long seed) {

        /** Simulates it. */
        public SimulatedRecording simulate() {
            return RecordingSimulator.simulate(scenario, seed);
        }
    }

    /** Draws scenario number {@code index} with a random course. */
    public static Drawn draw(DifficultyRange range, Use use, long index) {
        return draw(range, use, index, null);
    }

    /**
     * Draws scenario number {@code index}.
     *
     * @param range from how far
     * @param use tuning or testing
     * @param index any number; the same one gives the same scenario
     * @param course the story, or null to draw it too
     */
    public static Drawn draw(DifficultyRange range, Use use, long index, @Nullable Course course) {
        long seed = Dice.mix(use == Use.TUNING ? 0x7A11D0L : 0x1E57EDL, index);
        Dice dice = new Dice(Dice.mix(seed, 77));
        double[] u = new double[5];
        int parity;
        do {
            parity = 0;
            for (int k = 0; k < u.length; k++) {
                u[k] = dice.uniform();
                parity += (int) (u[k] * CELLS);
            }
        } while (parity % 2 != (use == Use.TUNING ? 0 : 1));
        return new Drawn(build(range, dice, u, course == null ? anyCourse(dice) : course, index), seed);
    }

    private static Course anyCourse(Dice dice) {
        double u = dice.uniform();
        if (u < 0.42) {
            return Course.SURVIVES;
        } else if (u < 0.48) {
            return Course.DIES_AT_ONCE;
        } else if (u < 0.53) {
            return Course.DIES_ON_THE_WAY_DOWN;
        } else if (u < 0.66) {
            return Course.DIES_LATE;
        } else if (u < 0.71) {
            return Course.DIES_THEN_SCAVENGED;
        } else if (u < 0.77) {
            return Course.SWALLOWED_BY_WARM;
        } else if (u < 0.85) {
            return Course.SWALLOWED_BY_COLD;
        } else if (u < 0.88) {
            return Course.BITTEN;
        }
        return Course.SHED_EARLY;
    }

    private static double log(double low, double high, double u) {
        return Math.exp(Math.log(low) + u * (Math.log(high) - Math.log(low)));
    }

    private static double inside(double low, double high, double v) {
        return Math.max(low, Math.min(high, v));
    }

    private static Scenario build(DifficultyRange range, Dice dice, double[] u, Course course, long index) {
        double lengthM;
        double hz;
        double swayG;
        if (range.beat() == DifficultyRange.BeatFrom.LENGTH) {
            lengthM = log(0.6, 2.2, u[0]);
            hz = inside(range.lowHz(), range.highHz(), log(0.72, 1.4, u[1]) / lengthM);
            double placeM = dice.between(0.012, 0.045) * lengthM;
            swayG = inside(range.lowSwayG(), range.highSwayG(), Math.pow(2 * Math.PI * hz, 2) * placeM / G);
        } else {
            hz = log(range.lowHz(), range.highHz(), u[1]);
            lengthM = inside(0.15, 5, 1 / hz * dice.between(0.8, 1.25));
            swayG = log(range.lowSwayG(), range.highSwayG(), u[0]);
        }
        boolean rests = dice.happens(range.restersShare());
        double rateHz = range.ratesHz()[dice.below(range.ratesHz().length)];
        double durationH = dice.between(range.lowDurationH(), range.highDurationH());
        double ratio = log(range.lowSignalToNoise(), range.highSignalToNoise(), u[2]);
        double noiseG = swayG / ratio * Math.sqrt(Math.max(1, rateHz / 2 / (1.5 * hz)));
        double slowHz = dice.happens(0.4) ? rateHz : 1;
        Scenario plain = Scenario.swimmer();
        Scenario.Logger logger = new Scenario.Logger(
                rateHz,
                durationH,
                slowHz,
                plain.logger().channels(),
                noiseG,
                dice.happens(0.5) ? 0.001 : 0.004,
                dice.happens(0.5) ? 8 : 4,
                dice.logBetween(0.01, 0.1),
                dice.happens(0.5) ? 0.01 : 0.05,
                0.01,
                dice.happens(0.5) ? 0.01 : 0.05,
                dice.logBetween(2, 40),
                0,
                range.gapShare(),
                20);
        Scenario.Body body = new Scenario.Body(
                lengthM,
                rests ? Breathing.CAN_REST : Breathing.MUST_SWIM,
                hz,
                swayG,
                dice.between(0.03, 0.1),
                dice.logBetween(120, 2400),
                dice.between(0.01, 0.05),
                dice.between(0, 0.1),
                dice.between(0, 0.12),
                Math.min(dice.between(0.05, 0.45), 0.2 / swayG),
                dice.between(0.4, 0.9) * Math.min(1.6, Math.max(0.5, lengthM)),
                dice.between(0.4, 1),
                dice.logBetween(0.003, 0.012));
        double bottomM = log(range.lowBottomM(), range.highBottomM(), u[3]);
        double shallow = rests ? dice.between(0.4, 0.8) : dice.between(0.05, 0.4);
        Scenario.Habits habits = new Scenario.Habits(
                rests ? dice.between(0.15, 0.75) : 0,
                dice.logBetween(8, 60),
                dice.between(0.1, 1),
                dice.between(2, 6),
                dice.between(10, 60),
                dice.logBetween(2, 50),
                dice.between(1.8, 3.2),
                dice.between(3, 7),
                dice.between(2.5, 8),
                dice.logBetween(4, 40),
                shallow,
                rests ? 1 : dice.between(Math.max(shallow, 0.6), 0.98),
                dice.between(1.5, 5),
                dice.happens(0.4) ? dice.between(0, 0.12) : 0);
        double surfaceC = dice.between(9, 24);
        Scenario.Sea sea = new Scenario.Sea(
                bottomM,
                dice.between(0.2, Math.min(3, bottomM / 8)),
                range.lowWaveM() + u[4] * (range.highWaveM() - range.lowWaveM()),
                dice.between(3.5, 8),
                surfaceC,
                surfaceC - dice.between(0.5, 8),
                bottomM * dice.between(0.2, 0.8),
                dice.between(2, 10));
        double deckMin = Math.min(dice.between(1.5, 12), durationH * 12);
        Scenario.Handling handling = new Scenario.Handling(
                deckMin,
                surfaceC + dice.between(-4, 8),
                dice.between(0, Math.min(4, durationH * 4)),
                dice.between(0.2, 0.9),
                dice.between(5, 20));
        double attachedH = durationH - deckMin / 60;
        boolean stops = dice.happens(0.12);
        double detachH = stops ? attachedH + 24 : attachedH * dice.between(0.88, 0.98);
        double lastH = Math.min(detachH, attachedH);
        double changeH = switch (course) {
            // Deaths cluster early: the square of an even number leans to the left.
            case DIES_LATE, DIES_THEN_SCAVENGED -> lastH * (0.05 + 0.8 * Math.pow(dice.uniform(), 1.6));
            case SWALLOWED_BY_WARM, SWALLOWED_BY_COLD, BITTEN -> lastH * dice.between(0.05, 0.88);
            default -> lastH * dice.between(0.08, 0.9);
        };
        Scenario.Recovery recovery = null;
        if (dice.happens(range.disturbedShare())) {
            boolean raised = dice.happens(0.8);
            recovery = new Scenario.Recovery(
                    dice.happens(0.7)
                            ? Scenario.Recovery.Shape.EXPONENTIAL
                            : dice.happens(0.5) ? Scenario.Recovery.Shape.S_SHAPED : Scenario.Recovery.Shape.STRAIGHT,
                    dice.logBetween(0.03 * durationH, 0.7 * durationH),
                    raised ? dice.between(1.12, 1.5) : dice.between(0.7, 0.9),
                    raised ? dice.between(0.9, 1.4) : dice.between(0.6, 1),
                    dice.between(1, 3));
        }
        return new Scenario(
                range.name() + "-" + index,
                Instant.parse("2026-06-01T00:00:00Z").plusSeconds((long) dice.between(0, 86_400)),
                logger,
                body,
                habits,
                sea,
                mount(range, dice, lastH),
                handling,
                recovery,
                ending(course, dice, changeH, detachH, hz, swayG, surfaceC));
    }

    private static Scenario.Mount mount(DifficultyRange range, Dice dice, double lastH) {
        double tilt = range.largestTiltDeg();
        boolean shifts = dice.happens(range.mountShiftShare());
        double pitch = dice.between(35, 85) * (dice.happens(0.7) ? 1 : -1);
        return new Scenario.Mount(
                dice.between(-180, 180),
                dice.between(-tilt, tilt),
                dice.between(-tilt, tilt),
                shifts ? lastH * dice.between(0.2, 0.8) : null,
                dice.between(-20, 20),
                dice.between(15, 35) * (dice.happens(0.5) ? 1 : -1),
                dice.between(-15, 15),
                pitch,
                dice.between(-30, 30));
    }

    private static Scenario.Ending ending(
            Course course, Dice dice, double changeH, double detachH, double hz, double swayG, double surfaceC) {
        double lies = dice.uniform();
        double roll = lies < 0.7
                ? dice.between(140, 180) * (dice.happens(0.5) ? 1 : -1)
                : lies < 0.9 ? dice.between(75, 115) * (dice.happens(0.5) ? 1 : -1) : dice.between(-25, 25);
        return new Scenario.Ending(
                course,
                changeH,
                detachH,
                dice.happens(0.5) ? 0 : dice.between(5, 60),
                dice.between(-15, 15),
                roll,
                dice.logBetween(0.1, 0.6),
                dice.between(0.4, 1.4),
                dice.between(0.3, 4),
                inside(0.15, 3, hz * dice.between(0.35, 0.8)),
                swayG * dice.between(0.25, 0.9),
                dice.happens(0.5) ? surfaceC + dice.between(4, 9) : dice.between(34, 37),
                dice.between(4, 30),
                dice.happens(0.3) ? dice.between(1, 8) : 1000);
    }
}
