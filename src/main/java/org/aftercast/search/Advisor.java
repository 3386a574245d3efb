package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * Chooses the next leg.
 *
 * <p>Nothing heard yet: the leg with the most chance of hearing per hour of running and listening. Heard: the leg that
 * leaves the least expected time to the package, each possible outcome at its end (bearing in 24 classes by lowest gain
 * heard, or silence) weighed over 150 particles: the time to the place then expected, plus the spread then left. The
 * mutual information of the outcome is computed on the way and shown per hour (Hoffmann and Tomlin 2010; source key
 * hoffmann2010). Candidates: 24 courses by 3 lengths, the likeliest place, the centres of the region's pieces, and
 * staying.
 *
 * <p>Never advised: a leg that touches land or comes nearer the coast than the margin (or than the boat is already), or one
 * from whose end the boat would be home too late.
 */
public final class Advisor {

    private static final int DRAWN = 150;
    private static final int COURSES = 24;
    private static final double SAME_PLACE_M = 150;

    private static final List<String> CAUTIONS = List.of(
            "Go or no-go comes first: wind, sea, visibility, crew, communications. The skipper decides; local rules and"
                    + " licences come before any advice here.",
            "Depth, shoals and traffic are not known to this program; its coast is not for navigation.",
            "The helm keeps a lookout; nobody steers by this screen.");

    private final Hunt hunt;
    private final SearchSettings settings;
    private final Land land;
    private final HuntStart.Boat boat;
    private final TurnBack turnBack;

    /**
     * For one search.
     *
     * @throws IllegalArgumentException if the search was opened without a boat
     */
    public Advisor(Hunt hunt) {
        this.hunt = hunt;
        this.settings = hunt.settings();
        this.land = hunt.start().land();
        HuntStart.Boat known = hunt.start().boat();
        if (known == null) {
            throw new IllegalArgumentException("boat: advice needs the boat's speed");
        }
        this.boat = known;
        this.turnBack = new TurnBack(land, known, settings.advice());
    }

    /** Cautions that stand before any advice. */
    public static List<String> cautions() {
        return CAUTIONS;
    }

    /** A leg under consideration. */
    private record Candidate(double x, double y, double metres, String kind) {}

    /**
     * Advice for a boat at a place.
     *
     * @param now not before the last observation
     */
    public Advice advise(Instant now, Position own) {
        Cloud cloud = hunt.cloud();
        if (now.isAfter(cloud.time())) {
            cloud = cloud.copy(7);
            cloud.advance(now);
        }
        LocalPlane plane = land.plane();
        LocalPlane.Point here = plane.toPlane(own);
        TurnBack.HomeBy homeBy = turnBack.homeBy(now);
        Instant turnBackAt =
                homeBy.time() == null ? null : homeBy.time().minus(seconds(turnBack.runHomeS(here.xM(), here.yM())));
        if (homeBy.time() != null && !turnBack.reachesHome(here.xM(), here.yM())) {
            // A harbour the coast does not know, or a place mistyped: a time is told, no leg is.
            turnBackAt = homeBy.time().minus(seconds(turnBack.straightHomeS(here.xM(), here.yM())));
            homeBy = new TurnBack.HomeBy(
                    homeBy.time(), homeBy.reason() + "; no way home over water is known, so along the straight line");
        }
        Density density = Density.of(plane, cloud.x, cloud.y, cloud.weight);
        LocalPlane.Point peak = plane.toPlane(density.peak());
        double sight = settings.advice().visualRangeM();
        double inSight = massWithin(cloud, peak, 1.5 * sight);
        int gain = gainStep(cloud, here);
        String gainReason = gainReason(gain);
        if (turnBackAt != null && !now.isBefore(turnBackAt)) {
            return new Advice(
                    now,
                    CAUTIONS,
                    turnBackAt,
                    homeBy.reason(),
                    Advice.Action.TURN_BACK,
                    null,
                    "Turn for home now: " + homeBy.reason(),
                    gain,
                    gainReason,
                    null,
                    hunt.detectionOddsSoFar());
        }
        LegPromise.Sample sample = sample(cloud);
        if (inSight > 0.5) {
            double metres = Math.hypot(peak.xM() - here.xM(), peak.yM() - here.yM());
            Candidate go = meeting(sample, here, peak);
            if (allowed(here, go, now, homeBy.time())) {
                boolean last = metres < 2 * sight;
                return new Advice(
                        now,
                        CAUTIONS,
                        turnBackAt,
                        homeBy.reason(),
                        last ? Advice.Action.LAST_APPROACH : Advice.Action.GO_AND_LOOK,
                        leg(now, here, go, promise(sample, go)),
                        last
                                ? lastApproach(now)
                                : "It should be within sight of there (" + percent(inSight) + "): go and look.",
                        gain,
                        gainReason,
                        null,
                        hunt.detectionOddsSoFar());
            }
        }
        return choose(now, cloud, sample, density, here, peak, homeBy, turnBackAt, gain, gainReason);
    }

