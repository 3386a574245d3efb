package org.aftercast.fate;

import static org.aftercast.fate.Sentences.f;
import static org.aftercast.fate.Sentences.time;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.MinuteTable;
import org.aftercast.behaviour.Moment;
import org.aftercast.behaviour.Sign;
import org.aftercast.behaviour.Turning;
import org.jspecify.annotations.Nullable;

/**
 * Splits each fate's probability into the ways in which it can have come about.
 *
 * <p>Died: the time of death is spread over its interval, half of it on either side of the most likely moment, evenly on
 * each side. What lies before the animal left the surface is death at release, what lies before it levelled off is death
 * on the way down, the rest is later. An animal that held itself at the surface was alive then; one that sank from the
 * release on without a beat can have died at once or on the way, and both halves are shown. Eaten: bitten against swallowed
 * by the odds of the two; warm against cold by the excess of temperature over the water's, even where there is none to see.
 */
final class Endings {

    /** Held at the surface for so long after the release, it was alive: a dead animal sinks at once. */
    private static final double HELD_S = 30;

    /** A minute in which it sinks more slowly than this has levelled off, m/s. */
    private static final double LEVEL_MPS = 0.03;

    /** What lies dead after it was taken by something not warm was rather bitten than swallowed: log-odds. */
    private static final double LEFT_LYING = 2;

    private Endings() {}

    /**
     * All kinds with a probability of at least 0.005, likeliest first.
     *
     * @param b behaviour
     * @param p probabilities of the four fates
     * @param bitten log-odds of having been bitten, as in {@link FateReader}
     * @param swallowed log-odds of having been swallowed
     * @param leftLying whether it lay dead after another body had carried it
     */
    static List<Ending> of(
            BehaviourReading b, FateProbabilities p, double bitten, double swallowed, boolean leftLying) {
        List<Ending> all = new ArrayList<>();
        alive(all, b, p);
        died(all, b, p.died());
        eaten(all, b, p.eaten(), bitten, swallowed, leftLying);
        all.removeIf(e -> e.probability() < 0.005);
        all.sort(Comparator.comparingDouble((Ending e) -> -e.probability()).thenComparing(Ending::kind));
        return all;
    }

    private static void alive(List<Ending> all, BehaviourReading b, FateProbabilities p) {
        double hours = (b.detachment().atS() - b.release().atS()) / 3600;
        if (b.detachment().how() == Moment.How.NOT_SEEN) {
            all.add(new Ending(
                    Ending.Kind.ALIVE_AT_RECORD_END,
                    p.survived(),
                    f("Alive when the record ended %s after the release, the package still on.", time(hours))));
        } else {
            all.add(new Ending(
                    Ending.Kind.ALIVE_AT_DETACHMENT,
                    p.survived(),
                    f("Alive when the package came off as planned, %s after the release.", time(hours))));
            all.add(new Ending(
                    Ending.Kind.SHED_EARLY,
                    p.shed(),
                    f("Alive when the package came off too early, %s after the release.", time(hours))));
        }
    }

    private static void died(List<Ending> all, BehaviourReading b, double died) {
        Turning still = b.still();
        if (still == null) {
            all.add(new Ending(
                    Ending.Kind.DIED_LATER,
                    died,
                    "Nothing marks a death: it would have come after the last swimming."));
            return;
        }
        double release = b.release().atS();
        double left = leftSurface(b);
        double level = levelled(b, left);
        boolean held = left - release > HELD_S;
        double before = Double.isNaN(left) ? 0 : share(still, Math.max(left, release + 1));
        double down = Double.isNaN(left) ? 0 : Math.max(0, share(still, level) - before);
        double first = before + down;
        if (held) { // alive at the surface: what seems to lie before it left belongs to the way down
            down = first;
            before = 0;
        }
        double sureShare = Double.isNaN(left) ? share(still, release + 60) : before;
        String surface = Double.isNaN(left)
                ? "depth does not tell"
                : held
                        ? f("it held itself at the surface for %.0f s first", left - release)
                        : f("it left the surface %.0f s after the release", Math.max(0, left - release));
        all.add(new Ending(
                Ending.Kind.DIED_AT_RELEASE,
                died * sureShare,
                f("Died at the release: no tailbeat of its own need have come after it; %s.", surface)));
        all.add(new Ending(
                Ending.Kind.DIED_ON_THE_WAY_DOWN,
                died * down,
                Double.isNaN(level)
                        ? "Died on the way down."
                        : f(
                                "Died on the way down: %s and levelled off or came to lie %s after the release.",
                                surface, time((level - release) / 3600))));
        all.add(new Ending(
                Ending.Kind.DIED_LATER,
                died * Math.max(0, 1 - sureShare - down),
                f(
                        "Died later: its last swimming ended about %s after the release.",
                        time(Math.max(0, still.atS() - release) / 3600))));
    }

