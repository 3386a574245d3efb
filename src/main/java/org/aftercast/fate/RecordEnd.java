package org.aftercast.fate;

/** How the record ended; kept apart from what became of the animal. Shed and lost are censoring. */
public enum RecordEnd {
    /** The package came off when it was meant to. */
    PLANNED_DETACHMENT,
    /** The package came off before it was meant to. */
    SHED_EARLY,
    /** The logger stopped while still on the animal. */
    LOGGER_STOPPED,
    /** Water came in. */
    FLOODED,
    /** The package was never retrieved. */
    PACKAGE_LOST
}
