package org.aftercast.evaluation;

import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.SampleClock;
import org.aftercast.sim.Course;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.sim.TrueKind;
import org.aftercast.sim.Truth;

/**
 * An example of another generator, with nothing of the project's simulator in it: a sine for the beat, white noise, a
 * wandering pitch, and every second animal dies halfway, sinks and lies on its back. Copy it to begin one of your own, and
 * run {@code ./evaluate --generator org.aftercast.evaluation.PlainGenerator fates}. The scenario only carries names and the
 * numbers that tables are made from.
 */
public final class PlainGenerator implements Generator {

    private static final int RATE_HZ = 10;
    private static final int SECONDS = 3 * 3600;
    private static final double BEAT_HZ = 0.9;
    private static final double SWAY_G = 0.1;
    private static final double NOISE_G = 0.01;

    /** As {@code ./evaluate} makes it. */
    public PlainGenerator() {}

    @Override
    public String name() {
        return "the plain example generator";
    }

    @Override
    public SimulatedRecording make(Purpose purpose, int index) {
        Random random = new Random(1000L * purpose.ordinal() + index);
        boolean dies = index % 2 == 1;
        int diesAt = SECONDS / 2 + 60 * (index % 30);
        int n = SECONDS * RATE_HZ;
        float[][] out = new float[4][n];
        TrueKind[] kinds = new TrueKind[SECONDS];
        float[] depths = new float[SECONDS];
        float[] pitches = new float[SECONDS];
        float[] rolls = new float[SECONDS];
        double pitch = 0;
        double depth = 20;
        for (int i = 0; i < n; i++) {
            double t = (double) i / RATE_HZ;
            int second = (int) t;
            boolean dead = dies && t >= diesAt;
            boolean lies = dead && depth >= 60;
            pitch = dead ? 0 : 0.998 * pitch + 0.004 * random.nextGaussian();
            depth = lies ? 60 : dead ? depth + 0.3 / RATE_HZ : 20 + 8 * Math.sin(2 * Math.PI * t / 2400);
            out[0][i] = (float) (Math.sin(pitch) + NOISE_G * random.nextGaussian());
            out[1][i] = (float)
                    ((dead ? 0 : SWAY_G * Math.sin(2 * Math.PI * BEAT_HZ * t)) + NOISE_G * random.nextGaussian());
            out[2][i] = (float) ((dead ? -1 : Math.cos(pitch)) + NOISE_G * random.nextGaussian());
            out[3][i] = (float) depth;
            kinds[second] = lies ? TrueKind.MOTIONLESS : dead ? TrueKind.DESCENDING : TrueKind.SWIMMING;
            depths[second] = (float) depth;
            pitches[second] = (float) Math.toDegrees(pitch);
            rolls[second] = dead ? 180 : 0;
        }
        return new SimulatedRecording(
                new MemorySamples(Map.of(
                        Channel.ACCELERATION_X,
                        out[0],
                        Channel.ACCELERATION_Y,
                        out[1],
                        Channel.ACCELERATION_Z,
                        out[2],
                        Channel.DEPTH,
                        out[3])),
                new SampleClock(Instant.parse("2026-06-01T00:00:00Z"), RATE_HZ),
                truth(index, dies ? diesAt : Double.NaN, kinds, depths, pitches, rolls));
    }

    private static Truth truth(
            int index, double diesAt, TrueKind[] kinds, float[] depths, float[] pitches, float[] rolls) {
        boolean dies = !Double.isNaN(diesAt);
        Scenario base = Scenario.swimmer();
        int beats = (int) ((dies ? diesAt : SECONDS) * BEAT_HZ) - 1;
        double[] start = new double[beats];
        float[] period = new float[beats];
        float[] amplitude = new float[beats];
        for (int k = 0; k < beats; k++) {
            start[k] = k / BEAT_HZ;
        }
        Arrays.fill(period, (float) (1 / BEAT_HZ));
        Arrays.fill(amplitude, (float) SWAY_G);
        return new Truth(
                base.withName("plain-example-" + index)
                        .withLogger(base.logger().with(RATE_HZ, SECONDS / 3600.0))
                        .withEnding(base.ending().with(dies ? Course.DIES_LATE : Course.SURVIVES, 1, 24))
                        .withRecovery(null),
                index,
                start,
                period,
                amplitude,
                kinds,
                pitches,
                rolls,
                depths,
                List.of(),
                dies ? "died" : "alive-at-end",
                dies ? "died" : "survived",
                "logger-stopped",
                0,
                dies ? diesAt : null,
                null,
                Truth.Decidable.YES,
                null,
                new double[] {1, 0, 0, 0, 1, 0, 0, 0, 1},
                null,
                null,
                NOISE_G,
                List.of());
    }
}
