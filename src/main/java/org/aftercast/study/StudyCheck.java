package org.aftercast.study;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.type.TypeReference;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Consumer;
import org.jdbi.v3.core.JdbiException;
import org.jspecify.annotations.Nullable;

/**
 * Checks a study through and through: the database file, every record against its rules, every link, the history, and
 * the SHA-256 of every file. Changes nothing.
 */
public final class StudyCheck {

    /**
     * What was found.
     *
     * @param problems what is wrong; empty when all is well
     * @param notes what is not wrong but worth knowing, such as leftovers of interrupted work
     * @param records records checked
     * @param entries entries of the history checked
     * @param files files whose content was checked
     * @param bytes their length together
     */
    public record Report(List<String> problems, List<String> notes, int records, int entries, int files, long bytes) {
        public Report {
            problems = List.copyOf(problems);
            notes = List.copyOf(notes);
        }
    }

    private final List<String> problems = new ArrayList<>();
    private final List<String> notes = new ArrayList<>();
    private final Consumer<Path> progress;
    private int records;
    private int entries;
    private int files;
    private long bytes;

    private StudyCheck(Consumer<Path> progress) {
        this.progress = progress;
    }

    /**
     * Checks a study folder.
     *
     * @param progress told each file before it is read
     * @throws StudyException if there is no study to check; a damaged one is reported, not thrown
     * @throws IOException if the folder cannot be listed
     */
    public static Report of(Path folder, InstantSource clock, Consumer<Path> progress) throws IOException {
        StudyCheck check = new StudyCheck(progress);
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, FileStore.onDisk(), clock)) {
            check.everything(store);
        } catch (StudyException failure) {
            if (!(failure.getCause() instanceof SQLException) && !(failure.getCause() instanceof JdbiException)) {
                throw failure;
            }
            check.problems.add(String.valueOf(failure.getMessage()));
        }
        return new Report(check.problems, check.notes, check.records, check.entries, check.files, check.bytes);
    }

    private void everything(StudyStore store) throws IOException {
        store.databaseProblems().forEach(problem -> problems.add(StudyStore.DATABASE + ": " + problem));
        Map<String, String> standing = history(store);
        for (Table<?> table : Tables.all()) {
            records(store, table, standing);
        }
        standing.forEach(
                (record, json) -> problems.add(record + ": the record is missing although its history goes on"));
        if (problems.isEmpty()) { // the rest reads records and would stumble over broken ones
            links(store);
        }
        files(store);
    }

    /** Checks the chain; returns how each record should stand by its last entry. */
    private Map<String, String> history(StudyStore store) throws StudyException {
        Map<String, String> standing = new LinkedHashMap<>();
        String previous = "";
        long expected = 1;
        for (HistoryEntry entry : store.history()) {
            entries++;
            String where = "history, entry " + entry.number() + ": ";
            if (entry.number() != expected) {
                problems.add(where + "entry " + expected + " is missing before it");
            }
            expected = entry.number() + 1;
            String chain = HistoryEntry.chain(
                    previous,
                    entry.number(),
                    Table.utc(entry.atUtc()),
                    entry.who(),
                    Words.of(entry.what()),
                    entry.table(),
                    entry.key(),
                    entry.before(),
                    entry.after());
            if (!chain.equals(entry.chainSha256())) {
                problems.add(where + "its checksum does not fit: it, or one before it, was changed from outside");
            }
            previous = entry.chainSha256();
            String record = recordName(entry.table(), entry.key());
            if (entry.after() == null) {
                standing.remove(record);
            } else {
                standing.put(record, entry.after());
            }
        }
        return standing;
    }

    private static String recordName(String table, String key) {
        return table + " " + key.toLowerCase(Locale.ROOT);
    }

    private <R extends Record> void records(StudyStore store, Table<R> table, Map<String, String> standing)
            throws StudyException {
        for (Map<String, @Nullable Object> row : store.rawRows(table)) {
            records++;
            List<@Nullable Object> key = new ArrayList<>();
            table.keyColumns().forEach(column -> key.add(row.get(column)));
            String name = table.name() + " " + Table.keyText(key);
            try {
                table.toRecord(row);
            } catch (RuntimeException broken) {
                problems.add(name + ": " + broken.getMessage());
            }
            String last = standing.remove(recordName(table.name(), Table.keyText(key)));
            if (last == null) {
                problems.add(name + ": the history does not know this record: it was added from outside");
            } else if (!sameColumns(row, last)) {
                problems.add(name + ": differs from what its history says: it was changed from outside");
            }
        }
    }

    /** Equal in every column; a column that the history does not know (added since) counts as unknown. */
    private static boolean sameColumns(Map<String, @Nullable Object> row, String json) {
        try {
            Map<String, @Nullable Object> noted = Table.JSON.readValue(json, new TypeReference<>() {});
            return row.entrySet().stream().allMatch(column -> {
                Object is = column.getValue();
                Object was = noted.get(column.getKey());
                if (is instanceof Number a && was instanceof Number b) {
                    return a.doubleValue() == b.doubleValue();
                }
                return Objects.equals(is, was);
            });
        } catch (JsonProcessingException damaged) {
            return false;
        }
    }

    private void links(StudyStore store) throws StudyException {
        try {
            StudyInfo info = store.info();
            Inventory.Report inventory = Inventory.check(info, store, List.of());
            problems.addAll(inventory.refusals());
        } catch (RuleException broken) {
            problems.addAll(broken.lines());
        }
        Map<String, Integer> rawOf = new HashMap<>();
        store.all(RawFile.class).forEach(raw -> rawOf.merge(raw.recordingSha256(), 1, Integer::sum));
        for (RecordingRow recording : store.all(RecordingRow.class)) {
            if (!rawOf.containsKey(recording.sha256())) {
                problems.add("recording " + recording.sha256() + ": has no raw file");
            }
        }
        for (ReadingRow reading : store.all(ReadingRow.class)) {
            String key =
                    ReadingRow.keyOf(reading.recordingSha256(), reading.settingsSha256(), reading.softwareVersion());
            if (!key.equals(reading.key())) {
                problems.add("reading " + reading.key() + ": its key does not fit recording, settings and version");
            }
        }
        problems.addAll(VerdictRules.problems(store.all(Verdict.class)));
    }

    private void files(StudyStore store) throws IOException {
        Set<Path> known = new HashSet<>();
        for (RawFile raw : store.all(RawFile.class)) {
            Path file = store.rawFolder().resolve(raw.storedName());
            known.add(file);
            file(store, file, raw.sha256(), raw.sizeBytes());
        }
        for (Photo photo : store.all(Photo.class)) {
            Path file = store.photosFolder().resolve(photo.storedName());
            known.add(file);
            file(store, file, photo.sha256(), photo.sizeBytes());
        }
        for (RecordingRow recording : store.all(RecordingRow.class)) {
            Path file = store.recordingsFolder().resolve(recording.parquetName());
            known.add(file);
            file(store, file, recording.parquetSha256(), -1);
        }
        for (ReadingRow reading : store.all(ReadingRow.class)) {
            Path folder = store.readingsFolder().resolve(reading.folder());
            known.add(folder);
            Set<Path> named = new HashSet<>();
            for (Map.Entry<String, String> part : reading.files().entrySet()) {
                Path file = folder.resolve(part.getKey());
                named.add(file);
                file(store, file, part.getValue(), -1);
            }
            for (Path file : StudyStore.entries(folder)) {
                if (!named.contains(file)) {
                    notes.add(relative(store, file) + ": is no part of the reading");
                }
            }
        }
        for (SearchOutcome outcome : store.all(SearchOutcome.class)) {
            if (outcome.takenFromLog()) {
                table(store, outcome.animal());
            }
        }
        for (Path place : List.of(
                store.folder(),
                store.rawFolder(),
                store.recordingsFolder(),
                store.readingsFolder(),
                store.photosFolder())) {
            for (Path entry : StudyStore.entries(place)) {
                boolean aside = DiskFileStore.isAside(String.valueOf(entry.getFileName()));
                if (aside || (!place.equals(store.folder()) && !known.contains(entry))) {
                    notes.add(relative(store, entry)
                            + ": left over from interrupted work, or being written now; tidied up when the study is"
                            + " next opened for writing");
                }
            }
        }
    }

    /** The table that an outcome was taken from: it grows, so there is no checksum of it, but it is missed. */
    private void table(StudyStore store, String animal) {
        Path file = store.folder().resolve(StudyFolder.SEARCHES).resolve(animal + ".csv");
        String name = relative(store, file);
        progress.accept(file);
        try {
            if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
                // no more than a note: an outcome may also have come in with a capture table
                notes.add(name + ": is not there, although the outcome of the search for " + animal
                        + " was taken from it; if it is lost, look for it in a copy of the study");
                return;
            }
            bytes += Files.readAllBytes(file).length;
            files++;
        } catch (IOException unreadable) {
            problems.add(name + ": cannot be read (" + unreadable.getMessage() + ")");
        }
    }

    private void file(StudyStore store, Path file, String sha256, long sizeBytes) {
        String name = relative(store, file);
        progress.accept(file);
        try {
            if (!Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
                problems.add(name + ": is missing");
                return;
            }
            if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
                problems.add(name + ": is not a plain file");
                return;
            }
            long length = Files.size(file);
            files++;
            bytes += length;
            if (sizeBytes >= 0 && length != sizeBytes) {
                problems.add(name + ": is " + length + " bytes long, recorded are " + sizeBytes);
            } else if (!Hashes.ofFile(file).equals(sha256)) {
                problems.add(name + ": its content was changed (the SHA-256 is not the one recorded)");
            }
        } catch (IOException unreadable) {
            problems.add(name + ": cannot be read (" + unreadable.getMessage() + ")");
        }
    }

    private static String relative(StudyStore store, Path file) {
        return store.folder().relativize(file).toString();
    }
}
