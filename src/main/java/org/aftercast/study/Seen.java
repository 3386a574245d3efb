package org.aftercast.study;

import java.time.Instant;
import org.aftercast.fate.Sighting;
import org.jspecify.annotations.Nullable;

/**
 * One thing that people saw of an animal or its package.
 *
 * @param animal the animal
 * @param number 1, 2 … for one animal
 * @param what what it was
 * @param seenUtc when, or null when it has no time (a package found weeks later)
 * @param seenNote in the observer's own words, or null
 * @param photoSha256 a photograph of the study that shows it, or null
 */
public record Seen(
        String animal,
        int number,
        Sighting.What what,
        @Nullable Instant seenUtc,
        @Nullable String seenNote,
        @Nullable String photoSha256) {

    public Seen {
        seenUtc = Rules.toMs(seenUtc);
        Rules rules = new Rules()
                .name("animal", animal)
                .within("number", number, 1, 10_000, "")
                .needed("what", what)
                .time("seenUtc", seenUtc)
                .note("seenNote", seenNote);
        if (photoSha256 != null) {
            rules.sha256("photoSha256", photoSha256);
        }
        rules.check();
    }
}
