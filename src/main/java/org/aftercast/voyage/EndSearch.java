package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import org.aftercast.geo.Position;
import org.aftercast.search.Observation;
import org.aftercast.search.SearchEnd;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Keeps the study's record of a search as its table says: an {@code end} row becomes a search outcome (retrieved, stranded,
 * handed in or abandoned) with the hours and miles spent; when that row is taken back, the outcome becomes "not found". Other outcomes, entered by a person, are left alone.
 */
public final class EndSearch {

    private EndSearch() {}

    /**
     * Brings the record up to date.
     *
     * @param store opened for writing
     * @throws BadInputException if the table cannot be used
     * @throws IOException if the study cannot be written
     */
    public static void record(StudyStore store, String who, String animal) throws BadInputException, IOException {
        Path file = SearchLog.file(store.folder(), animal);
        if (!Files.isRegularFile(file)) {
            return;
        }
        SeekTable table = SeekTable.read(String.valueOf(file.getFileName()), Files.readAllBytes(file));
        SearchOutcome wanted = null;
        List<SearchOutcome> all = store.all(SearchOutcome.class).stream()
                .filter(o -> o.animal().equalsIgnoreCase(animal))
                .toList();
        SearchOutcome before = all.stream()
                .filter(SearchOutcome::takenFromLog)
                .max(Comparator.comparingInt(SearchOutcome::number))
                .orElse(null);
        int number = before != null
                ? before.number()
                : 1 + all.stream().mapToInt(SearchOutcome::number).max().orElse(0);
        for (SeekTable.PackageRows rows : table.packages.values()) {
            SearchEnd noted = rows.end;
            if (noted != null) {
                wanted = outcome(animal, number, table, rows, SeekEnds.reckoned(table, rows, noted));
            }
        }
        if (wanted == null && before != null && before.outcome() != SearchOutcome.Outcome.NOT_FOUND) {
            wanted = new SearchOutcome(
                    animal,
                    number,
                    before.startedUtc(),
                    null,
                    SearchOutcome.Outcome.NOT_FOUND,
                    null,
                    null,
                    null,
                    null,
                    null,
                    SearchOutcome.FROM_LOG + ": its end was taken back.");
        }
        if (wanted != null && !wanted.equals(before)) {
            SearchOutcome put = wanted;
            store.change(who, change -> {
                change.put(put);
                return 0;
            });
        }
    }

    private static SearchOutcome outcome(
            String animal, int number, SeekTable table, SeekTable.PackageRows rows, SearchEnd end) {
        Position found = end.position();
        return new SearchOutcome(
                animal,
                number,
                started(table, rows, end.time()),
                end.time(),
                SearchOutcome.Outcome.valueOf(end.outcome().name()),
                found == null ? null : found.latDeg(),
                found == null ? null : found.lonDeg(),
                Math.rint(end.hours() * 100) / 100,
                Math.rint(end.miles() * 100) / 100,
                null,
                SearchOutcome.FROM_LOG + ".");
    }

    private static @Nullable Instant started(SeekTable table, SeekTable.PackageRows rows, Instant end) {
        Instant from = table.departed;
        for (Observation o : rows.observations) {
            from = from == null || o.time().isBefore(from) ? o.time() : from;
        }
        return from == null || from.isAfter(end) ? null : from;
    }
}
