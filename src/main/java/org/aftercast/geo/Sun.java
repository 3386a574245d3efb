package org.aftercast.geo;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SolarPosition;
import net.e175.klaus.solarpositioning.SunriseResult;
import org.jspecify.annotations.Nullable;

/**
 * Where the sun stands, and when it rises and sets: the solar position algorithm of NREL/TP-560-34302 (source key
 * reda2004), upper limb at a horizon with 34′ refraction. Positions to 0.0003°, times to some seconds on a free sea
 * horizon; the real refraction can shift them by a minute or two.
 */
public final class Sun {

    private Sun() {}

    /**
     * Where the sun stands.
     *
     * @param zenithDeg angle from straight overhead in degrees, 0–180
     * @param azimuthDeg true bearing in degrees, 0–360
     */
    public record Stand(double zenithDeg, double azimuthDeg) {}

    /**
     * The sun's day at a place.
     *
     * @param rise time of sunrise, or null when it does not rise or does not set on that day
     * @param set time of sunset, or null likewise
     * @param kind whether the sun rises and sets
     */
    public record Day(@Nullable Instant rise, @Nullable Instant set, Kind kind) {}

    /** Whether the sun rises and sets. */
    public enum Kind {
        /** It rises and sets. */
        RISES_AND_SETS,
        /** It stays up. */
        UP_ALL_DAY,
        /** It stays down. */
        DOWN_ALL_DAY
    }

    /**
     * Where the sun stands.
     *
     * @param heightM height of the observer in metres
     * @param pressureMillibar air pressure, for the refraction
     * @param airTempC air temperature in °C, for the refraction
     */
    public static Stand at(Instant time, Position place, double heightM, double pressureMillibar, double airTempC) {
        return at(time, place, heightM, pressureMillibar, airTempC, DeltaT.estimate(date(time)));
    }

    static Stand at(Instant time, Position place, double heightM, double millibar, double airTempC, double deltaTS) {
        SolarPosition stand = SPA.calculateSolarPosition(
                time.atZone(ZoneOffset.UTC), place.latDeg(), place.lonDeg(), heightM, deltaTS, millibar, airTempC);
        return new Stand(stand.zenithAngle(), stand.azimuth());
    }

    /**
     * The sun's day that holds this time, counted from local mean midnight (UTC + longitude/15 h), so that sunrise comes
     * before sunset whatever the longitude.
     */
    public static Day dayOf(Instant time, Position place) {
        return dayOf(time, place, DeltaT.estimate(date(time)));
    }

    static Day dayOf(Instant time, Position place, double deltaTS) {
        ZonedDateTime local = time.atZone(meanZone(place));
        SunriseResult result = SPA.calculateSunriseTransitSet(
                local, place.latDeg(), place.lonDeg(), deltaTS, SPA.Horizon.SUNRISE_SUNSET);
        if (result instanceof SunriseResult.RegularDay day) {
            return new Day(day.sunrise().toInstant(), day.sunset().toInstant(), Kind.RISES_AND_SETS);
        }
        return new Day(null, null, result instanceof SunriseResult.AllDay ? Kind.UP_ALL_DAY : Kind.DOWN_ALL_DAY);
    }

    private static LocalDate date(Instant time) {
        return time.atZone(ZoneOffset.UTC).toLocalDate();
    }

    private static ZoneOffset meanZone(Position place) {
        return ZoneOffset.ofTotalSeconds((int) Math.round(place.lonDeg() * 240));
    }
}
