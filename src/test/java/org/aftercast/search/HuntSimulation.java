package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.aftercast.geo.Sun;

/**
 * Invented hunts with known truth (simulated, labelled so wherever shown). The truth's formulas are not the filter's: loss
 * 40 log d with its own offset, currents with shear and slow change, bearings normal with wild ones, an antenna that
 * sometimes hears behind. One boat, one package, one day.
 */
final class HuntSimulation {

    static final double SIGHT_M = 185.2;
    static final double SPEED_MPS = 7.7;
    private static final double STOP_S = 180;
    private static final double LISTEN_S = 30;
    private static final double MILE_M = 1852;
    private static final double LOOK_EVERY_M = 250;

    /** What the boat is told wrongly, if anything. */
    enum Wrong {
        NOTHING,
        WIND,
        HEARING_RANGE,
        COMPASS
    }

    /** How a hunt went. */
    record Outcome(
            boolean found,
            double hours,
            double miles,
            int stops,
            int fixes,
            int in95,
            int in50,
            int legs,
            int overLand,
            int tooLate) {}

    final SplittableRandom random;
    final Instant begin = Instant.parse("2026-06-15T07:00:00Z");
    final double daylightS = 13 * 3600;
    final Position datum;
    final LocalPlane plane;
    final Land land;
    final double contactSdM;
    final double driftedS;
    final double toldX;
    final double toldY;
    final double homeX;
    final double homeY;
    private final Wrong wrong;
    private final double windEast;
    private final double windNorth;
    private final double windTurnPerS;
    private final double currentEast;
    private final double currentNorth;
    private final double shear;
    private final double windFactor;
    private final double leewayRad;
    private final double marginDb;
    private final double bearingSdRad;
    private final double backShare;
    private final Antenna antenna;
    private double currentErrorEast;
    private double currentErrorNorth;
    double x;
    double y;
    double nowS;
    double boatX;
    double boatY;
    private double runM;
    private int stops;

    HuntSimulation(long seed, Wrong wrong, Land land) {
        this.random = new SplittableRandom(seed);
        this.wrong = wrong;
        this.land = land;
        this.plane = land.plane();
        this.datum = plane.origin();
        double wind = 2 + 9 * random.nextDouble();
        double to = 2 * Math.PI * random.nextDouble();
        windEast = wind * Math.sin(to);
        windNorth = wind * Math.cos(to);
        windTurnPerS = Math.toRadians(20) * random.nextGaussian() / (6 * 3600);
        double current = 0.05 + 0.3 * random.nextDouble();
        double set = 2 * Math.PI * random.nextDouble();
        currentEast = current * Math.sin(set);
        currentNorth = current * Math.cos(set);
        shear = 0.1 * random.nextGaussian() / 10_000;
        windFactor = Math.max(0.005, 0.027 + 0.007 * random.nextGaussian());
        leewayRad = Math.toRadians(12) * random.nextGaussian();
        marginDb = 7 * random.nextGaussian() - (wrong == Wrong.HEARING_RANGE ? 12 : 0);
        bearingSdRad = Math.toRadians(5 + 20 * random.nextDouble());
        antenna = random.nextDouble() < 0.6 ? Antenna.THREE_ELEMENTS : Antenna.TWO_ELEMENTS;
        backShare = antenna == Antenna.THREE_ELEMENTS ? 0.05 : 0.2;
        contactSdM = 400 + 2600 * random.nextDouble();
        driftedS = (2 + 10 * random.nextDouble()) * 3600;
        toldX = 0;
        toldY = 0;
        double startX;
        double startY;
        do {
            startX = contactSdM * random.nextGaussian();
            startY = contactSdM * random.nextGaussian();
        } while (land.isLand(startX, startY));
        x = startX;
        y = startY;
        nowS = -driftedS;
        drift(0);
        double homeM = (6 + 8 * random.nextDouble()) * MILE_M;
        double hx;
        double hy;
        do {
            double bearing = 2 * Math.PI * random.nextDouble();
            hx = homeM * Math.sin(bearing);
            hy = homeM * Math.cos(bearing);
        } while (land.isLand(hx, hy));
        homeX = hx;
        homeY = hy;
        boatX = homeX;
        boatY = homeY;
    }

