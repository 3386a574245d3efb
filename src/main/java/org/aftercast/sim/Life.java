package org.aftercast.sim;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.sim.Scenario.Breathing;
import org.jspecify.annotations.Nullable;

/**
 * The animal's (and later the package's) story, a quarter of a second at a time: what it does, how fast it beats, which
 * pose it makes for, how it rises or sinks. {@link RecordingSimulator} turns this into samples.
 */
final class Life {

    static final double TICK_S = 0.25;

    private enum Phase {
        ON_DECK,
        WEAK,
        DESCENT,
        REST,
        SWIM,
        SINK,
        DEAD,
        ATTACK,
        INSIDE,
        RISE,
        AFLOAT
    }

    private static final double DEEPEST_WHEN_AFLOAT_M = 0.12;
    private static final double POSE_WANDER_TIME_S = 8;

    private final Scenario scenario;
    private final Dice dice;
    private final double releaseS;
    private final double changeDueS;
    private final double plannedDetachS;
    private final double tidePhase;
    private final double dielPhase;

    private Phase phase = Phase.ON_DECK;
    private double phaseEndS;
    private boolean episodeOn;
    private double episodeEndS;
    private double heightM;
    private double targetDepthM;
    private double targetDepthUntilS;
    private boolean goingToRest;
    private double restDueS;
    private double glideEndS = -1;
    private double burstEndS = -1;
    private double noBurstBeforeS;
    private double burstStrength = 1;
    private double turnEndS = -1;
    private double turnRate;
    private double bank;
    private double wanderRate;
    private double wanderSway;
    private double wanderPitch;
    private double wanderRoll;
    private double basePitch;
    private double baseRoll;
    private double deathFraction;
    private double scavengeFromS = Double.POSITIVE_INFINITY;
    private double scavengeToS = Double.NEGATIVE_INFINITY;
    private double egestS = Double.POSITIVE_INFINITY;
    private double gutTempC;
    private @Nullable Double changeS;
    private @Nullable Double detachS;
    private final List<Truth.TrueBurst> bursts = new ArrayList<>();
    private double lastSwimS = Double.NEGATIVE_INFINITY;

    // What the sample loop reads after each tick.
    double beatHz = 1;
    double swayG;
    boolean ownBeats;
    double pitchTarget;
    double rollTarget;
    double poseTimeS = 1.5;
    double headingRate;
    double speedMps;
    double joltG;
    double joltTimeS = 0.08;
    double gillG;
    double depthM;
    double climbMps;
    double waveFollow;
    double deckTilt;
    boolean afloat;
    double[] beatDirection = {0, 1, 0};
    TrueKind kind = TrueKind.ON_DECK;

    Life(Scenario scenario, Dice dice) {
        this.scenario = scenario;
        this.dice = dice;
        Scenario.Ending ending = scenario.ending();
        this.releaseS = scenario.handling().deckMin() * 60;
        this.changeDueS = switch (ending.course()) {
            case DIES_AT_ONCE, DIES_ON_THE_WAY_DOWN, SURVIVES -> Double.POSITIVE_INFINITY;
            default -> releaseS + ending.changeH() * 3600;
        };
        this.plannedDetachS = releaseS + ending.detachH() * 3600;
        if (changeDueS < Double.POSITIVE_INFINITY && changeDueS >= plannedDetachS) {
            throw new IllegalArgumentException("changeH: " + ending.changeH() + " h is not before detachH, "
                    + ending.detachH() + " h, as " + ending.course().word() + " needs");
        }
        this.tidePhase = dice.between(0, 2 * Math.PI);
        this.dielPhase = dice.between(0, 2 * Math.PI);
        this.basePitch = dice.between(-0.6, 0.6);
        this.baseRoll = dice.between(-1.5, 1.5);
        this.deathFraction = dice.between(0.2, 0.8);
        this.gutTempC = scenario.handling().airTempC();
    }

    double releaseS() {
        return releaseS;
    }

    @Nullable
    Double changeS() {
        return changeS;
    }

    @Nullable
    Double detachS() {
        return detachS;
    }

    boolean cameOffAsPlanned() {
        return detachS != null && detachS >= plannedDetachS - 1;
    }

