package org.aftercast.voyage;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.Position;
import org.aftercast.search.Antenna;
import org.aftercast.search.BearingSource;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.aftercast.search.Sea;
import org.aftercast.search.SearchSettings;
import org.aftercast.search.SweepPoint;
import org.jspecify.annotations.Nullable;

/**
 * Reads observations of a search, one row each: {@code time,lat,lon,kind,values}, values as {@code name=value} pairs. How
 * each is read is written in docs/search.md. All bad cells are reported together; nothing is guessed.
 */
final class SeekTable {

    static final double KNOT_MPS = 1852.0 / 3600;
    private static final String ONLY = "the package";
    private static final int TIME = 1;
    private static final int LAT = 2;
    private static final int LON = 3;
    private static final int KIND = 4;
    private static final int VALUES = 5;
    private static final List<String> HEADER = List.of("time", "lat", "lon", "kind", "values");

    /** What belongs to one package. */
    static final class PackageRows {
        HuntStart.@Nullable Contact contact;

        @Nullable
        Instant planned;

        @Nullable
        Instant batteryUntil;

        final List<Observation> observations = new ArrayList<>();
    }

    private record Row(
            long line, @Nullable Instant time, @Nullable Position own, String kind, Map<String, String> values) {}

    final Map<String, PackageRows> packages = new LinkedHashMap<>();
    final List<Sea.Flow> winds = new ArrayList<>();
    final List<Sea.Flow> currents = new ArrayList<>();
    final List<SearchSettings.DeviationPoint> deviation = new ArrayList<>();
    Sea.@Nullable Tide tide;

    @Nullable
    Double declinationDeg;

    @Nullable
    Position home;

    @Nullable
    Instant departed;

    @Nullable
    Double speedMps;

    @Nullable
    Double fuelHours;

    @Nullable
    Instant hereTime;

    @Nullable
    Position herePosition;

    @Nullable
    Double frequencyMHz;

    @Nullable
    Double beaconHeightM;

    @Nullable
    Double antennaHeightM;

    @Nullable
    Double rangeM;

    @Nullable
    List<Double> stepsDb;

    private final TableProblems problems;
    private final Set<String> used = new HashSet<>();

    private SeekTable(String file) {
        problems = new TableProblems(file);
    }

