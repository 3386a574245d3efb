package org.aftercast.estimate;

import org.aftercast.fate.AnimalFate;
import org.jspecify.annotations.Nullable;

/**
 * Which deaths count as caused by the catch. The user declares it; every report shows it with the alternative beside it.
 *
 * @param eaten whether animals eaten alive count
 * @param withinH deaths later than this many hours after release do not count (they are another end), above 0; null:
 *     deaths count whenever they come
 */
public record DeathRule(EatenRule eaten, @Nullable Double withinH) {

    public DeathRule {
        if (withinH != null && !(withinH > 0 && withinH < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("withinH: " + withinH + " is not a number of hours above 0");
        }
    }

    /** The rule in words. */
    public String inWords() {
        String words = eaten == EatenRule.COUNTS
                ? "animals that died or were eaten"
                : "animals that died (eaten alive is counted as another end)";
        return withinH == null ? words : words + ", within " + Text.number(withinH) + " h of release";
    }

    /** 0 alive or unknown at the end of the time at risk, 1 death that counts, 2 death that does not. */
    int code(AnimalOutcome animal) {
        if (!animal.dead()) {
            return 0;
        }
        boolean late = withinH != null && animal.atRiskH() > withinH;
        boolean excluded = animal.fate() == AnimalFate.EATEN && eaten == EatenRule.OTHER_END;
        return late || excluded ? 2 : 1;
    }

    /** The same rule with animals eaten treated the other way. */
    DeathRule withEatenOtherWay() {
        return new DeathRule(eaten.other(), withinH);
    }
}
