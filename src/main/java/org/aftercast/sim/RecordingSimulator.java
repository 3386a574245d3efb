package org.aftercast.sim;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;

/**
 * Makes an invented recording from a {@link Scenario} and a seed.
 *
 * <p>The sensor reads specific force: what the body's own motion, the water's motion and gravity give in the turning
 * body frame, seen through the mount, with noise, converter step and full scale. Body axes: x head, y left, z dorsal; a
 * still, level sensor reads +1 g on z. Same scenario and seed: same bits (on one JDK).
 */
public final class RecordingSimulator {

    private static final double G = 9.80665;
    private static final double LARGEST_BEAT_ROLL = 0.45;

    private RecordingSimulator() {}

    /**
     * Simulates one recording.
     *
     * @param scenario everything physical
     * @param seed everything random
     * @return samples, clock and truth
     * @throws IllegalArgumentException if the scenario contradicts itself, or needs more than 2³¹ samples
     */
    public static SimulatedRecording simulate(Scenario scenario, long seed) {
        return new Run(scenario, seed).go();
    }

    /** One simulation under way. */
    private static final class Run {
        private final Scenario scenario;
        private final long seed;
        private final Dice dice;
        private final Dice noise;
        private final Life life;
        private final BeatLog beats = new BeatLog();
        private final double rateHz;
        private final int samples;
        private final int slowEvery;
        private final float[] accX;
        private final float[] accY;
        private final float[] accZ;
        private final float[] depth;
        private final float[] temp;
        private final TrueKind[] kindBySecond;
        private final float[] pitchBySecond;
        private final float[] rollBySecond;
        private final float[] depthBySecond;
        private final double[] sensor = new double[3];

        Run(Scenario scenario, long seed) {
            this.scenario = scenario;
            this.seed = seed;
            this.dice = new Dice(Dice.mix(seed, 1));
            this.noise = new Dice(Dice.mix(seed, 2));
            this.life = new Life(scenario, new Dice(Dice.mix(seed, 3)));
            Scenario.Logger logger = scenario.logger();
            this.rateHz = logger.sampleRateHz();
            double wanted = logger.durationH() * 3600 * rateHz;
            if (wanted > Integer.MAX_VALUE - 16) {
                throw new IllegalArgumentException("durationH × sampleRateHz: " + wanted + " samples are too many");
            }
            this.samples = (int) Math.round(wanted);
            this.slowEvery = (int) Math.max(1, Math.round(rateHz / logger.slowRateHz()));
            this.accX = new float[samples];
            this.accY = new float[samples];
            this.accZ = new float[samples];
            this.depth = new float[samples];
            this.temp = new float[samples];
            int seconds = (int) (samples / rateHz);
            this.kindBySecond = new TrueKind[seconds];
            this.pitchBySecond = new float[seconds];
            this.rollBySecond = new float[seconds];
            this.depthBySecond = new float[seconds];
        }

