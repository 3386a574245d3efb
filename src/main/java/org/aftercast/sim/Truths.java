package org.aftercast.sim;

import java.util.List;
import org.aftercast.recording.SampleRange;
import org.aftercast.sim.Scenario.Breathing;
import org.aftercast.sim.Truth.Decidable;
import org.jspecify.annotations.Nullable;

/** Puts the truth together and says whether the fate can be told at all. */
final class Truths {

    private static final double LEAST_DEAD_S = 3600;
    private static final double LEAST_INSIDE_S = 1800;
    private static final double LEAST_AFLOAT_S = 600;
    private static final double LEAST_ALIVE_S = 1800;
    private static final double LONGEST_LAST_REST_S = 3 * 3600;
    private static final double UPRIGHT_WITHIN_DEG = 45;

    private Truths() {}

    static Truth of(
            Scenario scenario,
            long seed,
            Life life,
            BeatLog beats,
            TrueKind[] kindBySecond,
            float[] pitchDeg,
            float[] rollDeg,
            float[] depthM,
            List<SampleRange> gaps,
            double[] mount,
            @Nullable Double shiftS,
            double[] shifted) {
        Scenario.Logger logger = scenario.logger();
        Course course = scenario.ending().course();
        String end;
        if (life.detachS() == null) {
            end = "logger-stopped";
        } else {
            end = course == Course.SHED_EARLY || !life.cameOffAsPlanned() ? "shed-early" : "planned-detachment";
        }
        // A change that the recording ends before never happened as far as this record goes.
        boolean reached = life.changeS() != null;
        Course seen = reached || course == Course.SURVIVES ? course : Course.SURVIVES;
        double white = Math.sqrt(logger.noiseG() * logger.noiseG() + logger.quantumG() * logger.quantumG() / 12);
        String doubt = doubt(scenario, seen, life, white);
        return new Truth(
                scenario,
                seed,
                beats.startS(),
                beats.periodS(),
                beats.amplitudeG(),
                kindBySecond,
                pitchDeg,
                rollDeg,
                depthM,
                life.bursts(),
                seen.animalFate(),
                seen.call(),
                end,
                life.releaseS(),
                life.changeS(),
                life.detachS(),
                doubt == null ? Decidable.YES : Decidable.NO,
                doubt,
                mount,
                shiftS,
                shiftS == null ? null : shifted,
                white,
                gaps);
    }

    /** Why even a careful reader could not tell the fate, or null. From the scenario and the story alone. */
    private static @Nullable String doubt(Scenario scenario, Course course, Life life, double whiteG) {
        Scenario.Logger logger = scenario.logger();
        double hz = scenario.body().cruiseHz();
        double recordEndS = logger.durationH() * 3600;
        Double detach = life.detachS();
        double attachedUntilS = detach == null ? recordEndS : detach;
        if (logger.sampleRateHz() < 4 * hz) {
            return "fewer than four samples a beat";
        }
        double inBand = whiteG * Math.sqrt(Math.min(1, 1.5 * hz / (logger.sampleRateHz() / 2)));
        if (scenario.body().cruiseSwayG() < 3 * inBand) {
            return "beats weaker than three times the noise";
        }
        boolean canRest = scenario.body().breathing() == Breathing.CAN_REST;
        Double change = life.changeS();
        if (change == null) {
            if (attachedUntilS - life.releaseS() < LEAST_ALIVE_S) {
                return "less than half an hour on the animal";
            }
            return canRest && attachedUntilS - life.lastSwimS() > LONGEST_LAST_REST_S
                    ? "lay still for the last three hours"
                    : null;
        }
        return switch (course) {
            case SURVIVES -> null;
            case SHED_EARLY -> {
                double plannedS = life.releaseS() + scenario.ending().detachH() * 3600;
                if (recordEndS - change < LEAST_AFLOAT_S) {
                    yield "less than ten minutes afloat";
                }
                yield plannedS - change < LEAST_AFLOAT_S ? "came off within ten minutes of the plan" : null;
            }
            case SWALLOWED_BY_WARM, SWALLOWED_BY_COLD ->
                attachedUntilS - change < LEAST_INSIDE_S ? "less than half an hour inside" : null;
            case BITTEN -> change - life.releaseS() < LEAST_DEAD_S ? "attacked within the first hour" : null;
            case DIES_AT_ONCE, DIES_ON_THE_WAY_DOWN, DIES_LATE, DIES_THEN_SCAVENGED -> {
                if (attachedUntilS - change < LEAST_DEAD_S) {
                    yield "less than an hour dead";
                }
                double upright = Math.toDegrees(
                        Math.acos(Math.cos(Math.toRadians(scenario.ending().carcassPitchDeg()))
                                * Math.cos(Math.toRadians(scenario.ending().carcassRollDeg()))));
                yield canRest && upright < UPRIGHT_WITHIN_DEG ? "can rest, and lies upright" : null;
            }
        };
    }
}
