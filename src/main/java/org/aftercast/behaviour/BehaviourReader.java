package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.SecondTable;
import org.jspecify.annotations.Nullable;

/**
 * From motion to bouts, events, recovery and the turnings that {@code fate} weighs.
 *
 * <p>Order: limits (release, detachment) → minutes and the animal's own yardsticks between them → living states →
 * bursts → stillness to the end, another body → states again with both weighed in → recovery of the animal's own time.
 * Time on deck and adrift enters none of it. Deterministic; one thread.
 */
public final class BehaviourReader {

    /** Most that a change of pose and beat can count without depth. */
    private static final double DOUBTED = 2.5;

    private BehaviourReader() {}

    /**
     * Reads.
     *
     * @param motion what motion says
     * @param in what must be known beside it
     * @param set settings
     * @throws IllegalArgumentException if the table is empty
     */
    public static BehaviourReading read(MotionReading motion, BehaviourInputs in, BehaviourSettings set) {
        if (motion.seconds().seconds() == 0) {
            throw new IllegalArgumentException("motion: the one-per-second table is empty");
        }
        List<String> notes = new ArrayList<>();
        float[][] gravity = MinuteMaker.gravity(motion);
        SecondTable s = MinuteMaker.withoutNoiseBeats(
                motion.seconds(),
                Moving.of(motion, motion.seconds()),
                gravity,
                in.sampleRateHz(),
                motion.postureCutoffHz(),
                set.sinkMps());
        Moving moving = Moving.of(motion, s);
        if (moving.source() == Moving.Source.MOVEMENT) {
            notes.add("There are no tailbeats to read by (" + motion.beatRefusal()
                    + "): movement of the body stands in for them.");
        }
        MinuteTable minutes = MinuteMaker.minutes(s, moving, gravity, in.sampleRateHz(), motion.postureCutoffHz());
        Limits limits = Limits.find(s, moving, gravity, minutes, in, set, notes);
        double fromS = limits.release().atS();
        double toS = Math.min(limits.detachment().atS(), s.seconds());
        int fromMin = (int) Math.ceil(fromS / 60);
        int toMin = (int) Math.floor(toS / 60);
        OwnNormal normal = OwnNormal.of(minutes, fromMin, toMin, motion.noiseG());
        if (!normal.swims()) {
            notes.add(
                    "The animal swam for less than five minutes: its own normal is not known, levels are judged against"
                            + " the sensor's noise.");
        } else if (!normal.everStill()) {
            notes.add("The animal was never still: what the sensor reads without movement is assumed, not seen.");
        }
        double[] depth = Limits.filled(s.depthM());
        double zero = Limits.surfaceLevel(depth);
        for (int i = 0; i < depth.length; i++) {
            depth[i] -= zero;
        }
        StateModel model = new StateModel(s, moving, depth, normal, fromS, toS, in, set);
        boolean[] counts = new boolean[s.seconds()];
        for (int i = (int) Math.ceil(fromS) + 3; i < Math.min(counts.length, (int) toS); i++) {
            counts[i] = s.quality()[i] > 0.5;
        }
        int[] path = model.bins() > 0 ? model.alive().path() : new int[0];
        boolean[] swims = model.swimming(path, s.seconds());
        BurstFinder bursts = BurstFinder.find(motion.seconds(), counts, swims, moving, normal, in.sampleRateHz(), set);
        List<Bout> bouts = new ArrayList<>();
        Turning still = null;
        Turning other = null;
        if (model.bins() > 0) {
            still = StillEnd.find(model, path, minutes, normal, toS, in, bursts.events(), set.deadPrior());
            other = otherBody(minutes, fromMin, toMin, still, in.lengthM(), bursts.events(), limits);
            bouts.addAll(weighed(model, still, other, toS, set));
        }
        double afloatS = limits.afloatFromS();
        if (afloatS < in.durationS() - 1) {
            double sure = limits.detachment().how() == Moment.How.GIVEN ? 1 : 0.95;
            bouts.add(new Bout(BoutKind.AFLOAT, afloatS, in.durationS(), sure));
        }
        double ownEnd = ownEnd(bouts, toS);
        BurstFinder first = bursts;
        if (ownEnd < toS - 600
                && ownEnd > fromS + 300) { // the yardstick is the animal's own, not that of whoever carried the package
            // later
            OwnNormal own = OwnNormal.of(minutes, fromMin, (int) (ownEnd / 60), motion.noiseG());
            if (own.swims()) {
                normal = own;
                Arrays.fill(counts, (int) Math.min(counts.length, ownEnd + 60), counts.length, false);
                Arrays.fill(swims, (int) Math.min(swims.length, ownEnd), swims.length, false);
                bursts = BurstFinder.find(motion.seconds(), counts, swims, moving, normal, in.sampleRateHz(), set);
            }
        }
        List<Event> events = new ArrayList<>(bursts.events());
        addSurfacings(depth, fromS, ownEnd, set, events);
        if (other != null && bouts.stream().anyMatch(bout -> bout.kind() == BoutKind.INSIDE_PREDATOR)) {
            events.add(attack(other, first.events()));
        }
        events.sort(Comparator.comparingDouble(Event::atS));
        RecoveryReading recovery = RecoveryReader.read(minutes, fromS, ownEnd, bouts, set);
        return new BehaviourReading(
                set,
                in,
                limits.release(),
                limits.detachment(),
                afloatS,
                limits.poseStepDeg(),
                limits.riseMps(),
                bouts,
                events,
                bursts.threshold(),
                bursts.falsePerDay(),
                recovery,
                minutes,
                normal,
                still,
                other,
                lastBeat(bouts, fromS),
                notes);
    }

