package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * Several packages adrift: which to go for first. Worth = chance of success now per hour it takes, plus what waiting half a
 * day would lose of that chance (battery, spreading); the order is by worth. The hours are the run to the mean place
 * over water, the spread left on arrival and a stop for about every third of it (the same sum the advice uses).
 */
public final class WhichFirst {

    private static final Duration WAIT = Duration.ofHours(12);

    private WhichFirst() {}

    /**
     * One package.
     *
     * @param name of the package
     * @param hunt its search
     * @param batteryUntil when its beacon falls silent, or null when not known
     */
    public record Candidate(
            String name, Hunt hunt, @Nullable Instant batteryUntil) {}

    /**
     * Its place in the order.
     *
     * @param name of the package
     * @param hours expected hours to it
     * @param chance chance that it can be heard and found
     * @param chanceLater the same after half a day
     * @param reason in words
     */
    public record Rank(String name, double hours, double chance, double chanceLater, String reason) {}

    /** The order, best first. */
    public static List<Rank> order(List<Candidate> candidates, Instant now, Position own, double speedMps) {
        List<Rank> ranks = new ArrayList<>();
        for (Candidate candidate : candidates) {
            double[] soon = hoursAndSpread(candidate.hunt(), now, own, speedMps);
            double[] later = hoursAndSpread(candidate.hunt(), now.plus(WAIT), own, speedMps);
            BeaconState state = candidate.hunt().beaconState();
            double sounding = state.adrift() + state.ashore();
            double chance = sounding * battery(candidate, now, soon[0]);
            double chanceLater =
                    sounding * battery(candidate, now.plus(WAIT), later[0]) * Math.min(1, soon[1] / later[1]);
            ranks.add(new Rank(
                    candidate.name(),
                    soon[0],
                    chance,
                    chanceLater,
                    String.format(
                            Locale.ROOT,
                            "about %.1f h to it, chance %.0f %% now and %.0f %% half a day later",
                            soon[0],
                            100 * chance,
                            100 * chanceLater)));
        }
        ranks.sort(Comparator.comparingDouble((Rank r) -> worth(r)).reversed().thenComparing(Rank::name));
        return ranks;
    }

    private static double worth(Rank r) {
        return r.chance() / Math.max(0.25, r.hours()) + Math.max(0, r.chance() - r.chanceLater()) / 2;
    }

    private static double battery(Candidate candidate, Instant from, double hours) {
        Instant until = candidate.batteryUntil();
        if (until == null) {
            return 1;
        }
        double left = Sea.seconds(from, until) / 3600;
        return left <= 0 ? 0 : Math.min(1, left / Math.max(hours, 0.1));
    }

    private static double[] hoursAndSpread(Hunt hunt, Instant at, Position own, double speedMps) {
        Cloud cloud = hunt.cloud().copy(13);
        if (at.isAfter(cloud.time())) {
            cloud.advance(at);
        }
        double mx = cloud.mean(cloud.x);
        double my = cloud.mean(cloud.y);
        double spread = Math.hypot(cloud.sd(cloud.x, mx), cloud.sd(cloud.y, my));
        LocalPlane.Point here = hunt.start().land().plane().toPlane(own);
        double metres = Math.min(1e7, new SeaRoute(cloud.land(), mx, my).distanceM(here.xM(), here.yM()));
        double stops = Math.max(1, Math.log(spread / hunt.settings().advice().visualRangeM()) / Math.log(3));
        double hours = (metres + 1.1 * spread) / speedMps / 3600
                + stops * hunt.settings().advice().stopMinutes() / 60;
        return new double[] {hours, spread};
    }
}
