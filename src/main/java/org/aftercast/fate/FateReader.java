package org.aftercast.fate;

import static org.aftercast.fate.Sentences.f;
import static org.aftercast.fate.Sentences.time;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.Moment;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.behaviour.Sign;
import org.aftercast.behaviour.Turning;
import org.jspecify.annotations.Nullable;

/**
 * Weighs what the behaviour shows into a fate.
 *
 * <p>Hypotheses about the animal: alive to the end of its time with the package, died, eaten. Each piece of evidence adds
 * natural log-odds to one of them against being alive; priors are in the settings; probabilities are the normalised
 * exponentials. Whether the package came off early is judged apart, from the detachment and the plan, and splits the
 * living into survived and shed.
 */
public final class FateReader {

    private FateReader() {}

    /**
     * Judges one animal.
     *
     * @param b behaviour
     * @param in what must be known beside it
     * @param set settings
     */
    public static FateReading read(BehaviourReading b, FateInputs in, FateSettings set) {
        List<Evidence> evidence = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        double died = b.settings().deadPrior();
        double eaten = b.settings().eatenPrior();
        Turning still = b.still();
        Turning other = b.otherBody();
        double stillOdds = set.movesAtEnd();
        double bitten = Double.NEGATIVE_INFINITY;
        if (still != null) {
            stillOdds = 0;
            for (Sign sign : still.signs()) {
                if (sign.what() == Sign.What.ATTACK) {
                    bitten = sign.logOdds();
                    add(evidence, sign, still, FateCall.EATEN);
                } else {
                    stillOdds += sign.logOdds();
                    add(evidence, sign, still, FateCall.DIED);
                }
            }
        } else {
            double end = b.detachment().atS();
            evidence.add(new Evidence(
                    swamToTheEnd(end - b.lastOwnBeatS(), b.detachment().how()),
                    "MOVES_AT_END",
                    (end - b.lastOwnBeatS()) / 3600,
                    Double.NaN,
                    FateCall.DIED,
                    set.movesAtEnd(),
                    b.lastOwnBeatS(),
                    end,
                    Evidence.Source.RECORD));
        }
        double otherOdds = set.cannotTell();
        if (other != null) {
            otherOdds = other.logOdds();
            for (Sign sign : other.signs()) {
                add(evidence, sign, other, FateCall.EATEN);
            }
        }
        double stillPart = still == null ? 0 : stillOdds;
        boolean before = other != null && still != null && other.toS() <= still.atS() + 60;
        double swallowed = otherOdds + (before ? Math.max(0, stillPart) : 0);
        double taken = still == null ? Double.NEGATIVE_INFINITY : stillPart + bitten;
        died += stillOdds;
        eaten += logSum(swallowed, taken);
        double early = early(b, in, set, evidence, notes);
        FateProbabilities recordOnly = probabilities(died, eaten, early);
        double diedAll = died;
        double eatenAll = eaten;
        double earlyAll = early;
        for (Sighting s : in.sightings()) {
            SightingOdds odds = set.sightingOdds().getOrDefault(s.what(), new SightingOdds(0, 0, 0));
            diedAll += odds.died();
            eatenAll += odds.eaten();
            earlyAll += Double.isInfinite(early) ? 0 : odds.shed();
            double at = s.atS() == null ? Double.NaN : s.atS();
            say(evidence, s, FateCall.DIED, odds.died(), at);
            say(evidence, s, FateCall.EATEN, odds.eaten(), at);
            say(evidence, s, FateCall.SHED, odds.shed(), at);
        }
        boolean scavenged = still != null
                && still.signs().stream().anyMatch(sign -> sign.what() == Sign.What.MOVED_LATER && sign.value() >= 3);
        FateProbabilities all = probabilities(diedAll, eatenAll, earlyAll);
        RecordEnd end = recordEnd(b, in, earlyAll);
        AnimalFate animal = animal(all, set, scavenged);
        FateCall call = FateCall.of(animal, end);
        FateCall recordOnlyCall = FateCall.of(animal(recordOnly, set, scavenged), recordEnd(b, in, early));
        yardstick(b, in, notes);
        evidence.sort(Comparator.comparingDouble((Evidence e) -> -Math.abs(e.logOdds())));
        boolean byBite = taken > swallowed;
        boolean leftLying = !byBite && other != null && still != null && still.atS() >= other.atS() && stillPart > 2;
        ChangeTime change = change(animal, end, b, byBite);
        FateReading.Predator predator = animal != AnimalFate.EATEN
                ? FateReading.Predator.NONE
                : byBite || (leftLying && warm(other) != FateReading.Predator.WARM)
                        ? FateReading.Predator.BITTEN
                        : warm(other);
        return new FateReading(
                set,
                in,
                call,
                animal,
                end,
                all,
                recordOnlyCall,
                recordOnly,
                change,
                evidence,
                Mind.wouldChange(animal, end, b, all),
                lastSign(animal, b, change),
                predator,
                Endings.of(b, all, taken, swallowed, leftLying),
                Mind.summary(call, animal, end, b, all, change, predator),
                notes);
    }

