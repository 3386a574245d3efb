package org.aftercast.study;

/**
 * One download kept byte for byte in {@code raw/}.
 *
 * @param sha256 SHA-256 of its bytes
 * @param recordingSha256 the recording it belongs to
 * @param ordinal 1, 2 … where several files make up one recording
 * @param originalName its name as it came
 * @param storedName its name in {@code raw/}
 * @param sizeBytes length in bytes, ≥ 1
 */
public record RawFile(
        String sha256, String recordingSha256, int ordinal, String originalName, String storedName, long sizeBytes) {

    public RawFile {
        new Rules()
                .sha256("sha256", sha256)
                .sha256("recordingSha256", recordingSha256)
                .within("ordinal", ordinal, 1, 10_000, "")
                .needed("originalName", originalName)
                .fileName("storedName", storedName)
                .within("sizeBytes", sizeBytes, 1, 1e15, "bytes")
                .check();
    }
}