        SimulatedRecording go() {
            Scenario.Logger logger = scenario.logger();
            Scenario.Body body = scenario.body();
            Scenario.Mount mount = scenario.mount();
            Stroke stroke = new Stroke(body.harmonic2Share(), body.harmonic3Share(), body.rollLeakShare());
            Waves waves = new Waves(scenario.sea().waveHeightM(), scenario.sea().wavePeriodS(), 1 / rateHz, dice);
            double[] before = Turn.of(mount.yawDeg(), mount.pitchDeg(), mount.rollDeg());
            double[] after =
                    Turn.times(Turn.of(mount.shiftYawDeg(), mount.shiftPitchDeg(), mount.shiftRollDeg()), before);
            Double shiftAtH = mount.shiftAtH();
            double shiftS = shiftAtH == null ? Double.POSITIVE_INFINITY : life.releaseS() + shiftAtH * 3600;
            Float3 jolt = new Float3();
            Wobble wobble = new Wobble();

            double stepS = 1 / rateHz;
            double nextTickS = 0;
            double tickS = 0;
            double pitch = 0;
            double roll = 0;
            double heading = dice.between(0, 2 * Math.PI);
            double waveHeading = dice.between(0, 2 * Math.PI);
            double phase = 0;
            boolean beating = false;
            double sway = 0;
            double jitter = 1;
            double gillPhase = dice.uniform();
            double sensedTemp = scenario.handling().airTempC();
            double timeBefore = 0;
            int second = 0;

            for (int i = 0; i < samples; i++) {
                double t = i * stepS;
                if (logger.timingJitterShare() > 0) {
                    double off = Math.max(-0.45, Math.min(0.45, logger.timingJitterShare() * noise.normal()));
                    t += off * stepS;
                }
                double dt = i == 0 ? stepS : Math.max(0, t - timeBefore);
                timeBefore = t;
                while (nextTickS <= t) {
                    tickS = nextTickS;
                    life.tick(tickS, pitch);
                    waves.atDepth(life.depthM);
                    sensedTemp += (life.aroundTempC() - sensedTemp)
                            * (1 - Math.exp(-Life.TICK_S / Math.max(0.05, logger.tempLagS())));
                    nextTickS += Life.TICK_S;
                    if (tickS >= second + 0.5 && second < kindBySecond.length) {
                        note(second++, pitch, roll);
                    }
                }
                waves.step();

                // Attitude follows what the animal makes for.
                double ease = 1 - Math.exp(-dt / life.poseTimeS);
                pitch += (life.pitchTarget - pitch) * ease;
                roll += (life.rollTarget - roll) * ease;
                heading += life.headingRate * dt;

                // The beat. A beat begins when sway is wanted and ends only at its own end, as tails do.
                if (!beating && life.swayG > 0) {
                    beating = true;
                    phase = 0;
                    jitter = 1;
                    beats.begin(t, life.ownBeats);
                }
                double lateral = 0;
                double beatRoll = 0;
                double surge = 0;
                double heave = 0;
                if (beating) {
                    double hz = life.beatHz * jitter;
                    sway += (life.swayG - sway) * (1 - Math.exp(-4 * hz * dt));
                    phase += hz * dt;
                    beats.add(sway);
                    while (phase >= 1) {
                        phase -= 1;
                        beats.end(t - phase / hz, 0.02 * body.cruiseSwayG());
                        jitter = Math.exp(body.beatJitterShare() * dice.normal());
                        if (life.swayG <= 0 && sway < 0.15 * body.cruiseSwayG()) {
                            beating = false;
                            sway = 0;
                            phase = 0;
                            break;
                        }
                        beats.begin(t - phase / hz, life.ownBeats);
                    }
                    if (beating) {
                        double q = 2 * Math.PI * phase;
                        lateral = sway * stroke.lateral(q);
                        beatRoll = Math.max(-LARGEST_BEAT_ROLL, Math.min(LARGEST_BEAT_ROLL, sway * stroke.roll(q)));
                        surge = 0.2 * sway * Math.sin(2 * q + 0.7);
                        heave = 0.08 * sway * Math.sin(2 * q + 1.9);
                    }
                }
                double x = surge;
                double y = 0;
                double z = heave;
                x += lateral * life.beatDirection[0];
                y += lateral * life.beatDirection[1];
                z += lateral * life.beatDirection[2];
                if (life.speedMps > 0) {
                    y += life.speedMps * life.headingRate / G; // a turn to the left pulls to the left
                }
                if (life.gillG > 0) {
                    gillPhase += body.gillHz() * dt;
                    double g = life.gillG * Math.sin(2 * Math.PI * gillPhase);
                    z += g;
                    x += 0.4 * g;
                }
                if (life.joltG > 0) {
                    jolt.step(dt, life.joltTimeS, life.joltG, noise);
                    x += jolt.x;
                    y += jolt.y;
                    z += jolt.z;
                } else {
                    jolt.rest(dt);
                    x += jolt.x;
                    y += jolt.y;
                    z += jolt.z;
                }

                // Gravity and the water's motion in the body frame.
                double posePitch = pitch;
                double poseRoll = roll + beatRoll;
                double up = 0;
                double along = 0;
                boolean felt = waves.felt() && (life.waveFollow > 0 || life.deckTilt > 0);
                if (felt) {
                    up = waves.upMps2() / G;
                    along = waves.alongMps2() / G;
                }
                if (life.afloat) {
                    double cosToWave = Math.cos(waveHeading - heading);
                    double sinToWave = Math.sin(waveHeading - heading);
                    wobble.step(dt, along * cosToWave, along * sinToWave, noise);
                    posePitch += wobble.first;
                    poseRoll += wobble.second;
                } else if (life.deckTilt > 0) {
                    posePitch += life.deckTilt * up;
                    poseRoll += 2 * life.deckTilt * along;
                }
                double sinPitch = Math.sin(posePitch);
                double cosPitch = Math.cos(posePitch);
                double sinRoll = Math.sin(poseRoll);
                double cosRoll = Math.cos(poseRoll);
                x += sinPitch;
                y += sinRoll * cosPitch;
                z += cosRoll * cosPitch;
                if (felt && life.waveFollow > 0) {
                    double ahead = along * Math.cos(waveHeading - heading) * life.waveFollow;
                    double aside = along * Math.sin(waveHeading - heading) * life.waveFollow;
                    double lift = up * life.waveFollow;
                    x += ahead * cosPitch + lift * sinPitch;
                    y += aside * cosRoll + (lift * cosPitch - ahead * sinPitch) * sinRoll;
                    z += -aside * sinRoll + (lift * cosPitch - ahead * sinPitch) * cosRoll;
                }

                Turn.back(t >= shiftS ? after : before, x, y, z, sensor);
                accX[i] = sense(sensor[0]);
                accY[i] = sense(sensor[1]);
                accZ[i] = sense(sensor[2]);

                if (i % slowEvery == 0) {
                    double d = life.depthM - life.climbMps * (t - tickS);
                    if (felt && life.kind != TrueKind.ON_DECK) {
                        d += (1 - life.waveFollow) * waves.pressureM();
                    }
                    depth[i] = stepped(d + logger.depthNoiseM() * noise.normal(), logger.depthQuantumM());
                    temp[i] = stepped(sensedTemp + logger.tempNoiseC() * noise.normal(), logger.tempQuantumC());
                } else {
                    depth[i] = Float.NaN;
                    temp[i] = Float.NaN;
                }
            }
            while (second < kindBySecond.length) {
                note(second++, pitch, roll);
            }
            List<SampleRange> gaps = Gaps.draw(logger.gapShare(), logger.gapLengthS(), rateHz, samples, dice);
            for (SampleRange gap : gaps) {
                for (float[] channel : List.of(accX, accY, accZ, depth, temp)) {
                    Arrays.fill(channel, (int) gap.fromSample(), (int) gap.toSample(), Float.NaN);
                }
            }
            Truth truth = Truths.of(
                    scenario,
                    seed,
                    life,
                    beats,
                    kindBySecond,
                    pitchBySecond,
                    rollBySecond,
                    depthBySecond,
                    gaps,
                    before,
                    shiftS < logger.durationH() * 3600 ? shiftS : null,
                    after);
            return new SimulatedRecording(columns(), new SampleClock(scenario.startUtc(), rateHz), truth);
        }

