package org.aftercast.voyage;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.GeoJson;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.aftercast.search.Advice;
import org.aftercast.search.BeaconState;
import org.aftercast.search.BearingFix;
import org.aftercast.search.Fix;
import org.aftercast.search.Hunt;
import org.aftercast.search.Observation;
import org.aftercast.search.Region;
import org.aftercast.search.Residual;
import org.jspecify.annotations.Nullable;

/** Maps what the search room says to the parts of the document. */
final class SeekParts {

    private SeekParts() {}

    static SeekDocument.Sought of(
            String name,
            String why,
            Hunt hunt,
            Instant now,
            @Nullable Position own,
            @Nullable Advice advice,
            int forecastHours,
            @Nullable Double declinationDeg) {
        Fix fix = hunt.fixAt(now);
        List<Fix> hours = hunt.forecast(now, forecastHours);
        List<Residual> residuals = hunt.residuals();
        BeaconState state = hunt.beaconState();
        return new SeekDocument.Sought(
                name,
                why,
                advice == null
                        ? null
                        : new SeekDocument.TurnBack(
                                advice.turnBackAt() == null
                                        ? null
                                        : advice.turnBackAt().toString(),
                                advice.turnBackReason()),
                advice == null ? null : nextStep(advice, declinationDeg),
                fixPart(fix),
                regions(name, hunt, fix, hours, residuals, own, advice),
                hours.stream()
                        .map(f -> new SeekDocument.Hour(
                                f.time().toString(),
                                place(f.mean()),
                                f.radius95M(),
                                f.region95().areaM2()))
                        .toList(),
                residuals.stream()
                        .map(r -> new SeekDocument.ResidualPart(
                                r.time().toString(),
                                r.trueBearingDeg(),
                                r.how(),
                                r.meanDeg(),
                                r.backShare(),
                                r.wildShare(),
                                word(r.verdict())))
                        .toList(),
                classical(hunt),
                new SeekDocument.Beacon(
                        state.adrift(),
                        state.ashore(),
                        state.stillAttached(),
                        state.insidePredator(),
                        state.beaconDead(),
                        word(state.shedEarly()),
                        state.shedEarlyChance()),
                hunt.ranges().stream()
                        .map(r -> new SeekDocument.Range(r.gainStep(), r.surelyM(), r.halfM(), r.hardlyM()))
                        .toList(),
                hunt.detectionOddsSoFar());
    }

    static SeekDocument.Place place(Position p) {
        return new SeekDocument.Place(
                Math.rint(p.latDeg() * 1e6) / 1e6, Math.rint(p.lonDeg() * 1e6) / 1e6, p.chartText());
    }

    static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static SeekDocument.NextStep nextStep(Advice advice, @Nullable Double declinationDeg) {
        Advice.Leg leg = advice.leg();
        Advice.Pattern pattern = advice.pattern();
        return new SeekDocument.NextStep(
                word(advice.action()),
                advice.reason(),
                leg == null
                        ? null
                        : new SeekDocument.LegPart(
                                leg.courseDeg(),
                                leg.distanceM(),
                                place(leg.to()),
                                leg.arrival().toString(),
                                leg.chanceOfHearing(),
                                leg.bitsPerHour(),
                                declinationDeg),
                advice.gainStep(),
                advice.gainReason(),
                pattern == null
                        ? null
                        : new SeekDocument.PatternPart(
                                word(pattern.kind()),
                                pattern.spacingM(),
                                pattern.reason(),
                                pattern.turns().stream()
                                        .map(t -> new SeekDocument.TurnPart(
                                                t.time().toString(), place(t.position())))
                                        .toList()));
    }

    private static SeekDocument.FixPart fixPart(Fix fix) {
        return new SeekDocument.FixPart(
                fix.time().toString(),
                place(fix.mean()),
                place(fix.peak()),
                fix.radius95M(),
                fix.region50().areaM2(),
                fix.region95().areaM2(),
                Math.hypot(fix.driftEastMps(), fix.driftNorthMps()),
                Bearings.of(fix.driftEastMps(), fix.driftNorthMps()),
                fix.effectiveParticles());
    }

