package org.aftercast.voyage;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.Position;
import org.aftercast.search.Antenna;
import org.aftercast.search.BearingSource;
import org.aftercast.search.Observation;
import org.aftercast.search.SweepPoint;

/** Turns a row into an observation. */
final class SeekObservations {

    private static final double FASTEST_DRIFT_MPS = 8;

    private SeekObservations() {}

    /** Off the bow, port may be noted as negative; a compass begins at 0. */
    private static double least(SeekRow row) {
        return row.text("source", "").startsWith("bow-") ? -180 : 0;
    }

    /**
     * The observation of a row.
     *
     * @throws IllegalArgumentException if a value is out of its range
     */
    static Observation of(SeekRow row, Instant time, Position own, TableProblems problems) {
        return switch (row.kind()) {
            case "bearing" ->
                new Observation.Bearing(
                        time,
                        own,
                        row.needDirection("deg", least(row)),
                        row.named("source", BearingSource.class, null),
                        row.direction("heading_deg", 0),
                        row.value("sd_deg"),
                        row.named("antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        row.gain());
            case "listen" ->
                new Observation.Listen(
                        time,
                        own,
                        row.gain(),
                        row.yes("heard") ? Observation.Listen.Heard.HEARD : Observation.Listen.Heard.NOT_HEARD,
                        row.named("antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        row.direction("from_deg", -180),
                        row.direction("to_deg", -180),
                        row.value("seconds", 60.0));
            case "sweep" ->
                new Observation.Sweep(
                        time,
                        own,
                        levels(row, problems),
                        row.named("source", BearingSource.class, null),
                        row.direction("heading_deg", 0),
                        row.named("antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        row.gain());
            case "sighting" ->
                new Observation.Sighting(
                        time,
                        own,
                        row.yes("seen") ? Observation.Sighting.Seen.SEEN : Observation.Sighting.Seen.NOT_SEEN,
                        row.direction("bearing_deg", 0),
                        row.value("distance_m"));
            default -> {
                double to = Math.toRadians(Bearings.wrap360(row.needDirection("to_deg", 0)));
                double speed = row.needSpeed(FASTEST_DRIFT_MPS);
                yield new Observation.Drift(
                        time,
                        own,
                        speed * Math.sin(to),
                        speed * Math.cos(to),
                        row.named("what", Observation.Drift.Drifter.class, null),
                        3600 * row.value("hours", 0.0));
            }
        };
    }

    private static List<SweepPoint> levels(SeekRow row, TableProblems problems) {
        List<SweepPoint> points = new ArrayList<>();
        String text = row.text("levels", "");
        if (text.isEmpty()) {
            throw new SeekRow.MissingException(
                    SeekRow.VALUES,
                    "a sweep needs levels=heading:loudness/…, for example" + " levels=0:12/45:18/90:24!/135:-");
        }
        for (String part : text.split("/", -1)) {
            int colon = part.indexOf(':');
            Double heading = colon < 0
                    ? null
                    : SeekRow.number(problems, row.line(), SeekRow.VALUES, "levels", part.substring(0, colon));
            if (heading == null) {
                throw new SeekRow.MissingException(
                        SeekRow.VALUES,
                        "levels: \"" + part
                                + "\" is not heading:loudness; accepted: for example levels=0:12/45:18/90:24!/135:-");
            }
            SeekRow.inCircle("levels", heading, least(row));
            String level = part.substring(colon + 1);
            if (level.equals("-")) {
                points.add(new SweepPoint(heading, Double.NaN, SweepPoint.Kind.NOT_HEARD));
                continue;
            }
            boolean full = level.endsWith("!");
            Double loud = SeekRow.number(
                    problems,
                    row.line(),
                    SeekRow.VALUES,
                    "levels",
                    full ? level.substring(0, level.length() - 1) : level);
            if (loud != null) {
                points.add(new SweepPoint(heading, loud, full ? SweepPoint.Kind.SATURATED : SweepPoint.Kind.HEARD));
            }
        }
        return points;
    }
}
