package org.aftercast.evaluation;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.aftercast.behaviour.BehaviourInputs;
import org.aftercast.behaviour.BehaviourReader;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.BehaviourSettings;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.Event;
import org.aftercast.behaviour.Recovery;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.ChangeTime;
import org.aftercast.fate.FateInputs;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.FateReader;
import org.aftercast.fate.FateReading;
import org.aftercast.fate.FateSettings;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.MotionSettings;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.sim.TrueKind;
import org.aftercast.sim.Truth;
import org.jspecify.annotations.Nullable;

/**
 * One recording read the whole way, and its truth, small enough to keep.
 *
 * @param name scenario
 * @param course true story
 * @param trueCall survived, died, eaten or shed
 * @param trueEnd how the record truly ended
 * @param decidable whether it can be told
 * @param mustSwim whether the animal must swim
 * @param call the call, in lower case
 * @param animal the animal's fate as called
 * @param end the record's end as called
 * @param probabilities survived, died, eaten, shed
 * @param changeOffS called middle minus true change, s; NaN when either is missing
 * @param changeCovered whether the interval holds the true change
 * @param hasChange whether both have a change
 * @param secondsRight scored seconds with the right bout kind
 * @param secondsScored scored seconds
 * @param kindPairs true kind → called kind → seconds
 * @param bursts true bursts while swimming
 * @param burstsFound of those found
 * @param burstsWrong bursts found where there is none
 * @param days days on the living animal
 * @param beats the beats' scores
 * @param recovery the headline recovery
 * @param t80H true hours to 80 %, or NaN
 * @param aliveH hours on the living animal
 */
