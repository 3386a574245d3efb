package org.aftercast.intake;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What whoever loads a file knows about its time beyond the file and its layout; it overrides the layout.
 *
 * @param startUtc instant of the first sample, for files whose rows carry no time of day; null if unknown
 * @param rateHz samples per second, for files without time stamps; checked against stamps otherwise; null if unknown
 * @param zone IANA zone or offset of calendar stamps that carry none; null if unknown (UTC is then assumed and flagged)
 */
public record ImportOptions(
        @Nullable Instant startUtc,
        @Nullable Double rateHz,
        @Nullable String zone) {

    /** Nothing known beyond the file. */
    public static ImportOptions none() {
        return new ImportOptions(null, null, null);
    }
}
