package org.aftercast.voyage;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import org.aftercast.geo.Coast;
import org.aftercast.geo.DecimalYear;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.GpxWriter;
import org.aftercast.geo.Land;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.aftercast.geo.Track;
import org.aftercast.search.Advice;
import org.aftercast.search.Advisor;
import org.aftercast.search.BearingCorrection;
import org.aftercast.search.Hunt;
import org.aftercast.search.HuntStart;
import org.aftercast.search.Observation;
import org.aftercast.search.Sea;
import org.aftercast.search.SearchEnd;
import org.aftercast.search.SearchSettings;
import org.aftercast.search.WhichFirst;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/** From observations in a file to fix, regions, forecast and advice (docs/search.md). */
public final class Seek {

    private static final double LEAST_LAND_M = 60_000;
    private static final double MOST_LAND_M = 300_000;
    private static final String TOO_FAR = "more than 250 km from the boat: no advice";

    private final FileStore files;

    public Seek(FileStore files) {
        this.files = files;
    }

    /**
     * What can be chosen.
     *
     * @param settings of the search room; values of beacon and receiver rows go before them
     * @param forecastHours 0–240
     * @param coast better coast as GeoJSON or GPX, or null
     * @param study the study whose own coasts count as land, or null
     */
    public record Options(
            SearchSettings settings,
            int forecastHours,
            @Nullable Path coast,
            @Nullable Path study) {

        /** Without a study. */
        public Options(SearchSettings settings, int forecastHours, @Nullable Path coast) {
            this(settings, forecastHours, coast, null);
        }
    }

    /**
     * Reads and reckons.
     *
     * @throws BadInputException if the file cannot be used; every bad cell is named
     */
    public SeekDocument run(Path observations, Options options) throws BadInputException {
        if (!Files.isRegularFile(observations)) {
            throw new BadInputException(observations
                    + ": there is no such file; accepted: a table of observations as CSV (docs/search.md)");
        }
        byte[] bytes;
        try {
            if (Files.size(observations) > SeekFile.MOST_BYTES) {
                throw new BadInputException(SeekFile.tooLarge(observations.toString(), Files.size(observations)));
            }
            bytes = Files.readAllBytes(observations);
        } catch (IOException failure) {
            throw new BadInputException(observations + ": cannot be read (" + failure + "); accepted: a readable CSV");
        }
        return run(observations.toString(), bytes, options);
    }

