package org.aftercast.sim;

/** What the invented animal or its package is truly doing in one second. */
public enum TrueKind {
    /** Before the release: on deck or in the hand. No bout kind covers it. */
    ON_DECK("on-deck"),
    WEAK_AT_SURFACE("weak-at-surface"),
    DESCENDING("descending"),
    RESTING("resting"),
    SWIMMING("swimming"),
    MOTIONLESS("motionless"),
    INSIDE_PREDATOR("inside-predator"),
    AFLOAT("afloat"),
    /** The seconds of an attack. No bout kind covers it. */
    UNDER_ATTACK("under-attack"),
    /** A carcass being fed upon. No bout kind covers it. */
    FED_UPON("fed-upon"),
    /** The package rising after it came off. No bout kind covers it. */
    RISING("rising");

    private final String word;

    TrueKind(String word) {
        this.word = word;
    }

    /** The word; the same as the bout's where there is one. */
    public String word() {
        return word;
    }

    /** Whether a bout kind of that name exists, so that the second can be scored. */
    public boolean isBoutKind() {
        return switch (this) {
            case ON_DECK, UNDER_ATTACK, FED_UPON, RISING -> false;
            default -> true;
        };
    }
}