    /** Bouts with the likelier of alive, dead and taken, each with its probability. */
    private static List<Bout> weighed(
            StateModel model, @Nullable Turning still, @Nullable Turning other, double toS, BehaviourSettings set) {
        double dead = dead(still, set);
        double eaten = eaten(still, other) + set.eatenPrior();
        double never = Double.POSITIVE_INFINITY;
        boolean isTaken = other != null && eaten > Math.max(0, dead);
        boolean isDead =
                still != null && dead > 0 && (!isTaken || (other != null && still.atS() >= other.atS() && lies(still)));
        double deadS = isDead && still != null ? still.atS() : never;
        double lyingS = isDead && still != null ? Math.max(still.atS(), still.highS()) : never;
        double preyS = isTaken && other != null ? other.atS() : never;
        double sum = 1 + Math.exp(Math.min(50, dead)) + Math.exp(Math.min(50, eaten));
        List<Bout> bouts = new ArrayList<>();
        for (Bout b : model.bouts(model.decode(deadS, lyingS, preyS), toS)) {
            double p = switch (b.kind()) {
                case INSIDE_PREDATOR -> Math.exp(Math.min(50, eaten)) / sum;
                case MOTIONLESS -> (sum - 1) / sum;
                default -> b.probability();
            };
            bouts.add(new Bout(b.kind(), b.startS(), b.endS(), p));
        }
        return bouts;
    }

    /** Another body either while the package still moved, or over the whole stretch; the likelier of the two. */
    private static @Nullable Turning otherBody(
            MinuteTable m,
            int fromMin,
            int toMin,
            @Nullable Turning still,
            @Nullable Double lengthM,
            List<Event> bursts,
            Limits limits) {
        Turning whole =
                doubted(OtherBody.find(m, fromMin, toMin, lengthM, bursts, OtherBody.Followed.BY_THE_END), m, limits);
        if (still == null) {
            return whole;
        }
        Turning moving = doubted(
                OtherBody.find(m, fromMin, (int) (still.atS() / 60), lengthM, bursts, OtherBody.Followed.BY_STILLNESS),
                m,
                limits);
        return moving != null && (whole == null || eaten(still, moving) > eaten(still, whole)) ? moving : whole;
    }