    private Advice choose(
            Instant now,
            Cloud cloud,
            LegPromise.Sample sample,
            Density density,
            LocalPlane.Point here,
            LocalPlane.Point peak,
            TurnBack.HomeBy homeBy,
            @Nullable Instant turnBackAt,
            int gain,
            String gainReason) {
        boolean heard = hunt.heardEver();
        Candidate best = null;
        LegPromise.Promise bestPromise = null;
        double bestScore = Double.NEGATIVE_INFINITY;
        for (Candidate candidate : candidates(sample, density, here, peak, heard)) {
            if (!allowed(here, candidate, now, homeBy.time())) {
                continue;
            }
            LegPromise.Promise promise = promise(sample, candidate);
            double legS = candidate.metres / boat.speedMps() + settings.advice().stopMinutes() * 60;
            double score = heard ? -(legS + promise.remainingS()) : promise.heardChance() / legS;
            if (score > bestScore) {
                bestScore = score;
                best = candidate;
                bestPromise = promise;
            }
        }
        Advice.Pattern pattern = heard ? null : PatternChoice.of(hunt, boat.speedMps(), now, cloud, here);
        if (best == null || bestPromise == null) {
            return new Advice(
                    now,
                    CAUTIONS,
                    turnBackAt,
                    homeBy.reason(),
                    Advice.Action.LISTEN_HERE,
                    null,
                    "No leg is free of land and back in time: listen here, or go home.",
                    gain,
                    gainReason,
                    null,
                    hunt.detectionOddsSoFar());
        }
        Advice.Leg leg = leg(now, here, best, bestPromise);
        String reason = heard
                ? String.format(
                        Locale.ROOT,
                        "%s: a bearing there tells most for the time it takes (chance to hear it there: %s).",
                        best.kind,
                        percent(bestPromise.heardChance()))
                : String.format(
                        Locale.ROOT,
                        "%s: most chance of hearing for the time it takes (%s there).",
                        stillOn(cloud),
                        percent(bestPromise.heardChance()));
        return new Advice(
                now,
                CAUTIONS,
                turnBackAt,
                homeBy.reason(),
                best.metres < 1 ? Advice.Action.LISTEN_HERE : Advice.Action.RUN_LEG,
                leg,
                reason,
                gain,
                gainReason,
                pattern,
                hunt.detectionOddsSoFar());
    }

    private String stillOn(Cloud cloud) {
        double share = cloud.attachedShare();
        Instant planned = hunt.start().plannedDetachment();
        return share < 0.3 || planned == null
                ? "Nothing heard yet"
                : "Still on the animal with a chance of " + percent(share) + " (planned detachment " + planned
                        + "), and mute until it comes off";
    }

