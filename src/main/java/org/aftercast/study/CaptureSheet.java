package org.aftercast.study;

import java.lang.reflect.RecordComponent;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.temporal.ChronoField;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * The capture table: one row per animal, one column per component of its records, as it stands in a CSV file.
 *
 * <p>An empty cell means "not known". A row without any cell of a record (no release yet, no package) has no such
 * record. The columns are described in {@code docs/captures.md}.
 */
public final class CaptureSheet {

    /**
     * What one row says.
     *
     * @param animal the animal
     * @param capture how it was caught, or null when all those cells are empty
     * @param floatPackage its package, or null
     * @param release its release, or null
     * @param detachment detachment as entered by a person, or null
     * @param search how the search for the package ended, or null; its number is 1 until stored
     */
    public record Entry(
            Animal animal,
            @Nullable Capture capture,
            @Nullable FloatPackage floatPackage,
            @Nullable Release release,
            @Nullable Detachment detachment,
            @Nullable SearchOutcome search) {

        public Entry {
            Rules rules = new Rules();
            Instant released = release == null ? null : release.releasedUtc();
            if (capture != null && capture.hookedUtc() != null && released != null) {
                Double fightMin = capture.fightMin();
                Instant landed = capture.hookedUtc()
                        .plus(Duration.ofMillis(Math.round((fightMin == null ? 0 : fightMin) * 60_000)));
                rules.order("releasedUtc", released, "hookedUtc plus fightMin,", landed);
            }
            if (detachment != null) {
                if (released == null) {
                    rules.add("detachedUtc", "is given although releasedUtc is not");
                }
                rules.order("detachedUtc", detachment.detachedUtc(), "releasedUtc", released);
            }
            if (search != null && (release == null || release.packageSerial() == null)) {
                rules.add("searchOutcome", "is given although packageSerial is not");
            }
            rules.check();
        }
    }

    private record Column(String name, Class<? extends Record> record, RecordComponent component) {}

    private static final Set<String> NOT_IN_THE_SHEET =
            Set.of("number", "startedUtc", "source", "earliestUtc", "latestUtc");

    private static final List<Class<? extends Record>> RECORDS = List.of(
            Animal.class, Capture.class, FloatPackage.class, Release.class, Detachment.class, SearchOutcome.class);

    private static final Map<String, Column> COLUMNS = new LinkedHashMap<>();

    static {
        for (Class<? extends Record> record : RECORDS) {
            for (RecordComponent component : record.getRecordComponents()) {
                String name = columnOf(record, component.getName());
                if (!NOT_IN_THE_SHEET.contains(component.getName())) {
                    COLUMNS.putIfAbsent(name, new Column(name, record, component));
                }
            }
        }
    }

    private static final Pattern NUMBER = Pattern.compile("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d{1,3})?");

    private static final DateTimeFormatter TIME = new DateTimeFormatterBuilder()
            .appendPattern("uuuu-MM-dd['T'][' ']HH:mm[:ss]")
            .appendFraction(ChronoField.NANO_OF_SECOND, 0, 9, true)
            .appendPattern("[XXX]")
            .toFormatter(java.util.Locale.ROOT)
            .withResolverStyle(java.time.format.ResolverStyle.STRICT);

    private CaptureSheet() {}

    /** The columns in the order of the template; {@code animal} is the only one that must be there. */
    public static List<String> columns() {
        return List.copyOf(COLUMNS.keySet());
    }

    /** Whether a column holds text (not a number, time or word of a list). */
    public static boolean isText(String column) {
        Column found = COLUMNS.get(column);
        return found != null && found.component().getType() == String.class;
    }

    /** The columns that describe the package itself. */
    public static List<String> packageColumns() {
        return COLUMNS.values().stream()
                .filter(column -> column.record() == FloatPackage.class)
                .map(Column::name)
                .toList();
    }

    /** What a column accepts, in words. */
    public static String accepts(String column) {
        Column found = COLUMNS.get(column);
        if (found == null) {
            return "no such column";
        }
        Class<?> kind = found.component().getType();
        if (kind.isEnum()) {
            return "one of " + words(kind);
        }
        if (kind == Instant.class) {
            return "a time in UTC such as 2026-06-01T14:05:00Z";
        }
        if (kind == Double.class) {
            return "a number with a decimal point";
        }
        return kind == Integer.class ? "a whole number" : "text";
    }

