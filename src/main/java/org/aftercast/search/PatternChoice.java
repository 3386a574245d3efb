package org.aftercast.search;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.jspecify.annotations.Nullable;

/**
 * Which pattern to run while nothing is heard, and where its turns lie as the datum drifts: spokes when the place is known
 * better than the beacon reaches, an expanding square when about as well, tracks side by side when hardly.
 */
final class PatternChoice {

    private PatternChoice() {}

    /** The pattern up to where it would cross land, or null when fewer than two turns are free. */
    static Advice.@Nullable Pattern of(Hunt hunt, double boatMps, Instant now, Cloud cloud, LocalPlane.Point here) {
        Land land = hunt.start().land();
        double meanX = cloud.mean(cloud.x);
        double meanY = cloud.mean(cloud.y);
        double spreadM = Math.hypot(cloud.sd(cloud.x, meanX), cloud.sd(cloud.y, meanY));
        double widthM =
                DetectionOdds.sweepWidthM(d -> hunt.hearing().chance(d, 1, hunt.learntMarginDb()[0], 0), 60_000);
        Cloud.Flows flows = cloud.flows();
        double east = 0;
        double north = 0;
        for (int i = 0; i < cloud.size(); i++) {
            east += cloud.weight[i] * cloud.eastMps(flows, i, 1);
            north += cloud.weight[i] * cloud.northMps(flows, i, 1);
        }
        double downDrift = Bearings.of(east, north);
        double spacing = Math.max(500, 0.7 * widthM);
        SearchPattern.Kind kind;
        List<SearchPattern.Leg> legs;
        String reason;
        if (spreadM < widthM / 3) {
            kind = SearchPattern.Kind.SECTOR;
            legs = SearchPattern.sector(Math.max(500, 2 * spreadM), downDrift);
            reason = "The place is known better than the beacon reaches: spokes through it.";
        } else if (spreadM < 1.5 * widthM) {
            kind = SearchPattern.Kind.EXPANDING_SQUARE;
            spacing = Math.max(500, 0.5 * widthM);
            legs = SearchPattern.expandingSquare(spacing, 10, downDrift);
            reason = "Outwards from the likeliest place.";
        } else {
            kind = SearchPattern.Kind.PARALLEL_SWEEP;
            legs = SearchPattern.parallelSweep(4 * spreadM, 3 * spreadM, spacing, downDrift);
            reason = "The place is hardly known: tracks side by side along the drift.";
        }
        List<SearchPattern.Turn> turns =
                SearchPattern.steer(land.plane().toEarth(meanX, meanY), now, east, north, legs, boatMps);
        List<SearchPattern.Turn> free = new ArrayList<>();
        LocalPlane.Point before = here;
        for (SearchPattern.Turn turn : turns) {
            LocalPlane.Point at = land.plane().toPlane(turn.position());
            if (land.crosses(before.xM(), before.yM(), at.xM(), at.yM())) {
                break;
            }
            free.add(turn);
            before = at;
        }
        return free.size() < 2 ? null : new Advice.Pattern(kind, spacing, reason, free);
    }
}