    private LegPromise.Sample sample(Cloud cloud) {
        int[] drawn = cloud.draw(DRAWN, 11 + hunt.observations().size());
        Cloud.Flows flows = cloud.flows();
        int n = drawn.length;
        LegPromise.Sample s = new LegPromise.Sample(
                new double[n], new double[n], new double[n], new double[n], new double[n], new double[n], cloud.time());
        for (int k = 0; k < n; k++) {
            int i = drawn[k];
            s.x()[k] = cloud.x[i];
            s.y()[k] = cloud.y[i];
            s.east()[k] = cloud.ashore[i] || cloud.attached(i) ? 0 : cloud.eastMps(flows, i, 1);
            s.north()[k] = cloud.ashore[i] || cloud.attached(i) ? 0 : cloud.northMps(flows, i, 1);
            s.marginDb()[k] = cloud.marginOf(i);
            s.sdDeg()[k] = Math.exp(cloud.logSdDeg[i]);
        }
        return s;
    }

    private List<Candidate> candidates(
            LegPromise.Sample sample, Density density, LocalPlane.Point here, LocalPlane.Point peak, boolean heard) {
        List<Candidate> out = new ArrayList<>();
        double far = Math.hypot(peak.xM() - here.xM(), peak.yM() - here.yM());
        double shortest = settings.advice().shortestLegM();
        double longest = settings.advice().longestLegM();
        double reach = heard ? Math.max(shortest, Math.min(longest, 1.1 * far)) : longest;
        for (int c = 0; c < COURSES; c++) {
            double course = 2 * Math.PI * c / COURSES;
            for (double share : new double[] {0.3, 0.6, 1}) {
                double metres = Math.max(shortest, share * reach);
                out.add(new Candidate(
                        here.xM() + metres * Math.sin(course),
                        here.yM() + metres * Math.cos(course),
                        metres,
                        "Across"));
            }
        }
        if (!measuredHere(here)) {
            out.add(new Candidate(here.xM(), here.yM(), 0, "Stay"));
        }
        List<LocalPlane.Point> goals = new ArrayList<>();
        goals.add(peak);
        goals.add(new LocalPlane.Point(mean(sample.x()), mean(sample.y())));
        for (Region.Piece piece : density.region(0.5).pieces()) {
            goals.add(land.plane().toPlane(piece.centre()));
        }
        for (LocalPlane.Point goal : goals) {
            Candidate whole = meeting(sample, here, goal);
            for (double share : new double[] {0.5, 0.75, 1}) {
                double metres = share * whole.metres;
                if (metres <= 3 * longest) {
                    out.add(new Candidate(
                            here.xM() + share * (whole.x - here.xM()),
                            here.yM() + share * (whole.y - here.yM()),
                            metres,
                            "Towards the likeliest place"));
                }
            }
        }
        return out;
    }

    /** Whether the last bearing was taken here: another repeats the errors of compass, antenna and place, and tells little. */
    private boolean measuredHere(LocalPlane.Point here) {
        List<Hunt.BearingNote> notes = hunt.bearings();
        if (notes.isEmpty()) {
            return false;
        }
        LocalPlane.Point last = land.plane().toPlane(notes.get(notes.size() - 1).own());
        return Math.hypot(last.xM() - here.xM(), last.yM() - here.yM()) < SAME_PLACE_M;
    }

    /** The goal shifted by the drift during the run to it. */
    private Candidate meeting(LegPromise.Sample sample, LocalPlane.Point here, LocalPlane.Point goal) {
        double east = mean(sample.east());
        double north = mean(sample.north());
        double x = goal.xM();
        double y = goal.yM();
        for (int k = 0; k < 3; k++) {
            double s = Math.hypot(x - here.xM(), y - here.yM()) / boat.speedMps();
            x = goal.xM() + east * s;
            y = goal.yM() + north * s;
        }
        return new Candidate(x, y, Math.hypot(x - here.xM(), y - here.yM()), "Towards the likeliest place");
    }

