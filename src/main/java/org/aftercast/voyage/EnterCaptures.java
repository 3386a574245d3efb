package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.study.CaptureSheet;
import org.aftercast.study.CaptureSheet.Entry;
import org.aftercast.study.Change;
import org.aftercast.study.Detachment;
import org.aftercast.study.FileStore;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.Inventory;
import org.aftercast.study.RuleException;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Enters a capture table, or a table of landings, into a study: every row or none.
 *
 * <p>Columns that the file does not have are left as they are in the study; an empty cell in a column that it has means
 * "not known".
 */
public final class EnterCaptures {

    /** What to do with an animal that is in the study already. */
    public enum Existing {
        /** Refuse the file. */
        REFUSE,
        /** Replace what the file's columns say; the history keeps what stood there. */
        REPLACE
    }

    /**
     * What was done.
     *
     * @param added animals (or trips) that are new
     * @param changed animals (or trips) of which something changed
     * @param unchanged animals (or trips) that stood there just so
     * @param warnings what a person should look at; nothing was refused for it
     * @param notices what opening the study had to tidy up
     */
    public record Result(int added, int changed, int unchanged, List<String> warnings, List<String> notices) {}

    /** Largest table read: far more than any study, far less than memory. */
    private static final long LARGEST_BYTES = 20_000_000;

    /** What stands for a file's name in messages about a form. */
    private static final String FORM = "form";

    /** A clock on a boat may be a little off. */
    private static final Duration CLOCK_SLACK = Duration.ofMinutes(10);

    private final FileStore files;
    private final InstantSource clock;

    /** Writes through this store, at this clock's time. */
    public EnterCaptures(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /** The header of an empty table. */
    public static String template() {
        return CaptureTable.write(List.of());
    }

    /** The header of an empty table of landings. */
    public static String landingsTemplate() {
        return CaptureTable.write(List.of(), CaptureTable.Kind.LANDINGS);
    }

    /**
     * Enters a file.
     *
     * @param folder the study
     * @param csv the table
     * @param existing what to do with animals that are there already
     * @param who noted in the history
     * @throws BadInputException naming every bad row with line and column; nothing was entered
     * @throws IOException if the study cannot be opened or written
     */
    public Result enter(Path folder, Path csv, Existing existing, String who) throws BadInputException, IOException {
        String file = csv.toString();
        byte[] bytes;
        try {
            if (Files.size(csv) > LARGEST_BYTES) {
                throw new BadInputException(file + ": " + Files.size(csv)
                        + " bytes is too large for a capture table; accepted: up to " + LARGEST_BYTES + " bytes");
            }
            bytes = Files.readAllBytes(csv);
        } catch (NoSuchFileException missing) {
            throw new BadInputException(file + ": there is no such file");
        } catch (IOException unreadable) {
            throw new BadInputException(file + ": cannot be read (" + unreadable.getMessage() + ")");
        }
        return enterTable(folder, file, bytes, existing, who);
    }

    /**
     * Enters a table that is in memory.
     *
     * @param folder the study
     * @param name what to call the table in messages
     * @param bytes the table
     * @param existing what to do with animals that are there already
     * @param who noted in the history
     * @throws BadInputException naming every bad row with line and column; nothing was entered
     * @throws IOException if the study cannot be opened or written
     */
    public Result enterTable(Path folder, String name, byte[] bytes, Existing existing, String who)
            throws BadInputException, IOException {
        TableProblems problems = new TableProblems(name);
        CaptureTable.Kind kind = CaptureTable.kindOf(name, bytes);
        List<CaptureTable.Row> rows = CaptureTable.read(name, bytes, problems, kind);
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            return kind == CaptureTable.Kind.LANDINGS
                    ? LandingTable.enter(store, rows, problems, existing, who)
                    : enter(store, rows, problems, existing, who);
        }
    }

