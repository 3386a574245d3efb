package org.aftercast.voyage;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.util.List;
import java.util.Map;
import org.aftercast.search.SearchSettings;
import org.jspecify.annotations.Nullable;

/**
 * The result of {@code aftercast seek} as JSON (docs/seek.schema.json). Times are ISO 8601 in UTC.
 *
 * @param format {@code aftercast-seek}
 * @param version of the format
 * @param madeBy program and version
 * @param source name of the file read
 * @param sha256 of its bytes
 * @param cautions to be read before anything else
 * @param asOf time the advice is for
 * @param settings all settings used
 * @param packages one entry for each package still sought, in the order in which to go for them
 * @param ended one entry for each search that ended
 */
public record SeekDocument(
        String format,
        int version,
        String madeBy,
        String source,
        String sha256,
        List<String> cautions,
        String asOf,
        SearchSettings settings,
        List<Sought> packages,
        List<Ended> ended) {

    /** Value of {@link #format}. */
    public static final String FORMAT = "aftercast-seek";

    /** Value of {@link #version}. */
    public static final int VERSION = 1;

    /**
     * One package.
     *
     * @param name as in the file
     * @param whyInThisOrder expected hours and chance, or an empty string when there is one package or no boat
     * @param turnBack when to turn for home, or null without a boat row
     * @param advice what to do next, or null without a boat row
     * @param fix where it is
     * @param regions the 50 % and 95 % regions, hourly 95 % regions, bearings, leg and boat as GeoJSON
     * @param forecast hour by hour
     * @param residuals how each bearing agrees
     * @param classicalFix the fix from bearings alone, as if it lay still, or null with fewer than two that cross
     * @param beacon what silence and pings say
     * @param ranges how far each gain step reaches, with what was learnt
     * @param detectionOddsSoFar chance that it would have been heard by now
     */
    public record Sought(
            String name,
            String whyInThisOrder,
            @Nullable TurnBack turnBack,
            @Nullable NextStep advice,
            FixPart fix,
            Map<String, Object> regions,
            List<Hour> forecast,
            List<ResidualPart> residuals,
            @Nullable Classical classicalFix,
            Beacon beacon,
            List<Range> ranges,
            double detectionOddsSoFar) {}

    /**
     * A search that ended.
     *
     * @param name of the package
     * @param outcome retrieved, stranded, handed-in or abandoned
     * @param at when
     * @param place where it was found, or null
     * @param hours hours spent on it
     * @param miles nautical miles run for it
     * @param howKnown whether hours and miles were noted or reckoned from the rows
     * @param driftMps mean drift since it came off, used for the others; null unless retrieved from the water
     * @param driftToDeg where to, or null
     */
    public record Ended(
            String name,
            String outcome,
            String at,
            @Nullable Place place,
            double hours,
            double miles,
            String howKnown,
            @Nullable Double driftMps,
            @Nullable Double driftToDeg) {}

    /** A place in degrees and as read on a chart. */
    public record Place(double latDeg, double lonDeg, String chart) {}

    /** Latest time to turn back, or null, and why. */
    public record TurnBack(@Nullable String at, String reason) {}

    /** What to do next. */
    public record NextStep(
            String action,
            String reason,
            @Nullable LegPart leg,
            int gainStep,
            String gainReason,
            @Nullable PatternPart pattern) {}

    /**
     * A leg.
     *
     * @param courseDeg true
     * @param declinationDeg east positive, to tell the magnetic course; null where no model holds; not part of the JSON
     */
    public record LegPart(
            double courseDeg,
            double distanceM,
            Place to,
            String arrival,
            double chanceOfHearing,
            double bitsPerHour,
            @JsonIgnore @Nullable Double declinationDeg) {}

    /** A pattern. */
    public record PatternPart(String kind, double spacingM, String reason, List<TurnPart> turns) {}

    /** A turning point. */
    public record TurnPart(String time, Place at) {}

    /** The fix. */
    public record FixPart(
            String time,
            Place mean,
            Place peak,
            double radius95M,
            double area50M2,
            double area95M2,
            double driftMps,
            double driftToDeg,
            double effectiveParticles) {}

    /** One hour of the forecast. */
    public record Hour(String time, Place mean, double radius95M, double area95M2) {}

    /** One bearing. */
    public record ResidualPart(
            String time,
            double trueBearingDeg,
            String correction,
            double meanDeg,
            double backShare,
            double wildShare,
            String verdict) {}

    /** The classical fix. */
    public record Classical(
            String method,
            Place at,
            double kappa,
            double semiMajorM,
            double semiMinorM,
            double azimuthDeg,
            double cutDeg,
            String note) {}

    /** What silence and pings say. */
    public record Beacon(
            double adrift,
            double ashore,
            double stillAttached,
            double insidePredator,
            double beaconDead,
            String shedEarly,
            double shedEarlyChance) {}

    /** How far a gain step reaches, in metres. */
    public record Range(int gainStep, double surelyM, double halfM, double hardlyM) {}
}
