package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.junit.jupiter.api.Test;

class HuntTest {

    private static final Instant T0 = Instant.parse("2026-06-15T07:00:00Z");
    private static final Position DATUM = new Position(52.0, -12.0);

    private static SearchSettings settings(int particles) {
        return SearchSettings.defaults().with(particles, 1);
    }

    private static BearingCorrection correction(SearchSettings settings) {
        return new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), null);
    }

    private static HuntStart start(Sea sea, Land land, double sdM) {
        return new HuntStart(
                new HuntStart.Contact(T0, land.plane().origin(), sdM),
                sea,
                new HuntStart.Boat(Geodesics.from(DATUM, 90, 15_000), T0, 7, 8.0),
                land,
                null);
    }

    private static Land open() {
        return Land.none(DATUM, 100_000);
    }

    private static Observation.Bearing bearing(int minute, Position own, double deg) {
        return new Observation.Bearing(
                T0.plus(Duration.ofMinutes(minute)),
                own,
                deg,
                BearingSource.TRUE,
                null,
                null,
                Antenna.THREE_ELEMENTS,
                1);
    }

    private static Observation.Listen listen(int minute, Position own, int gain, boolean heard) {
        return new Observation.Listen(
                T0.plus(Duration.ofMinutes(minute)),
                own,
                gain,
                heard ? Observation.Listen.Heard.HEARD : Observation.Listen.Heard.NOT_HEARD,
                Antenna.THREE_ELEMENTS,
                null,
                null,
                60);
    }

    /** Slow twin: Bayes' rule on a 250 m grid, for a package that lies still with known hearing and bearing errors. */
    @Test
    void agreesWithAGridFilter() {
        SearchSettings base = settings(20_000);
        SearchSettings.Hearing h = base.hearing();
        SearchSettings still = base.with(new SearchSettings.Drift(0.025, 0, 0, 0, 12, 4, 0, 300, 0.5, 0.07, 0, 0.03))
                .with(new SearchSettings.Hearing(
                        h.frequencyMHz(),
                        h.beaconHeightM(),
                        h.antennaHeightM(),
                        h.referenceDistanceM(),
                        0,
                        h.fadingSdDb(),
                        0,
                        h.falseChance(),
                        h.bestChance(),
                        h.gainStepsDb(),
                        h.lookS(),
                        0.05))
                .with(new SearchSettings.Bearings(15, 0, 0.05, List.of(), 8, 0));
        HuntStart start = start(Sea.UNKNOWN, open(), 6000);
        Position west = Geodesics.from(DATUM, 270, 9000);
        Position south = Geodesics.from(DATUM, 180, 8000);
        List<Observation> observations = List.of(
                listen(5, Geodesics.from(DATUM, 45, 9000), 3, false),
                bearing(10, west, 75),
                bearing(20, south, 20),
                listen(30, south, 3, true),
                bearing(40, Geodesics.from(DATUM, 225, 4000), 50));
        Hunt hunt = Hunt.replay(start, still, correction(still), observations);
        Fix fix = hunt.fixAt(hunt.time());

        LocalPlane plane = start.land().plane();
        Hearing hearing = new Hearing(still.hearing());
        double kappa = 1 / Math.pow(Math.toRadians(15), 2);
        double norm = norm(kappa);
        int half = 120;
        double cell = 250;
        double total = 0;
        double mx = 0;
        double my = 0;
        double[] mass = new double[(2 * half + 1) * (2 * half + 1)];
        for (int r = -half; r <= half; r++) {
            for (int c = -half; c <= half; c++) {
                double x = c * cell;
                double y = r * cell;
                double p = Math.exp(-(x * x + y * y) / (2 * 6000.0 * 6000));
                for (Observation o : observations) {
                    LocalPlane.Point own = plane.toPlane(o.own());
                    double d = Math.hypot(x - own.xM(), y - own.yM());
                    if (o instanceof Observation.Bearing b) {
                        double turn = plane.convergenceDeg(b.own());
                        double phi = Math.toRadians(b.bearingDeg() + turn) - Math.atan2(x - own.xM(), y - own.yM());
                        // Plain densities: normal-theory κ = 1/σ² and the exponential form, normalised by quadrature.
                        double front = Math.exp(kappa * (Math.cos(phi) - 1)) / norm;
                        double back = Math.exp(kappa * (-Math.cos(phi) - 1)) / norm;
                        p *= 0.95 * (0.95 * front + 0.05 * back) + 0.05 / (2 * Math.PI);
                        p *= hearing.chance(d, b.gainStep(), 0, 0);
                    } else if (o instanceof Observation.Listen l) {
                        double q = hearing.chance(d, l.gainStep(), 0, 0);
                        p *= l.heard() == Observation.Listen.Heard.HEARD ? q : 1 - q;
                    }
                }
                mass[(r + half) * (2 * half + 1) + c + half] = p;
                total += p;
                mx += p * x;
                my += p * y;
            }
        }
        LocalPlane.Point mean = plane.toPlane(fix.mean());
        assertThat(mean.xM()).isCloseTo(mx / total, within(150.0));
        assertThat(mean.yM()).isCloseTo(my / total, within(150.0));
        double level = Density.level(mass, 0.95);
        double area = 0;
        double held = 0;
        for (int i = 0; i < mass.length; i++) {
            if (mass[i] >= level) {
                area += cell * cell;
            }
            int row = i / (2 * half + 1);
            int column = i % (2 * half + 1);
            Position at = plane.toEarth((column - half) * cell, (row - half) * cell);
            if (mass[i] > 1e-6 * total && fix.region95().contains(at)) {
                held += mass[i] / total;
            }
        }
        assertThat(fix.region95().areaM2() / area).isBetween(0.88, 1.15);
        assertThat(held).isBetween(0.935, 0.975);
    }

    private static double norm(double kappa) {
        double sum = 0;
        int n = 20_000;
        for (int i = 0; i < n; i++) {
            sum += Math.exp(kappa * (Math.cos(2 * Math.PI * i / n) - 1)) * 2 * Math.PI / n;
        }
        return sum;
    }

    /** Without observations the cloud spreads as Taylor 1921 says: σ 0.15 m/s, T 12 h, and as a random walk. */
    @Test
    void spreadsAsTaylorSays() {
        SearchSettings base = settings(20_000);
        SearchSettings s =
                base.with(new SearchSettings.Drift(0.025, 0, 0, 0.15, 12, 1000, 10, 300, 0.5, 0.07, 0, 0.03));
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 1), s, correction(s));
        Cloud cloud = hunt.cloud();
        cloud.advance(T0.plus(Duration.ofHours(6)));
        double expected =
                Math.hypot(DriftGrowth.taylorM(0.15, 12 * 3600, 6 * 3600), DriftGrowth.randomWalkM(10, 6 * 3600));
        assertThat(cloud.sd(cloud.x, cloud.mean(cloud.x))).isCloseTo(expected, within(0.03 * expected));
        assertThat(cloud.sd(cloud.y, cloud.mean(cloud.y))).isCloseTo(expected, within(0.03 * expected));
    }

    /** Half a tidal period from slack to slack moves by amplitude · T/π; 10 m/s of wind at 2.5 % moves 0.25 m/s. */
    @Test
    void windAndTideCarryIt() {
        SearchSettings base = settings(2000);
        SearchSettings s = base.with(new SearchSettings.Drift(0.025, 0, 0, 0, 12, 4, 0, 60, 0.5, 0.07, 0, 0.03));
        Sea.Tide tide = new Sea.Tide(T0.plus(Duration.ofSeconds(11_178)), 0, 1, 12.42, 0);
        Hunt hunt = Hunt.open(start(new Sea(List.of(), List.of(), tide), open(), 1), s, correction(s));
        LocalPlane plane = open().plane();
        // From slack (a quarter period before the strongest) to slack.
        LocalPlane.Point moved =
                plane.toPlane(hunt.fixAt(T0.plus(Duration.ofSeconds(22_356))).mean());
        assertThat(moved.yM()).isCloseTo(12.42 * 3600 / Math.PI, within(20.0));
        Sea wind = new Sea(List.of(Sea.Flow.windFrom(T0, 10, 270)), List.of(), null);
        Hunt blown = Hunt.open(start(wind, open(), 1), s, correction(s));
        LocalPlane.Point east =
                plane.toPlane(blown.fixAt(T0.plus(Duration.ofHours(2))).mean());
        assertThat(east.xM()).isCloseTo(0.25 * 7200, within(5.0));
        assertThat(east.yM()).isCloseTo(0, within(5.0));
    }

    @Test
    void landHoldsItBack() {
        Position offshore = new Position(52.40, -4.20);
        Land land = Coast.shipped().landAround(offshore, 60_000);
        SearchSettings s = settings(3000);
        Sea onshore = new Sea(List.of(), List.of(Sea.Flow.currentTo(T0, 0.5, 90)), null);
        Hunt hunt = Hunt.open(start(onshore, land, 500), s, correction(s));
        Fix later = hunt.fixAt(T0.plus(Duration.ofHours(12)));
        for (Position place : later.cloud()) {
            assertThat(land.isLand(place)).isFalse();
        }
        hunt.add(new Observation.Listen(
                T0.plus(Duration.ofHours(12)),
                offshore,
                1,
                Observation.Listen.Heard.HEARD,
                Antenna.WHIP,
                null,
                null,
                60));
        assertThat(hunt.beaconState().ashore()).isGreaterThan(0.5);
    }

    @Test
    void aBackBearingMakesTwoPiecesAndTheThirdSettlesIt() {
        SearchSettings s = settings(8000);
        Position own = DATUM;
        Observation.Bearing loop =
                new Observation.Bearing(T0.plusSeconds(60), own, 0, BearingSource.TRUE, null, 8.0, Antenna.LOOP, 1);
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 5000), s, correction(s));
        hunt.add(loop);
        hunt.add(listen(2, own, 5, false));
        Fix two = hunt.fixAt(hunt.time());
        assertThat(two.region50().pieces()).hasSizeGreaterThanOrEqualTo(2);
        assertThat(two.region50().pieces().get(1).probability()).isGreaterThan(0.15);
        Position east = Geodesics.from(DATUM, 90, 6000);
        hunt.add(new Observation.Bearing(
                T0.plusSeconds(1800), east, 315, BearingSource.TRUE, null, 8.0, Antenna.THREE_ELEMENTS, 1));
        Fix one = hunt.fixAt(hunt.time());
        assertThat(one.region50().contains(Geodesics.from(DATUM, 0, 6000))).isTrue();
        assertThat(one.region95().contains(Geodesics.from(DATUM, 180, 6000))).isFalse();
    }

    @Test
    void aWildBearingIsExposed() {
        SearchSettings s = settings(8000);
        Position target = Geodesics.from(DATUM, 30, 4000);
        List<Observation> all = new ArrayList<>();
        for (int k = 0; k < 6; k++) {
            Position own = Geodesics.from(target, 60.0 * k, 5000);
            double truth = Geodesics.between(own, target).bearingDeg();
            all.add(bearing(10 * k, own, k == 3 ? truth + 80 : truth + (k % 2 == 0 ? 4 : -4)));
        }
        Hunt hunt = Hunt.replay(start(Sea.UNKNOWN, open(), 6000), s, correction(s), all);
        List<Residual> residuals = hunt.residuals();
        assertThat(residuals.get(3).verdict()).isEqualTo(Residual.Verdict.LIKELY_WRONG);
        assertThat(residuals.get(3).meanDeg()).isCloseTo(80, within(15.0));
        assertThat(residuals.stream().filter(r -> r.verdict() == Residual.Verdict.AGREES))
                .hasSize(5);
        assertThat(Geodesics.distanceM(hunt.fixAt(hunt.time()).peak(), target)).isLessThan(1200);
    }

    @Test
    void silenceIsInformation() {
        SearchSettings s = settings(8000);
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 4000), s, correction(s));
        assertThat(hunt.detectionOddsSoFar()).isZero();
        double mute = silent(hunt.beaconState());
        for (int k = 1; k <= 3; k++) {
            hunt.add(listen(10 * k, Geodesics.from(DATUM, 120.0 * k, 3000), 1, false));
        }
        assertThat(hunt.detectionOddsSoFar()).isGreaterThan(0.9);
        assertThat(silent(hunt.beaconState())).isGreaterThan(4 * mute);
        // Bayes by hand: a report is 0.01 likely of a mute beacon; of a sounding one between 0.2 (the silences have
        // made a
        // faint one likelier) and 0.95. The odds fall by the ratio.
        double before = silent(hunt.beaconState());
        hunt.add(listen(40, DATUM, 1, true));
        double after = silent(hunt.beaconState());
        assertThat(after / (1 - after) / (before / (1 - before))).isBetween(0.01 / 0.95, 0.01 / 0.2);
        hunt.add(listen(41, DATUM, 1, true));
        assertThat(silent(hunt.beaconState())).isLessThan(0.01);
    }

    private static double silent(BeaconState state) {
        return state.stillAttached() + state.insidePredator() + state.beaconDead();
    }

    /**
     * Bayes by hand for a package with a planned detachment 5 h after the start, one in ten shed early at an even time: after 10
     * minutes 0.1/30 have come off.
     */
    @Test
    void pingsAndSilenceBeforeAndAfterThePlannedDetachment() {
        SearchSettings s = settings(20_000);
        HuntStart start = new HuntStart(
                new HuntStart.Contact(T0, DATUM, 500), Sea.UNKNOWN, null, open(), T0.plus(Duration.ofHours(5)));
        Hunt hunt = Hunt.open(start, s, correction(s));
        hunt.add(listen(10, DATUM, 1, false));
        // Silence before the plan says next to nothing: it is under water.
        assertThat(hunt.beaconState().stillAttached()).isGreaterThan(0.93);
        assertThat(hunt.beaconState().beaconDead() + hunt.beaconState().insidePredator())
                .isCloseTo(0.05, within(0.005));
        assertThat(hunt.beaconState().shedEarly()).isEqualTo(BeaconState.ShedEarly.NO);
        // One ping after 60 minutes: odds of 0.02 come off to 0.98 not, times 0.95/0.01 for the report.
        hunt.add(listen(60, DATUM, 1, true));
        double odds = 0.02 / 0.98 * 0.95 / 0.01;
        assertThat(hunt.beaconState().shedEarlyChance()).isBetween(0.5 * odds / (1 + odds), 1.0);
        assertThat(hunt.beaconState().shedEarly()).isEqualTo(BeaconState.ShedEarly.ONE_REPORT);
        hunt.add(listen(61, DATUM, 1, true));
        assertThat(hunt.beaconState().shedEarlyChance()).isGreaterThan(0.97);
        assertThat(hunt.beaconState().stillAttached()).isLessThan(0.03);
        assertThat(hunt.beaconState().shedEarly()).isEqualTo(BeaconState.ShedEarly.YES);

        // Silence beside it long after the plan: dead, stuck or eaten, not adrift.
        Hunt silent = Hunt.open(start, s, correction(s));
        double adriftBefore = 0;
        for (int k = 0; k < 4; k++) {
            silent.add(listen(360 + 5 * k, DATUM, 1, false));
            if (k == 0) {
                adriftBefore = silent.beaconState().adrift();
            }
        }
        assertThat(silent.beaconState().adrift()).isLessThan(0.5 * adriftBefore);
        assertThat(silent.beaconState().stillAttached()).isGreaterThan(0.15);
    }

    /** On the animal it does not drift with the wind: half an hour before the plan it is about where it began. */
    @Test
    void onTheAnimalItDoesNotDrift() {
        SearchSettings s = settings(4000);
        Sea wind = new Sea(List.of(Sea.Flow.windFrom(T0, 12, 270)), List.of(), null);
        Hunt hunt = Hunt.open(
                new HuntStart(new HuntStart.Contact(T0, DATUM, 100), wind, null, open(), T0.plus(Duration.ofHours(10))),
                s,
                correction(s));
        LocalPlane plane = open().plane();
        assertThat(plane.toPlane(hunt.fixAt(T0.plus(Duration.ofMinutes(570))).peak())
                        .xM())
                .isBetween(-3500.0, 3500.0);
        // Ten hours after the plan the wind (0.3 m/s at 2.5 %) has carried it some 11 km.
        assertThat(plane.toPlane(hunt.fixAt(T0.plus(Duration.ofHours(20))).mean())
                        .xM())
                .isBetween(7000.0, 14_000.0);
    }

    @Test
    void aSightingGathersAndNotSeenScatters() {
        SearchSettings s = settings(4000);
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 3000), s, correction(s));
        hunt.add(new Observation.Sighting(T0.plusSeconds(60), DATUM, Observation.Sighting.Seen.NOT_SEEN, null, 1000.0));
        Region after = hunt.fixAt(hunt.time()).region50();
        assertThat(after.areaM2()).isPositive();
        hunt.add(new Observation.Sighting(T0.plusSeconds(120), DATUM, Observation.Sighting.Seen.SEEN, 90.0, 200.0));
        Fix fix = hunt.fixAt(hunt.time());
        assertThat(Geodesics.distanceM(fix.mean(), Geodesics.from(DATUM, 90, 200)))
                .isLessThan(40);
        assertThat(fix.radius95M()).isLessThan(250);
    }

    @Test
    void aMeasuredDriftTurnsTheForecast() {
        SearchSettings s = settings(8000);
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 300), s, correction(s));
        hunt.add(new Observation.Drift(T0, DATUM, 0.4, 0, Observation.Drift.Drifter.DUMMY_FLOAT));
        Fix fix = hunt.fixAt(T0.plus(Duration.ofHours(1)));
        assertThat(fix.driftEastMps()).isBetween(0.25, 0.42);
        // A retrieved package teaches its mean velocity: 3.6 km in two hours.
        SearchEnd end = new SearchEnd(
                SearchEnd.Outcome.RETRIEVED, T0.plus(Duration.ofHours(2)), Geodesics.from(DATUM, 90, 3600), 5, 30, "");
        Observation.Drift learnt = end.driftSince(new HuntStart.Contact(T0, DATUM, 50));
        assertThat(learnt.eastMps()).isCloseTo(0.5, within(1e-6));
        assertThat(learnt.northMps()).isCloseTo(0, within(1e-6));
    }

    @Test
    void theLogOnlyGrows() {
        SearchLog log = SearchLog.EMPTY
                .with(T0, "tap", listen(1, DATUM, 1, true))
                .with(T0, "tap", listen(2, DATUM, 1, false))
                .undo(T0, "undo 2", 2)
                .undo(T0, "undo 3", 3);
        assertThat(log.entries()).hasSize(4);
        assertThat(log.standing()).hasSize(2);
        assertThat(log.undo(T0, "again", 1).standing()).hasSize(1);
        assertThatThrownBy(() -> log.undo(T0, "x", 9)).hasMessageContaining("not before it");
    }

    @Test
    void adviceKeepsOffLandAndTurnsBackInTime() {
        Position own = new Position(52.36, -4.35);
        Land land = Coast.shipped().landAround(new Position(52.40, -4.45), 80_000);
        SearchSettings s = settings(2000);
        Random random = new Random(4);
        for (int k = 0; k < 12; k++) {
            Position contact = Geodesics.from(new Position(52.40, -4.45), 360 * random.nextDouble(), 9000);
            if (land.isLand(contact)) {
                continue;
            }
            HuntStart start = new HuntStart(
                    new HuntStart.Contact(T0, contact, 3000),
                    Sea.UNKNOWN,
                    new HuntStart.Boat(new Position(52.41, -4.15), T0, 7, 9.0),
                    land,
                    null);
            Hunt hunt = Hunt.open(start, s, correction(s));
            if (k % 2 == 0) {
                hunt.add(bearing(30, own, 360 * random.nextDouble()));
            }
            Advice advice = new Advisor(hunt).advise(T0.plus(Duration.ofMinutes(40)), own);
            assertThat(advice.cautions()).hasSizeGreaterThanOrEqualTo(3);
            assertThat(advice.turnBackAt()).isNotNull().isBefore(T0.plus(Duration.ofHours(6)));
            if (advice.leg() != null) {
                LocalPlane.Point a = land.plane().toPlane(own);
                LocalPlane.Point b = land.plane().toPlane(advice.leg().to());
                assertThat(land.crosses(a.xM(), a.yM(), b.xM(), b.yM())).isFalse();
                assertThat(advice.leg().arrival()).isBefore(advice.turnBackAt().plus(Duration.ofHours(1)));
            }
            Advice late = new Advisor(hunt).advise(advice.turnBackAt().plusSeconds(1), own);
            assertThat(late.action()).isEqualTo(Advice.Action.TURN_BACK);
            assertThat(late.leg()).isNull();
        }
    }

    @Test
    void theLastApproachIsToldAndOrderIsByWorth() {
        SearchSettings s = settings(2000);
        Hunt near = Hunt.open(
                start(new Sea(List.of(Sea.Flow.windFrom(T0, 6, 180)), List.of(), null), open(), 60), s, correction(s));
        Advice advice = new Advisor(near).advise(T0.plusSeconds(30), Geodesics.from(DATUM, 180, 250));
        assertThat(advice.action()).isEqualTo(Advice.Action.LAST_APPROACH);
        assertThat(advice.reason())
                .contains("from downwind, heading about 180°")
                .contains("neutral");
        assertThat(advice.gainStep()).isGreaterThan(1);
        Hunt wide = Hunt.open(start(Sea.UNKNOWN, open(), 9000), s, correction(s));
        List<WhichFirst.Rank> order = WhichFirst.order(
                List.of(
                        new WhichFirst.Candidate("wide", wide, null),
                        new WhichFirst.Candidate("near", near, null),
                        new WhichFirst.Candidate("dead", near, T0.minusSeconds(1))),
                T0.plusSeconds(60),
                DATUM,
                7);
        assertThat(order.stream().map(WhichFirst.Rank::name)).containsExactly("near", "wide", "dead");
        assertThat(order.get(2).chance()).isZero();
    }

    @Test
    void routesGoAroundLand() {
        // From Cardigan Bay to the north side of the Lleyn peninsula: about 40 km straight over land, far more by sea.
        Position south = new Position(52.75, -4.45);
        Land land = Coast.shipped().landAround(south, 90_000);
        LocalPlane.Point north = land.plane().toPlane(new Position(53.02, -4.50));
        SeaRoute route = new SeaRoute(land, 0, 0);
        double straight = Math.hypot(north.xM(), north.yM());
        assertThat(land.crosses(0, 0, north.xM(), north.yM())).isTrue();
        assertThat(route.distanceM(north.xM(), north.yM()))
                .isGreaterThan(1.5 * straight)
                .isLessThan(6 * straight);
    }

    @Test
    void refusesWhatIsOutOfOrderOrUnknown() {
        SearchSettings s = settings(1000);
        Hunt hunt = Hunt.open(start(Sea.UNKNOWN, open(), 500), s, correction(s));
        hunt.add(listen(10, DATUM, 1, true));
        assertThatThrownBy(() -> hunt.add(listen(5, DATUM, 1, true)))
                .hasMessageContaining("before the last observation");
        assertThatThrownBy(() -> hunt.add(listen(20, DATUM, 9, true))).hasMessageContaining("steps 1 to 6");
        assertThatThrownBy(() -> hunt.fixAt(T0)).hasMessageContaining("before the last observation");
        assertThatThrownBy(() -> hunt.forecast(hunt.time(), -1)).hasMessageContaining("hours");
        HuntStart noBoat = new HuntStart(new HuntStart.Contact(T0, DATUM, 10), Sea.UNKNOWN, null, open(), null);
        assertThatThrownBy(() -> new Advisor(Hunt.open(noBoat, s, correction(s))))
                .hasMessageContaining("boat");
        assertThatThrownBy(() -> SearchSettings.defaults().with(10, 1)).hasMessageContaining("particles");
    }
}
