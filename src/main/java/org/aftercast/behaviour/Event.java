package org.aftercast.behaviour;

/**
 * Something short.
 *
 * @param kind what
 * @param atS onset in seconds from the first sample
 * @param durationS length in seconds, &gt; 0
 * @param size dimensionless: peak activity over the animal's own median while swimming
 */
public record Event(Kind kind, double atS, double durationS, double size) {

    /** What happened. */
    public enum Kind {
        BURST("burst"),
        PREDATOR_ATTACK("predator-attack"),
        SURFACING("surfacing");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        /** The word used in results and on pages. */
        public String word() {
            return word;
        }
    }
}