    static SeekTable read(String file, byte[] bytes) throws BadInputException {
        String text;
        try {
            text = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes))
                    .toString();
        } catch (CharacterCodingException failure) {
            throw new BadInputException(file + ": is not text in UTF-8; accepted: a CSV file saved as UTF-8");
        }
        SeekTable table = new SeekTable(file);
        table.parse(file, text.startsWith("\uFEFF") ? text.substring(1) : text);
        return table;
    }

    private void parse(String file, String text) throws BadInputException {
        String first = text.lines().filter(l -> !l.isBlank()).findFirst().orElse("");
        char separator = first.indexOf(';') >= 0 ? ';' : first.indexOf('\t') >= 0 ? '\t' : ',';
        List<CsvRecord> records = new ArrayList<>();
        try (CsvReader<CsvRecord> reader = CsvReader.builder()
                .fieldSeparator(separator)
                .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
                .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                .ofCsvRecord(text)) {
            reader.forEach(records::add);
        } catch (IOException | CsvParseException failure) {
            throw new BadInputException(file + ": is not well-formed CSV (" + failure.getMessage()
                    + "); accepted: rows of time,lat,lon,kind,values");
        }
        if (records.isEmpty()) {
            throw new BadInputException(file + ": is empty; accepted: a header " + String.join(",", HEADER)
                    + " and one row an observation");
        }
        List<String> header = records.get(0).getFields().stream()
                .map(f -> f.strip().toLowerCase(Locale.ROOT))
                .toList();
        if (!header.equals(HEADER)) {
            throw new BadInputException(file + ", line " + records.get(0).getStartingLineNumber() + ": the header is \""
                    + String.join(",", header) + "\"; accepted: " + String.join(",", HEADER));
        }
        List<Row> rows = new ArrayList<>();
        for (CsvRecord record : records.subList(1, records.size())) {
            Row row = row(record);
            if (row != null) {
                rows.add(row);
            }
        }
        Set<Long> undone = undone(rows);
        for (Row row : rows) {
            if (!undone.contains(row.line)) {
                take(row);
            }
        }
        if (problems.none() && packages.values().stream().noneMatch(p -> p.contact != null)) {
            problems.inFile("has no row of kind start; accepted: one start row for each package, with sd_m");
        }
        packages.forEach((name, rowsOf) -> {
            if (rowsOf.contact == null && problems.none()) {
                problems.inFile("package \"" + name + "\" has observations but no start row");
            }
            rowsOf.observations.sort(Comparator.comparing(Observation::time));
        });
        problems.refuse();
    }

    private @Nullable Row row(CsvRecord record) {
        long line = record.getStartingLineNumber();
        List<String> cells = record.getFields().stream().map(String::strip).toList();
        if (cells.stream().allMatch(String::isEmpty) || cells.get(0).startsWith("#")) {
            return null;
        }
        if (cells.size() > HEADER.size() || cells.size() < KIND) {
            problems.inLine(line, cells.size() + " fields; accepted: five, " + String.join(",", HEADER));
            return null;
        }
        Instant time = cells.get(0).isEmpty() ? null : time(line, cells.get(0));
        Position own = position(line, cells.get(1), cells.get(2));
        Map<String, String> values = new HashMap<>();
        String text = cells.size() < VALUES ? "" : cells.get(VALUES - 1);
        for (String part : text.split("[\\s;]+", -1)) {
            int equals = part.indexOf('=');
            if (part.isEmpty()) {
                continue;
            }
            if (equals <= 0) {
                problems.inCell(line, VALUES, "\"" + part + "\" is not name=value");
            } else if (values.put(part.substring(0, equals).toLowerCase(Locale.ROOT), part.substring(equals + 1))
                    != null) {
                problems.inCell(line, VALUES, "\"" + part.substring(0, equals) + "\" stands twice");
            }
        }
        return new Row(line, time, own, cells.get(KIND - 1).toLowerCase(Locale.ROOT), values);
    }

    private @Nullable Instant time(long line, String text) {
        try {
            String iso = text.replace(' ', 'T');
            return iso.matches(".*(Z|[+-]\\d\\d:?\\d\\d)$") && iso.length() > 16
                    ? OffsetDateTime.parse(iso).toInstant()
                    : LocalDateTime.parse(iso).toInstant(ZoneOffset.UTC);
        } catch (DateTimeException bad) {
            problems.inCell(line, TIME, "\"" + text + "\" is not a time; accepted: 2026-08-01T10:15:00Z");
            return null;
        }
    }

    private @Nullable Position position(long line, String lat, String lon) {
        if (lat.isEmpty() && lon.isEmpty()) {
            return null;
        }
        Double latDeg = number(line, LAT, "lat", lat);
        Double lonDeg = number(line, LON, "lon", lon);
        if (latDeg == null || lonDeg == null) {
            return null;
        }
        try {
            return new Position(latDeg, lonDeg);
        } catch (IllegalArgumentException bad) {
            problems.inCell(line, Math.abs(latDeg) > 90 ? LAT : LON, String.valueOf(bad.getMessage()));
            return null;
        }
    }

    private @Nullable Double number(long line, int place, String name, String text) {
        try {
            double value = Double.parseDouble(text);
            if (Double.isFinite(value)) {
                return value;
            }
        } catch (NumberFormatException bad) {
            // told below
        }
        problems.inCell(
                line, place, name + ": \"" + text + "\" is not a number; accepted: digits with a decimal point");
        return null;
    }

    private Set<Long> undone(List<Row> rows) {
        Map<Long, Row> byLine = new HashMap<>();
        rows.forEach(row -> byLine.put(row.line, row));
        Set<Long> undone = new HashSet<>();
        for (int i = rows.size() - 1; i >= 0; i--) {
            Row row = rows.get(i);
            if (!row.kind.equals("undo") || undone.contains(row.line)) {
                continue;
            }
            Double line = value(row, "line");
            long target = line == null ? -1 : Math.round(line);
            if (!byLine.containsKey(target) || target >= row.line) {
                problems.inCell(row.line, VALUES, "undo needs line=N, a line of this file before it that is a row");
            } else {
                undone.add(target);
            }
        }
        return undone;
    }

    private void take(Row row) {
        used.clear();
        try {
            switch (row.kind) {
                case "start" -> start(row);
                case "beacon" -> beacon(row);
                case "receiver" -> receiver(row);
                case "boat" -> boat(row);
                case "home" -> home = needOwn(row);
                case "here" -> here(row);
                case "wind" -> flow(row, winds, "from_deg", 180);
                case "current" -> flow(row, currents, "to_deg", 0);
                case "tide" -> tide(row);
                case "deviation" ->
                    deviation.add(
                            new SearchSettings.DeviationPoint(need(row, "heading_deg"), need(row, "deviation_deg")));
                case "declination" -> declinationDeg = need(row, "deg");
                case "bearing", "listen", "sweep", "sighting", "drift" -> observation(row);
                case "undo" -> used.add("line");
                default ->
                    problems.inCell(
                            row.line,
                            KIND,
                            "\"" + row.kind
                                    + "\" is not a kind; accepted: start, beacon, receiver, boat, home, here, wind,"
                                    + " current, tide, deviation, declination, bearing, listen, sweep, sighting, drift, undo");
            }
        } catch (MissingException missing) {
            problems.inCell(row.line, missing.place, String.valueOf(missing.getMessage()));
            return;
        } catch (IllegalArgumentException bad) {
            problems.inCell(row.line, VALUES, String.valueOf(bad.getMessage()));
            return;
        }
        for (String name : row.values.keySet()) {
            if (!used.contains(name) && problems.none()) {
                problems.inCell(
                        row.line,
                        VALUES,
                        "\"" + name + "\" is not a value of kind " + row.kind + "; accepted: "
                                + String.join(", ", used.stream().sorted().toList()));
            }
        }
    }

    private PackageRows packageOf(Row row) {
        return packages.computeIfAbsent(text(row, "package", ONLY), name -> new PackageRows());
    }

    private void start(Row row) {
        PackageRows of = packageOf(row);
        if (of.contact != null) {
            throw new IllegalArgumentException("a second start row of this package; accepted: one");
        }
        of.planned = instant(row, "planned");
        of.contact = new HuntStart.Contact(needTime(row), needOwn(row), need(row, "sd_m"));
    }

    private void beacon(Row row) {
        packageOf(row).batteryUntil = instant(row, "battery_until");
        frequencyMHz = value(row, "frequency_mhz", frequencyMHz);
        beaconHeightM = value(row, "height_m", beaconHeightM);
        Double miles = value(row, "range_nm");
        rangeM = miles == null ? rangeM : Double.valueOf(miles * 1852);
    }

    private void receiver(Row row) {
        antennaHeightM = value(row, "antenna_height_m", antennaHeightM);
        String steps = text(row, "steps_db", "");
        if (!steps.isEmpty()) {
            List<Double> out = new ArrayList<>();
            for (String part : steps.split("/", -1)) {
                Double step = number(row.line, VALUES, "steps_db", part);
                if (step != null) {
                    out.add(step);
                }
            }
            stepsDb = out;
        }
    }

    private void boat(Row row) {
        departed = needTime(row);
        speedMps = needSpeed(row);
        fuelHours = value(row, "fuel_h");
    }

    private void here(Row row) {
        hereTime = needTime(row);
        herePosition = needOwn(row);
    }

    private void flow(Row row, List<Sea.Flow> into, String direction, double turn) {
        into.add(Sea.Flow.currentTo(needTime(row), needSpeed(row), need(row, direction) + turn));
    }

    private void tide(Row row) {
        if (tide != null) {
            throw new IllegalArgumentException("a second tide row; accepted: one");
        }
        Sea.Flow strongest = Sea.Flow.currentTo(needTime(row), needSpeed(row), need(row, "to_deg"));
        tide = new Sea.Tide(
                strongest.time(),
                strongest.eastMps(),
                strongest.northMps(),
                value(row, "period_h", 12.42),
                value(row, "sd_share", 0.2));
    }

    private void observation(Row row) {
        Instant time = needTime(row);
        Position own = needOwn(row);
        Observation observation = switch (row.kind) {
            case "bearing" ->
                new Observation.Bearing(
                        time,
                        own,
                        need(row, "deg"),
                        named(row, "source", BearingSource.class, null),
                        value(row, "heading_deg"),
                        value(row, "sd_deg"),
                        named(row, "antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        gain(row));
            case "listen" ->
                new Observation.Listen(
                        time,
                        own,
                        gain(row),
                        yes(row, "heard") ? Observation.Listen.Heard.HEARD : Observation.Listen.Heard.NOT_HEARD,
                        named(row, "antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        value(row, "from_deg"),
                        value(row, "to_deg"),
                        value(row, "seconds", 60.0));
            case "sweep" ->
                new Observation.Sweep(
                        time,
                        own,
                        levels(row),
                        named(row, "source", BearingSource.class, null),
                        value(row, "heading_deg"),
                        named(row, "antenna", Antenna.class, Antenna.THREE_ELEMENTS),
                        gain(row));
            case "sighting" ->
                new Observation.Sighting(
                        time,
                        own,
                        yes(row, "seen") ? Observation.Sighting.Seen.SEEN : Observation.Sighting.Seen.NOT_SEEN,
                        value(row, "bearing_deg"),
                        value(row, "distance_m"));
            default -> {
                double to = Math.toRadians(Bearings.wrap360(need(row, "to_deg")));
                double speed = needSpeed(row);
                yield new Observation.Drift(
                        time,
                        own,
                        speed * Math.sin(to),
                        speed * Math.cos(to),
                        named(row, "what", Observation.Drift.Drifter.class, null));
            }
        };
        used.add("package");
        if (row.kind.equals("drift") && !row.values.containsKey("package")) {
            drifts.add(observation);
        } else {
            packageOf(row).observations.add(observation);
        }
    }

    /** Drift measurements without a package: they tell of the water, so of every package. */
    final List<Observation> drifts = new ArrayList<>();

    private List<SweepPoint> levels(Row row) {
        List<SweepPoint> points = new ArrayList<>();
        String text = text(row, "levels", "");
        if (text.isEmpty()) {
            throw new MissingException(
                    VALUES, "a sweep needs levels=heading:loudness/…, for example" + " levels=0:12/45:18/90:24!/135:-");
        }
        for (String part : text.split("/", -1)) {
            int colon = part.indexOf(':');
            Double heading = colon < 0 ? null : number(row.line, VALUES, "levels", part.substring(0, colon));
            if (heading == null) {
                throw new MissingException(VALUES, "levels: \"" + part + "\" is not heading:loudness");
            }
            String level = part.substring(colon + 1);
            if (level.equals("-")) {
                points.add(new SweepPoint(heading, Double.NaN, SweepPoint.Kind.NOT_HEARD));
                continue;
            }
            boolean full = level.endsWith("!");
            Double loud = number(row.line, VALUES, "levels", full ? level.substring(0, level.length() - 1) : level);
            if (loud != null) {
                points.add(new SweepPoint(heading, loud, full ? SweepPoint.Kind.SATURATED : SweepPoint.Kind.HEARD));
            }
        }
        return points;
    }

    private int gain(Row row) {
        return (int) Math.round(value(row, "gain", 1.0));
    }

    private boolean yes(Row row, String name) {
        String text = text(row, name, "");
        if (text.equals("yes") || text.equals("no")) {
            return text.equals("yes");
        }
        throw new MissingException(VALUES, name + ": \"" + text + "\"; accepted: " + name + "=yes or " + name + "=no");
    }

    private String text(Row row, String name, String otherwise) {
        used.add(name);
        return row.values.getOrDefault(name, otherwise);
    }

    private @Nullable Double value(Row row, String name) {
        used.add(name);
        String text = row.values.get(name);
        if (text == null) {
            return null;
        }
        Double value = number(row.line, VALUES, name, text);
        return value == null ? Double.valueOf(1) : value; // the problem is told; the row goes on to find others
    }

    private double value(Row row, String name, double otherwise) {
        Double value = value(row, name);
        return value == null ? otherwise : value;
    }

    private @Nullable Double value(Row row, String name, @Nullable Double otherwise) {
        Double value = value(row, name);
        return value == null ? otherwise : value;
    }

    private double need(Row row, String name) {
        Double value = value(row, name);
        if (value == null) {
            throw new MissingException(VALUES, "kind " + row.kind + " needs " + name + "=…");
        }
        return value;
    }

    private double needSpeed(Row row) {
        Double mps = value(row, "speed_mps");
        Double knots = value(row, "speed_kn");
        if ((mps == null) == (knots == null)) {
            throw new MissingException(VALUES, "kind " + row.kind + " needs speed_mps=… or speed_kn=…, one of them");
        }
        return mps != null ? mps : (knots == null ? 0 : knots * KNOT_MPS);
    }

    private @Nullable Instant instant(Row row, String name) {
        String text = text(row, name, "");
        return text.isEmpty() ? null : time(row.line, text);
    }

    private static Instant needTime(Row row) {
        if (row.time == null) {
            throw new MissingException(TIME, "kind " + row.kind + " needs a time");
        }
        return row.time;
    }

    private static Position needOwn(Row row) {
        if (row.own == null) {
            throw new MissingException(LAT, "kind " + row.kind + " needs lat and lon");
        }
        return row.own;
    }

    private <E extends Enum<E>> E named(Row row, String name, Class<E> type, @Nullable E otherwise) {
        String text = text(row, name, "");
        if (text.isEmpty() && otherwise != null) {
            return otherwise;
        }
        List<String> names = new ArrayList<>();
        for (E value : type.getEnumConstants()) {
            String word = value.name().toLowerCase(Locale.ROOT).replace('_', '-');
            if (word.equals(text.toLowerCase(Locale.ROOT))) {
                return value;
            }
            names.add(word);
        }
        throw new MissingException(
                VALUES, name + ": \"" + text + "\"; accepted: " + name + "=" + String.join(", ", names));
    }

    private static final class MissingException extends RuntimeException {
        private static final long serialVersionUID = 1L;
        private final int place;

        MissingException(int place, String message) {
            super(message);
            this.place = place;
        }
    }
}
