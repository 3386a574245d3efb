package org.aftercast.geo;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What the boat's instruments last said. Null means: not said.
 *
 * @param gpsTime time in UTC as the receiver gave it
 * @param position last good position
 * @param receivedAt when that position came in, by this machine's clock
 * @param speedMps speed over ground in m/s
 * @param courseDeg true course over ground in degrees; null below {@link NmeaReader#COURSE_FLOOR_MPS}: it means nothing
 *     when the boat lies still
 * @param headingTrueDeg true heading in degrees
 * @param headingMagneticDeg magnetic heading in degrees, the sentence's own deviation applied
 * @param satellites satellites used
 */
public record OwnShip(
        @Nullable Instant gpsTime,
        @Nullable Position position,
        @Nullable Instant receivedAt,
        @Nullable Double speedMps,
        @Nullable Double courseDeg,
        @Nullable Double headingTrueDeg,
        @Nullable Double headingMagneticDeg,
        @Nullable Integer satellites) {

    /** Nothing heard yet. */
    public static final OwnShip NOTHING = new OwnShip(null, null, null, null, null, null, null, null);

    /** Whether there is no position, or one older than {@code limit} at the time {@code now}. */
    public boolean isStale(Instant now, Duration limit) {
        return receivedAt == null || Duration.between(receivedAt, now).compareTo(limit) > 0;
    }
}