    /**
     * Reads one row.
     *
     * @param cells text by column, without surrounding spaces; absent or empty means "not known"
     * @throws RuleException listing every bad cell by its column
     */
    public static Entry parse(Map<String, String> cells) {
        List<RuleException.Problem> problems = new ArrayList<>();
        String animal = cells.getOrDefault("animal", "");
        Animal who = build(Animal.class, cells, Map.of(), problems).orElse(null);
        String serial = cells.getOrDefault("packageSerial", "");
        Map<String, @Nullable Object> keys = new LinkedHashMap<>();
        keys.put("animal", animal);
        Optional<Capture> capture = build(Capture.class, cells, keys, problems);
        Optional<FloatPackage> floatPackage = build(FloatPackage.class, cells, Map.of(), problems);
        keys.put("packageSerial", serial.isEmpty() ? null : serial);
        Optional<Release> release = build(Release.class, cells, keys, problems);
        keys.put("source", Words.of(Detachment.Source.ENTERED));
        Optional<Detachment> detachment = build(Detachment.class, cells, keys, problems);
        keys.put("number", 1L);
        Optional<SearchOutcome> search = build(SearchOutcome.class, cells, keys, problems);
        if (who == null && problems.isEmpty()) {
            problems.add(new RuleException.Problem("animal", "is missing"));
        }
        if (who == null || !problems.isEmpty()) {
            throw new RuleException(problems);
        }
        return new Entry(
                who,
                capture.orElse(null),
                floatPackage.orElse(null),
                release.orElse(null),
                detachment.orElse(null),
                search.orElse(null));
    }

    private static <R extends Record> Optional<R> build(
            Class<R> record,
            Map<String, String> cells,
            Map<String, @Nullable Object> keys,
            List<RuleException.Problem> problems) {
        Map<String, @Nullable Object> values = new LinkedHashMap<>(keys);
        boolean anything = record == Release.class && keys.get("packageSerial") != null;
        int before = problems.size();
        for (Column column : COLUMNS.values()) {
            String cell = cells.getOrDefault(column.name(), "");
            if (column.record() == record && !cell.isEmpty()) {
                anything = true;
                try {
                    values.put(column.component().getName(), value(column.component(), cell));
                } catch (IllegalArgumentException bad) {
                    problems.add(new RuleException.Problem(column.name(), String.valueOf(bad.getMessage())));
                }
            }
        }
        if (!anything) {
            return Optional.empty();
        }
        Set<String> bad = problems.subList(before, problems.size()).stream()
                .map(RuleException.Problem::field)
                .collect(Collectors.toSet());
        try {
            R row = Tables.of(record).toRecord(values); // the good cells are checked even when others are bad
            return bad.isEmpty() ? Optional.of(row) : Optional.empty();
        } catch (RuleException broken) {
            // a bad animal name is told once, by the animal's own record
            broken.problems().stream()
                    .filter(p -> record == Animal.class || !p.field().equals("animal"))
                    .map(p -> new RuleException.Problem(columnOf(record, p.field()), p.problem()))
                    .filter(p -> !bad.contains(p.field()))
                    .forEach(problems::add);
            return Optional.empty();
        }
    }

    private static Object value(RecordComponent component, String cell) {
        Class<?> kind = component.getType();
        if (kind == Double.class) {
            if (!NUMBER.matcher(cell).matches()) {
                String hint = cell.matches("[+-]?\\d+,\\d+") ? "; write " + cell.replace(',', '.') : "";
                throw new IllegalArgumentException("\"" + shown(cell) + "\" is not a number" + hint);
            }
            double number = Double.parseDouble(cell);
            if (Double.isInfinite(number)) {
                throw new IllegalArgumentException("\"" + shown(cell) + "\" is too large");
            }
            return number == 0 ? 0.0 : number; // no negative zero
        }
        if (kind == Integer.class) {
            if (!cell.matches("\\d{1,9}")) {
                throw new IllegalArgumentException("\"" + shown(cell) + "\" is not a whole number from 0");
            }
            return Long.parseLong(cell);
        }
        if (kind == Instant.class) {
            return Table.utc(time(cell));
        }
        if (kind.isEnum()) {
            return word(kind, cell);
        }
        return cell;
    }

