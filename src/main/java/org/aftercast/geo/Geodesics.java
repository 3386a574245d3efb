package org.aftercast.geo;

import net.sf.geographiclib.Geodesic;
import net.sf.geographiclib.GeodesicData;

/**
 * Shortest lines on WGS84: distance and bearings between two places, and the place at a bearing and distance.
 *
 * <p>Accuracy about 15 nanometres (Karney 2013). Coincident places: distance 0, bearing 180° or 0° as GeographicLib
 * returns it, of no meaning. Source key: karney2013.
 */
public final class Geodesics {

    /** One nautical mile in metres (exact, by definition). */
    public static final double NAUTICAL_MILE_M = 1852.0;

    private Geodesics() {}

    /**
     * A line between two places.
     *
     * @param distanceM length in metres
     * @param bearingDeg true bearing at the start, 0 ≤ bearing &lt; 360
     * @param arrivalBearingDeg true bearing on arrival at the end, 0 ≤ bearing &lt; 360
     */
    public record Line(double distanceM, double bearingDeg, double arrivalBearingDeg) {}

    /** The line from one place to another. */
    public static Line between(Position from, Position to) {
        GeodesicData data = Geodesic.WGS84.Inverse(from.latDeg(), from.lonDeg(), to.latDeg(), to.lonDeg());
        return new Line(data.s12, Bearings.wrap360(data.azi1), Bearings.wrap360(data.azi2));
    }

    /** Distance in metres between two places. */
    public static double distanceM(Position from, Position to) {
        return between(from, to).distanceM();
    }

    /**
     * The place reached from a start.
     *
     * @param bearingDeg true bearing at the start in degrees
     * @param distanceM distance in metres; negative runs backwards
     */
    public static Position from(Position start, double bearingDeg, double distanceM) {
        if (!Double.isFinite(bearingDeg) || !Double.isFinite(distanceM)) {
            throw new IllegalArgumentException(
                    "bearingDeg, distanceM: " + bearingDeg + ", " + distanceM + " must be finite");
        }
        GeodesicData data = Geodesic.WGS84.Direct(start.latDeg(), start.lonDeg(), bearingDeg, distanceM);
        return new Position(data.lat2, data.lon2);
    }
}