    List<Truth.TrueBurst> bursts() {
        return bursts;
    }

    double lastSwimS() {
        return lastSwimS;
    }

    /** Temperature around the sensor (water, air or a stomach), °C. */
    double aroundTempC() {
        return gutTempC;
    }

    /** Moves on to time {@code t} (seconds from the first sample); the pose is the one reached by then, radians. */
    void tick(double t, double pitch) {
        double hours = (t - releaseS) / 3600;
        double bottomM = bottomAt(t);
        wander();
        changes(t, bottomM);
        headingRate = 0.02 * dice.normal();
        joltG = 0;
        gillG = 0;
        swayG = 0;
        ownBeats = false;
        climbMps = 0;
        poseTimeS = 1.5;
        beatDirection = SIDEWAYS;
        switch (phase) {
            case ON_DECK -> onDeck(t);
            case WEAK -> weak(t, hours);
            case DESCENT -> descent(t, bottomM);
            case REST -> rest(t);
            case SWIM -> swim(t, hours, bottomM, pitch);
            case SINK -> sink(t);
            case DEAD -> dead(t);
            case ATTACK -> attack(t);
            case INSIDE -> inside(t, bottomM);
            case RISE -> rise(bottomM);
            case AFLOAT -> afloat(bottomM);
        }
        if (phase != Phase.ON_DECK) {
            heightM = Math.max(0, Math.min(bottomM - 0.05, heightM + climbMps * TICK_S));
        }
        depthM = phase == Phase.ON_DECK ? 0 : Math.max(DEEPEST_WHEN_AFLOAT_M, bottomM - heightM);
        temperature();
    }

    private static final double[] SIDEWAYS = {0, 1, 0};

    private double bottomAt(double t) {
        Scenario.Sea sea = scenario.sea();
        return sea.bottomDepthM() + sea.tideAmplitudeM() * Math.sin(2 * Math.PI * t / (12.4206 * 3600) + tidePhase);
    }

    private void wander() {
        Scenario.Body body = scenario.body();
        double keep = Math.exp(-TICK_S / body.wanderTimeS());
        double kick = Math.sqrt(1 - keep * keep) * body.wanderShare();
        wanderRate = keep * wanderRate + kick * dice.normal();
        wanderSway = keep * wanderSway + kick * dice.normal();
        double poseKeep = Math.exp(-TICK_S / POSE_WANDER_TIME_S);
        double poseKick = Math.sqrt(1 - poseKeep * poseKeep);
        wanderPitch = poseKeep * wanderPitch + poseKick * dice.normal();
        wanderRoll = poseKeep * wanderRoll + poseKick * dice.normal();
    }

    /** Changes of the story that come at a given time, whatever the animal is at. */
    private void changes(double t, double bottomM) {
        boolean alive = phase == Phase.WEAK || phase == Phase.DESCENT || phase == Phase.REST || phase == Phase.SWIM;
        if (phase == Phase.INSIDE && t >= egestS) {
            detach(t);
        } else if (phase != Phase.ON_DECK
                && phase != Phase.INSIDE
                && phase != Phase.RISE
                && phase != Phase.AFLOAT
                && t >= plannedDetachS) {
            detach(t);
        } else if (alive && changeS == null && t >= changeDueS) {
            changeS = t;
            switch (scenario.ending().course()) {
                case DIES_LATE, DIES_THEN_SCAVENGED -> die(t);
                case SHED_EARLY -> detach(t);
                case SWALLOWED_BY_WARM, SWALLOWED_BY_COLD, BITTEN -> {
                    phase = Phase.ATTACK;
                    phaseEndS = t + dice.between(4, 18);
                    heightM = Math.min(bottomM - 0.5, Math.max(heightM, 0.3));
                }
                default ->
                    throw new IllegalStateException(
                            "no change is due in " + scenario.ending().course());
            }
        }
    }

    private void detach(double t) {
        detachS = t;
        phase = Phase.RISE;
    }

