package org.aftercast.search;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.DecimalYear;
import org.aftercast.geo.MagneticField;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * Turns a bearing true according to how it was measured.
 *
 * <ul>
 *   <li>true: as it is;
 *   <li>hand compass: + declination, no deviation card;
 *   <li>from the bow with the boat's compass: + heading + deviation at that heading + declination;
 *   <li>from the bow with a true heading: + heading;
 *   <li>from the bow with the course over ground: + course, with the extra error of set and leeway.
 * </ul>
 *
 * East is positive. The declination comes from WMM2025, or from a value given for times outside it.
 */
public final class BearingCorrection {

    private final MagneticModel model;
    private final SearchSettings.Bearings settings;
    private final @Nullable Double declinationDeg;

    /**
     * Made once for a search.
     *
     * @param declinationDeg declination to use in place of the model's, or null
     */
    public BearingCorrection(MagneticModel model, SearchSettings.Bearings settings, @Nullable Double declinationDeg) {
        this.model = model;
        this.settings = settings;
        this.declinationDeg = declinationDeg;
    }

    /**
     * A true bearing.
     *
     * @param bearingDeg true bearing in degrees, 0 ≤ bearing &lt; 360
     * @param extraSdDeg error that the correction brings, in degrees
     * @param how the sum in words
     */
    public record TrueBearing(double bearingDeg, double extraSdDeg, String how) {}

    /** Corrects one reading; {@code headingDeg} as in {@link Observation.Bearing}. */
    public TrueBearing correct(
            double readDeg, BearingSource source, @Nullable Double headingDeg, Position own, Instant time) {
        double heading = headingDeg == null ? 0 : headingDeg;
        return switch (source) {
            case TRUE -> new TrueBearing(Bearings.wrap360(readDeg), 0, "true as read");
            case HAND_COMPASS -> {
                MagneticField field = field(own, time);
                double declination = declination(field);
                yield new TrueBearing(
                        Bearings.wrap360(readDeg + declination),
                        uncertainty(field),
                        "compass + declination " + signed(declination));
            }
            case BOW_AND_COMPASS -> {
                MagneticField field = field(own, time);
                double declination = declination(field);
                double deviation = deviationDeg(settings.deviationCard(), heading);
                yield new TrueBearing(
                        Bearings.wrap360(readDeg + heading + deviation + declination),
                        uncertainty(field),
                        "bow + compass " + Math.round(heading) + "° + deviation " + signed(deviation)
                                + " + declination " + signed(declination));
            }
            case BOW_AND_TRUE_HEADING ->
                new TrueBearing(
                        Bearings.wrap360(readDeg + heading), 0, "bow + true heading " + Math.round(heading) + "°");
            case BOW_AND_COURSE ->
                new TrueBearing(
                        Bearings.wrap360(readDeg + heading),
                        settings.courseSdDeg(),
                        "bow + course over ground " + Math.round(heading) + "°, set and leeway not known");
        };
    }

    /**
     * Deviation at a compass heading, straight between the card's lines around the circle; 0 for an empty card.
     *
     * @param card in any order
     */
    static double deviationDeg(List<SearchSettings.DeviationPoint> card, double headingDeg) {
        if (card.isEmpty()) {
            return 0;
        }
        SearchSettings.DeviationPoint below = card.get(0);
        SearchSettings.DeviationPoint above = card.get(0);
        double toBelow = 361;
        double toAbove = 361;
        for (SearchSettings.DeviationPoint point : card) {
            double behind = Bearings.wrap360(headingDeg - point.headingDeg());
            double ahead = Bearings.wrap360(point.headingDeg() - headingDeg);
            if (behind < toBelow) {
                toBelow = behind;
                below = point;
            }
            if (ahead < toAbove) {
                toAbove = ahead;
                above = point;
            }
        }
        double span = toBelow + toAbove;
        return span == 0
                ? below.deviationDeg()
                : below.deviationDeg() + toBelow / span * (above.deviationDeg() - below.deviationDeg());
    }

    private @Nullable MagneticField field(Position own, Instant time) {
        return declinationDeg != null ? null : model.at(own, 0, DecimalYear.of(time));
    }

    private double declination(@Nullable MagneticField field) {
        return field == null ? Objects.requireNonNull(declinationDeg) : field.declinationDeg();
    }

    private static double uncertainty(@Nullable MagneticField field) {
        return field == null ? 0.5 : field.declinationUncertaintyDeg();
    }

    private static String signed(double deg) {
        return String.format(Locale.ROOT, "%.1f°%s", Math.abs(deg), deg < 0 ? "W" : "E");
    }
}