    private static Instant time(String cell) {
        try {
            return TIME.parseBest(cell, OffsetDateTime::from, LocalDateTime::from) instanceof OffsetDateTime offset
                    ? offset.toInstant()
                    : LocalDateTime.from(TIME.parse(cell)).toInstant(ZoneOffset.UTC);
        } catch (DateTimeException bad) {
            throw new IllegalArgumentException(
                    "\"" + shown(cell)
                            + "\" is not a time; accepted: year-month-day hour:minute in UTC, such as"
                            + " 2026-06-01T14:05:00Z or 2026-06-01 14:05",
                    bad);
        }
    }

    @SuppressWarnings({"unchecked", "rawtypes"})
    private static String word(Class<?> kind, String cell) {
        if (kind == SearchOutcome.Outcome.class && SearchOutcome.EARLIER_WORD.equals(cell.strip())) {
            return Words.of(SearchOutcome.Outcome.ABANDONED); // a table written by an earlier version
        }
        return Words.of((Enum<?>) Words.parse((Class<? extends Enum>) kind, shown(cell)));
    }

    @SuppressWarnings("unchecked")
    private static String words(Class<?> kind) {
        return Words.all((Class<? extends Enum<?>>) kind);
    }

    private static String shown(String cell) {
        String line = cell.replaceAll("\\p{Cntrl}", " ");
        return line.length() > 60 ? line.substring(0, 60) + "…" : line;
    }

    /** One row as text by column; every column is there, empty where nothing is known. */
    public static Map<String, String> format(Entry entry) {
        Map<String, String> cells = new LinkedHashMap<>();
        COLUMNS.keySet().forEach(name -> cells.put(name, ""));
        for (@Nullable
        Record record : new @Nullable Record[] {
            entry.animal(), entry.capture(), entry.floatPackage(), entry.release(), entry.detachment(), entry.search()
        }) {
            if (record != null) {
                formatRecord(record, cells);
            }
        }
        return cells;
    }

    private static <R extends Record> void formatRecord(R record, Map<String, String> cells) {
        @SuppressWarnings("unchecked")
        Class<R> type = (Class<R>) record.getClass();
        Tables.of(type).toColumns(record).forEach((component, value) -> {
            String name = columnOf(type, component);
            if (value != null && cells.containsKey(name) && !NOT_IN_THE_SHEET.contains(component)) {
                cells.put(name, text(value));
            }
        });
    }

    private static String text(Object value) {
        if (value instanceof Double number && number == Math.rint(number) && Math.abs(number) < 1e15) {
            return Long.toString(number.longValue());
        }
        return value.toString();
    }

    /** The rows of a study, in the order of the animals' names. */
    public static List<Entry> of(StudyStore store) throws StudyException {
        List<Entry> entries = new ArrayList<>();
        List<SearchOutcome> searches = store.all(SearchOutcome.class);
        for (Animal animal : store.all(Animal.class)) {
            String name = animal.name();
            Optional<Release> release = store.find(Release.class, name);
            String serial = release.map(Release::packageSerial).orElse(null);
            entries.add(new Entry(
                    animal,
                    store.find(Capture.class, name).orElse(null),
                    serial == null
                            ? null
                            : store.find(FloatPackage.class, serial).orElse(null),
                    release.orElse(null),
                    store.find(Detachment.class, name)
                            .filter(d -> d.source() == Detachment.Source.ENTERED)
                            .orElse(null),
                    searches.stream()
                            .filter(s -> s.animal().equalsIgnoreCase(name))
                            .reduce(SearchOutcome::decisive)
                            .orElse(null)));
        }
        return entries;
    }

    private static String columnOf(Class<? extends Record> record, String component) {
        if (record == Animal.class && component.equals("name")) {
            return "animal";
        }
        if (record == FloatPackage.class && component.equals("serial")) {
            return "packageSerial";
        }
        if (record == SearchOutcome.class && component.equals("outcome")) {
            return "searchOutcome";
        }
        if (record == SearchOutcome.class && component.equals("endedUtc")) {
            return "searchEndedUtc";
        }
        return component;
    }

    /** Columns whose names begin alike, to help with a misspelt one. */
    public static List<String> similarTo(String wrong) {
        String letters = wrong.toLowerCase(java.util.Locale.ROOT).replaceAll("[^a-z]", "");
        String start = letters.substring(0, Math.min(4, letters.length()));
        return start.isEmpty()
                ? List.of()
                : Arrays.stream(COLUMNS.keySet().toArray(String[]::new))
                        .filter(name -> name.toLowerCase(java.util.Locale.ROOT).contains(start))
                        .toList();
    }
}