    private static SeekDocument.@Nullable Classical classical(Hunt hunt) {
        BearingFix fix;
        try {
            fix = hunt.classicalFix(BearingFix.Method.ANDREWS);
        } catch (IllegalArgumentException noCrossing) {
            return null;
        }
        if (fix == null) {
            return null;
        }
        double det = fix.covariance()[0] * fix.covariance()[2] - fix.covariance()[1] * fix.covariance()[1];
        LocalPlane plane = hunt.start().land().plane();
        if (!(det > 0) || Math.hypot(fix.xM(), fix.yM()) > LocalPlane.MAX_RADIUS_M) {
            return null;
        }
        BearingFix.Ellipse ellipse = fix.ellipse(BearingFix.KNOWN_KAPPA_95);
        return new SeekDocument.Classical(
                "andrews",
                place(plane.toEarth(fix.xM(), fix.yM())),
                fix.kappa(),
                ellipse.semiMajorM(),
                ellipse.semiMinorM(),
                ellipse.azimuthDeg(),
                fix.cutDeg(),
                fix.cutDeg() < 20
                        ? "The lines are within 20° of parallel: a poor fix."
                        : "A cross-check: it takes the package to lie still.");
    }

    private static Map<String, Object> regions(
            String name,
            Hunt hunt,
            Fix fix,
            List<Fix> hours,
            List<Residual> residuals,
            @Nullable Position own,
            @Nullable Advice advice) {
        List<Map<String, Object>> features = new ArrayList<>();
        for (Region region : List.of(fix.region95(), fix.region50())) {
            for (Region.Piece piece : region.pieces()) {
                features.add(GeoJson.feature(
                        GeoJson.polygons(List.of(piece.outline())),
                        properties(
                                "package", name,
                                "what", "region",
                                "time", fix.time().toString(),
                                "probability", region.probability(),
                                "holds", piece.probability())));
            }
        }
        for (int h = 1; h < hours.size(); h++) {
            Fix later = hours.get(h);
            features.add(GeoJson.feature(
                    GeoJson.polygons(later.region95().pieces().stream()
                            .map(Region.Piece::outline)
                            .toList()),
                    properties(
                            "package",
                            name,
                            "what",
                            "forecast",
                            "time",
                            later.time().toString(),
                            "probability",
                            later.region95().probability(),
                            "hoursAhead",
                            (double) h)));
        }
        features.add(GeoJson.feature(
                GeoJson.point(fix.peak()),
                properties(
                        "package", name, "what", "likeliest", "time", fix.time().toString())));
        List<Observation> observations = hunt.observations();
        for (Residual residual : residuals) {
            Position from = observations.get(residual.number()).own();
            Position to = Geodesics.from(from, residual.trueBearingDeg(), 15_000);
            features.add(GeoJson.feature(
                    GeoJson.line(List.of(from, to)),
                    properties(
                            "package",
                            name,
                            "what",
                            "bearing",
                            "time",
                            residual.time().toString(),
                            "verdict",
                            word(residual.verdict()))));
        }
        if (own != null) {
            features.add(GeoJson.feature(GeoJson.point(own), properties("package", name, "what", "boat")));
            if (advice != null && advice.leg() != null) {
                features.add(GeoJson.feature(
                        GeoJson.line(List.of(own, advice.leg().to())), properties("package", name, "what", "leg")));
            }
        }
        return GeoJson.collection(features);
    }

    private static Map<String, Object> properties(Object... pairs) {
        Map<String, Object> out = new LinkedHashMap<>();
        for (int i = 0; i < pairs.length; i += 2) {
            out.put(String.valueOf(pairs[i]), pairs[i + 1]);
        }
        return out;
    }
}
