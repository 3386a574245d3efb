package org.aftercast.voyage;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.geo.Position;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.aftercast.search.Sea;
import org.aftercast.search.SearchEnd;
import org.aftercast.search.SearchSettings;
import org.jspecify.annotations.Nullable;

/**
 * Reads observations of a search, one row each: {@code time,lat,lon,kind,values}, values as {@code name=value} pairs. How
 * each is read is written in docs/search.md. All bad cells are reported together; nothing is guessed.
 */
final class SeekTable {

    /** Farthest anything may be from where the package came off: the plane of the search reaches no farther. */
    static final double FARTHEST_M = 250_000;

    private static final int MOST_PACKAGES = 50;
    private static final double FASTEST_WIND_MPS = 80;
    private static final double FASTEST_CURRENT_MPS = 8;
    private static final double FASTEST_BOAT_MPS = 30;
    private static final String ONLY = "the package";

    /** What belongs to one package. */
    static final class PackageRows {
        HuntStart.@Nullable Contact contact;

        /** Line of its start row. */
        long startLine;

        @Nullable
        Instant planned;

        @Nullable
        Instant batteryUntil;

        /** How the search for it ended, or null while it goes on. */
        @Nullable
        SearchEnd end;

        /** Hours and miles as noted in the row that ends it; reckoned from the rows where not given. */
        boolean hoursGiven;

        boolean milesGiven;

        /** Line of the row that ends it. */
        long endLine;

        final List<Observation> observations = new ArrayList<>();
    }

    /** Every row in the order of the file, those taken back too. */
    final List<SeekFile.Raw> raw = new ArrayList<>();

    /** What was done with rows that could be used, but not as they stand; for the cautions. */
    final List<String> said = new ArrayList<>();

    /** Lines taken back. */
    final Set<Long> undone = new HashSet<>();

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

    private @Nullable Instant batteryOfAll;

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
    private final IdentityHashMap<Observation, Long> lines = new IdentityHashMap<>();
    long hereLine;
    long homeLine;

    private SeekTable(String file) {
        problems = new TableProblems(file);
    }

    static SeekTable read(String file, byte[] bytes) throws BadInputException {
        SeekTable table = new SeekTable(file);
        SeekFile lines = SeekFile.read(file, bytes, table.problems);
        table.raw.addAll(lines.raw());
        table.said.addAll(lines.said());
        table.take(lines.rows());
        return table;
    }

    private void take(List<SeekRow> rows) throws BadInputException {
        undone.addAll(undone(rows));
        for (SeekRow row : rows) {
            if (!undone.contains(row.line())) {
                take(row);
            }
        }
        if (problems.none() && packages.values().stream().noneMatch(p -> p.contact != null)) {
            problems.inFile("has no row of kind start; accepted: one start row for each package, with sd_m");
        }
        if (packages.size() > MOST_PACKAGES) {
            problems.inFile("holds " + packages.size() + " packages; accepted: at most " + MOST_PACKAGES);
        }
        packages.values().forEach(p -> p.batteryUntil = p.batteryUntil == null ? batteryOfAll : p.batteryUntil);
        SeekChecks checks = new SeekChecks(this, problems);
        packages.forEach((name, rowsOf) -> {
            if (rowsOf.contact == null && problems.none()) {
                problems.inFile("package \"" + name + "\" has observations but no start row");
            }
            checks.check(name, rowsOf);
            rowsOf.observations.sort(Comparator.comparing(Observation::time));
        });
        problems.refuse();
    }

    /** The line an observation stands in. */
    long lineOf(Observation observation) {
        return lines.getOrDefault(observation, 0L);
    }

    private Set<Long> undone(List<SeekRow> rows) {
        Map<Long, SeekRow> byLine = new HashMap<>();
        rows.forEach(row -> byLine.put(row.line(), row));
        Set<Long> undone = new HashSet<>();
        for (int i = rows.size() - 1; i >= 0; i--) {
            SeekRow row = rows.get(i);
            if (!row.kind().equals("undo") || undone.contains(row.line())) {
                continue;
            }
            Double line = row.value("line");
            long target = line == null ? -1 : Math.round(line);
            if (!byLine.containsKey(target) || target >= row.line()) {
                problems.inCell(
                        row.line(),
                        SeekRow.VALUES,
                        "undo needs line; accepted: line=N, a line of this file before it that is a row");
            } else {
                undone.add(target);
            }
        }
        return undone;
    }

    private void take(SeekRow row) {
        try {
            switch (row.kind()) {
                case "start" -> start(row);
                case "beacon" -> beacon(row);
                case "receiver" -> receiver(row);
                case "boat" -> boat(row);
                case "home" -> {
                    home = row.needOwn();
                    homeLine = row.line();
                }
                case "here" -> here(row);
                case "wind" -> flow(row, winds, "from_deg", 180, FASTEST_WIND_MPS);
                case "current" -> flow(row, currents, "to_deg", 0, FASTEST_CURRENT_MPS);
                case "tide" -> tide(row);
                case "deviation" ->
                    deviation.add(
                            new SearchSettings.DeviationPoint(row.need("heading_deg"), row.need("deviation_deg")));
                case "declination" -> declinationDeg = row.need("deg");
                case "end" -> end(row);
                case "bearing", "listen", "sweep", "sighting", "drift" -> observation(row);
                case "undo" -> row.used("line");
                default ->
                    problems.inCell(
                            row.line(),
                            SeekRow.KIND,
                            "\"" + row.kind()
                                    + "\" is not a kind; accepted: start, beacon, receiver, boat, home, here, wind,"
                                    + " current, tide, deviation, declination, bearing, listen, sweep, sighting, drift, end, undo");
            }
        } catch (SeekRow.MissingException missing) {
            if (missing.place() == SeekRow.VALUES || !row.told()) {
                problems.inCell(row.line(), missing.place(), String.valueOf(missing.getMessage()));
            }
            return;
        } catch (IllegalArgumentException bad) {
            problems.inCell(row.line(), SeekRow.VALUES, SeekRow.asTyped(String.valueOf(bad.getMessage())));
            return;
        }
        for (String name : row.values().keySet()) {
            if (!row.isUsed(name) && problems.none()) {
                problems.inCell(
                        row.line(),
                        SeekRow.VALUES,
                        "\"" + name + "\" is not a value of kind " + row.kind() + "; accepted: " + row.accepted());
            }
        }
    }