    private void die(double t) {
        phase = heightM < 0.5 ? Phase.DEAD : Phase.SINK;
        basePitch = dice.between(-0.8, 0.8);
        baseRoll = dice.between(-2, 2);
        if (scenario.ending().course() == Course.DIES_THEN_SCAVENGED) {
            scavengeFromS = t + scenario.ending().scavengedAfterH() * 3600;
            scavengeToS = scavengeFromS + dice.between(8, 40) * 60;
        }
    }

    private void onDeck(double t) {
        kind = TrueKind.ON_DECK;
        afloat = false;
        waveFollow = 0;
        deckTilt = 0.35;
        double handledFromS = releaseS - Math.min(releaseS / 2, 180);
        if (t >= handledFromS && phaseEndS < handledFromS) {
            phaseEndS = handledFromS; // picked up: another pose
            basePitch = dice.between(-0.4, 0.4);
            baseRoll = dice.between(-0.5, 0.5);
        }
        episodes(t, 4, 9);
        joltG = t < handledFromS ? 0 : episodeOn ? 0.3 : 0.03;
        pitchTarget = basePitch;
        rollTarget = baseRoll;
        if (t >= releaseS) {
            double bottomM = bottomAt(t);
            heightM = bottomM - 0.4;
            deckTilt = 0;
            if (scenario.ending().course() == Course.DIES_AT_ONCE) {
                changeS = t;
                die(t);
            } else {
                phase = Phase.WEAK;
                phaseEndS = t + scenario.handling().surfaceMin() * 60;
            }
        }
    }

    private void episodes(double t, double meanOnS, double meanOffS) {
        if (t >= episodeEndS) {
            episodeOn = !episodeOn;
            episodeEndS = t + 0.5 + dice.waiting(episodeOn ? meanOnS : meanOffS);
        }
    }

    private void weak(double t, double hours) {
        kind = TrueKind.WEAK_AT_SURFACE;
        waveFollow = 0.9;
        episodes(t, 8, 8);
        beatHz = scenario.body().cruiseHz() * rateRatio(hours) * 0.8 * Math.exp(wanderRate);
        swayG = episodeOn ? scenario.body().cruiseSwayG() * 0.35 : 0;
        ownBeats = true;
        speedMps = 0.1;
        pitchTarget = 0.15 + 0.15 * wanderPitch;
        rollTarget = 0.3 * wanderRoll;
        if (t >= phaseEndS) {
            phase = Phase.DESCENT;
            targetDepthM = drawDepth(bottomAt(t));
            wanderPitch *= 0.3;
            wanderRoll *= 0.3;
        }
    }

    private void descent(double t, double bottomM) {
        kind = TrueKind.DESCENDING;
        waveFollow = 0.9;
        climbMps = -scenario.handling().descentMps() * (1 + 0.1 * wanderPitch);
        pitchTarget = -0.4 + 0.05 * wanderPitch;
        rollTarget = 0.05 * wanderRoll;
        speedMps = scenario.handling().descentMps();
        double depth = bottomM - heightM;
        if (scenario.ending().course() == Course.DIES_ON_THE_WAY_DOWN && depth >= deathFraction * bottomM) {
            changeS = t;
            die(t);
        } else if (heightM <= 0.2 && canRest()) {
            startRest(t, scenario.handling().firstRestMin() * 60);
        } else if (heightM <= 0.5 || (!canRest() && depth >= targetDepthM)) {
            startSwim(t);
        }
    }

    private boolean canRest() {
        return scenario.body().breathing() == Breathing.CAN_REST;
    }

    private void startRest(double t, double lengthS) {
        phase = Phase.REST;
        phaseEndS = t + lengthS;
        basePitch = dice.between(-0.07, 0.07);
        baseRoll = dice.between(-0.1, 0.1);
        goingToRest = false;
    }

    private void rest(double t) {
        kind = TrueKind.RESTING;
        heightM = 0;
        waveFollow = 0.15;
        speedMps = 0;
        gillG = scenario.body().gillG();
        if (dice.happens(TICK_S / 420)) { // settles itself every few minutes
            basePitch += 0.03 * dice.normal();
            baseRoll += 0.04 * dice.normal();
            joltG = 0.02;
        }
        pitchTarget = basePitch;
        rollTarget = baseRoll;
        if (t >= phaseEndS) {
            startSwim(t);
        }
    }

