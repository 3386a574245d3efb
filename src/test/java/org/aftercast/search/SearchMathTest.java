package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.junit.jupiter.api.Test;

class SearchMathTest {

    /** Arulampalam and others 2002: N_eff = 1/Σw²; counts by hand for teeth at 0.1, 0.35, 0.6, 0.85. */
    @Test
    void effectiveNumberAndSystematicCounts() {
        double[] weights = {0.5, 0.3, 0.1, 0.1};
        assertThat(Resampling.effective(weights)).isCloseTo(2.7778, within(1e-4));
        assertThat(Resampling.systematic(weights, 4, 0.4)).containsExactly(2, 1, 1, 0);
    }

    /** (4/(n+2))^(1/(n+4)) N^(−1/(n+4)) at n = 4, N = 5000 (Silverman's rule, from memory; recomputed). */
    @Test
    void kernelWidth() {
        assertThat(Resampling.kernelWidth(4, 5000)).isCloseTo(0.3278, within(1e-4));
    }

    /** Taylor 1921 at 0.1 m/s, 6 h, 12 h; random walk K = 10, 6 h; Okubo 1971; all recomputed outside the project. */
    @Test
    void growthOfDrift() {
        assertThat(DriftGrowth.taylorM(0.1, 6 * 3600, 12 * 3600)).isCloseTo(3255, within(1.0));
        assertThat(DriftGrowth.randomWalkM(10, 6 * 3600)).isCloseTo(657, within(1.0));
        assertThat(DriftGrowth.okuboDiffusionM2ps(10_000)).isCloseTo(8.18, within(0.08));
        assertThat(DriftGrowth.okuboRadialM(86_400)).isCloseTo(620, within(6.0));
        assertThat(DriftGrowth.okuboRadialM(86_400) / Math.sqrt(2)).isCloseTo(438, within(4.0));
    }

    /** Deep-water wave of 1 m and 5 s: 0.0506 m/s at the surface (linear wave theory). */
    @Test
    void stokesDrift() {
        assertThat(DriftGrowth.stokesMps(1, 5)).isCloseTo(0.0506, within(1e-4));
    }

    /** Koopman: 1 − e^(−C); inverse cube: erf(√π C/2). */
    @Test
    void detectionOdds() {
        double[] coverage = {0.5, 1, 2};
        double[] random = {0.3935, 0.6321, 0.8647};
        double[] cube = {0.4691, 0.7899, 0.9878};
        for (int i = 0; i < 3; i++) {
            assertThat(DetectionOdds.random(coverage[i])).isCloseTo(random[i], within(1e-4));
            assertThat(DetectionOdds.inverseCube(coverage[i])).isCloseTo(cube[i], within(1e-4));
        }
        assertThat(DetectionOdds.coverage(185, 40_000, 7_400_000)).isCloseTo(1, within(1e-12));
        // Bayes' rule by hand: 0.6 · 0.3/(0.6 · 0.3 + 0.4) = 0.3103; success 0.6 · 0.7.
        assertThat(DetectionOdds.stillThere(0.6, 0.7)).isCloseTo(0.3103, within(1e-4));
        assertThat(DetectionOdds.success(0.6, 0.7)).isCloseTo(0.42, within(1e-12));
        // Sweep width is the area under the lateral range curve: a step of 100 m to each side gives 200 m.
        assertThat(DetectionOdds.sweepWidthM(d -> d <= 100 ? 1 : 0, 400)).isCloseTo(200, within(1.0));
    }

    /** S, S, 2S, 2S, 3S …: ten legs make 30 S. */
    @Test
    void expandingSquare() {
        List<SearchPattern.Leg> legs = SearchPattern.expandingSquare(500, 10, 0);
        assertThat(legs.stream().mapToDouble(SearchPattern.Leg::lengthM).sum()).isEqualTo(30 * 500.0);
        assertThat(legs.get(1).courseDeg() - legs.get(0).courseDeg()).isEqualTo(90);
        assertThat(legs.stream().map(SearchPattern.Leg::lengthM).limit(6))
                .containsExactly(500.0, 500.0, 1000.0, 1000.0, 1500.0, 1500.0);
    }

    /** A sector search: nine legs, all turns 120° to the right, back at the datum after every third. */
    @Test
    void sectorSearch() {
        List<SearchPattern.Leg> legs = SearchPattern.sector(1000, 200);
        assertThat(legs).hasSize(9);
        double x = 0;
        double y = 0;
        for (int i = 0; i < 9; i++) {
            x += legs.get(i).lengthM() * Math.sin(Math.toRadians(legs.get(i).courseDeg()));
            y += legs.get(i).lengthM() * Math.cos(Math.toRadians(legs.get(i).courseDeg()));
            if (i % 3 == 2) {
                assertThat(Math.hypot(x, y)).isLessThan(1e-9);
            }
        }
        assertThat(legs.get(0).courseDeg()).isEqualTo(200);
        assertThat(legs.get(3).courseDeg()).isEqualTo(230);
    }

