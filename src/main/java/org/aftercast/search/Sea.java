package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Wind and currents as known: typed, from a forecast, or measured.
 *
 * @param winds wind readings, any order; interpolated in time, held at both ends; empty: calm
 * @param currents residual currents likewise, the tide left out; empty: none known
 * @param tide the reversing tidal current, or null: none (required in tidal seas)
 */
public record Sea(
        List<Flow> winds, List<Flow> currents, @Nullable Tide tide) {

    /** Nothing known: calm, no current. */
    public static final Sea UNKNOWN = new Sea(List.of(), List.of(), null);

    /**
     * A velocity at a time.
     *
     * @param eastMps towards the east in m/s
     * @param northMps towards the north in m/s
     */
    public record Flow(Instant time, double eastMps, double northMps) {
        public Flow {
            if (!(Math.hypot(eastMps, northMps) <= 80)) {
                throw new IllegalArgumentException(
                        "eastMps, northMps: " + eastMps + ", " + northMps + " is no wind or current (above 80 m/s)");
            }
        }

        /** Wind as spoken: speed in m/s and the true direction it comes from. */
        public static Flow windFrom(Instant time, double speedMps, double fromDeg) {
            return currentTo(time, speedMps, fromDeg + 180);
        }

        /** Current as spoken: speed in m/s and the true direction it sets to. */
        public static Flow currentTo(Instant time, double speedMps, double toDeg) {
            double to = Math.toRadians(toDeg);
            return new Flow(time, speedMps * Math.sin(to), speedMps * Math.cos(to));
        }
    }

    /**
     * One tidal constituent: velocity = amplitude · cos(2π (t − strongest)/period).
     *
     * @param strongest a time at which the stream runs strongest in the direction given
     * @param eastMps its strength towards the east in m/s
     * @param northMps its strength towards the north in m/s
     * @param periodH 12.42 h for the lunar semidiurnal tide
     * @param strengthSd relative error of the strength, for example 0.2
     */
    public record Tide(Instant strongest, double eastMps, double northMps, double periodH, double strengthSd) {
        public Tide {
            if (!(periodH >= 3 && periodH <= 30)) {
                throw new IllegalArgumentException("periodH: " + periodH + " is outside 3–30 h");
            }
            if (!(Math.hypot(eastMps, northMps) <= 8)) {
                throw new IllegalArgumentException("eastMps, northMps: a tide above 8 m/s is not taken");
            }
            if (!(strengthSd >= 0 && strengthSd <= 1)) {
                throw new IllegalArgumentException("strengthSd: " + strengthSd + " is outside 0–1");
            }
        }

        double phase(Instant time) {
            return Math.cos(2 * Math.PI * seconds(strongest, time) / (periodH * 3600));
        }
    }

    public Sea {
        winds = sorted(winds);
        currents = sorted(currents);
    }

    /** Wind as velocity {east, north} in m/s at a time. */
    public double[] windAt(Instant time) {
        return at(winds, time);
    }

    /** Current without tide as {east, north} in m/s at a time. */
    public double[] currentAt(Instant time) {
        return at(currents, time);
    }

    /** The stream of the tide as {east, north} in m/s at a time. */
    public double[] tideAt(Instant time) {
        if (tide == null) {
            return new double[2];
        }
        double phase = tide.phase(time);
        return new double[] {tide.eastMps() * phase, tide.northMps() * phase};
    }

    private static List<Flow> sorted(List<Flow> flows) {
        return flows.stream().sorted(Comparator.comparing(Flow::time)).toList();
    }

    private static double[] at(List<Flow> flows, Instant time) {
        if (flows.isEmpty()) {
            return new double[2];
        }
        Flow before = flows.get(0);
        for (Flow flow : flows) {
            if (flow.time().isAfter(time)) {
                double span = seconds(before.time(), flow.time());
                double share = span <= 0 ? 1 : Math.max(0, seconds(before.time(), time) / span);
                return new double[] {
                    before.eastMps() + share * (flow.eastMps() - before.eastMps()),
                    before.northMps() + share * (flow.northMps() - before.northMps())
                };
            }
            before = flow;
        }
        return new double[] {before.eastMps(), before.northMps()};
    }

    static double seconds(Instant from, Instant to) {
        return Duration.between(from, to).toNanos() / 1e9;
    }
}
