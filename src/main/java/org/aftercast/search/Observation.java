package org.aftercast.search;

import java.time.Instant;
import java.util.List;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/** One thing noted on the water, with its time and the boat's own position. */
public sealed interface Observation {

    /** When, in UTC. */
    Instant time();

    /** Where the boat was. */
    Position own();

    /**
     * The direction in which the ping was loudest.
     *
     * @param bearingDeg as read, in degrees; what it is measured from is told by {@code source}
     * @param source how it was measured, which decides its correction to true
     * @param headingDeg the boat's heading or course for bow-relative readings, in the reference {@code source} names; else
     *     null
     * @param sdDeg standard deviation in degrees if the observer gives one; null: learnt from how the bearings agree
     * @param antenna the antenna used
     * @param gainStep the receiver's gain, 1 the highest
     */
    record Bearing(
            Instant time,
            Position own,
            double bearingDeg,
            BearingSource source,
            @Nullable Double headingDeg,
            @Nullable Double sdDeg,
            Antenna antenna,
            int gainStep)
            implements Observation {
        public Bearing {
            finite("bearingDeg", bearingDeg);
            if (sdDeg != null && !(sdDeg > 0 && sdDeg <= 90)) {
                throw new IllegalArgumentException("sdDeg: " + sdDeg + " is outside 0–90");
            }
            if (source.needsHeading() && headingDeg == null) {
                throw new IllegalArgumentException("headingDeg: a bearing read " + source.words() + " needs it");
            }
            gain(gainStep);
        }
    }

    /**
     * Heard or not heard at a gain setting.
     *
     * @param gainStep the receiver's gain, 1 the highest
     * @param heard heard or not
     * @param sweptFromDeg first true bearing of the sector swept, clockwise; null: all round
     * @param sweptToDeg last true bearing of the sector swept; null: all round
     * @param seconds time listened in seconds
     */
    record Listen(
            Instant time,
            Position own,
            int gainStep,
            Heard heard,
            Antenna antenna,
            @Nullable Double sweptFromDeg,
            @Nullable Double sweptToDeg,
            double seconds)
            implements Observation {
        public Listen {
            gain(gainStep);
            if ((sweptFromDeg == null) != (sweptToDeg == null)) {
                throw new IllegalArgumentException("sweptFromDeg, sweptToDeg: give both ends of the sector or neither");
            }
            if (!(seconds > 0 && seconds <= 7200)) {
                throw new IllegalArgumentException("seconds: " + seconds + " is outside 0–7200");
            }
        }

        /** Whether the beacon was heard. */
        public enum Heard {
            /** Heard. */
            HEARD,
            /** Not heard in the time and headings given. */
            NOT_HEARD
        }
    }

    /**
     * Loudness by heading, from one turn of the antenna.
     *
     * @param points at least one
     * @param source how the headings were measured
     * @param headingDeg as for {@link Bearing}
     */
    record Sweep(
            Instant time,
            Position own,
            List<SweepPoint> points,
            BearingSource source,
            @Nullable Double headingDeg,
            Antenna antenna,
            int gainStep)
            implements Observation {
        public Sweep {
            points = List.copyOf(points);
            if (points.isEmpty()) {
                throw new IllegalArgumentException("points: a sweep needs at least one heading");
            }
            if (source.needsHeading() && headingDeg == null) {
                throw new IllegalArgumentException("headingDeg: a sweep read " + source.words() + " needs it");
            }
            gain(gainStep);
        }
    }

    /**
     * The package seen, or looked for and not seen.
     *
     * @param seen seen or not
     * @param bearingDeg true bearing to it in degrees; null: close by
     * @param distanceM distance to it in metres (seen), or how far a float could have been seen (not seen)
     */
    record Sighting(
            Instant time,
            Position own,
            Seen seen,
            @Nullable Double bearingDeg,
            @Nullable Double distanceM) implements Observation {
        public Sighting {
            if (distanceM != null && !(distanceM >= 0 && distanceM <= 5000)) {
                throw new IllegalArgumentException("distanceM: " + distanceM + " is outside 0–5000 m");
            }
        }

        /** Whether the package was seen. */
        public enum Seen {
            /** Seen. */
            SEEN,
            /** Looked for all round and not seen. */
            NOT_SEEN
        }
    }

    /**
     * A measured drift over the ground.
     *
     * @param eastMps metres a second to the east
     * @param northMps metres a second to the north
     * @param drifter what drifted
     * @param overS seconds the measurement took, up to {@code time}: a long mean says less of the moment; 0 for a short one
     */
    record Drift(Instant time, Position own, double eastMps, double northMps, Drifter drifter, double overS)
            implements Observation {
        /** A short measurement. */
        public Drift(Instant time, Position own, double eastMps, double northMps, Drifter drifter) {
            this(time, own, eastMps, northMps, drifter, 0);
        }

        public Drift {
            if (!(overS >= 0 && overS <= 60 * 86_400)) {
                throw new IllegalArgumentException("hours: " + overS / 3600 + " is outside 0–1440");
            }
            finite("eastMps", eastMps);
            finite("northMps", northMps);
            if (Math.hypot(eastMps, northMps) > 5) {
                throw new IllegalArgumentException(
                        "eastMps, northMps: a drift of " + Math.hypot(eastMps, northMps) + " m/s is above 5 m/s");
            }
        }

        /** What drifted: it decides how much of the wind is in it. */
        public enum Drifter {
            /** The boat, engine off: current and the boat's own leeway. */
            STOPPED_BOAT,
            /** A drogue: the current, nearly no wind. */
            DROGUE,
            /** A float of the package's shape with a GPS. */
            DUMMY_FLOAT,
            /** A package already retrieved: from where it came off to where it was found. */
            RETRIEVED_PACKAGE
        }
    }

    private static void finite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + ": " + value + " must be a finite number");
        }
    }

    private static void gain(int gainStep) {
        if (gainStep < 1 || gainStep > 20) {
            throw new IllegalArgumentException("gainStep: " + gainStep + " is outside 1 (highest gain) to 20");
        }
    }
}
