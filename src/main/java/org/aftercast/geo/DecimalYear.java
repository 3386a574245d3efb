package org.aftercast.geo;

import java.time.Instant;
import java.time.Year;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;

/** A time as a decimal year, for the magnetic model. */
public final class DecimalYear {

    private DecimalYear() {}

    /** The year plus the share of it that has passed, in UTC; 2025-01-01T00:00Z is 2025.0. */
    public static double of(Instant time) {
        ZonedDateTime utc = time.atZone(ZoneOffset.UTC);
        double days = utc.getDayOfYear() - 1 + utc.toLocalTime().toNanoOfDay() / 86_400e9;
        return utc.getYear() + days / Year.of(utc.getYear()).length();
    }
}
