package org.aftercast.intake;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What whoever loads a file knows about its time beyond the file and its layout; it overrides the layout.
 *
 * @param startUtc instant of the first sample, for files whose rows carry no time of day; null if unknown
 * @param rateHz samples per second, for files without time stamps; checked against stamps otherwise; null if unknown
 * @param zone IANA zone or offset of calendar stamps that carry none; null if unknown (UTC is then assumed and flagged)
 * @param dates whether the day or the month stands first, for files that leave it open; null if unknown
 */
public record ImportOptions(
        @Nullable Instant startUtc,
        @Nullable Double rateHz,
        @Nullable String zone,
        @Nullable DateOrder dates) {

    /** What stands first in a date like 03/05/2026. */
    public enum DateOrder {
        DAY_FIRST,
        MONTH_FIRST
    }

    /** With nothing known about dates. */
    public ImportOptions(@Nullable Instant startUtc, @Nullable Double rateHz, @Nullable String zone) {
        this(startUtc, rateHz, zone, null);
    }

    /** Nothing known beyond the file. */
    public static ImportOptions none() {
        return new ImportOptions(null, null, null);
    }
}