    /** Where the change may be an unseen release or detachment: unless it is warm, its odds are bounded. */
    private static @Nullable Turning doubted(@Nullable Turning other, MinuteTable m, Limits limits) {
        double known =
                Arrays.stream(m.depthM()).filter(z -> !Double.isNaN(z)).count() / (double) Math.max(1, m.minutes());
        double odds = other == null ? 0 : other.logOdds();
        if (other == null
                || (other.atS() < limits.mayFloatFromS() - 600 && other.atS() >= limits.mayLieOnDeckToS())
                || odds <= DOUBTED
                || other.signs().stream().anyMatch(sign -> sign.what().isWarmth() && sign.logOdds() > 1)) {
            return other;
        }
        List<Sign> signs = new ArrayList<>(other.signs());
        signs.add(new Sign(Sign.What.NO_DEPTH, known, Double.NaN, DOUBTED - odds, other.atS(), other.toS()));
        return new Turning(other.kind(), other.atS(), other.lowS(), other.highS(), other.toS(), signs);
    }

    /** Log-odds of having been swallowed; a stillness that came after it speaks for no one. */
    private static double eaten(@Nullable Turning still, @Nullable Turning other) {
        if (other == null) {
            return Double.NEGATIVE_INFINITY;
        }
        return other.logOdds() + (still != null && other.toS() <= still.atS() + 60 ? Math.max(0, still.logOdds()) : 0);
    }

    /** Whether what is left lies on the bottom: depth steady but for the tide, pose fixed. */
    static boolean lies(Turning still) {
        for (Sign sign : still.signs()) {
            if ((sign.what() == Sign.What.DEPTH_STEADY && sign.value() > 0.5)
                    || (sign.what() == Sign.What.POSE_FIXED && sign.value() > 8)) {
                return false;
            }
        }
        return true;
    }

    private static double dead(@Nullable Turning still, BehaviourSettings set) {
        return still == null ? Double.NEGATIVE_INFINITY : still.logOdds() + set.deadPrior();
    }

    /** Where the animal's own life with the package ends: at a bout motionless or inside a predator, else at {@code toS}. */
    private static double ownEnd(List<Bout> bouts, double toS) {
        double end = toS;
        for (Bout b : bouts) {
            if (b.kind() == BoutKind.MOTIONLESS || b.kind() == BoutKind.INSIDE_PREDATOR) {
                end = Math.min(end, b.startS());
            }
        }
        return end;
    }

    private static double lastBeat(List<Bout> bouts, double releaseS) {
        double last = releaseS;
        for (Bout b : bouts) {
            if (b.kind() == BoutKind.SWIMMING) {
                last = Math.max(last, b.endS());
            }
        }
        return last;
    }

    private static Event attack(Turning other, List<Event> bursts) {
        for (Event e : bursts) {
            if (Math.abs(e.atS() - other.atS()) < 1) {
                return new Event(Event.Kind.PREDATOR_ATTACK, e.atS(), e.durationS(), e.size());
            }
        }
        return new Event(Event.Kind.PREDATOR_ATTACK, other.atS(), 1, Double.NaN);
    }

    /** From below twice the surface depth to above half of it. */
    private static void addSurfacings(
            double[] depth, double fromS, double toS, BehaviourSettings set, List<Event> events) {
        boolean below = false;
        double atSurface = Double.NaN;
        for (int i = (int) Math.ceil(fromS); i < Math.min(depth.length, toS); i++) {
            if (depth[i] > 2 * set.surfaceM()) {
                if (!Double.isNaN(atSurface)) {
                    events.add(new Event(Event.Kind.SURFACING, atSurface, i - atSurface, Double.NaN));
                    atSurface = Double.NaN;
                }
                below = true;
            } else if (below && depth[i] < 0.5 * set.surfaceM()) {
                atSurface = Double.isNaN(atSurface) ? i : atSurface;
            }
        }
    }
}
