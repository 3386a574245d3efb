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

    private SeekObservations() {}

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
                        row.need("deg"),
                        row.named("source", BearingSource.class, null),
                        row.value("heading_deg"),
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
                        row.value("from_deg"),
                        row.value("to_deg"),
                        row.value("seconds", 60.0));
            case "sweep" ->
                new Observation.Sweep(
                        time,
                        own,
                        levels(row, problems),
                        row.named("source", BearingSource.class, null),
                        row.value("heading_deg"),
                        row.named("antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        row.gain());
            case "sighting" ->
                new Observation.Sighting(
                        time,
                        own,
                        row.yes("seen") ? Observation.Sighting.Seen.SEEN : Observation.Sighting.Seen.NOT_SEEN,
                        row.value("bearing_deg"),
                        row.value("distance_m"));
            default -> {
                double to = Math.toRadians(Bearings.wrap360(row.need("to_deg")));
                double speed = row.needSpeed();
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
                throw new SeekRow.MissingException(SeekRow.VALUES, "levels: \"" + part + "\" is not heading:loudness");
            }
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
