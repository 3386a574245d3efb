package org.aftercast.voyage;

import java.util.Locale;
import java.util.SortedMap;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.jspecify.annotations.Nullable;

/**
 * Places of a table that lie well inland: most often latitude or longitude mistyped. They are told, not refused: the shipped
 * coast is good to about 1 km and knows no narrow estuary.
 */
final class SeekInland {

    /** Farther inland than the shipped coast can be wrong, in metres (judgement). */
    private static final double WELL_INLAND_M = 3000;

    private SeekInland() {}

    /** Adds a sentence for each such place, by its line. */
    static void find(SeekTable table, SeekTable.PackageRows rows, Land land, SortedMap<Long, String> said) {
        HuntStart.Contact contact = rows.contact;
        if (contact != null) {
            check(rows.startLine, "where the package came off", contact.position(), land, said);
        }
        check(table.homeLine, "home", table.home, land, said);
        check(table.hereLine, "the boat", table.herePosition, land, said);
        for (Observation o : rows.observations) {
            check(table.lineOf(o), "the boat", o.own(), land, said);
        }
        for (Observation o : table.drifts) {
            check(table.lineOf(o), "the boat", o.own(), land, said);
        }
    }

    private static void check(
            long line, String what, @Nullable Position place, Land land, SortedMap<Long, String> said) {
        if (place == null) {
            return;
        }
        LocalPlane.Point at;
        try {
            at = land.plane().toPlane(place);
        } catch (IllegalArgumentException tooFar) {
            return; // beyond the plane of the search: told elsewhere
        }
        if (!land.covers(at.xM(), at.yM()) || !land.isLand(at.xM(), at.yM())) {
            return;
        }
        double inland = land.coastDistanceM(at.xM(), at.yM(), land.radiusM());
        if (inland > WELL_INLAND_M) {
            said.put(
                    line,
                    String.format(
                            Locale.ROOT,
                            "Line %d: %s lies %.0f km inland by the coast known here, at %s. Check latitude and longitude"
                                    + " (south and west are negative); lakes and rivers are land to it.",
                            line,
                            what,
                            inland / 1000,
                            place.chartText()));
        }
    }
}
