package org.aftercast.search;

import java.time.Instant;
import org.aftercast.geo.Land;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * What is known before the first observation.
 *
 * @param contact where and when the package came off, or the last that was heard or seen of it
 * @param sea wind and currents
 * @param boat the boat, or null when no advice is wanted
 * @param land land around the contact; its plane is the search's plane
 * @param plannedDetachment when the package was to come off, or null when not known
 */
public record HuntStart(
        Contact contact,
        Sea sea,
        @Nullable Boat boat,
        Land land,
        @Nullable Instant plannedDetachment) {

    /**
     * A place and time the package was at.
     *
     * @param sdM standard deviation of the place in metres, per axis; 1 to 100 000
     */
    public record Contact(Instant time, Position position, double sdM) {
        public Contact {
            if (!(sdM >= 1 && sdM <= 100_000)) {
                throw new IllegalArgumentException("sdM: " + sdM + " is outside 1–100000 m");
            }
        }
    }

    /**
     * The boat and what limits it.
     *
     * @param home where it goes back to, or null: then daylight and fuel cannot be turned into a turn-back time
     * @param departed when it left
     * @param speedMps speed between stops in m/s, 0.5–30
     * @param fuelHours running hours the tank held at departure, or null: not watched
     */
    public record Boat(
            @Nullable Position home,
            Instant departed,
            double speedMps,
            @Nullable Double fuelHours) {
        public Boat {
            if (!(speedMps >= 0.5 && speedMps <= 30)) {
                throw new IllegalArgumentException("speedMps: " + speedMps + " is outside 0.5–30 m/s");
            }
            if (fuelHours != null && !(fuelHours > 0 && fuelHours <= 500)) {
                throw new IllegalArgumentException("fuelHours: " + fuelHours + " is outside 0–500 h");
            }
        }
    }
}
