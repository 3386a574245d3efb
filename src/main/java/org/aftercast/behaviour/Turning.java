package org.aftercast.behaviour;

import java.util.List;

/**
 * A moment after which the record is another one to its end (or to the detachment).
 *
 * @param kind what changed
 * @param atS best estimate, seconds from the first sample
 * @param lowS earliest
 * @param highS latest
 * @param toS end of the stretch that follows
 * @param signs what speaks for and against it, with numbers
 */
public record Turning(Kind kind, double atS, double lowS, double highS, double toS, List<Sign> signs) {

    /** What changed. */
    public enum Kind {
        /** No movement of its own from here on. */
        STILL,
        /** Movement goes on, but not as this animal moves. */
        OTHER_BODY
    }

    public Turning {
        signs = List.copyOf(signs);
    }

    /**
     * Sum of the signs' log-odds, natural logarithm; no prior included. For stillness an attack at its onset is left out:
     * it tells who killed, not whether it is dead.
     */
    public double logOdds() {
        return signs.stream()
                .filter(sign -> kind == Kind.OTHER_BODY || sign.what() != Sign.What.ATTACK)
                .mapToDouble(Sign::logOdds)
                .sum();
    }
}
