package org.aftercast.geo;

import java.util.Locale;

/**
 * A place on the WGS84 ellipsoid.
 *
 * @param latDeg latitude in degrees, north positive, −90 to 90
 * @param lonDeg longitude in degrees, east positive; any finite value is taken and brought to −180 ≤ lon &lt; 180
 */
public record Position(double latDeg, double lonDeg) {

    public Position {
        if (!(latDeg >= -90 && latDeg <= 90)) {
            throw new IllegalArgumentException("latDeg: " + latDeg + " is outside −90 to 90");
        }
        if (!Double.isFinite(lonDeg) || Math.abs(lonDeg) > 540) {
            throw new IllegalArgumentException("lonDeg: " + lonDeg + " is outside −180 to 180");
        }
        if (lonDeg < -180 || lonDeg >= 180) {
            lonDeg = lonDeg - 360 * Math.floor((lonDeg + 180) / 360);
        }
    }

    /** Degrees and decimal minutes as read on a chart, for example {@code 52°14.50′N 004°35.20′W}. */
    public String chartText() {
        return part(latDeg, 2, latDeg < 0 ? "S" : "N") + " " + part(lonDeg, 3, lonDeg < 0 ? "W" : "E");
    }

    private static String part(double value, int digits, String side) {
        long hundredths = Math.round(Math.abs(value) * 6000);
        return String.format(
                Locale.ROOT, "%0" + digits + "d°%05.2f′%s", hundredths / 6000, (hundredths % 6000) / 100.0, side);
    }
}
