package org.aftercast.geo;

/** Angles on the compass circle, in degrees clockwise from north. */
public final class Bearings {

    private Bearings() {}

    /** The same angle in 0 ≤ angle &lt; 360. */
    public static double wrap360(double angleDeg) {
        double wrapped = angleDeg - 360 * Math.floor(angleDeg / 360);
        return wrapped >= 360 ? 0 : wrapped;
    }

    /** The same angle in −180 &lt; angle ≤ 180. */
    public static double wrap180(double angleDeg) {
        double wrapped = wrap360(angleDeg);
        return wrapped > 180 ? wrapped - 360 : wrapped;
    }

    /** Bearing in degrees of a displacement of {@code eastM}, {@code northM}; 0 for no displacement. */
    public static double of(double eastM, double northM) {
        return wrap360(Math.toDegrees(Math.atan2(eastM, northM)));
    }
}