    private static void add(List<Evidence> evidence, Sign sign, Turning turning, FateCall favours) {
        evidence.add(new Evidence(
                Sentences.say(sign, turning.kind()),
                sign.what().name(),
                sign.value(),
                sign.reference(),
                favours,
                sign.logOdds(),
                sign.fromS(),
                sign.toS(),
                Evidence.Source.RECORD));
    }

    private static void say(List<Evidence> evidence, Sighting s, FateCall favours, double logOdds, double at) {
        if (logOdds != 0) {
            evidence.add(new Evidence(
                    f("People noted that %s%s.", s.what().words(), s.note().isBlank() ? "" : " (" + s.note() + ")"),
                    s.what().name(),
                    1,
                    Double.NaN,
                    favours,
                    logOdds,
                    at,
                    at,
                    Evidence.Source.PEOPLE));
        }
    }

    /** Log-odds that the package came off before it was meant to; infinite when the record shows it stayed on. */
    private static double early(
            BehaviourReading b, FateInputs in, FateSettings set, List<Evidence> evidence, List<String> notes) {
        Moment off = b.detachment();
        if (off.how() == Moment.How.NOT_SEEN) {
            return Double.NEGATIVE_INFINITY;
        }
        Double planned = in.plannedDetachS();
        if (planned == null) {
            notes.add(
                    "The planned detachment is not known: whether the package came off early rests on the prior alone.");
            double prior = Math.log(set.shareShed() / (1 - set.shareShed()));
            evidence.add(new Evidence(
                    f(
                            "The package came off %s after the release; when it was meant to is not known.",
                            time((off.atS() - b.release().atS()) / 3600)),
                    "CAME_OFF",
                    (off.atS() - b.release().atS()) / 3600,
                    Double.NaN,
                    FateCall.SHED,
                    prior,
                    off.lowS(),
                    off.highS(),
                    Evidence.Source.RECORD));
            return prior;
        }
        double aheadMin = (planned - off.atS()) / 60;
        double odds = Math.max(-8, Math.min(8, 4 * (aheadMin - set.shedToleranceMin()) / set.shedToleranceMin()));
        String when = aheadMin >= 1
                ? f("%s before it was meant to", time(aheadMin / 60))
                : aheadMin > -1 ? "when it was meant to" : f("%s after it was meant to", time(-aheadMin / 60));
        String pose = Double.isNaN(b.floatPoseStepDeg())
                ? "."
                : f(" and has floated since, %.0f° from its pose before.", b.floatPoseStepDeg());
        evidence.add(new Evidence(
                f("The package came off %s", when) + pose,
                "CAME_OFF",
                aheadMin,
                set.shedToleranceMin(),
                FateCall.SHED,
                odds,
                off.lowS(),
                off.highS(),
                Evidence.Source.RECORD));
        return odds;
    }

    private static FateProbabilities probabilities(double died, double eaten, double early) {
        double top = Math.max(0, Math.max(died, eaten));
        double a = Math.exp(-top);
        double d = Math.exp(died - top);
        double e = Math.exp(eaten - top);
        double sum = a + d + e;
        double shed = Double.isInfinite(early) ? 0 : 1 / (1 + Math.exp(-early));
        double alive = a / sum;
        double pd = d / sum;
        double pe = e / sum;
        return new FateProbabilities(Math.max(0, alive * (1 - shed)), pd, pe, alive * shed);
    }

