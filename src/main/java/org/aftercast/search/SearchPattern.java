package org.aftercast.search;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;

/**
 * Patterns to run when silent, relative to the drifting datum: what the water carries along, the pattern goes along with.
 */
public final class SearchPattern {

    private SearchPattern() {}

    /** The patterns. */
    public enum Kind {
        /** S, S, 2S, 2S, 3S …: small area, start at the likeliest place. */
        EXPANDING_SQUARE,
        /** Tracks side by side: large area, evenly likely. */
        PARALLEL_SWEEP,
        /** Spokes through the datum: place well known, small target. */
        SECTOR
    }

    /** One leg relative to the water the datum drifts with: true course in degrees and length in metres. */
    public record Leg(double courseDeg, double lengthM) {}

    /** A turning point over the ground. */
    public record Turn(Position position, Instant time) {}

    /** Expanding square: legs S, S, 2S, 2S, 3S …, turns of 90° to the right. The first 2n legs make n(n+1) S. */
    public static List<Leg> expandingSquare(double spacingM, int legs, double firstCourseDeg) {
        check(spacingM);
        List<Leg> out = new ArrayList<>();
        for (int i = 0; i < legs; i++) {
            out.add(new Leg(firstCourseDeg + 90.0 * i, spacingM * (i / 2 + 1)));
        }
        return out;
    }

    /**
     * Sector search: three triangles through the datum, all turns 120° to the right, each triangle turned by 30°; first leg
     * down-drift.
     */
    public static List<Leg> sector(double radiusM, double firstCourseDeg) {
        check(radiusM);
        List<Leg> out = new ArrayList<>();
        for (int triangle = 0; triangle < 3; triangle++) {
            for (int side = 0; side < 3; side++) {
                out.add(new Leg(firstCourseDeg + 30.0 * triangle + 120.0 * side, radiusM));
            }
        }
        return out;
    }

    /** Parallel sweep of a box, starting half a spacing inside a corner; tracks along {@code courseDeg}. */
    public static List<Leg> parallelSweep(double lengthM, double widthM, double spacingM, double courseDeg) {
        check(spacingM);
        int tracks = Math.max(1, (int) Math.round(widthM / spacingM));
        List<Leg> out = new ArrayList<>();
        for (int i = 0; i < tracks; i++) {
            out.add(new Leg(courseDeg + (i % 2 == 0 ? 0 : 180), lengthM));
            if (i < tracks - 1) {
                out.add(new Leg(courseDeg + 90, spacingM));
            }
        }
        return out;
    }

    /**
     * Turning points over the ground of a pattern that drifts with its datum.
     *
     * @param start where the pattern starts, at {@code time}
     * @param driftEastMps drift of the datum in m/s
     * @param speedMps speed along the pattern relative to the drifting frame in m/s; for slow drift the boat's own
     * @return start and the end of each leg
     */
    public static List<Turn> steer(
            Position start, Instant time, double driftEastMps, double driftNorthMps, List<Leg> legs, double speedMps) {
        check(speedMps);
        LocalPlane plane = new LocalPlane(start);
        List<Turn> out = new ArrayList<>();
        out.add(new Turn(start, time));
        double x = 0;
        double y = 0;
        double seconds = 0;
        for (Leg leg : legs) {
            x += leg.lengthM * Math.sin(Math.toRadians(leg.courseDeg));
            y += leg.lengthM * Math.cos(Math.toRadians(leg.courseDeg));
            seconds += leg.lengthM / speedMps;
            out.add(new Turn(
                    plane.toEarth(x + driftEastMps * seconds, y + driftNorthMps * seconds),
                    time.plusMillis(Math.round(seconds * 1000))));
        }
        return out;
    }

    private static void check(double positive) {
        if (!(positive > 0) || !Double.isFinite(positive)) {
            throw new IllegalArgumentException("spacing, radius or speed: " + positive + " must be above 0");
        }
    }
}
