package org.aftercast.fate;

import static org.aftercast.fate.Sentences.f;
import static org.aftercast.fate.Sentences.time;
import static org.aftercast.fate.Sentences.timeLike;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.RestsOnBottom;
import org.jspecify.annotations.Nullable;

/** The summing-up sentence, and what would change it. */
final class Mind {

    private Mind() {}

    static String summary(
            FateCall call,
            AnimalFate animal,
            RecordEnd end,
            BehaviourReading b,
            FateProbabilities p,
            @Nullable ChangeTime change,
            FateReading.Predator predator) {
        double release = b.release().atS();
        String when = change == null ? "" : when(change, release);
        String what = switch (animal) {
            case ALIVE_AT_END ->
                end == RecordEnd.SHED_EARLY
                        ? "It was alive when the package came off early" + when
                        : f(
                                "It was alive to the end of its time with the package, %s",
                                time((b.detachment().atS() - release) / 3600));
            case DIED, DEAD_THEN_SCAVENGED -> "It died" + when;
            case EATEN ->
                switch (predator) {
                    case WARM -> "It was swallowed by a warm-bodied animal" + when;
                    case BITTEN -> "It was attacked and killed by a larger animal" + when;
                    default -> "It was eaten by a larger animal" + when;
                };
            case UNDECIDED -> "The record cannot tell what became of it";
        };
        return f(
                "%s. Probabilities: survived %.2f, died %.2f, eaten %.2f, shed %.2f.",
                what, p.survived(), p.died(), p.eaten(), p.shed());
    }

    private static String when(ChangeTime change, double releaseS) {
        double at = (change.midS() - releaseS) / 3600;
        double high = Math.max(0, change.highS() - releaseS) / 3600;
        if (at * 60 < 0.5) {
            return f(" at the release (at most %s after it)", time(high));
        }
        return f(
                " %s after the release (between %s and %s)",
                time(at), timeLike(Math.max(0, change.lowS() - releaseS) / 3600, at), timeLike(high, at));
    }

    static List<String> wouldChange(AnimalFate animal, RecordEnd end, BehaviourReading b, FateProbabilities p) {
        List<String> list = new ArrayList<>();
        double onset =
                b.still() == null ? Double.NaN : (b.still().atS() - b.release().atS()) / 3600;
        switch (animal) {
            case DIED, DEAD_THEN_SCAVENGED -> {
                list.add(f(
                        "A single tailbeat of its own later than %s after the release would rule death out then.",
                        time(onset)));
                if (b.inputs().restsOnBottom() != RestsOnBottom.NO) {
                    list.add(
                            "Breathing movements in the last stretch, or a pose upright as in earlier rests, would speak"
                                    + " for rest.");
                }
                list.add("Tooth marks on the package or an attack at the change would speak for a predator.");
            }
            case EATEN -> {
                list.add("The same tailbeat frequency as before the change, or a temperature that follows depth, would"
                        + " speak for a mount that slipped instead.");
                list.add("A package without any mark would weaken it.");
            }
            case ALIVE_AT_END -> {
                if (end == RecordEnd.SHED_EARLY) {
                    list.add("A later planned detachment time than was entered would make this the planned one.");
                } else {
                    list.add("A lasting change of pose together with another tailbeat frequency would speak for a"
                            + " predator.");
                }
                if (b.still() != null) {
                    list.add("It lay still at the end: a pose turned over, or no breathing movements, would speak for"
                            + " death.");
                }
            }
            case UNDECIDED -> {
                if (b.still() != null) {
                    list.add(f("A tailbeat after %s, or breathing movements, would show that it lived.", time(onset)));
                    list.add("A pose turned over would show that it died.");
                }
                if (p.eaten() > 0.15) {
                    list.add("The package's condition (tooth marks) would tell a predator from a mount that slipped.");
                }
            }
        }
        return list;
    }
}