    private boolean allowed(LocalPlane.Point here, Candidate to, Instant now, @Nullable Instant homeBy) {
        if (!land.covers(to.x, to.y) || land.crosses(here.xM(), here.yM(), to.x, to.y)) {
            return false;
        }
        double margin = settings.advice().coastMarginM();
        double free = Math.min(margin, land.coastDistanceM(here.xM(), here.yM(), margin));
        int points = 1 + (int) (to.metres / Math.max(100, margin));
        for (int k = 1; k <= points; k++) {
            double share = (double) k / points;
            double x = here.xM() + share * (to.x - here.xM());
            double y = here.yM() + share * (to.y - here.yM());
            if (land.coastDistanceM(x, y, margin) < free * 0.99) {
                return false;
            }
        }
        if (homeBy == null) {
            return true;
        }
        double needs =
                to.metres / boat.speedMps() + settings.advice().stopMinutes() * 60 + turnBack.runHomeS(to.x, to.y);
        return !now.plus(seconds(needs)).isAfter(homeBy);
    }

    private LegPromise.Promise promise(LegPromise.Sample sample, Candidate to) {
        return LegPromise.of(hunt, boat.speedMps(), sample, to.x, to.y, to.metres);
    }

    private Advice.Leg leg(Instant now, LocalPlane.Point here, Candidate to, LegPromise.Promise promise) {
        Position end = land.plane().toEarth(to.x, to.y);
        Position start = land.plane().toEarth(here.xM(), here.yM());
        double runS = to.metres / boat.speedMps();
        double hours = (runS + settings.advice().stopMinutes() * 60) / 3600;
        return new Advice.Leg(
                to.metres < 1 ? 0 : Geodesics.between(start, end).bearingDeg(),
                to.metres,
                end,
                now.plus(seconds(runS)),
                promise.heardChance(),
                promise.bits() / Math.max(hours, 1e-3));
    }

    /** The lowest gain at which it should still be heard here more often than not. */
    private int gainStep(Cloud cloud, LocalPlane.Point here) {
        Hearing hearing = hunt.hearing();
        int best = 1;
        for (int step = 2; step <= hearing.steps(); step++) {
            double sum = 0;
            for (int i = 0; i < cloud.size(); i += 5) {
                double d = Math.hypot(cloud.x[i] - here.xM(), cloud.y[i] - here.yM());
                sum += cloud.weight[i] * hearing.chance(d, step, cloud.marginOf(i), 0);
            }
            if (sum * 5 < 0.5) {
                break;
            }
            best = step;
        }
        return best;
    }

    private String gainReason(int step) {
        Hearing.Range range = hunt.ranges().get(step - 1);
        String meaning = String.format(
                Locale.ROOT,
                "heard at step %d means within about %.1f nautical miles (%.1f–%.1f)",
                step,
                range.halfM() / 1852,
                range.surelyM() / 1852,
                range.hardlyM() / 1852);
        return step == 1
                ? "Highest gain: " + meaning + "."
                : "Turn the gain down to step " + step + " for a sharper bearing: " + meaning
                        + ". If it is lost, turn up again.";
    }

    private String lastApproach(Instant now) {
        double[] wind = hunt.start().sea().windAt(now);
        String way = Math.hypot(wind[0], wind[1]) < 0.5
                ? "Come up slowly"
                : String.format(
                        Locale.ROOT,
                        "Come up slowly from downwind, heading about %03.0f°, float on the bow",
                        Bearings.of(-wind[0], -wind[1]));
        return way + "; engine in neutral at pick-up, so that the float drifts clear. One looks, one steers.";
    }

    private static double massWithin(Cloud cloud, LocalPlane.Point centre, double radiusM) {
        double sum = 0;
        for (int i = 0; i < cloud.size(); i++) {
            if (Math.hypot(cloud.x[i] - centre.xM(), cloud.y[i] - centre.yM()) <= radiusM) {
                sum += cloud.weight[i];
            }
        }
        return sum;
    }

    private static double mean(double[] values) {
        double sum = 0;
        for (double v : values) {
            sum += v / values.length;
        }
        return sum;
    }

    private static String percent(double share) {
        return Math.round(100 * share) + " %";
    }

    static Duration seconds(double s) {
        return Duration.ofMillis(Math.round(s * 1000));
    }
}