    private static void eaten(
            List<Ending> all, BehaviourReading b, double eaten, double bitten, double swallowed, boolean leftLying) {
        Sign warmth = warmth(b.otherBody());
        double warm = warmth == null ? 0.5 : logistic(Math.max(-4, Math.min(4, 2 * (warmth.value() - least(warmth)))));
        double odds = Double.isInfinite(bitten) ? Double.NEGATIVE_INFINITY : bitten - swallowed;
        if (leftLying && warm <= 0.5) {
            odds = Math.max(odds, LEFT_LYING);
        }
        double byBite = logistic(odds);
        all.add(new Ending(
                Ending.Kind.BITTEN,
                eaten * byBite,
                leftLying
                        ? "Bitten: what was left lay still at the end, after something had carried it about."
                        : attack(b.still())));
        String told = warmth == null
                ? "temperature does not tell a warm body from a cold one"
                : f(
                        "the package was %.1f °C %s than the water (a warm body begins at %.0f °C)",
                        Math.abs(warmth.value()), warmth.value() < 0 ? "colder" : "warmer", least(warmth));
        all.add(new Ending(
                Ending.Kind.SWALLOWED_BY_WARM, eaten * (1 - byBite) * warm, f("Swallowed whole and warm: %s.", told)));
        all.add(new Ending(
                Ending.Kind.SWALLOWED_BY_COLD,
                eaten * (1 - byBite) * (1 - warm),
                f("Swallowed whole by an animal as cold as the water: %s.", told)));
    }

    private static @Nullable Sign warmth(@Nullable Turning other) {
        for (Sign sign : other == null ? List.<Sign>of() : other.signs()) {
            if (sign.what().isWarmth()) {
                return sign;
            }
        }
        return null;
    }

    /** Excess from which on it counts as warm, °C: more of it is asked where depth tells what the water should be. */
    private static double least(Sign warmth) {
        return warmth.what() == Sign.What.WARM ? 2 : 1;
    }

    private static String attack(@Nullable Turning still) {
        for (Sign sign : still == null ? List.<Sign>of() : still.signs()) {
            if (sign.what() == Sign.What.ATTACK && sign.value() > 0) {
                return f(
                        "Bitten: a burst of %.1f times its swimming level came right before it lay still.",
                        sign.value());
            }
        }
        return "Bitten: no burst was seen before it lay still, so this rests on the prior.";
    }

    private static double logistic(double odds) {
        return 1 / (1 + Math.exp(-odds));
    }

    /** Share of the time of death that lies before a moment. */
    private static double share(Turning still, double atS) {
        double low = Math.min(still.lowS(), still.atS());
        double high = Math.max(still.highS(), still.atS());
        if (atS < low) {
            return 0;
        }
        if (atS >= high) {
            return 1;
        }
        return atS < still.atS()
                ? 0.5 * (atS - low) / (still.atS() - low)
                : 0.5 + 0.5 * (atS - still.atS()) / (high - still.atS());
    }

    /** When it first went deeper than a first descent counts from; NaN without depth or when it never did. */
    private static double leftSurface(BehaviourReading b) {
        MinuteTable m = b.minutes();
        double deep = b.settings().sustainedDescentM();
        double release = b.release().atS();
        int first = (int) Math.max(0, Math.floor(release / 60));
        for (int k = first; k < m.minutes(); k++) {
            double speed = Math.max(LEVEL_MPS, m.verticalMps()[k]);
            if (m.depthM()[k] > deep) {
                // The mean depth of the minute lies at its middle: back along the speed to the surface.
                return Math.max(release, k * 60 + 30 - Math.min(90, (m.depthM()[k] - deep) / speed));
            }
        }
        return Double.NaN;
    }

    /** End of the first descent: start of the first minute that no longer sinks. */
    private static double levelled(BehaviourReading b, double left) {
        MinuteTable m = b.minutes();
        if (Double.isNaN(left)) {
            return Double.NaN;
        }
        for (int k = (int) Math.floor(left / 60) + 1; k < m.minutes(); k++) {
            if (m.verticalMps()[k] < LEVEL_MPS) {
                return k * 60.0;
            }
        }
        return m.minutes() * 60.0;
    }
}
