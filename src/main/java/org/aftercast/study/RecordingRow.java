package org.aftercast.study;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One loaded recording of an animal.
 *
 * @param sha256 identity of the recording: SHA-256 of its raw download ({@code Recording.sourceSha256})
 * @param animal the animal that carried the logger
 * @param parquetName file in {@code recordings/}
 * @param parquetSha256 SHA-256 of that file
 * @param sampleCount samples on the even grid, ≥ 1
 * @param sampleRateHz samples per second, 0–10 000
 * @param startUtc instant of the first sample, or null when the download has no time of day
 * @param layoutJson the download layout it was read with
 * @param loadedUtc when it was loaded
 * @param softwareVersion the version that loaded it
 */
public record RecordingRow(
        String sha256,
        String animal,
        String parquetName,
        String parquetSha256,
        long sampleCount,
        double sampleRateHz,
        @Nullable Instant startUtc,
        String layoutJson,
        Instant loadedUtc,
        String softwareVersion) {

    public RecordingRow {
        new Rules()
                .sha256("sha256", sha256)
                .name("animal", animal)
                .fileName("parquetName", parquetName)
                .sha256("parquetSha256", parquetSha256)
                .within("sampleCount", sampleCount, 1, 1e12, "")
                .within("sampleRateHz", sampleRateHz, 1e-9, 10_000, "Hz")
                .needed("layoutJson", layoutJson)
                .needed("loadedUtc", loadedUtc)
                .needed("softwareVersion", softwareVersion)
                .check();
        startUtc = Rules.toMs(startUtc);
        loadedUtc = java.util.Objects.requireNonNull(Rules.toMs(loadedUtc));
    }
}
