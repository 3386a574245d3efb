package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Position;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.aftercast.search.SearchEnd;

/** Searches that ended: what they cost, and what a retrieved package teaches about drift for the rest. */
final class SeekEnds {

    private static final double MILE_M = 1852;

    private SeekEnds() {}

    /** The ends of a table, hours and miles reckoned from its rows where they were not noted. */
    static List<SeekDocument.Ended> of(SeekTable table) {
        List<SeekDocument.Ended> ended = new ArrayList<>();
        table.packages.forEach((name, rows) -> {
            SearchEnd noted = rows.end;
            if (noted == null) {
                return;
            }
            SearchEnd end = reckoned(table, rows, noted);
            Observation.Drift drift = taught(rows);
            Position place = end.position();
            ended.add(new SeekDocument.Ended(
                    name,
                    SeekParts.word(end.outcome()),
                    end.time().toString(),
                    place == null ? null : SeekParts.place(place),
                    Math.rint(end.hours() * 100) / 100,
                    Math.rint(end.miles() * 100) / 100,
                    rows.hoursGiven && rows.milesGiven
                            ? "noted"
                            : "reckoned from the rows: time since departure or the first row, at least the miles between"
                                    + " the places noted",
                    drift == null ? null : Math.hypot(drift.eastMps(), drift.northMps()),
                    drift == null ? null : Bearings.of(drift.eastMps(), drift.northMps())));
        });
        return ended;
    }

    /** The end with hours and miles: as noted, else from departure (or the first observation) and between the places noted. */
    static SearchEnd reckoned(SeekTable table, SeekTable.PackageRows rows, SearchEnd end) {
        Instant from = table.departed;
        List<Position> places = new ArrayList<>();
        if (table.home != null) {
            places.add(table.home);
        }
        for (Observation o : rows.observations) {
            if (from == null) {
                from = o.time();
            }
            places.add(o.own());
        }
        Position found = end.position();
        if (found != null) {
            places.add(found);
        }
        double metres = 0;
        for (int i = 1; i < places.size(); i++) {
            metres += Geodesics.distanceM(places.get(i - 1), places.get(i));
        }
        double hours = from == null
                ? 0
                : Math.max(0, Duration.between(from, end.time()).toMillis() / 3_600_000.0);
        return new SearchEnd(
                end.outcome(),
                end.time(),
                found,
                rows.hoursGiven ? end.hours() : hours,
                rows.milesGiven ? end.miles() : metres / MILE_M,
                end.note());
    }

    /** What the retrieved packages of a table teach about drift. */
    static List<Observation.Drift> taught(SeekTable table) {
        List<Observation.Drift> drifts = new ArrayList<>();
        for (SeekTable.PackageRows rows : table.packages.values()) {
            Observation.Drift drift = taught(rows);
            if (drift != null) {
                drifts.add(drift);
            }
        }
        return drifts;
    }

    private static Observation.@org.jspecify.annotations.Nullable Drift taught(SeekTable.PackageRows rows) {
        SearchEnd end = rows.end;
        HuntStart.Contact contact = rows.contact;
        if (end == null
                || contact == null
                || end.outcome() != SearchEnd.Outcome.RETRIEVED
                || end.position() == null
                || Duration.between(contact.time(), end.time()).toSeconds() < 600) {
            return null;
        }
        try {
            return end.driftSince(contact);
        } catch (IllegalArgumentException noDrift) {
            return null; // too fast or too far to be one: it teaches nothing
        }
    }
}