    private void startSwim(double t) {
        phase = Phase.SWIM;
        goingToRest = false;
        targetDepthUntilS = t;
        double share = canRest() ? scenario.habits().restShare() : 0;
        restDueS = share <= 0
                ? Double.POSITIVE_INFINITY
                : t + 60 + dice.waiting(Math.max(1, scenario.habits().meanRestMin() * 60 * (1 - share) / share - 60));
    }

    private double drawDepth(double bottomM) {
        Scenario.Habits habits = scenario.habits();
        return Math.max(0.5, bottomM * dice.between(habits.shallowestShare(), habits.deepestShare()));
    }

    private double rateRatio(double hours) {
        Scenario.Recovery recovery = scenario.recovery();
        return recovery == null ? 1 : 1 + (recovery.rateRatio() - 1) * recovery.left(hours);
    }

    private double swayRatio(double hours) {
        Scenario.Recovery recovery = scenario.recovery();
        return recovery == null ? 1 : 1 + (recovery.swayRatio() - 1) * recovery.left(hours);
    }

    private double unsteadyRatio(double hours) {
        Scenario.Recovery recovery = scenario.recovery();
        return recovery == null ? 1 : 1 + (recovery.unsteadyRatio() - 1) * recovery.left(hours);
    }

    /** Strength left to an animal that is dying: 1, falling to 0.4 at death. */
    private double strength(double t) {
        Course course = scenario.ending().course();
        double declineS = scenario.ending().declineMin() * 60;
        if ((course != Course.DIES_LATE && course != Course.DIES_THEN_SCAVENGED) || declineS <= 0) {
            return 1;
        }
        double toGo = (changeDueS - t) / declineS;
        return toGo >= 1 ? 1 : 0.4 + 0.6 * Math.max(0, toGo);
    }

    private void swim(double t, double hours, double bottomM, double pitch) {
        kind = TrueKind.SWIMMING;
        lastSwimS = t;
        waveFollow = 0.9;
        Scenario.Body body = scenario.body();
        Scenario.Habits habits = scenario.habits();
        double strength = strength(t);
        double diel = 1 + habits.dielShare() * Math.cos(2 * Math.PI * t / 86400 + dielPhase);
        ownBeats = true;
        beatHz = body.cruiseHz() * rateRatio(hours) * diel * (0.5 + 0.5 * strength) * Math.exp(wanderRate);
        swayG = body.cruiseSwayG() * swayRatio(hours) * strength * Math.exp(wanderSway);
        speedMps = body.speedMps();
        bursts(t, habits);
        if (t < burstEndS) {
            beatHz = body.cruiseHz() * (1 + (habits.burstRateRatio() - 1) * burstStrength);
            swayG = body.cruiseSwayG() * (1 + (habits.burstSwayRatio() - 1) * burstStrength);
            speedMps *= 2;
        } else {
            if (t >= glideEndS && dice.happens(TICK_S * habits.glidesPerMin() / 60)) {
                glideEndS = t + 0.5 + dice.waiting(Math.max(0.1, habits.meanGlideS() - 0.5));
            }
            if (t < glideEndS) {
                swayG = 0;
                speedMps *= 0.8;
            }
        }
        turns(t, habits);
        if (t >= restDueS) {
            goingToRest = true;
        }
        if (t >= targetDepthUntilS) {
            targetDepthM = drawDepth(bottomM);
            targetDepthUntilS = t + dice.waiting(habits.depthChangeMin() * 60);
        }
        double aim = goingToRest ? bottomM + 1 : Math.min(targetDepthM, bottomM - 0.5);
        double depth = bottomM - heightM;
        double steep = goingToRest ? 0.5 : 0.45;
        double unsteady = Math.toRadians(habits.postureWanderDeg()) * unsteadyRatio(hours);
        // Slower climb when near the depth it makes for, as an animal that levels off; 8 m away it goes at full angle.
        double course = Math.max(-steep, Math.min(steep, (depth - aim) / 8 * steep));
        pitchTarget = course + unsteady * wanderPitch;
        rollTarget = unsteady * wanderRoll + (t < turnEndS ? bank : 0);
        climbMps = speedMps * Math.sin(pitch);
        if (heightM < 0.3 && !goingToRest) {
            pitchTarget = Math.max(pitchTarget, 0.15);
        }
        if (goingToRest && heightM <= 0.25) {
            startRest(t, Math.max(120, dice.waiting(scenario.habits().meanRestMin() * 60)));
        }
    }

