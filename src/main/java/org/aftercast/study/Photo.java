package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One photograph, kept byte for byte in {@code photos/}.
 *
 * @param sha256 SHA-256 of its bytes
 * @param animal the animal it belongs to
 * @param originalName its name as it came
 * @param storedName its name in {@code photos/}
 * @param sizeBytes length in bytes, ≥ 1
 * @param takenUtc when it was taken, or null
 * @param caption what it shows, or null
 */
public record Photo(
        String sha256,
        String animal,
        String originalName,
        String storedName,
        long sizeBytes,
        @Nullable Instant takenUtc,
        @Nullable String caption) {

    public Photo {
        takenUtc = Rules.toMs(takenUtc);
        new Rules()
                .sha256("sha256", sha256)
                .name("animal", animal)
                .needed("originalName", originalName)
                .fileName("storedName", storedName)
                .within("sizeBytes", sizeBytes, 1, 1e12, "bytes")
                .time("takenUtc", takenUtc)
                .note("caption", caption)
                .check();
    }
}
