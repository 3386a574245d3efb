package org.aftercast.fate;

/** What became of the animal, as far as the record can tell. */
public enum AnimalFate {
    /** Alive at the last certain sign. */
    ALIVE_AT_END,
    /** Died; not eaten while the record ran. */
    DIED,
    /** Taken by a larger animal while alive. */
    EATEN,
    /** Died first and was then fed upon. */
    DEAD_THEN_SCAVENGED,
    /** The record cannot tell. */
    UNDECIDED
}
