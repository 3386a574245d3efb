package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import org.aftercast.fate.RecordEnd;
import org.aftercast.search.Observation;
import org.aftercast.search.SearchEnd;
import org.aftercast.search.SweepPoint;
import org.jspecify.annotations.Nullable;

/**
 * What the search for a package tells of its record's end: the beacon is mute under water, so pings before the planned
 * detachment mean that it came off early. One report may be false; two count: a report is false once in a hundred looks, so the
 * odds of one in ten packages shed early rise to at most 0.91 with one report and pass 0.95 with two. A package in hand
 * (retrieved, found ashore, handed in) before the plan came off early for certain.
 */
final class EarlyPings {

    private static final int NEEDED = 2;

    private EarlyPings() {}

    /**
     * The record's end as the search tells it.
     *
     * @return {@link RecordEnd#SHED_EARLY}, or null when the search says nothing
     * @throws IOException if the table of the search cannot be read
     */
    static @Nullable RecordEnd recordEnd(Path study, String animal, @Nullable Instant planned) throws IOException {
        if (planned == null) {
            return null;
        }
        try {
            Path file = SearchLog.file(study, animal);
            if (!Files.isRegularFile(file)) {
                return null;
            }
            SeekTable table = SeekTable.read(String.valueOf(file.getFileName()), Files.readAllBytes(file));
            boolean inHandEarly = table.packages.values().stream()
                    .map(rows -> rows.end)
                    .anyMatch(end -> end != null
                            && end.outcome() != SearchEnd.Outcome.ABANDONED
                            && end.time().isBefore(planned));
            if (inHandEarly) {
                return RecordEnd.SHED_EARLY;
            }
            long early = table.packages.values().stream()
                    .flatMap(rows -> rows.observations.stream())
                    .filter(o -> o.time().isBefore(planned) && heard(o))
                    .count();
            return early >= NEEDED ? RecordEnd.SHED_EARLY : null;
        } catch (BadInputException unreadable) {
            return null; // a search that cannot be reckoned yet says nothing about the record
        }
    }

    private static boolean heard(Observation o) {
        if (o instanceof Observation.Listen l) {
            return l.heard() == Observation.Listen.Heard.HEARD;
        }
        if (o instanceof Observation.Sweep s) {
            return s.points().stream().anyMatch(p -> p.kind() != SweepPoint.Kind.NOT_HEARD);
        }
        return o instanceof Observation.Bearing;
    }
}
