package org.aftercast.estimate;

/** Whether an animal taken alive by a predator after its release counts as killed by the catch. */
public enum EatenRule {
    /** It counts: a tired animal is easier to take. */
    COUNTS,
    /** It does not count: being eaten is another end, which competes with death from the catch. */
    OTHER_END;

    /** The other one. */
    public EatenRule other() {
        return this == COUNTS ? OTHER_END : COUNTS;
    }
}
