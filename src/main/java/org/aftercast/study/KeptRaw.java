package org.aftercast.study;

/**
 * A download that lies in {@code raw/} but has no record yet.
 *
 * @param sha256 SHA-256 of its bytes
 * @param originalName its name as it came
 * @param storedName its name in {@code raw/}
 * @param sizeBytes length in bytes
 */
public record KeptRaw(String sha256, String originalName, String storedName, long sizeBytes) {

    /** The record to add with its recording. */
    public RawFile of(String recordingSha256, int ordinal) {
        return new RawFile(sha256, recordingSha256, ordinal, originalName, storedName, sizeBytes);
    }
}