    private static AnimalFate animal(FateProbabilities p, FateSettings set, boolean scavenged) {
        if (p.survived() + p.shed() >= set.decideAbove()) {
            return AnimalFate.ALIVE_AT_END;
        }
        if (p.died() >= set.decideAbove()) {
            return scavenged ? AnimalFate.DEAD_THEN_SCAVENGED : AnimalFate.DIED;
        }
        return p.eaten() >= set.decideAbove() ? AnimalFate.EATEN : AnimalFate.UNDECIDED;
    }

    private static RecordEnd recordEnd(BehaviourReading b, FateInputs in, double early) {
        RecordEnd given = in.recordEnd();
        if (given != null) {
            return given;
        }
        if (b.detachment().how() == Moment.How.NOT_SEEN) {
            return RecordEnd.LOGGER_STOPPED;
        }
        return early > 0 ? RecordEnd.SHED_EARLY : RecordEnd.PLANNED_DETACHMENT;
    }

    private static FateReading.Predator warm(@Nullable Turning other) {
        if (other != null) {
            for (Sign sign : other.signs()) {
                if (sign.what().isWarmth() && sign.logOdds() > 1) {
                    return FateReading.Predator.WARM;
                }
            }
        }
        return FateReading.Predator.COLD_OR_UNKNOWN;
    }

    private static @Nullable ChangeTime change(AnimalFate animal, RecordEnd end, BehaviourReading b, boolean byBite) {
        Turning turning = animal == AnimalFate.DIED
                        || animal == AnimalFate.DEAD_THEN_SCAVENGED
                        || (animal == AnimalFate.EATEN && byBite)
                ? b.still()
                : animal == AnimalFate.EATEN ? b.otherBody() : null;
        if (turning != null) {
            return new ChangeTime(turning.lowS(), turning.atS(), turning.highS());
        }
        if (animal == AnimalFate.ALIVE_AT_END && end == RecordEnd.SHED_EARLY) {
            Moment off = b.detachment();
            return new ChangeTime(off.lowS(), off.atS(), off.highS());
        }
        return null;
    }

    private static double lastSign(AnimalFate animal, BehaviourReading b, @Nullable ChangeTime change) {
        if (animal == AnimalFate.ALIVE_AT_END && b.still() == null) {
            return b.detachment().atS();
        }
        double last = b.lastOwnBeatS();
        return animal == AnimalFate.EATEN && change != null ? Math.min(last, change.midS()) : last;
    }

    /**
     * How an animal swims among the others of its study, for people; empty when it never swam.
     *
     * @param beatHz its median beat frequency, Hz
     * @param y the others
     */
    public static String among(double beatHz, FateInputs.Yardstick y) {
        if (!(beatHz > 0)) {
            return "";
        }
        double z = Math.log(beatHz / y.medianBeatHz()) / y.spreadLn();
        String where =
                Math.abs(z) < 2 ? "as the others do" : f("%s than nearly all others", z > 0 ? "faster" : "slower");
        return f(
                "It swam at %.2f Hz, %s: the median of %d other animals is %.2f Hz (%.1f of their standard deviations %s).",
                beatHz, where, y.animals(), y.medianBeatHz(), Math.abs(z), z >= 0 ? "above" : "below");
    }

    private static void yardstick(BehaviourReading b, FateInputs in, List<String> notes) {
        FateInputs.Yardstick y = in.yardstick();
        String among = y == null ? "" : among(b.normal().beatHz(), y);
        if (!among.isEmpty()) {
            notes.add(among);
        }
        if (b.inputs().restsOnBottom() == RestsOnBottom.UNKNOWN && b.still() != null) {
            notes.add(
                    "Whether this animal can lie still and breathe is not known; that would help to tell death from rest.");
        }
    }

    private static double logSum(double a, double b) {
        double top = Math.max(a, b);
        return Double.isInfinite(top) ? top : top + Math.log(Math.exp(a - top) + Math.exp(b - top));
    }

    /** Under half a minute counts as to the end: "0 min before" says nothing. */
    static String swamToTheEnd(double gapS, Moment.How how) {
        String end = how == Moment.How.NOT_SEEN ? "record ends" : "package came off";
        return gapS < 30
                ? f("It still swam when the %s.", end)
                : f("It still swam %s before the %s.", time(gapS / 3600), end);
    }
}