    /**
     * Enters or corrects one animal, as from a form.
     *
     * @param folder the study
     * @param cells text by column, {@code animal} among them; columns left out stay as they are
     * @param who noted in the history
     * @throws BadInputException with one line a bad cell, each beginning with the column's name; nothing was entered
     * @throws IOException if the study cannot be opened or written
     */
    public Result enterRow(Path folder, Map<String, String> cells, String who) throws BadInputException, IOException {
        TableProblems problems = new TableProblems(FORM);
        List<CaptureTable.Row> rows = List.of(new CaptureTable.Row(1, cells));
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            return enter(store, rows, problems, Existing.REPLACE, who);
        } catch (BadInputException bad) {
            throw new BadInputException(bad.problems().stream()
                    .map(line -> line.replaceFirst("^" + FORM + "(, line 1)?: ", ""))
                    .toList());
        }
    }

    private Result enter(
            StudyStore store, List<CaptureTable.Row> rows, TableProblems problems, Existing existing, String who)
            throws BadInputException, IOException {
        Map<String, Entry> known = new HashMap<>();
        for (Entry entry : CaptureSheet.of(store)) {
            known.put(fold(entry.animal().name()), entry);
        }
        List<Entry> entries = new ArrayList<>();
        Map<String, Long> lineOf = new HashMap<>();
        Map<String, FloatPackage> packages = new HashMap<>();
        Instant now = clock.instant();
        for (CaptureTable.Row row : rows) {
            String name = row.cells().getOrDefault("animal", "");
            Entry old = known.get(fold(name));
            Entry entry = read(row, old, problems);
            Long before = name.isEmpty() ? null : lineOf.putIfAbsent(fold(name), row.line());
            if (before != null) {
                problems.inCell(row.line(), "animal", "animal \"" + name + "\" stands in line " + before + " already");
            } else if (old != null && existing == Existing.REFUSE) {
                problems.inCell(
                        row.line(),
                        "animal",
                        "animal \"" + name + "\" is in the study already; to change what is known of it use --replace");
            }
            if (entry == null) {
                continue;
            }
            future(entry, now, row.line(), problems);
            FloatPackage carried = entry.floatPackage();
            FloatPackage same = carried == null ? null : packages.putIfAbsent(fold(carried.serial()), carried);
            if (same != null && !same.equals(carried)) {
                problems.inCell(
                        row.line(),
                        "packageSerial",
                        "package \"" + same.serial() + "\" is described differently in an earlier row");
            }
            entries.add(entry);
        }
        problems.refuse();
        Inventory.Report inventory = Inventory.check(store.info(), store, entries);
        inventory.refusals().forEach(problems::inFile);
        problems.refuse();
        return store(store, entries, known, who, inventory.warnings());
    }

    private static Result store(
            StudyStore store, List<Entry> entries, Map<String, Entry> known, String who, List<String> warnings)
            throws BadInputException, IOException {
        int[] counts = new int[3];
        try {
            store.change(who, change -> {
                for (Entry entry : entries) {
                    Entry old = known.get(fold(entry.animal().name()));
                    counts[old == null ? 0 : entry.equals(old) ? 2 : 1]++;
                    put(change, entry, old);
                }
                return 0;
            });
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
        return new Result(counts[0], counts[1], counts[2], warnings, store.notices());
    }

    private static @Nullable Entry read(CaptureTable.Row row, @Nullable Entry old, TableProblems problems) {
        Map<String, String> cells = new HashMap<>();
        if (old != null) {
            cells.putAll(CaptureSheet.format(old));
            String serial = row.cells().get("packageSerial");
            if (serial != null && !serial.equalsIgnoreCase(cells.getOrDefault("packageSerial", ""))) {
                // another package: what is known of the one before does not hold for it
                CaptureSheet.packageColumns().forEach(cells::remove);
            }
        }
        cells.putAll(row.cells());
        if (old != null) {
            cells.put("animal", old.animal().name());
        }
        try {
            return CaptureSheet.parse(cells);
        } catch (RuleException broken) {
            broken.problems().forEach(p -> problems.inCell(row.line(), p.field(), p.toString()));
            return null;
        }
    }

    private static void future(Entry entry, Instant now, long line, TableProblems problems) {
        Map<String, @Nullable Instant> times = new LinkedHashMap<>();
        times.put("hookedUtc", entry.capture() == null ? null : entry.capture().hookedUtc());
        times.put(
                "releasedUtc", entry.release() == null ? null : entry.release().releasedUtc());
        times.put(
                "detachedUtc",
                entry.detachment() == null ? null : entry.detachment().detachedUtc());
        times.put(
                "searchEndedUtc", entry.search() == null ? null : entry.search().endedUtc());
        times.forEach((column, time) -> {
            if (time != null && time.isAfter(now.plus(CLOCK_SLACK))) {
                problems.inCell(
                        line,
                        column,
                        column + ": " + time + " lies in the future (this computer's clock says "
                                + now.truncatedTo(ChronoUnit.SECONDS) + ")");
            }
        });
    }

    private static void put(Change change, Entry entry, @Nullable Entry old) {
        change.put(entry.animal());
        String animal = entry.animal().name();
        putOrRemove(change, entry.capture(), old == null ? null : old.capture());
        FloatPackage carried = entry.floatPackage();
        if (carried != null) {
            change.put(carried);
        }
        putOrRemove(change, entry.release(), old == null ? null : old.release());
        Detachment entered = entry.detachment();
        if (entered != null || (old != null && old.detachment() != null)) {
            putOrRemove(change, entered, old == null ? null : old.detachment());
        }
        SearchOutcome search = entry.search();
        SearchOutcome before = old == null ? null : old.search();
        if (search != null) {
            int number = before == null ? nextSearch(change, animal) : before.number();
            change.put(new SearchOutcome(
                    animal,
                    number,
                    before == null ? null : before.startedUtc(),
                    search.endedUtc(),
                    search.outcome(),
                    search.foundLatDeg(),
                    search.foundLonDeg(),
                    search.searchH(),
                    search.searchNm(),
                    search.packageCondition(),
                    search.searchNotes()));
        } else if (before != null) {
            change.remove(before);
        }
    }

    private static int nextSearch(Change change, String animal) {
        return change.all(SearchOutcome.class).stream()
                        .filter(s -> s.animal().equalsIgnoreCase(animal))
                        .mapToInt(SearchOutcome::number)
                        .max()
                        .orElse(0)
                + 1;
    }

    private static <R extends Record> void putOrRemove(Change change, @Nullable R row, @Nullable R old) {
        if (row != null) {
            change.put(row);
        } else if (old != null) {
            change.remove(old);
        }
    }

    private static String fold(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
