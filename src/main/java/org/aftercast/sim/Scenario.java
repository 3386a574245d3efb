package org.aftercast.sim;

import java.time.Instant;
import java.util.EnumSet;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.jspecify.annotations.Nullable;

/**
 * Everything physical about one invented recording. Together with a seed it fixes every sample.
 *
 * <p>Start from {@link #swimmer()} or {@link #bottomRester()} and change parts with the {@code with…} methods, or let
 * {@link ScenarioDraw} draw one.
 *
 * @param name a short label for tables
 * @param startUtc instant of the first sample
 * @param logger the instrument
 * @param body the animal's body and beat
 * @param habits what it does when well
 * @param sea where it lives
 * @param mount how the package sits
 * @param handling what happened on deck and at the release
 * @param recovery how its swimming returns to normal, or null for an animal that was never disturbed
 * @param ending how it ends
 */
public record Scenario(
        String name,
        Instant startUtc,
        Logger logger,
        Body body,
        Habits habits,
        Sea sea,
        Mount mount,
        Handling handling,
        @Nullable Recovery recovery,
        Ending ending) {

    /**
     * The instrument.
     *
     * @param sampleRateHz acceleration samples per second, 1–200 Hz
     * @param durationH length of the recording in hours, 0.01–100 h
     * @param slowRateHz samples per second of depth and temperature, at most {@code sampleRateHz}; between them the slow
     *     channels are missing
     * @param channels what is recorded; the three axes always are
     * @param noiseG white noise per sample and axis (standard deviation), g
     * @param quantumG step of the converter, g; 0 for none
     * @param fullScaleG largest magnitude an axis can show, g
     * @param depthNoiseM noise of depth (standard deviation), m
     * @param depthQuantumM step of depth, m; 0 for none
     * @param tempNoiseC noise of temperature (standard deviation), °C
     * @param tempQuantumC step of temperature, °C; 0 for none
     * @param tempLagS time constant of the temperature sensor in water, s
     * @param timingJitterShare standard deviation of a sample's instant as a share of the sampling interval, 0–0.3
     * @param gapShare share of the recording that is missing, 0–0.5
     * @param gapLengthS mean length of one missing stretch, s
     */
    public record Logger(
            double sampleRateHz,
            double durationH,
            double slowRateHz,
            Set<Channel> channels,
            double noiseG,
            double quantumG,
            double fullScaleG,
            double depthNoiseM,
            double depthQuantumM,
            double tempNoiseC,
            double tempQuantumC,
            double tempLagS,
            double timingJitterShare,
            double gapShare,
            double gapLengthS) {

        public Logger {
            within("sampleRateHz", sampleRateHz, 1, 200);
            within("durationH", durationH, 0.01, 100);
            within("slowRateHz", slowRateHz, 0.01, sampleRateHz);
            within("timingJitterShare", timingJitterShare, 0, 0.3);
            within("gapShare", gapShare, 0, 0.5);
            within("noiseG", noiseG, 0, 5);
            within("fullScaleG", fullScaleG, 1.2, 200);
            Set<Channel> all = EnumSet.of(Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z);
            all.addAll(channels);
            if (all.contains(Channel.PRESSURE)) {
                throw new IllegalArgumentException("channels: PRESSURE is not simulated, DEPTH is");
            }
            channels = Set.copyOf(all);
        }

        /** The same instrument at another rate and length; depth and temperature at {@code slowRateHz} or slower. */
        public Logger with(double newSampleRateHz, double newDurationH) {
            return new Logger(
                    newSampleRateHz,
                    newDurationH,
                    Math.min(slowRateHz, newSampleRateHz),
                    channels,
                    noiseG,
                    quantumG,
                    fullScaleG,
                    depthNoiseM,
                    depthQuantumM,
                    tempNoiseC,
                    tempQuantumC,
                    tempLagS,
                    timingJitterShare,
                    gapShare,
                    gapLengthS);
        }

        /** The same instrument with another acceleration noise (white, per sample and axis, g). */
        public Logger withNoiseG(double newNoiseG) {
            return new Logger(
                    sampleRateHz,
                    durationH,
                    slowRateHz,
                    channels,
                    newNoiseG,
                    quantumG,
                    fullScaleG,
                    depthNoiseM,
                    depthQuantumM,
                    tempNoiseC,
                    tempQuantumC,
                    tempLagS,
                    timingJitterShare,
                    gapShare,
                    gapLengthS);
        }

        /** The same instrument with other channels beside the three axes. */
        public Logger withChannels(Set<Channel> newChannels) {
            return new Logger(
                    sampleRateHz,
                    durationH,
                    slowRateHz,
                    newChannels,
                    noiseG,
                    quantumG,
                    fullScaleG,
                    depthNoiseM,
                    depthQuantumM,
                    tempNoiseC,
                    tempQuantumC,
                    tempLagS,
                    timingJitterShare,
                    gapShare,
                    gapLengthS);
        }

        /** The same instrument with uneven sampling and missing stretches. */
        public Logger withFaults(double newTimingJitterShare, double newGapShare, double newGapLengthS) {
            return new Logger(
                    sampleRateHz,
                    durationH,
                    slowRateHz,
                    channels,
                    noiseG,
                    quantumG,
                    fullScaleG,
                    depthNoiseM,
                    depthQuantumM,
                    tempNoiseC,
                    tempQuantumC,
                    tempLagS,
                    newTimingJitterShare,
                    newGapShare,
                    newGapLengthS);
        }
    }

    /** Whether the animal must swim to breathe. */
    public enum Breathing {
        /** Pumps water over its gills and can lie still. */
        CAN_REST,
        /** Must keep swimming. */
        MUST_SWIM
    }

    /**
     * The body and its beat.
     *
     * @param lengthM body length, m
     * @param breathing whether it can lie still
     * @param cruiseHz beat frequency when well and cruising, Hz
     * @param cruiseSwayG half the peak-to-peak lateral reading of a cruising beat, g (gravity leakage included)
     * @param wanderShare standard deviation of the slow wander of frequency and amplitude (natural logarithm)
     * @param wanderTimeS correlation time of that wander, s
     * @param beatJitterShare standard deviation of single periods (natural logarithm)
     * @param harmonic2Share second harmonic of the lateral acceleration, share of the fundamental
     * @param harmonic3Share third harmonic, share of the fundamental
     * @param rollLeakShare share of the fundamental that is gravity seen through the body's roll with each beat
     * @param speedMps cruising speed, m/s
     * @param gillHz rate of gill pumping at rest, Hz
     * @param gillG amplitude of gill pumping at rest, g
     */
    public record Body(
            double lengthM,
            Breathing breathing,
            double cruiseHz,
            double cruiseSwayG,
            double wanderShare,
            double wanderTimeS,
            double beatJitterShare,
            double harmonic2Share,
            double harmonic3Share,
            double rollLeakShare,
            double speedMps,
            double gillHz,
            double gillG) {

        public Body {
            within("cruiseHz", cruiseHz, 0.05, 10);
            within("cruiseSwayG", cruiseSwayG, 0, 5);
            within("wanderTimeS", wanderTimeS, 1, 1e6);
            within("rollLeakShare", rollLeakShare, 0, 0.8);
        }

        /** The same body beating at another frequency and amplitude. */
        public Body withCruise(double newCruiseHz, double newCruiseSwayG) {
            return new Body(
                    lengthM,
                    breathing,
                    newCruiseHz,
                    newCruiseSwayG,
                    wanderShare,
                    wanderTimeS,
                    beatJitterShare,
                    harmonic2Share,
                    harmonic3Share,
                    rollLeakShare,
                    speedMps,
                    gillHz,
                    gillG);
        }

        /** The same body with another wander and jitter of its beat. */
        public Body withWander(double newWanderShare, double newWanderTimeS, double newBeatJitterShare) {
            return new Body(
                    lengthM,
                    breathing,
                    cruiseHz,
                    cruiseSwayG,
                    newWanderShare,
                    newWanderTimeS,
                    newBeatJitterShare,
                    harmonic2Share,
                    harmonic3Share,
                    rollLeakShare,
                    speedMps,
                    gillHz,
                    gillG);
        }
    }

    /**
     * What the animal does when well.
     *
     * @param restShare share of the time at rest on the bottom, 0–0.98; ignored for an animal that must swim
     * @param meanRestMin mean length of a rest, minutes
     * @param glidesPerMin glides per minute of swimming
     * @param meanGlideS mean length of a glide, s
     * @param turnsPerH turns per hour of swimming
     * @param burstsPerDay bursts per day
     * @param burstRateRatio beat frequency in a burst over the cruising frequency
     * @param burstSwayRatio sway in a burst over the cruising sway
     * @param meanBurstS mean length of a burst, s
     * @param depthChangeMin mean minutes between changes of the depth it makes for
     * @param shallowestShare least depth it makes for, as a share of the bottom depth
     * @param deepestShare greatest depth it makes for, as a share of the bottom depth
     * @param postureWanderDeg standard deviation of roll and pitch about level while swimming, degrees
     * @param dielShare amplitude of a daily rhythm of beat frequency, share
     */
    public record Habits(
            double restShare,
            double meanRestMin,
            double glidesPerMin,
            double meanGlideS,
            double turnsPerH,
            double burstsPerDay,
            double burstRateRatio,
            double burstSwayRatio,
            double meanBurstS,
            double depthChangeMin,
            double shallowestShare,
            double deepestShare,
            double postureWanderDeg,
            double dielShare) {

        public Habits {
            within("restShare", restShare, 0, 0.98);
            within("shallowestShare", shallowestShare, 0, 1);
            within("deepestShare", deepestShare, shallowestShare, 1);
        }

        /** The same habits with another number of bursts a day. */
        public Habits withBurstsPerDay(double newBurstsPerDay) {
            return new Habits(
                    restShare,
                    meanRestMin,
                    glidesPerMin,
                    meanGlideS,
                    turnsPerH,
                    newBurstsPerDay,
                    burstRateRatio,
                    burstSwayRatio,
                    meanBurstS,
                    depthChangeMin,
                    shallowestShare,
                    deepestShare,
                    postureWanderDeg,
                    dielShare);
        }

        /** The same habits with another share of rest. */
        public Habits withRest(double newRestShare, double newMeanRestMin) {
            return new Habits(
                    newRestShare,
                    newMeanRestMin,
                    glidesPerMin,
                    meanGlideS,
                    turnsPerH,
                    burstsPerDay,
                    burstRateRatio,
                    burstSwayRatio,
                    meanBurstS,
                    depthChangeMin,
                    shallowestShare,
                    deepestShare,
                    postureWanderDeg,
                    dielShare);
        }
    }

    /**
     * The sea.
     *
     * @param bottomDepthM mean depth of the sea-bed, m
     * @param tideAmplitudeM amplitude of the semidiurnal tide, m
     * @param waveHeightM significant wave height, m
     * @param wavePeriodS peak wave period, s
     * @param surfaceTempC temperature above the thermocline, °C
     * @param bottomTempC temperature below it, °C
     * @param thermoclineDepthM its depth, m
     * @param thermoclineThicknessM its thickness, m
     */
    public record Sea(
            double bottomDepthM,
            double tideAmplitudeM,
            double waveHeightM,
            double wavePeriodS,
            double surfaceTempC,
            double bottomTempC,
            double thermoclineDepthM,
            double thermoclineThicknessM) {

        public Sea {
            within("bottomDepthM", bottomDepthM, 2, 4000);
            within("wavePeriodS", wavePeriodS, 1, 30);
            within("thermoclineThicknessM", thermoclineThicknessM, 0.1, 1000);
        }
    }

    /**
     * How the package sits. Angles turn the sensor's axes from the body's: first about dorsal (yaw), then about left
     * (pitch), then about head (roll).
     *
     * @param yawDeg turn about the dorsal axis, degrees
     * @param pitchDeg turn about the left axis, degrees
     * @param rollDeg turn about the head axis, degrees
     * @param shiftAtH hours after the release at which the mount shifts, or null
     * @param shiftYawDeg further turn about the dorsal axis when it shifts
     * @param shiftPitchDeg further turn about the left axis when it shifts
     * @param shiftRollDeg further turn about the head axis when it shifts
     * @param floatPitchDeg pitch of the (former) body frame when the package floats free
     * @param floatRollDeg roll of the (former) body frame when the package floats free
     */
    public record Mount(
            double yawDeg,
            double pitchDeg,
            double rollDeg,
            @Nullable Double shiftAtH,
            double shiftYawDeg,
            double shiftPitchDeg,
            double shiftRollDeg,
            double floatPitchDeg,
            double floatRollDeg) {

        /** The same mount, shifting at a time. */
        public Mount withShift(double atH, double yaw, double pitch, double roll) {
            return new Mount(yawDeg, pitchDeg, rollDeg, atH, yaw, pitch, roll, floatPitchDeg, floatRollDeg);
        }
    }

    /**
     * On deck and at the release.
     *
     * @param deckMin minutes recorded before the release
     * @param airTempC temperature on deck, °C
     * @param surfaceMin minutes at the surface, weak, before it goes down
     * @param descentMps speed of the passive descent, m/s
     * @param firstRestMin minutes an animal that can rest lies on the bottom before it swims
     */
    public record Handling(double deckMin, double airTempC, double surfaceMin, double descentMps, double firstRestMin) {

        public Handling {
            within("descentMps", descentMps, 0.02, 5);
        }
    }

    /**
     * How swimming returns to normal: a quantity's ratio to normal goes from its first value to 1.
     *
     * @param shape of the return
     * @param t80H hours from the release to 80 % of the way
     * @param rateRatio beat frequency at the release over normal
     * @param swayRatio sway at the release over normal
     * @param unsteadyRatio posture wander at the release over normal
     */
    public record Recovery(Shape shape, double t80H, double rateRatio, double swayRatio, double unsteadyRatio) {

        /** Shape of the return to normal. */
        public enum Shape {
            /** Exponential approach. */
            EXPONENTIAL,
            /** Slow, fast, slow. */
            S_SHAPED,
            /** A straight line, then level. */
            STRAIGHT
        }

        public Recovery {
            within("t80H", t80H, 0.001, 1000);
        }

        /** Share of the disturbance that is left, 1 at the release, 0.2 at {@code t80H}. */
        double left(double hoursSinceRelease) {
            double u = Math.max(0, hoursSinceRelease) / t80H;
            return switch (shape) {
                case EXPONENTIAL -> Math.pow(0.2, u);
                case STRAIGHT -> Math.max(0, 1 - 0.8 * u);
                case S_SHAPED -> {
                    // A logistic fall with its middle at 0.6 t80, scaled so that it is 1 at the release and 0.2 at t80.
                    double steepness = STEEPNESS;
                    double scale = 1 + Math.exp(-steepness * 0.6);
                    yield scale / (1 + Math.exp(steepness * (u - 0.6)));
                }
            };
        }

        // Solves scale / (1 + exp(0.4 s)) = 0.2 with scale = 1 + exp(−0.6 s); found by bisection once.
        private static final double STEEPNESS = steepness();

        private static double steepness() {
            double low = 1;
            double high = 20;
            for (int i = 0; i < 80; i++) {
                double s = (low + high) / 2;
                if ((1 + Math.exp(-0.6 * s)) / (1 + Math.exp(0.4 * s)) > 0.2) {
                    low = s;
                } else {
                    high = s;
                }
            }
            return (low + high) / 2;
        }
    }

    /**
     * How it ends.
     *
     * @param course the story
     * @param changeH hours after the release of death, attack or shedding; ignored where the course fixes it
     * @param detachH hours after the release at which the package is meant to come off; beyond the end of the recording
     *     it never does, and the logger stops on the animal
     * @param declineMin minutes over which a dying animal weakens before it dies
     * @param carcassPitchDeg pitch of the carcass at last, degrees
     * @param carcassRollDeg roll of the carcass at last, degrees (180: belly up)
     * @param sinkMps sinking speed of the carcass, m/s
     * @param riseMps rising speed of the free package, m/s
     * @param scavengedAfterH hours from death until the carcass is fed upon
     * @param predatorHz beat frequency of the larger animal, Hz
     * @param predatorSwayG sway inside it, g
     * @param predatorTempC temperature inside a warm one, °C
     * @param predatorLagMin time constant with which the package takes its temperature, minutes
     * @param egestedAfterH hours until the package comes out again, if that is before the planned detachment
     */
    public record Ending(
            Course course,
            double changeH,
            double detachH,
            double declineMin,
            double carcassPitchDeg,
            double carcassRollDeg,
            double sinkMps,
            double riseMps,
            double scavengedAfterH,
            double predatorHz,
            double predatorSwayG,
            double predatorTempC,
            double predatorLagMin,
            double egestedAfterH) {

        public Ending {
            within("sinkMps", sinkMps, 0.01, 10);
            within("riseMps", riseMps, 0.01, 10);
            within("detachH", detachH, 0, 1000);
            within("changeH", changeH, 0, 1000);
        }

        /** Another story with the same numbers otherwise. */
        public Ending with(Course newCourse, double newChangeH, double newDetachH) {
            return new Ending(
                    newCourse,
                    newChangeH,
                    newDetachH,
                    declineMin,
                    carcassPitchDeg,
                    carcassRollDeg,
                    sinkMps,
                    riseMps,
                    scavengedAfterH,
                    predatorHz,
                    predatorSwayG,
                    predatorTempC,
                    predatorLagMin,
                    egestedAfterH);
        }

        /** The same story with the carcass lying otherwise. */
        public Ending withCarcass(double pitchDeg, double rollDeg) {
            return new Ending(
                    course,
                    changeH,
                    detachH,
                    declineMin,
                    pitchDeg,
                    rollDeg,
                    sinkMps,
                    riseMps,
                    scavengedAfterH,
                    predatorHz,
                    predatorSwayG,
                    predatorTempC,
                    predatorLagMin,
                    egestedAfterH);
        }
    }

    /** A 1.1 m animal that must swim, well, over 40 m of water, 10 h at 20 Hz, package off after 9 h. */
    public static Scenario swimmer() {
        return new Scenario(
                "swimmer",
                Instant.parse("2026-06-01T08:00:00Z"),
                new Logger(
                        20,
                        10,
                        20,
                        EnumSet.allOf(Channel.class).stream()
                                .filter(channel -> channel != Channel.PRESSURE)
                                .collect(java.util.stream.Collectors.toUnmodifiableSet()),
                        0.004,
                        0.001,
                        8,
                        0.05,
                        0.01,
                        0.01,
                        0.01,
                        8,
                        0,
                        0,
                        10),
                new Body(1.1, Breathing.MUST_SWIM, 0.9, 0.09, 0.06, 600, 0.03, 0.06, 0.08, 0.3, 0.7, 0.7, 0.006),
                new Habits(0, 20, 0.5, 3, 30, 10, 2.5, 5, 4, 12, 0.15, 0.95, 3, 0),
                new Sea(40, 1.5, 0.8, 5.5, 15, 11, 18, 6),
                new Mount(0, 0, 0, null, 0, 0, 0, 70, 15),
                new Handling(6, 16, 1.5, 0.5, 0),
                null,
                new Ending(Course.SURVIVES, 4, 9, 10, 5, 165, 0.25, 0.8, 1, 0.55, 0.06, 33, 12, 500));
    }

    /** A 1.0 m animal that lies on the bottom for about half of its time, otherwise as {@link #swimmer()}. */
    public static Scenario bottomRester() {
        Scenario s = swimmer();
        Body b = s.body;
        return new Scenario(
                "bottom-rester",
                s.startUtc,
                s.logger,
                new Body(
                        1.0,
                        Breathing.CAN_REST,
                        1.0,
                        0.08,
                        b.wanderShare,
                        b.wanderTimeS,
                        b.beatJitterShare,
                        b.harmonic2Share,
                        b.harmonic3Share,
                        b.rollLeakShare,
                        0.6,
                        0.7,
                        0.006),
                new Habits(0.5, 25, 0.5, 3, 30, 10, 2.5, 5, 4, 12, 0.5, 1, 3, 0),
                s.sea,
                s.mount,
                new Handling(6, 16, 1.5, 0.5, 12),
                null,
                s.ending);
    }

    public Scenario withName(String newName) {
        return new Scenario(newName, startUtc, logger, body, habits, sea, mount, handling, recovery, ending);
    }

    public Scenario withStartUtc(Instant newStartUtc) {
        return new Scenario(name, newStartUtc, logger, body, habits, sea, mount, handling, recovery, ending);
    }

    public Scenario withLogger(Logger newLogger) {
        return new Scenario(name, startUtc, newLogger, body, habits, sea, mount, handling, recovery, ending);
    }

    public Scenario withBody(Body newBody) {
        return new Scenario(name, startUtc, logger, newBody, habits, sea, mount, handling, recovery, ending);
    }

    public Scenario withHabits(Habits newHabits) {
        return new Scenario(name, startUtc, logger, body, newHabits, sea, mount, handling, recovery, ending);
    }

    public Scenario withSea(Sea newSea) {
        return new Scenario(name, startUtc, logger, body, habits, newSea, mount, handling, recovery, ending);
    }

    public Scenario withMount(Mount newMount) {
        return new Scenario(name, startUtc, logger, body, habits, sea, newMount, handling, recovery, ending);
    }

    public Scenario withHandling(Handling newHandling) {
        return new Scenario(name, startUtc, logger, body, habits, sea, mount, newHandling, recovery, ending);
    }

    public Scenario withRecovery(@Nullable Recovery newRecovery) {
        return new Scenario(name, startUtc, logger, body, habits, sea, mount, handling, newRecovery, ending);
    }

    public Scenario withEnding(Ending newEnding) {
        return new Scenario(name, startUtc, logger, body, habits, sea, mount, handling, recovery, newEnding);
    }

    private static void within(String name, double value, double low, double high) {
        if (!(value >= low && value <= high)) {
            throw new IllegalArgumentException(name + ": " + value + " is outside " + low + " to " + high);
        }
    }
}
