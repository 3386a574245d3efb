package org.aftercast.geo;

/**
 * A flat map of the sea around an origin: azimuthal equidistant, x east and y north in metres.
 *
 * <p>Distance and bearing from the origin are exact. Between two other points at distance d from the origin a length is
 * wrong by at most d²/(6R²) of itself (4·10⁻⁶ at 30 km, 4·10⁻⁴ at 300 km). North on the plane is north at the origin:
 * elsewhere a true bearing is turned by {@link #convergenceDeg}, which is not negligible (0.23° at 20 km east, 52° N).
 *
 * @see Geodesics
 */
public final class LocalPlane {

    /** Beyond this distance from the origin, in metres, the plane is refused. */
    public static final double MAX_RADIUS_M = 1_000_000;

    private final Position origin;

    public LocalPlane(Position origin) {
        this.origin = origin;
    }

    /** Where x = y = 0. */
    public Position origin() {
        return origin;
    }

    /**
     * A point of the plane.
     *
     * @param xM metres east of the origin
     * @param yM metres north of the origin
     */
    public record Point(double xM, double yM) {
        /** Distance in metres to another point of the same plane. */
        public double distanceM(Point other) {
            return Math.hypot(other.xM - xM, other.yM - yM);
        }
    }

    /**
     * The place on the plane.
     *
     * @throws IllegalArgumentException if it is farther than {@link #MAX_RADIUS_M} from the origin
     */
    public Point toPlane(Position place) {
        Geodesics.Line line = Geodesics.between(origin, place);
        if (line.distanceM() > MAX_RADIUS_M) {
            throw new IllegalArgumentException("place: " + place.chartText() + " is "
                    + Math.round(line.distanceM() / 1000) + " km from " + origin.chartText()
                    + "; a search reaches at most " + Math.round(MAX_RADIUS_M / 1000) + " km");
        }
        double bearing = Math.toRadians(line.bearingDeg());
        return new Point(line.distanceM() * Math.sin(bearing), line.distanceM() * Math.cos(bearing));
    }

    /** The place on the earth of a point on the plane. */
    public Position toEarth(double xM, double yM) {
        return Geodesics.from(origin, Bearings.of(xM, yM), Math.hypot(xM, yM));
    }

    /**
     * How far true north at a place is turned clockwise from plane north, in degrees: a true bearing becomes a plane
     * bearing by adding this. Computed from the geodesic back to the origin, so exact for the direction to the origin.
     */
    public double convergenceDeg(Position place) {
        Geodesics.Line out = Geodesics.between(origin, place);
        if (out.distanceM() < 1e-3) {
            return 0;
        }
        return Bearings.wrap180(out.bearingDeg() - out.arrivalBearingDeg());
    }
}