    Instant instant(double seconds) {
        return begin.plus(Duration.ofMillis(Math.round(seconds * 1000)));
    }

    /** Drifts the package to a time, a minute a step; slow change of the current as a bounded walk. */
    private void drift(double untilS) {
        while (nowS < untilS - 1e-9) {
            double step = Math.min(60, untilS - nowS);
            double turn = windTurnPerS * nowS;
            double we = windEast * Math.cos(turn) + windNorth * Math.sin(turn);
            double wn = windNorth * Math.cos(turn) - windEast * Math.sin(turn);
            double sin = Math.sin(leewayRad);
            double cos = Math.cos(leewayRad);
            currentErrorEast +=
                    -currentErrorEast * step / 40_000 + 0.08 * Math.sqrt(2 * step / 40_000) * random.nextGaussian();
            currentErrorNorth +=
                    -currentErrorNorth * step / 40_000 + 0.08 * Math.sqrt(2 * step / 40_000) * random.nextGaussian();
            double east = currentEast + currentErrorEast + shear * y + windFactor * (we * cos + wn * sin);
            double north = currentNorth + currentErrorNorth + windFactor * (wn * cos - we * sin);
            double nx = x + east * step + 1.5 * Math.sqrt(2 * step) * random.nextGaussian();
            double ny = y + north * step + 1.5 * Math.sqrt(2 * step) * random.nextGaussian();
            if (!land.isLand(nx, ny)) {
                x = nx;
                y = ny;
            }
            nowS += step;
        }
    }

    /** What the crew believes of wind and current. */
    Sea told() {
        double scale = wrong == Wrong.WIND ? 1.5 : 1;
        double turn = wrong == Wrong.WIND ? Math.toRadians(35) : 0;
        double e = scale * (windEast * Math.cos(turn) + windNorth * Math.sin(turn));
        double n = scale * (windNorth * Math.cos(turn) - windEast * Math.sin(turn));
        SplittableRandom other = new SplittableRandom(random.nextLong());
        return new Sea(
                List.of(new Sea.Flow(begin, e, n)),
                List.of(new Sea.Flow(
                        begin, currentEast + 0.08 * other.nextGaussian(), currentNorth + 0.08 * other.nextGaussian())),
                null);
    }

    private boolean heard(int gainStep, double distanceM) {
        double loss = 40 * Math.log10(Math.max(distanceM, 30) / 18_520);
        double margin = marginDb - loss - 12 * (gainStep - 1) + 6 * random.nextGaussian();
        return margin > 0 ? random.nextDouble() < 0.95 : random.nextDouble() < 0.005;
    }

    private double bearing() {
        double truth = Math.atan2(x - boatX, y - boatY);
        double roll = random.nextDouble();
        double read;
        if (roll < 0.05) {
            read = 2 * Math.PI * random.nextDouble();
        } else {
            read = truth + bearingSdRad * random.nextGaussian() + (random.nextDouble() < backShare ? Math.PI : 0);
        }
        return Math.toDegrees(read) + (wrong == Wrong.COMPASS ? 10 : 0);
    }

    /** A look around on the way. */
    private interface Look {
        void at(double seconds, double px, double py);
    }

    /** Runs towards a point until there or the package is in sight; true when in sight. */
    private boolean run(double toX, double toY, double untilS) {
        return run(toX, toY, untilS, (seconds, px, py) -> {});
    }

