package org.aftercast.search;

import java.time.Instant;
import java.util.List;
import org.aftercast.geo.Position;

/**
 * Where the package is thought to be at a time.
 *
 * @param time for this time
 * @param mean mean position; between two lobes it may be where nothing is
 * @param peak the likeliest place
 * @param radius95M distance from the mean within which it is with 95 %
 * @param region50 smallest area with 50 %
 * @param region95 smallest area with 95 %
 * @param driftEastMps mean drift to the east in m/s, wind included
 * @param driftNorthMps mean drift to the north in m/s
 * @param effectiveParticles 1/Σw²
 * @param cloud up to 400 places drawn from the cloud, for a map
 */
public record Fix(
        Instant time,
        Position mean,
        Position peak,
        double radius95M,
        Region region50,
        Region region95,
        double driftEastMps,
        double driftNorthMps,
        double effectiveParticles,
        List<Position> cloud) {
    public Fix {
        cloud = List.copyOf(cloud);
    }
}
