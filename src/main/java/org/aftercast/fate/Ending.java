package org.aftercast.fate;

/**
 * One way in which it may have ended, finer than the one-word call.
 *
 * @param kind which
 * @param probability 0–1; those of all kinds add up to 1
 * @param sentence why, with the numbers that tell it from its neighbours
 */
public record Ending(Kind kind, double probability, String sentence) {

    /** Kinds, in the order of the fates that they are parts of. */
    public enum Kind {
        /** Alive when the package came off as planned and floated. */
        ALIVE_AT_DETACHMENT(FateCall.SURVIVED),
        /** Alive when the record ended, the package still on. */
        ALIVE_AT_RECORD_END(FateCall.SURVIVED),
        /** Alive when the package came off before it was meant to. */
        SHED_EARLY(FateCall.SHED),
        /** Died before it had left the surface. */
        DIED_AT_RELEASE(FateCall.DIED),
        /** Died after it had left the surface and before it levelled off. */
        DIED_ON_THE_WAY_DOWN(FateCall.DIED),
        /** Died after it had levelled off. */
        DIED_LATER(FateCall.DIED),
        /** Swallowed whole by a warm-bodied animal. */
        SWALLOWED_BY_WARM(FateCall.EATEN),
        /** Swallowed whole by an animal as cold as the water, or the temperature does not tell. */
        SWALLOWED_BY_COLD(FateCall.EATEN),
        /** Attacked and killed; what was left sank. */
        BITTEN(FateCall.EATEN);

        private final FateCall of;

        Kind(FateCall of) {
            this.of = of;
        }

        /** The call that it is a part of. */
        public FateCall of() {
            return of;
        }
    }
}
