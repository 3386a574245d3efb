package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class GeodesicsTest {

    private static double dms(double d, double m, double s) {
        return Math.signum(d) * (Math.abs(d) + m / 60 + s / 3600);
    }

    /**
     * Flinders Peak to Buninyong, the worked example of the Geocentric Datum of Australia technical manual (GRS80, which
     * differs from WGS84 by less than the tolerance here): 54 972.271 m, 306°52′05.37″, reverse 127°10′25.07″.
     */
    @Test
    void flindersPeakToBuninyong() {
        Position flinders = new Position(dms(-37, 57, 3.72030), dms(144, 25, 29.52440));
        Position buninyong = new Position(dms(-37, 39, 10.15610), dms(143, 55, 35.38390));
        Geodesics.Line line = Geodesics.between(flinders, buninyong);
        assertThat(line.distanceM()).isCloseTo(54972.271, within(0.001));
        assertThat(line.bearingDeg()).isCloseTo(dms(306, 52, 5.37), within(0.01 / 3600));
        assertThat(line.arrivalBearingDeg() - 180 + 360).isCloseTo(dms(127, 10, 25.07) + 360, within(0.01 / 3600));
    }

    /** GeographicLib's own worked example: JFK (40.6, −73.8) to LHR (51.6, −0.5). */
    @Test
    void newYorkToLondon() {
        Geodesics.Line line = Geodesics.between(new Position(40.6, -73.8), new Position(51.6, -0.5));
        assertThat(line.distanceM()).isCloseTo(5551759.400319, within(1e-5));
        assertThat(line.bearingDeg()).isCloseTo(51.19888285, within(1e-8));
        assertThat(line.arrivalBearingDeg()).isCloseTo(107.82177674, within(1e-8));
    }

    /** A minute of latitude at 45° on WGS84, meridian arc by quadrature of a(1−e²)/(1−e² sin²φ)^1.5: 1852.196 m. */
    @Test
    void aMinuteOfLatitude() {
        double half = 0.5 / 60;
        assertThat(Geodesics.distanceM(new Position(45 - half, 3), new Position(45 + half, 3)))
                .isCloseTo(1852.196, within(0.001));
    }

    @Test
    void outAndBackMeets() {
        Position start = new Position(52.3, -4.6);
        Position there = Geodesics.from(start, 123.4, 17_000);
        Geodesics.Line line = Geodesics.between(start, there);
        assertThat(line.distanceM()).isCloseTo(17_000, within(1e-6));
        assertThat(line.bearingDeg()).isCloseTo(123.4, within(1e-9));
    }

    @Test
    void planeKeepsDistanceAndBearingFromItsOrigin() {
        Position origin = new Position(52.3, -4.6);
        LocalPlane plane = new LocalPlane(origin);
        Position there = Geodesics.from(origin, 250, 30_000);
        LocalPlane.Point point = plane.toPlane(there);
        assertThat(Math.hypot(point.xM(), point.yM())).isCloseTo(30_000, within(1e-5));
        assertThat(Bearings.of(point.xM(), point.yM())).isCloseTo(250, within(1e-9));
        assertThat(Geodesics.distanceM(plane.toEarth(point.xM(), point.yM()), there))
                .isLessThan(1e-5);
    }

    /** At 52° N, 20 km east: difference of longitude 0.2915° times sin 52° = 0.2297° (spherical convergence formula). */
    @Test
    void northTurnsAwayFromTheOrigin() {
        Position origin = new Position(52, 0);
        LocalPlane plane = new LocalPlane(origin);
        Position east = Geodesics.from(origin, 90, 20_000);
        double expected = east.lonDeg() * Math.sin(Math.toRadians(52));
        assertThat(plane.convergenceDeg(east)).isCloseTo(-expected, within(0.001));
        // The bearing back to the origin from there, made a plane bearing, is exactly west on the plane.
        double back = Geodesics.between(east, origin).bearingDeg();
        assertThat(back + plane.convergenceDeg(east)).isCloseTo(270, within(1e-6));
    }

    @Test
    void refusesWhatIsNotAPlace() {
        assertThatThrownBy(() -> new Position(90.01, 0)).hasMessageContaining("latDeg");
        assertThatThrownBy(() -> new Position(Double.NaN, 0)).hasMessageContaining("latDeg");
        assertThatThrownBy(() -> new Position(0, Double.NaN)).hasMessageContaining("lonDeg");
        assertThat(new Position(0, 181).lonDeg()).isEqualTo(-179);
        assertThatThrownBy(() -> new LocalPlane(new Position(0, 0)).toPlane(new Position(0, 90)))
                .hasMessageContaining("at most 1000 km");
    }

    @Test
    void anglesWrap() {
        assertThat(Bearings.wrap360(-10)).isEqualTo(350);
        assertThat(Bearings.wrap360(-1e-15)).isZero();
        assertThat(Bearings.wrap180(190)).isEqualTo(-170);
        assertThat(Bearings.wrap180(180)).isEqualTo(180);
        assertThat(new Position(52.2416666, -4.5866666).chartText()).isEqualTo("52°14.50′N 004°35.20′W");
    }
}
