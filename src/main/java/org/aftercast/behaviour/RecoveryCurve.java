package org.aftercast.behaviour;

/** Shapes of a return to normal, and what competes with it. */
public enum RecoveryCurve {
    /** No change but noise. */
    CONSTANT("constant"),
    /** A daily rhythm and nothing else. */
    DIEL_ONLY("daily rhythm only"),
    /** Exponential approach: y = normal + (start − normal)·exp(−k t). */
    EXPONENTIAL("exponential"),
    /** Slow, fast, slow. */
    LOGISTIC("logistic"),
    /** A straight line to a breakpoint, level after it. */
    BREAKPOINT("breakpoint"),
    /** Exponential approach on top of a daily rhythm. */
    EXPONENTIAL_AND_DIEL("exponential with daily rhythm");

    private final String word;

    RecoveryCurve(String word) {
        this.word = word;
    }

    /** The word used in results and on pages. */
    public String word() {
        return word;
    }

    /** Whether this shape returns to a normal. */
    public boolean returns() {
        return this != CONSTANT && this != DIEL_ONLY;
    }
}