    /** Parallel sweep of a 4 by 2 km box at 500 m: four tracks of 4 km joined by three of 500 m. */
    @Test
    void parallelSweep() {
        List<SearchPattern.Leg> legs = SearchPattern.parallelSweep(4000, 2000, 500, 90);
        assertThat(legs).hasSize(7);
        assertThat(legs.stream().mapToDouble(SearchPattern.Leg::lengthM).sum()).isEqualTo(4 * 4000 + 3 * 500.0);
    }

    /** A pattern steered at a drifting datum: after each leg the boat is where the pattern is, plus the drift till then. */
    @Test
    void patternsMoveWithTheDatum() {
        Instant t = Instant.parse("2026-08-01T10:00:00Z");
        Position datum = new Position(52.3, -4.6);
        List<SearchPattern.Turn> turns =
                SearchPattern.steer(datum, t, 0.5, 0, SearchPattern.expandingSquare(1000, 2, 0), 5);
        // First leg: 1000 m north over the moving water at 5 m/s through a frame moving 0.5 m/s east takes 200 s.
        assertThat(turns.get(1).time()).isEqualTo(t.plusSeconds(200));
        LocalPlane plane = new LocalPlane(datum);
        assertThat(plane.toPlane(turns.get(1).position()).xM()).isCloseTo(100, within(0.01));
        assertThat(plane.toPlane(turns.get(1).position()).yM()).isCloseTo(1000, within(0.01));
    }

    /** Uniform circle: SE = (σ/R) √(2/N): 7.06 dB, 2 dB, 12 headings: 6.6°. Bearings by exact curves. */
    @Test
    void sweepOnACircle() {
        List<SweepPoint> exact = new ArrayList<>();
        Random random = new Random(1);
        for (int i = 0; i < 12; i++) {
            double theta = Math.toRadians(30.0 * i);
            exact.add(new SweepPoint(30.0 * i, 20 + 7.06 * Math.cos(theta - 1), SweepPoint.Kind.HEARD));
        }
        SweepBearing.Result result = SweepBearing.fit(exact, Antenna.THREE_ELEMENTS);
        assertThat(result.kind()).isEqualTo(SweepBearing.Kind.BEARING);
        assertThat(result.bearingDeg()).isCloseTo(Math.toDegrees(1), within(0.01));
        assertThat(result.swingDb()).isCloseTo(7.06, within(0.001));
        double squares = 0;
        double stated = 0;
        int runs = 2000;
        for (int k = 0; k < runs; k++) {
            List<SweepPoint> noisy = exact.stream()
                    .map(p -> new SweepPoint(
                            p.headingDeg(), p.loudnessDb() + 2 * random.nextGaussian(), SweepPoint.Kind.HEARD))
                    .toList();
            SweepBearing.Result r = SweepBearing.fit(noisy, Antenna.THREE_ELEMENTS);
            double off = r.bearingDeg() - Math.toDegrees(1);
            squares += off * off;
            stated += r.standardErrorDeg();
        }
        // Both the true scatter and the stated error are the formula's 6.6° (estimated σ lowers the mean a little).
        assertThat(Math.sqrt(squares / runs)).isCloseTo(6.6, within(0.35));
        assertThat(stated / runs).isCloseTo(6.6, within(0.35));
        assertThat(Math.toDegrees(2 / 7.06 * Math.sqrt(2.0 / 12))).isCloseTo(6.6, within(0.1));
    }

    /** κ_p = ln 2/(1 − cos(beam/2)) at 60°: 5.174 (half power at half the beam). */
    @Test
    void beamConcentration() {
        assertThat(SweepBearing.beamConcentration(60)).isCloseTo(5.174, within(0.001));
    }