    /**
     * The same from bytes.
     *
     * @param file what errors call it
     */
    SeekDocument run(String file, byte[] bytes, Options options) throws BadInputException {
        SeekTable table = SeekTable.read(file, bytes);
        SearchSettings settings = settings(file, table, options.settings());
        List<List<Position>> added = new ArrayList<>();
        Path coast = options.coast();
        Path study = options.study();
        try {
            if (coast != null) {
                added.addAll(CoastFile.rings(coast));
            }
            if (study != null) {
                added.addAll(OwnMaps.rings(study));
            }
        } catch (IOException failure) {
            throw new BadInputException(study + ": its own maps cannot be read (" + failure.getMessage() + ")");
        }
        Map<String, Hunt> hunts = new LinkedHashMap<>();
        SortedMap<Long, String> said = new TreeMap<>();
        Coast shipped = Coast.shipped();
        BearingCorrection correction =
                new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), table.declinationDeg);
        Instant now = now(table);
        List<SeekDocument.Ended> ended = SeekEnds.of(table);
        for (Map.Entry<String, SeekTable.PackageRows> entry : table.packages.entrySet()) {
            if (entry.getValue().end != null) {
                continue;
            }
            Hunt hunt = hunt(file, table, entry.getValue(), settings, shipped, added, correction, now);
            hunts.put(entry.getKey(), hunt);
            SeekInland.find(table, entry.getValue(), hunt.start().land(), said);
        }
        table.said.addAll(said.values());
        return document(file.replaceFirst(".*[/\\\\]", ""), bytes, table, settings, hunts, ended, now, options);
    }

    private static Hunt hunt(
            String file,
            SeekTable table,
            SeekTable.PackageRows rows,
            SearchSettings settings,
            Coast shipped,
            List<List<Position>> added,
            BearingCorrection correction,
            Instant now)
            throws BadInputException {
        HuntStart.Contact contact = Objects.requireNonNull(rows.contact);
        List<Observation> all = new ArrayList<>(rows.observations);
        table.drifts.stream().filter(d -> !d.time().isBefore(contact.time())).forEach(all::add);
        SeekEnds.taught(table).stream()
                .filter(d -> !d.time().isBefore(contact.time()))
                .forEach(all::add);
        all.removeIf(o -> Geodesics.distanceM(contact.position(), o.own()) > SeekTable.FARTHEST_M);
        double radius = Math.max(LEAST_LAND_M, 6 * contact.sdM());
        List<Position> places = new ArrayList<>();
        all.forEach(o -> places.add(o.own()));
        if (table.home != null) {
            places.add(table.home);
        }
        for (Position place : places) {
            radius = Math.max(radius, 1.3 * Geodesics.distanceM(contact.position(), place) + 20_000);
        }
        double drifted = Math.max(0, Duration.between(contact.time(), now).toSeconds());
        radius = Math.max(radius, 1.5 * drifted * 0.6);
        if (radius > MOST_LAND_M) {
            radius = MOST_LAND_M;
        }
        try {
            Land land = shipped.landAround(contact.position(), radius, added);
            HuntStart.Boat boat = table.departed == null || table.speedMps == null
                    ? null
                    : new HuntStart.Boat(table.home, table.departed, table.speedMps, table.fuelHours);
            return Hunt.replay(
                    new HuntStart(contact, new Sea(table.winds, table.currents, table.tide), boat, land, rows.planned),
                    settings,
                    correction,
                    all);
        } catch (IllegalArgumentException bad) {
            String message = String.valueOf(bad.getMessage());
            throw new BadInputException(file
                    + (message.startsWith("decimalYear")
                            ? ": no magnetic model for " + now + " (WMM2025 covers 2025 to 2029); accepted: times in"
                                    + " these years, or a declination row with deg=…"
                            : ": " + message));
        }
    }

    private static Instant now(SeekTable table) {
        Instant now = Instant.MIN;
        if (table.hereTime != null) {
            now = table.hereTime;
        }
        for (SeekTable.PackageRows rows : table.packages.values()) {
            Instant contact = rows.contact == null ? Instant.MIN : rows.contact.time();
            now = contact.isAfter(now) ? contact : now;
            for (Observation o : rows.observations) {
                now = o.time().isAfter(now) ? o.time() : now;
            }
            now = rows.end != null && rows.end.time().isAfter(now) ? rows.end.time() : now;
        }
        for (Observation o : table.drifts) {
            now = o.time().isAfter(now) ? o.time() : now;
        }
        return now;
    }

    /** Where the boat is: the latest of the here row and the observations. */
    private static @Nullable Position own(SeekTable table) {
        Instant best = table.hereTime == null ? Instant.MIN : table.hereTime;
        Position own = table.herePosition;
        List<Observation> all = new ArrayList<>(table.drifts);
        table.packages.values().forEach(rows -> all.addAll(rows.observations));
        for (Observation o : all) {
            if (o.time().isAfter(best)) {
                best = o.time();
                own = o.own();
            }
        }
        for (SeekTable.PackageRows rows : table.packages.values()) {
            SearchEnd end = rows.end;
            Position where = end == null ? null : end.position();
            if (end != null && where != null && end.time().isAfter(best)) {
                best = end.time();
                own = where;
            }
        }
        return own == null ? table.home : own;
    }

    private static SearchSettings settings(String file, SeekTable table, SearchSettings base) throws BadInputException {
        SearchSettings.Bearings b = base.bearings();
        try {
            return base.with(table.hearing(base.hearing()))
                    .with(new SearchSettings.Bearings(
                            b.sdDeg(),
                            b.sdSpread(),
                            b.wildShare(),
                            table.deviation.isEmpty() ? b.deviationCard() : table.deviation,
                            b.courseSdDeg(),
                            b.compassSdDeg()));
        } catch (IllegalArgumentException bad) {
            throw new BadInputException(file + ": beacon or receiver row: " + bad.getMessage());
        }
    }

    private static SeekDocument document(
            String source,
            byte[] bytes,
            SeekTable table,
            SearchSettings settings,
            Map<String, Hunt> hunts,
            List<SeekDocument.Ended> ended,
            Instant now,
            Options options)
            throws BadInputException {
        Position own = own(table);
        Map<String, String> why = new LinkedHashMap<>();
        List<String> order = new ArrayList<>(hunts.keySet());
        if (hunts.size() > 1 && own != null && table.speedMps != null) {
            List<WhichFirst.Candidate> candidates = new ArrayList<>();
            List<String> far = new ArrayList<>();
            hunts.forEach((name, hunt) -> {
                if (reaches(hunt, own)) {
                    candidates.add(new WhichFirst.Candidate(
                            name, hunt, Objects.requireNonNull(table.packages.get(name)).batteryUntil));
                } else {
                    far.add(name);
                    why.put(name, TOO_FAR);
                }
            });
            order.clear();
            for (WhichFirst.Rank rank : WhichFirst.order(candidates, now, own, table.speedMps)) {
                order.add(rank.name());
                why.put(rank.name(), rank.reason());
            }
            order.addAll(far);
        }
        List<SeekDocument.Sought> packages = new ArrayList<>();
        List<String> cautions = new ArrayList<>(Advisor.cautions());
        if (table.tide == null) {
            cautions.add("No tide row was given: in tidal seas the forecast is wrong without it.");
        }
        if (table.winds.isEmpty()) {
            cautions.add("No wind row was given: the forecast takes calm.");
        }
        cautions.addAll(table.said);
        for (String name : order) {
            Hunt hunt = Objects.requireNonNull(hunts.get(name));
            Advice advice = null;
            try {
                if (hunt.start().boat() != null && own != null && reaches(hunt, own)) {
                    advice = new Advisor(hunt).advise(now, own);
                }
            } catch (IllegalArgumentException bad) {
                throw new BadInputException(source + ": " + bad.getMessage());
            }
            packages.add(SeekParts.of(
                    name,
                    why.getOrDefault(name, ""),
                    hunt,
                    now,
                    own,
                    advice,
                    options.forecastHours(),
                    declination(table, own, now)));
        }
        return new SeekDocument(
                SeekDocument.FORMAT,
                SeekDocument.VERSION,
                EstimateDocument.MADE_BY,
                source,
                sha256(bytes),
                cautions,
                now.toString(),
                settings,
                packages,
                ended);
    }

    /** East positive: the one given in the table, else the model's; null where the model holds no longer. */
    private static @Nullable Double declination(SeekTable table, @Nullable Position own, Instant now) {
        if (table.declinationDeg != null || own == null) {
            return table.declinationDeg;
        }
        try {
            return MagneticModel.wmm2025().at(own, 0, DecimalYear.of(now)).declinationDeg();
        } catch (IllegalArgumentException outsideTheModel) {
            return null;
        }
    }

    private static boolean reaches(Hunt hunt, Position place) {
        return Geodesics.distanceM(hunt.start().contact().position(), place) <= SeekTable.FARTHEST_M;
    }

    /** Writes the result as JSON, wholly or not at all. */
    public void writeJson(SeekDocument document, Path target) throws IOException {
        files.write(target, ResultJson.of(document));
    }

    /** Writes the regions of all packages as one GeoJSON file. */
    public void writeGeoJson(SeekDocument document, Path target) throws IOException {
        List<Object> features = new ArrayList<>();
        document.packages().forEach(p -> {
            if (p.regions().get("features") instanceof List<?> list) {
                features.addAll(list);
            }
        });
        Map<String, Object> all = new LinkedHashMap<>();
        all.put("type", "FeatureCollection");
        all.put("features", features);
        files.write(target, ResultJson.of(all));
    }

    /** Writes fixes as way points and the advised leg or pattern as routes. */
    public void writeGpx(SeekDocument document, Path target) throws IOException {
        List<GpxWriter.Waypoint> points = new ArrayList<>();
        List<Track> routes = new ArrayList<>();
        for (SeekDocument.Sought p : document.packages()) {
            Instant time = Instant.parse(p.fix().time());
            points.add(new GpxWriter.Waypoint(
                    p.name() + " likeliest",
                    new Position(p.fix().peak().latDeg(), p.fix().peak().lonDeg()),
                    time,
                    "95 % within " + Math.round(p.fix().radius95M()) + " m of the mean; not for navigation"));
            SeekDocument.NextStep advice = p.advice();
            if (advice != null && advice.leg() != null) {
                SeekDocument.Place to = advice.leg().to();
                points.add(new GpxWriter.Waypoint(
                        p.name() + " next", new Position(to.latDeg(), to.lonDeg()), null, advice.reason()));
            }
            if (advice != null && advice.pattern() != null) {
                routes.add(new Track(
                        p.name() + " pattern",
                        advice.pattern().turns().stream()
                                .map(t -> new Track.Point(null, new Position(t.at().latDeg(), t.at().lonDeg())))
                                .toList()));
            }
        }
        files.write(target, aside -> {
            try (OutputStream out = Files.newOutputStream(aside)) {
                GpxWriter.write(
                        out,
                        "search " + document.source(),
                        document.cautions().get(0),
                        Instant.parse(document.asOf()),
                        points,
                        routes,
                        List.of());
            }
        });
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java has SHA-256", impossible);
        }
    }
}
