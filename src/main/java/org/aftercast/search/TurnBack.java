package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.aftercast.geo.Sun;
import org.jspecify.annotations.Nullable;

/** When to be home: the earlier of sunset less a margin and two thirds of the fuel; and how long the run home takes. */
final class TurnBack {

    private static final double NO_WAY_M = 1e7;

    private final Land land;
    private final HuntStart.Boat boat;
    private final SearchSettings.AdviceRules rules;
    private @Nullable SeaRoute wayHome;

    TurnBack(Land land, HuntStart.Boat boat, SearchSettings.AdviceRules rules) {
        this.land = land;
        this.boat = boat;
        this.rules = rules;
    }

    /** When the boat must be home, and why. */
    record HomeBy(@Nullable Instant time, String reason) {}

    HomeBy homeBy(Instant now) {
        Position home = boat.home();
        if (home == null) {
            return new HomeBy(null, "Give the home port, and fuel, to have a turn-back time.");
        }
        Instant limit = null;
        String reason = "";
        Sun.Day day = Sun.dayOf(now, home);
        if (day.set() != null) {
            limit = day.set().minus(Duration.ofMinutes(Math.round(rules.daylightMarginMin())));
            reason = "home " + Math.round(rules.daylightMarginMin()) + " minutes before sunset";
        } else if (day.kind() == Sun.Kind.DOWN_ALL_DAY) {
            limit = now;
            reason = "the sun does not rise today";
        }
        Double fuel = boat.fuelHours();
        if (fuel != null) {
            Instant dry = boat.departed().plus(Advisor.seconds(fuel * 3600 * 2 / 3));
            if (limit == null || dry.isBefore(limit)) {
                limit = dry;
                reason = "a third of the fuel stays in reserve";
            }
        }
        return limit == null
                ? new HomeBy(null, "The sun stays up and no fuel was given: no turn-back time can be told.")
                : new HomeBy(limit, reason);
    }

    /** Whether a way home over water is known from a place; also yes where no home is known. */
    boolean reachesHome(double x, double y) {
        return runHomeS(x, y) * boat.speedMps() < NO_WAY_M;
    }

    /** Seconds home along the straight line, whatever lies between. */
    double straightHomeS(double x, double y) {
        Position home = boat.home();
        if (home == null) {
            return 0;
        }
        LocalPlane.Point port = land.plane().toPlane(home);
        return Math.hypot(port.xM() - x, port.yM() - y) / boat.speedMps();
    }

    /** Seconds home over water. */
    double runHomeS(double x, double y) {
        Position home = boat.home();
        if (home == null) {
            return 0;
        }
        SeaRoute way = wayHome;
        if (way == null) {
            LocalPlane.Point port = land.plane().toPlane(home);
            way = new SeaRoute(land, port.xM(), port.yM());
            wayHome = way;
        }
        double metres = way.distanceM(x, y);
        return Math.min(metres, NO_WAY_M) / boat.speedMps();
    }
}