    private boolean run(double toX, double toY, double untilS, Look look) {
        double lookedM = runM;
        while (true) {
            double left = Math.hypot(toX - boatX, toY - boatY);
            if (Math.hypot(x - boatX, y - boatY) <= SIGHT_M) {
                return true;
            }
            if (left < 1 || nowS >= untilS) {
                return false;
            }
            double step = Math.min(10, left / SPEED_MPS);
            boatX += (toX - boatX) / left * SPEED_MPS * step;
            boatY += (toY - boatY) / left * SPEED_MPS * step;
            runM += SPEED_MPS * step;
            drift(nowS + step);
            if (runM - lookedM >= LOOK_EVERY_M) {
                lookedM = runM;
                look.at(nowS, boatX, boatY);
            }
        }
    }

    private Position earth(double px, double py) {
        return plane.toEarth(px, py);
    }

    /** The scripted way: a stop every mile, along the loudest bearing, spacing halved at each lower gain. */
    Outcome baseline(Sea told) {
        // The datum: last contact moved by the told current and 2.5 % of the told wind, as by hand on a chart.
        double e =
                told.currents().get(0).eastMps() + 0.025 * told.winds().get(0).eastMps();
        double n =
                told.currents().get(0).northMps() + 0.025 * told.winds().get(0).northMps();
        int gain = 1;
        double spacing = MILE_M;
        boolean following = false;
        double course = 0;
        int silent = 0;
        int squareLeg = 0;
        double squareLeft = 0;
        boolean atDatum = false;
        while (nowS < daylightS) {
            stops++;
            drift(nowS + STOP_S);
            boolean here = heard(gain, Math.hypot(x - boatX, y - boatY));
            if (here) {
                following = true;
                silent = 0;
                course = Math.toRadians(bearing());
                while (gain < 6) {
                    drift(nowS + LISTEN_S);
                    if (!heard(gain + 1, Math.hypot(x - boatX, y - boatY))) {
                        break;
                    }
                    gain++;
                    spacing /= 2;
                }
            } else if (gain > 1) {
                gain--;
                spacing *= 2;
                silent++;
            } else {
                silent++;
                if (silent > 4) {
                    following = false;
                }
            }
            double toX;
            double toY;
            if (following) {
                double metres = here ? spacing : 0.5 * spacing;
                toX = boatX + metres * Math.sin(course);
                toY = boatY + metres * Math.cos(course);
            } else {
                double datumX = toldX + e * (nowS + driftedS);
                double datumY = toldY + n * (nowS + driftedS);
                double left = Math.hypot(datumX - boatX, datumY - boatY);
                if (!atDatum) {
                    double metres = Math.min(MILE_M, left);
                    toX = boatX + (datumX - boatX) / Math.max(left, 1) * metres;
                    toY = boatY + (datumY - boatY) / Math.max(left, 1) * metres;
                    atDatum = left <= MILE_M;
                } else {
                    if (squareLeft < 1) {
                        squareLeft = 3 * MILE_M * (squareLeg / 2 + 1);
                        squareLeg++;
                    }
                    double metres = Math.min(MILE_M, squareLeft);
                    squareLeft -= metres;
                    double way = Math.PI / 2 * squareLeg;
                    toX = boatX + metres * Math.sin(way);
                    toY = boatY + metres * Math.cos(way);
                }
            }
            if (run(toX, toY, daylightS)) {
                return new Outcome(true, nowS / 3600, runM / MILE_M, stops, 0, 0, 0, 0, 0, 0);
            }
        }
        return new Outcome(false, daylightS / 3600, runM / MILE_M, stops, 0, 0, 0, 0, 0, 0);
    }