    private void bursts(double t, Scenario.Habits habits) {
        double share = canRest() ? habits.restShare() : 0;
        if (t >= noBurstBeforeS && dice.happens(TICK_S * habits.burstsPerDay() / 86400 / (1 - share))) {
            double lengthS = Math.max(1.5, dice.waiting(habits.meanBurstS()));
            burstStrength = dice.between(0.75, 1.25);
            burstEndS = t + lengthS;
            noBurstBeforeS = burstEndS + 60;
            glideEndS = t;
            bursts.add(new Truth.TrueBurst(t, lengthS, 1 + (habits.burstRateRatio() - 1) * burstStrength));
        }
    }

    private void turns(double t, Scenario.Habits habits) {
        if (t >= turnEndS && dice.happens(TICK_S * habits.turnsPerH() / 3600)) {
            turnEndS = t + dice.between(2, 8);
            turnRate = (dice.happens(0.5) ? 1 : -1) * dice.between(0.15, 0.7);
            bank = -turnRate * dice.between(0.2, 0.6);
        }
        if (t < turnEndS) {
            headingRate += turnRate;
        }
    }

    private void sink(double t) {
        kind = TrueKind.DESCENDING;
        waveFollow = 0.9;
        climbMps = -scenario.ending().sinkMps() * (1 + 0.08 * wanderPitch);
        poseTimeS = 4;
        pitchTarget = basePitch + 0.25 * wanderPitch;
        rollTarget = baseRoll + 0.4 * wanderRoll;
        speedMps = 0;
        if (dice.happens(TICK_S / 15)) {
            basePitch = dice.between(-0.9, 0.9);
            baseRoll += dice.between(-1, 1);
        }
        if (heightM <= 0.05) {
            phase = Phase.DEAD;
        }
        bittenFeeding(t);
    }

    private void dead(double t) {
        heightM = Math.max(0, heightM - 0.02);
        waveFollow = 0.3;
        speedMps = 0;
        poseTimeS = 3;
        kind = TrueKind.MOTIONLESS;
        if (t >= scavengeFromS && t < scavengeToS) {
            kind = TrueKind.FED_UPON;
            episodes(t, 8, 20);
            if (episodeOn) {
                joltG = 0.25;
                joltTimeS = 0.15;
                if (dice.happens(TICK_S / 6)) {
                    shiftPitch += 0.25 * dice.normal();
                    shiftRoll += 0.5 * dice.normal();
                }
            }
        }
        pitchTarget = Math.toRadians(scenario.ending().carcassPitchDeg()) + shiftPitch;
        rollTarget = Math.toRadians(scenario.ending().carcassRollDeg()) + shiftRoll;
        bittenFeeding(t);
    }

    private double shiftPitch;
    private double shiftRoll;

    private void bittenFeeding(double t) {
        if (scenario.ending().course() == Course.BITTEN && t < phaseEndS) {
            kind = TrueKind.FED_UPON;
            episodes(t, 6, 12);
            joltG = episodeOn ? 0.35 : 0.01;
            joltTimeS = 0.12;
        }
    }

    private void attack(double t) {
        kind = TrueKind.UNDER_ATTACK;
        waveFollow = 0.9;
        beatHz = scenario.body().cruiseHz() * scenario.habits().burstRateRatio();
        swayG = scenario.body().cruiseSwayG() * scenario.habits().burstSwayRatio();
        joltG = 0.7;
        joltTimeS = 0.1;
        poseTimeS = 0.5;
        pitchTarget = 0.6 * wanderPitch;
        rollTarget = 1.2 * wanderRoll;
        climbMps = 0.6 * wanderPitch;
        if (t >= phaseEndS) {
            if (scenario.ending().course() == Course.BITTEN) {
                die(t);
                phaseEndS = t + dice.between(3, 15) * 60;
            } else {
                phase = Phase.INSIDE;
                basePitch = dice.between(-1.2, 1.2);
                baseRoll = dice.between(-Math.PI, Math.PI);
                egestS = Math.min(plannedDetachS, t + scenario.ending().egestedAfterH() * 3600);
                targetDepthUntilS = t;
                double angle = dice.between(0, 2 * Math.PI);
                double up = dice.between(-0.7, 0.7);
                double flat = Math.sqrt(1 - up * up);
                insideDirection = new double[] {flat * Math.cos(angle), flat * Math.sin(angle), up};
            }
        }
    }

