package org.aftercast.study;

import java.time.Instant;
import java.util.Objects;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/**
 * A person's decision on a fate. Locked as soon as it is stored: verdicts are never changed or removed.
 *
 * @param animal the animal
 * @param role first, second or settled
 * @param number 1 for the first and second; counts up where a settled verdict was settled anew
 * @param reader code of the person
 * @param readingKey the reading that was before them
 * @param animalFate what became of the animal
 * @param recordEnd how the record ended
 * @param changeUtc when it died, was eaten or lost the package, or null
 * @param reason why
 * @param lockedUtc when the verdict was locked
 */
public record Verdict(
        String animal,
        Role role,
        int number,
        String reader,
        String readingKey,
        AnimalFate animalFate,
        RecordEnd recordEnd,
        @Nullable Instant changeUtc,
        String reason,
        Instant lockedUtc) {

    /** Whose verdict it is. */
    public enum Role {
        /** The first reader's. */
        FIRST,
        /** The second reader's, given blind. */
        SECOND,
        /** What both settled on. */
        SETTLED
    }

    public Verdict {
        new Rules()
                .name("animal", animal)
                .needed("role", role)
                .within("number", number, 1, 1000, "")
                .name("reader", reader)
                .sha256("readingKey", readingKey)
                .needed("animalFate", animalFate)
                .needed("recordEnd", recordEnd)
                .time("changeUtc", changeUtc)
                .needed("reason", reason)
                .note("reason", reason)
                .needed("lockedUtc", lockedUtc)
                .check();
        changeUtc = Rules.toMs(changeUtc);
        lockedUtc = Objects.requireNonNull(Rules.toMs(lockedUtc));
    }
}
