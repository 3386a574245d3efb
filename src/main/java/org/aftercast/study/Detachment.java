package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The moment the package came off the animal, as far as anybody knows.
 *
 * @param animal the animal's name
 * @param detachedUtc best estimate
 * @param source how it is known
 * @param earliestUtc earliest possible, or null
 * @param latestUtc latest possible, or null
 */
public record Detachment(
        String animal,
        Instant detachedUtc,
        Source source,
        @Nullable Instant earliestUtc,
        @Nullable Instant latestUtc) {

    /** How a detachment is known. */
    public enum Source {
        /** Entered by a person. */
        ENTERED,
        /** Found in the recording. */
        FROM_RECORD
    }

    public Detachment {
        new Rules().needed("detachedUtc", detachedUtc).needed("source", source).check();
        detachedUtc = java.util.Objects.requireNonNull(Rules.toMs(detachedUtc));
        earliestUtc = Rules.toMs(earliestUtc);
        latestUtc = Rules.toMs(latestUtc);
        new Rules()
                .name("animal", animal)
                .time("detachedUtc", detachedUtc)
                .order("detachedUtc", detachedUtc, "earliestUtc", earliestUtc)
                .order("latestUtc", latestUtc, "detachedUtc", detachedUtc)
                .check();
    }
}