    private PackageRows packageOf(SeekRow row) {
        return packages.computeIfAbsent(row.text("package", ONLY), name -> new PackageRows());
    }

    private void start(SeekRow row) {
        PackageRows of = packageOf(row);
        if (of.contact != null) {
            throw new IllegalArgumentException("a second start row of this package; accepted: one");
        }
        of.planned = row.instant("planned");
        of.contact = new HuntStart.Contact(row.needTime(), row.needOwn(), row.need("sd_m"));
        of.startLine = row.line();
    }

    private void beacon(SeekRow row) {
        Instant until = row.instant("battery_until");
        if (row.values().containsKey("package")) {
            packageOf(row).batteryUntil = until;
        } else {
            batteryOfAll = until;
        }
        row.used("package");
        frequencyMHz = row.value("frequency_mhz", frequencyMHz);
        beaconHeightM = row.value("height_m", beaconHeightM);
        Double miles = row.value("range_nm");
        rangeM = miles == null ? rangeM : Double.valueOf(miles * 1852);
        hearing(SearchSettings.defaults().hearing());
    }

    /**
     * What beacon and receiver rows say, the rest from {@code base}.
     *
     * @throws IllegalArgumentException if a figure is out of its range
     */
    SearchSettings.Hearing hearing(SearchSettings.Hearing base) {
        return new SearchSettings.Hearing(
                frequencyMHz == null ? base.frequencyMHz() : frequencyMHz,
                beaconHeightM == null ? base.beaconHeightM() : beaconHeightM,
                antennaHeightM == null ? base.antennaHeightM() : antennaHeightM,
                rangeM == null ? base.referenceDistanceM() : rangeM,
                base.marginSdDb(),
                base.fadingSdDb(),
                base.lossErrorDb(),
                base.falseChance(),
                base.bestChance(),
                stepsDb == null ? base.gainStepsDb() : stepsDb,
                base.lookS(),
                base.muteShare());
    }

    private void receiver(SeekRow row) {
        antennaHeightM = row.value("antenna_height_m", antennaHeightM);
        String steps = row.text("steps_db", "");
        if (!steps.isEmpty()) {
            List<Double> out = new ArrayList<>();
            for (String part : steps.split("/", -1)) {
                Double step = SeekRow.number(problems, row.line(), SeekRow.VALUES, "steps_db", part);
                if (step != null) {
                    out.add(step);
                }
            }
            stepsDb = out;
        }
        hearing(SearchSettings.defaults().hearing());
    }

    private void boat(SeekRow row) {
        departed = row.needTime();
        speedMps = row.needSpeed(FASTEST_BOAT_MPS);
        fuelHours = row.value("fuel_h");
        new HuntStart.Boat(null, departed, speedMps, fuelHours);
    }

    private void end(SeekRow row) {
        PackageRows of = packageOf(row);
        if (of.end != null) {
            throw new IllegalArgumentException("a second end row of this package; accepted: one (undo the first)");
        }
        Double hours = row.value("hours");
        Double miles = row.value("miles");
        of.hoursGiven = hours != null;
        of.milesGiven = miles != null;
        of.endLine = row.line();
        SearchEnd.Outcome outcome = row.named("outcome", SearchEnd.Outcome.class, null);
        if (outcome == SearchEnd.Outcome.RETRIEVED && row.own() == null) {
            throw new SeekRow.MissingException(
                    SeekRow.LAT, "end outcome=retrieved needs lat and lon: where it was found");
        }
        of.end = new SearchEnd(
                outcome, row.needTime(), row.own(), hours == null ? 0 : hours, miles == null ? 0 : miles, "");
    }

    private void here(SeekRow row) {
        hereTime = row.needTime();
        herePosition = row.needOwn();
        hereLine = row.line();
    }

    private void flow(SeekRow row, List<Sea.Flow> into, String direction, double turn, double fastestMps) {
        into.add(Sea.Flow.currentTo(row.needTime(), row.needSpeed(fastestMps), row.needDirection(direction, 0) + turn));
    }

    private void tide(SeekRow row) {
        if (tide != null) {
            throw new IllegalArgumentException("a second tide row; accepted: one");
        }
        Sea.Flow strongest =
                Sea.Flow.currentTo(row.needTime(), row.needSpeed(FASTEST_CURRENT_MPS), row.needDirection("to_deg", 0));
        tide = new Sea.Tide(
                strongest.time(),
                strongest.eastMps(),
                strongest.northMps(),
                row.value("period_h", 12.42),
                row.value("sd_share", 0.2));
    }

    private void observation(SeekRow row) {
        Instant time = row.needTime();
        Position own = row.needOwn();
        Observation observation = SeekObservations.of(row, time, own, problems);
        row.used("package");
        lines.put(observation, row.line());
        if (row.kind().equals("drift") && !row.values().containsKey("package")) {
            drifts.add(observation);
        } else {
            packageOf(row).observations.add(observation);
        }
    }

    /** Drift measurements without a package: they tell of the water, so of every package. */
    final List<Observation> drifts = new ArrayList<>();
}