record FateCase(
        String name,
        String course,
        String trueCall,
        String trueEnd,
        boolean decidable,
        boolean mustSwim,
        String call,
        String animal,
        String end,
        double[] probabilities,
        double changeOffS,
        boolean changeCovered,
        boolean hasChange,
        int secondsRight,
        int secondsScored,
        int[][] kindPairs,
        int bursts,
        int burstsFound,
        int burstsWrong,
        double days,
        MotionParts.BeatCase beats,
        Recovery recovery,
        double t80H,
        double aliveH) {

    static final String[] CALLS = {"survived", "died", "eaten", "shed", "undecided"};
    static final String[] KINDS = {
        "weak-at-surface", "descending", "resting", "swimming", "motionless", "inside-predator", "afloat", "none"
    };
    private static final double BURST_WITHIN_S = 10;

    /** What a study knows beside the recording. */
    enum Known {
        /** Release, planned detachment, whether it can rest, length, site depth. */
        AS_IN_A_STUDY,
        /** Nothing but the file. */
        NOTHING,
        /** As in a study, with a body length 30 % too large. */
        LENGTH_TOO_LARGE,
        /** As in a study, with a body length 30 % too small. */
        LENGTH_TOO_SMALL
    }

    /** Reads one recording the whole way and scores it. */
    static FateCase of(SimulatedRecording made, Known known) {
        boolean mustSwim = made.truth().scenario().body().breathing() == Scenario.Breathing.MUST_SWIM;
        return score(made.truth(), reading(made, known), mustSwim);
    }

    /** The three readings of one recording. */
    record Read(MotionReading motion, BehaviourReading behaviour, FateReading fate) {}

    /** Reads one recording the whole way: motion, behaviour, fate. */
    static Read reading(SimulatedRecording made, Known known) {
        Recording recording = made.recording();
        return reading(
                made.truth(),
                motion(made, known),
                recording.durationS(),
                recording.clock().sampleRateHz(),
                recording.gaps(),
                known);
    }

    private static double lengthM(Truth truth, Known known) {
        return truth.scenario().body().lengthM()
                * switch (known) {
                    case LENGTH_TOO_LARGE -> 1.3;
                    case LENGTH_TOO_SMALL -> 0.7;
                    default -> 1;
                };
    }

    /** Motion alone. */
    static MotionReading motion(SimulatedRecording made, Known known) {
        MotionSettings m = MotionSettings.defaults();
        return MotionReader.read(
                made.recording(),
                known == Known.NOTHING
                        ? m
                        : new MotionSettings(
                                m.bandLowHz(),
                                m.bandHighHz(),
                                m.beatAxis(),
                                lengthM(made.truth(), known),
                                m.latitudeDeg(),
                                m.noiseMultiple(),
                                m.noiseG(),
                                m.bridgeS(),
                                m.mounts()));
    }

    /** Behaviour and fate of what motion said. */
    static Read reading(
            Truth truth, MotionReading motion, double durationS, double rateHz, List<SampleRange> gaps, Known known) {
        Scenario scenario = truth.scenario();
        boolean mustSwim = scenario.body().breathing() == Scenario.Breathing.MUST_SWIM;
        boolean nothing = known == Known.NOTHING;
        BehaviourReading behaviour = BehaviourReader.read(
                motion,
                nothing
                        ? BehaviourInputs.of(durationS, rateHz)
                        : new BehaviourInputs(
                                durationS,
                                rateHz,
                                gaps,
                                truth.releaseS(),
                                null,
                                mustSwim ? RestsOnBottom.NO : RestsOnBottom.YES,
                                lengthM(truth, known),
                                scenario.sea().bottomDepthM(),
                                null),
                BehaviourSettings.defaults());
        FateReading fate = FateReader.read(
                behaviour,
                nothing
                        ? FateInputs.none()
                        : FateInputs.planned(
                                truth.releaseS() + scenario.ending().detachH() * 3600),
                FateSettings.defaults());
        return new Read(motion, behaviour, fate);
    }

    static FateCase score(Truth truth, Read reading, boolean mustSwim) {
        FateProbabilities p = reading.fate().probabilities();
        ChangeTime change = reading.fate().changeAtS();
        Double trueChange = truth.changeS();
        boolean hasChange = change != null && trueChange != null;
        int[][] pairs = new int[KINDS.length][KINDS.length];
        int[] right = bouts(truth, reading.behaviour().bouts(), pairs);
        int[] bursts = bursts(truth, reading.behaviour().events());
        Double t80 = truth.t80H();
        return new FateCase(
                truth.scenario().name(),
                truth.scenario().ending().course().word(),
                truth.call(),
                truth.recordEnd(),
                truth.decidable() == Truth.Decidable.YES,
                mustSwim,
                word(reading.fate().call()),
                word(reading.fate().animal()),
                word(reading.fate().recordEnd()),
                new double[] {p.survived(), p.died(), p.eaten(), p.shed()},
                change != null && trueChange != null ? change.midS() - trueChange : Double.NaN,
                change != null && trueChange != null && change.lowS() <= trueChange && trueChange <= change.highS(),
                hasChange,
                right[0],
                right[1],
                pairs,
                bursts[0],
                bursts[1],
                bursts[2],
                (truth.aliveUntilS() - truth.releaseS()) / 86_400,
                MotionParts.beatCase(truth, reading.motion()),
                reading.behaviour().recovery().headline(),
                t80 == null ? Double.NaN : t80,
                (truth.aliveUntilS() - truth.releaseS()) / 3600);
    }

    private static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static int index(String[] words, String word) {
        for (int i = 0; i < words.length; i++) {
            if (words[i].equals(word)) {
                return i;
            }
        }
        throw new IllegalArgumentException(word);
    }

    private static int[] bouts(Truth truth, List<Bout> bouts, int[][] pairs) {
        int right = 0;
        int scored = 0;
        int b = 0;
        List<Bout> sorted = new ArrayList<>(bouts);
        sorted.sort(Comparator.comparingDouble(Bout::startS));
        for (int s = (int) Math.ceil(truth.releaseS()); s < truth.kindBySecond().length; s++) {
            TrueKind kind = truth.kindAt(s);
            if (!kind.isBoutKind()) {
                continue;
            }
            while (b < sorted.size() && sorted.get(b).endS() <= s + 0.5) {
                b++;
            }
            String called = b < sorted.size() && sorted.get(b).startS() <= s + 0.5
                    ? sorted.get(b).kind().word()
                    : "none";
            pairs[index(KINDS, kind.word())][index(KINDS, called)]++;
            scored++;
            right += called.equals(kind.word()) ? 1 : 0;
        }
        return new int[] {right, scored};
    }

    private static int[] bursts(Truth truth, List<Event> events) {
        double endS = truth.aliveUntilS();
        List<Truth.TrueBurst> real = truth.bursts();
        boolean[] found = new boolean[real.size()];
        int wrong = 0;
        for (Event event : events) {
            if (event.kind() != Event.Kind.BURST || event.atS() < truth.releaseS() || event.atS() > endS) {
                continue;
            }
            boolean hit = false;
            for (int i = 0; i < real.size(); i++) {
                Truth.TrueBurst burst = real.get(i);
                if (event.atS() > burst.atS() - BURST_WITHIN_S
                        && event.atS() < burst.atS() + burst.durationS() + BURST_WITHIN_S) {
                    found[i] = true;
                    hit = true;
                }
            }
            // The struggle of an attack is a true event of its own kind, not a false burst.
            wrong += hit || struggle(truth, event) ? 0 : 1;
        }
        int hits = 0;
        for (boolean f : found) {
            hits += f ? 1 : 0;
        }
        return new int[] {real.size(), hits, wrong};
    }

    private static boolean struggle(Truth truth, Event event) {
        for (int s = (int) event.atS(); s <= event.atS() + event.durationS(); s++) {
            if (s < truth.kindBySecond().length && truth.kindAt(s) == TrueKind.UNDER_ATTACK) {
                return true;
            }
        }
        return false;
    }

    double brier() {
        double sum = 0;
        for (int i = 0; i < 4; i++) {
            double truth = CALLS[i].equals(trueCall) ? 1 : 0;
            sum += (probabilities[i] - truth) * (probabilities[i] - truth);
        }
        return sum;
    }

    /** Recovery status as a word, for tables. */
    String recoveryStatus() {
        return word(recovery.status());
    }

    @Nullable
    String wrongCall() {
        return call.equals(trueCall) ? null : call;
    }
}