    /** The program's way: bearing at the highest gain, gain down until lost, look around, ask for advice. */
    Outcome advised(Sea told, SearchSettings settings) {
        HuntStart start = new HuntStart(
                new HuntStart.Contact(instant(-driftedS), earth(toldX, toldY), contactSdM),
                told,
                new HuntStart.Boat(earth(homeX, homeY), begin, SPEED_MPS, null),
                land,
                null);
        BearingCorrection correction = new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), null);
        Hunt hunt = Hunt.open(start, settings, correction);
        Advisor advisor = new Advisor(hunt);
        int legs = 0;
        int overLand = 0;
        int tooLate = 0;
        Instant sunset =
                Objects.requireNonNull(Sun.dayOf(begin, earth(homeX, homeY)).set());
        double homeByS = Duration.between(begin, sunset).toSeconds()
                - 60 * settings.advice().daylightMarginMin();
        int fixes = 0;
        int in95 = 0;
        int in50 = 0;
        while (nowS < daylightS) {
            Instant before = hunt.time();
            stops++;
            drift(nowS + STOP_S);
            Position own = earth(boatX, boatY);
            Instant time = instant(nowS).isBefore(before) ? before : instant(nowS);
            double distance = Math.hypot(x - boatX, y - boatY);
            if (heard(1, distance)) {
                double plainTrue = bearing() - plane.convergenceDeg(own);
                hunt.add(new Observation.Bearing(time, own, plainTrue, BearingSource.TRUE, null, null, antenna, 1));
                for (int gain = 2; gain <= 6; gain++) {
                    drift(nowS + LISTEN_S);
                    boolean yes = heard(gain, Math.hypot(x - boatX, y - boatY));
                    hunt.add(listen(gain, yes, LISTEN_S));
                    if (!yes) {
                        break;
                    }
                }
            } else {
                hunt.add(listen(1, false, STOP_S));
            }
            hunt.add(new Observation.Sighting(instant(nowS), own, Observation.Sighting.Seen.NOT_SEEN, null, SIGHT_M));
            if (hunt.heardEver()) {
                Fix fix = hunt.fixAt(instant(nowS));
                fixes++;
                Position truth = earth(x, y);
                in95 += fix.region95().contains(truth) ? 1 : 0;
                in50 += fix.region50().contains(truth) ? 1 : 0;
            }
            Advice advice = advisor.advise(instant(nowS), earth(boatX, boatY));
            Advice.Leg leg = advice.leg();
            if (advice.action() == Advice.Action.TURN_BACK) {
                tooLate += leg == null ? 0 : 1;
                break;
            }
            if (leg == null) {
                continue;
            }
            LocalPlane.Point to = plane.toPlane(leg.to());
            legs++;
            overLand += land.crosses(boatX, boatY, to.xM(), to.yM()) ? 1 : 0;
            // Straight home from the leg's end is the least it takes.
            double homeS = Math.hypot(to.xM() - homeX, to.yM() - homeY) / SPEED_MPS;
            tooLate += leg.arrival().plusSeconds((long) homeS).isAfter(instant(homeByS)) ? 1 : 0;
            // One of the crew looks out on the way, and notes that nothing was seen.
            Look look = (seconds, px, py) -> hunt.add(new Observation.Sighting(
                    instant(seconds), earth(px, py), Observation.Sighting.Seen.NOT_SEEN, null, SIGHT_M));
            if (run(to.xM(), to.yM(), daylightS, look)) {
                return new Outcome(true, nowS / 3600, runM / MILE_M, stops, fixes, in95, in50, legs, overLand, tooLate);
            }
        }
        return new Outcome(false, daylightS / 3600, runM / MILE_M, stops, fixes, in95, in50, legs, overLand, tooLate);
    }

    private Observation listen(int gain, boolean yes, double seconds) {
        return new Observation.Listen(
                instant(nowS),
                earth(boatX, boatY),
                gain,
                yes ? Observation.Listen.Heard.HEARD : Observation.Listen.Heard.NOT_HEARD,
                antenna,
                null,
                null,
                seconds);
    }

    static List<Outcome> both(long seed, Wrong wrong, Land land, SearchSettings settings) {
        List<Outcome> out = new ArrayList<>();
        for (int which = 0; which < 2; which++) {
            HuntSimulation hunt = new HuntSimulation(seed, wrong, land);
            Sea told = hunt.told();
            out.add(which == 0 ? hunt.baseline(told) : hunt.advised(told, settings));
        }
        return out;
    }
}
