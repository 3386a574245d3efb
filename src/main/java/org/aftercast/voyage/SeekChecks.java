package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Position;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.aftercast.search.SearchEnd;
import org.aftercast.search.SearchSettings;

/** What of a table of observations can only be judged when all of it is read. */
final class SeekChecks {

    private static final Duration LONGEST = Duration.ofDays(60);
    private static final int MOST_OBSERVATIONS = 5000;

    private final SeekTable table;
    private final TableProblems problems;

    SeekChecks(SeekTable table, TableProblems problems) {
        this.table = table;
        this.problems = problems;
    }

    /** What can only be judged when the whole table is read: times and places against the start, gains against the steps. */
    void check(String name, SeekTable.PackageRows rowsOf) {
        HuntStart.Contact contact = rowsOf.contact;
        if (contact == null) {
            return;
        }
        if (rowsOf.observations.size() + table.drifts.size() > MOST_OBSERVATIONS) {
            problems.inFile("package \"" + name + "\" has " + (rowsOf.observations.size() + table.drifts.size())
                    + " observations; accepted: at most " + MOST_OBSERVATIONS);
        }
        for (Observation o : rowsOf.observations) {
            long line = table.lineOf(o);
            if (o.time().isBefore(contact.time())) {
                problems.inCell(
                        line,
                        SeekRow.TIME,
                        o.time() + " is before the last contact, " + contact.time()
                                + "; accepted: observations after the start row");
            }
            reach(line, o.time(), o.own(), contact, rowsOf.startLine);
            int gain = o instanceof Observation.Bearing b
                    ? b.gainStep()
                    : o instanceof Observation.Listen l
                            ? l.gainStep()
                            : o instanceof Observation.Sweep s ? s.gainStep() : 1;
            int steps = table.stepsDb == null
                    ? SearchSettings.defaults().hearing().gainStepsDb().size()
                    : table.stepsDb.size();
            if (gain > steps) {
                problems.inCell(
                        line,
                        SeekRow.VALUES,
                        "gain: " + gain + " is not one of the receiver's steps; accepted: 1–" + steps);
            }
        }
        for (Observation o : table.drifts) {
            if (table.packages.size() == 1) {
                reach(table.lineOf(o), o.time(), o.own(), contact, rowsOf.startLine);
            }
        }
        if (table.packages.size() == 1 && table.herePosition != null && table.hereTime != null) {
            reach(table.hereLine, table.hereTime, table.herePosition, contact, rowsOf.startLine);
        }
        if (table.packages.size() == 1 && table.home != null) {
            reach(table.homeLine, contact.time(), table.home, contact, rowsOf.startLine);
        }
        SearchEnd end = rowsOf.end;
        if (end != null && end.time().isBefore(contact.time())) {
            problems.inFile("package \"" + name + "\" ends at " + end.time() + ", before its start, " + contact.time());
        }
    }

    private void reach(long line, Instant time, Position place, HuntStart.Contact contact, long startLine) {
        Duration since = Duration.between(contact.time(), time);
        if (since.compareTo(LONGEST) > 0) {
            problems.inCell(
                    line,
                    SeekRow.TIME,
                    time + " is " + since.toDays() + " days after the start, " + contact.time() + "; accepted: at most "
                            + LONGEST.toDays() + " (give a later start row)");
        }
        double metres = Geodesics.distanceM(contact.position(), place);
        if (metres > SeekTable.FARTHEST_M) {
            problems.inCell(
                    line,
                    SeekRow.LAT,
                    "the place is " + Math.round(metres / 1000) + " km from where the package came off (start, line "
                            + startLine + "); accepted: within "
                            + Math.round(SeekTable.FARTHEST_M / 1000) + " km");
        }
    }
}
