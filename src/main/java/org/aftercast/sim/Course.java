package org.aftercast.sim;

/** How an invented animal's story goes. */
public enum Course {
    /** Lives until the package comes off as planned, or until the logger stops. */
    SURVIVES("survives", "alive-at-end"),
    /** Dead when let go: sinks from the release. */
    DIES_AT_ONCE("dies-at-once", "died"),
    /** Swims off weakly, dies before it reaches the bottom. */
    DIES_ON_THE_WAY_DOWN("dies-on-the-way-down", "died"),
    /** Dies hours later. */
    DIES_LATE("dies-late", "died"),
    /** Dies, and is fed upon some time after. */
    DIES_THEN_SCAVENGED("dies-then-scavenged", "dead-then-scavenged"),
    /** Swallowed whole by a larger animal with a warm body. */
    SWALLOWED_BY_WARM("swallowed-by-warm", "eaten"),
    /** Swallowed whole by a larger animal as cold as the water. */
    SWALLOWED_BY_COLD("swallowed-by-cold", "eaten"),
    /** Attacked and killed while alive; what is left sinks. */
    BITTEN("bitten", "eaten"),
    /** Alive when the package came off before it was meant to. */
    SHED_EARLY("shed-early", "alive-at-end");

    private final String word;
    private final String animalFate;

    Course(String word, String animalFate) {
        this.word = word;
        this.animalFate = animalFate;
    }

    /** The word used on the command line and in truth files. */
    public String word() {
        return word;
    }

    /** What became of the animal, in the words of the design: alive-at-end, died, eaten, dead-then-scavenged. */
    public String animalFate() {
        return animalFate;
    }

    /** The one-word call that would be right: survived, died, eaten or shed. */
    public String call() {
        return switch (this) {
            case SURVIVES -> "survived";
            case SHED_EARLY -> "shed";
            case SWALLOWED_BY_WARM, SWALLOWED_BY_COLD, BITTEN -> "eaten";
            case DIES_AT_ONCE, DIES_ON_THE_WAY_DOWN, DIES_LATE, DIES_THEN_SCAVENGED -> "died";
        };
    }

    /** Whether the animal is dead, of its capture or by a larger animal, before the package comes off. */
    boolean kills() {
        return this != SURVIVES && this != SHED_EARLY;
    }
}