    @Test
    void sweepsThatSayNothing() {
        List<SweepPoint> silent = List.of(
                new SweepPoint(0, Double.NaN, SweepPoint.Kind.NOT_HEARD),
                new SweepPoint(120, Double.NaN, SweepPoint.Kind.NOT_HEARD));
        assertThat(SweepBearing.fit(silent, Antenna.THREE_ELEMENTS).kind()).isEqualTo(SweepBearing.Kind.NOT_HEARD);
        List<SweepPoint> flat = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            flat.add(new SweepPoint(30 * i, 20 + (i % 2), SweepPoint.Kind.HEARD));
        }
        assertThat(SweepBearing.fit(flat, Antenna.THREE_ELEMENTS).kind()).isEqualTo(SweepBearing.Kind.NO_DIRECTION);
        // A loop hears both ways: two maxima, the other one told.
        List<SweepPoint> eight = new ArrayList<>();
        for (int i = 0; i < 24; i++) {
            double theta = Math.toRadians(15.0 * i);
            eight.add(new SweepPoint(15.0 * i, 20 + 6 * Math.cos(2 * (theta - 0.5)), SweepPoint.Kind.HEARD));
        }
        SweepBearing.Result loop = SweepBearing.fit(eight, Antenna.LOOP);
        assertThat(loop.backShare()).isEqualTo(0.5);
        assertThat(Math.abs(Bearings.wrap180(loop.bearingDeg() - loop.otherDeg())))
                .isCloseTo(180, within(1.0));
        // Drop-outs: heard on four headings around 90°, silent elsewhere.
        List<SweepPoint> edges = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            boolean in = i >= 2 && i <= 4;
            edges.add(new SweepPoint(
                    30 * i, in ? 5 : Double.NaN, in ? SweepPoint.Kind.HEARD : SweepPoint.Kind.NOT_HEARD));
        }
        SweepBearing.Result middle = SweepBearing.fit(edges, Antenna.THREE_ELEMENTS);
        assertThat(middle.bearingDeg()).isCloseTo(90, within(1e-6));
        assertThat(middle.standardErrorDeg()).isCloseTo(15 / Math.sqrt(2), within(1e-9));
    }

    /** Silent headings of a beam with a noise floor are censored, not left out: the bearing stays unbiased. */
    @Test
    void silentHeadingsCount() {
        Random random = new Random(2);
        double sum = 0;
        double squares = 0;
        int runs = 400;
        for (int k = 0; k < runs; k++) {
            List<SweepPoint> points = new ArrayList<>();
            for (int i = 0; i < 16; i++) {
                double theta = Math.toRadians(22.5 * i);
                double loud = 10 + 8 * Math.cos(theta - Math.toRadians(75)) + 2 * random.nextGaussian();
                points.add(
                        loud < 6
                                ? new SweepPoint(22.5 * i, Double.NaN, SweepPoint.Kind.NOT_HEARD)
                                : new SweepPoint(22.5 * i, loud, SweepPoint.Kind.HEARD));
            }
            SweepBearing.Result r = SweepBearing.fit(points, Antenna.THREE_ELEMENTS);
            double off = Bearings.wrap180(r.bearingDeg() - 75);
            sum += off;
            squares += off * off;
        }
        assertThat(sum / runs).isCloseTo(0, within(1.0));
        assertThat(Math.sqrt(squares / runs)).isLessThan(9);
    }

    /** Declination 1.28° E at 80° N 0° E in 2025.0 (WMM2025 report); deviation cards are straight between lines. */
    @Test
    void bearingsTurnTrueByTheirSource() {
        SearchSettings.Bearings settings = new SearchSettings.Bearings(
                12,
                0.5,
                0.05,
                List.of(
                        new SearchSettings.DeviationPoint(0, 2),
                        new SearchSettings.DeviationPoint(90, -4),
                        new SearchSettings.DeviationPoint(270, 1)),
                8,
                5);
        BearingCorrection correction = new BearingCorrection(MagneticModel.wmm2025(), settings, null);
        Position place = new Position(80, 0);
        Instant time = Instant.parse("2025-01-01T00:00:00Z");
        assertThat(correction
                        .correct(359, BearingSource.HAND_COMPASS, null, place, time)
                        .bearingDeg())
                .isCloseTo(0.28, within(0.01));
        // 30 off the bow, compass 45: deviation halfway between +2 and −4 = −1; + 1.28.
        assertThat(correction
                        .correct(30, BearingSource.BOW_AND_COMPASS, 45.0, place, time)
                        .bearingDeg())
                .isCloseTo(30 + 45 - 1 + 1.28, within(0.01));
        assertThat(BearingCorrection.deviationDeg(settings.deviationCard(), 315))
                .isCloseTo(1.5, within(1e-9));
        assertThat(correction
                        .correct(350, BearingSource.BOW_AND_TRUE_HEADING, 20.0, place, time)
                        .bearingDeg())
                .isCloseTo(10, within(1e-9));
        BearingCorrection.TrueBearing course = correction.correct(10, BearingSource.BOW_AND_COURSE, 20.0, place, time);
        assertThat(course.bearingDeg()).isEqualTo(30);
        assertThat(course.extraSdDeg()).isEqualTo(8);
        // Outside the model's years a declination must be given.
        BearingCorrection own = new BearingCorrection(MagneticModel.wmm2025(), settings, -3.0);
        assertThat(own.correct(100, BearingSource.HAND_COMPASS, null, place, Instant.parse("2040-01-01T00:00:00Z"))
                        .bearingDeg())
                .isEqualTo(97);
    }

    @Test
    void sectorsSwept() {
        assertThat(Likelihoods.outside(10, 350, 20)).isZero();
        assertThat(Likelihoods.outside(40, 350, 20)).isEqualTo(20);
        assertThat(Likelihoods.outside(340, 350, 20)).isEqualTo(10);
        assertThat(Likelihoods.outside(185, 350, 20)).isEqualTo(165);
    }
}
