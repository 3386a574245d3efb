package org.aftercast.geo;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A line run over the water.
 *
 * @param name what it is
 * @param points in order of time
 */
public record Track(String name, List<Point> points) {

    /**
     * A place on a track.
     *
     * @param time when, or null for a planned point
     * @param position where
     */
    public record Point(@Nullable Instant time, Position position) {}

    public Track {
        points = List.copyOf(points);
    }

    /** Length in metres along the points. */
    public double lengthM() {
        double length = 0;
        for (int i = 1; i < points.size(); i++) {
            length += Geodesics.distanceM(
                    points.get(i - 1).position(), points.get(i).position());
        }
        return length;
    }
}