    private double[] insideDirection = SIDEWAYS;

    private void inside(double t, double bottomM) {
        kind = TrueKind.INSIDE_PREDATOR;
        waveFollow = 0.9;
        Scenario.Ending ending = scenario.ending();
        beatHz = ending.predatorHz() * Math.exp(0.8 * wanderRate);
        if (t >= glideEndS && dice.happens(TICK_S / 40)) {
            glideEndS = t + dice.waiting(5);
        }
        swayG = t < glideEndS ? 0 : ending.predatorSwayG() * Math.exp(wanderSway);
        beatDirection = insideDirection;
        speedMps = 1.1;
        if (t >= targetDepthUntilS) {
            targetDepthM = Math.max(1, bottomM * dice.between(0.03, 0.95));
            targetDepthUntilS = t + dice.waiting(600);
        }
        double depth = bottomM - heightM;
        swimmerPitch += (Math.max(-0.5, Math.min(0.5, (depth - targetDepthM) / 15)) - swimmerPitch) * TICK_S / 3;
        climbMps = speedMps * Math.sin(swimmerPitch);
        if (dice.happens(TICK_S / 1500)) { // the stomach moves: another pose
            basePitch += 0.5 * dice.normal();
            baseRoll += 0.8 * dice.normal();
        }
        basePitch = Math.max(-1.4, Math.min(1.4, basePitch + 0.0012 * dice.normal()));
        baseRoll += 0.002 * dice.normal();
        pitchTarget = basePitch + 0.7 * swimmerPitch + 0.06 * wanderPitch;
        rollTarget = baseRoll + 0.08 * wanderRoll;
    }

    private double swimmerPitch;

    private void rise(double bottomM) {
        kind = TrueKind.RISING;
        waveFollow = 0.9;
        climbMps = scenario.ending().riseMps() * (1 + 0.05 * wanderPitch);
        poseTimeS = 0.5;
        joltG = 0.03;
        joltTimeS = 0.3;
        speedMps = 0;
        pitchTarget = Math.toRadians(scenario.mount().floatPitchDeg()) + 0.12 * wanderPitch;
        rollTarget = Math.toRadians(scenario.mount().floatRollDeg()) + 0.12 * wanderRoll;
        if (bottomM - heightM <= 0.3) {
            phase = Phase.AFLOAT;
        }
    }

    private void afloat(double bottomM) {
        kind = TrueKind.AFLOAT;
        afloat = true;
        waveFollow = 1;
        heightM = bottomM - DEEPEST_WHEN_AFLOAT_M;
        poseTimeS = 1;
        speedMps = 0;
        joltG = 0.01 + 0.02 * scenario.sea().waveHeightM();
        joltTimeS = 0.2;
        pitchTarget = Math.toRadians(scenario.mount().floatPitchDeg());
        rollTarget = Math.toRadians(scenario.mount().floatRollDeg());
    }

    private void temperature() {
        Scenario.Sea sea = scenario.sea();
        double water = sea.bottomTempC()
                + (sea.surfaceTempC() - sea.bottomTempC())
                        * 0.5
                        * (1 - Math.tanh((depthM - sea.thermoclineDepthM()) / sea.thermoclineThicknessM()));
        if (phase == Phase.ON_DECK) {
            gutTempC = scenario.handling().airTempC();
        } else if (phase == Phase.INSIDE) {
            double towards = scenario.ending().course() == Course.SWALLOWED_BY_WARM
                    ? scenario.ending().predatorTempC()
                    : water;
            gutTempC += (towards - gutTempC) * TICK_S / (scenario.ending().predatorLagMin() * 60);
        } else {
            gutTempC = water;
        }
    }
}