        private void note(int second, double pitch, double roll) {
            kindBySecond[second] = life.kind;
            pitchBySecond[second] = (float) Math.toDegrees(Math.asin(Math.sin(pitch)));
            boolean over = Math.cos(pitch) < 0; // beyond straight up: the same pose said otherwise
            double folded = Math.IEEEremainder(over ? roll + Math.PI : roll, 2 * Math.PI);
            rollBySecond[second] = (float) Math.toDegrees(folded);
            depthBySecond[second] = (float) life.depthM;
        }

        private float sense(double valueG) {
            Scenario.Logger logger = scenario.logger();
            double noisy = valueG + logger.noiseG() * noise.normal();
            double limited = Math.max(-logger.fullScaleG(), Math.min(logger.fullScaleG(), noisy));
            return stepped(limited, logger.quantumG());
        }

        private static float stepped(double value, double step) {
            return step > 0 ? (float) (Math.rint(value / step) * step) : (float) value;
        }

        private MemorySamples columns() {
            Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
            columns.put(Channel.ACCELERATION_X, accX);
            columns.put(Channel.ACCELERATION_Y, accY);
            columns.put(Channel.ACCELERATION_Z, accZ);
            if (scenario.logger().channels().contains(Channel.DEPTH)) {
                columns.put(Channel.DEPTH, depth);
            }
            if (scenario.logger().channels().contains(Channel.TEMPERATURE)) {
                columns.put(Channel.TEMPERATURE, temp);
            }
            return new MemorySamples(columns);
        }
    }

    /** Irregular knocks: three independent wandering accelerations. */
    private static final class Float3 {
        private double x;
        private double y;
        private double z;

        void step(double dt, double timeS, double sizeG, Dice dice) {
            double keep = Math.exp(-dt / timeS);
            double kick = sizeG * Math.sqrt(1 - keep * keep);
            x = keep * x + kick * dice.normal();
            y = keep * y + kick * dice.normal();
            z = keep * z + kick * dice.normal();
        }

        void rest(double dt) {
            double keep = Math.exp(-dt / 0.08);
            x *= keep;
            y *= keep;
            z *= keep;
        }
    }

    /** A float that tilts: two damped pendulums that follow the surface's slope, at 0.8 and 0.95 Hz. */
    private static final class Wobble {
        private double first;
        private double firstRate;
        private double second;
        private double secondRate;

        void step(double dt, double slopeOne, double slopeTwo, Dice dice) {
            int parts = (int) Math.ceil(dt / 0.03);
            double part = dt / Math.max(1, parts);
            for (int k = 0; k < parts; k++) {
                double chop = 0.6 * Math.sqrt(part);
                firstRate += (-25 * (first - slopeOne) - 1.2 * firstRate) * part + chop * dice.normal();
                first += firstRate * part;
                secondRate += (-36 * (second - slopeTwo) - 1.4 * secondRate) * part + chop * dice.normal();
                second += secondRate * part;
            }
        }
    }
}
