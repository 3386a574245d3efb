package org.aftercast.voyage;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.geo.GeoJson;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.GpxWriter;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;
import org.aftercast.geo.Track;
import org.aftercast.search.BearingCorrection;
import org.aftercast.search.Observation;
import org.aftercast.search.SearchEnd;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/**
 * The log of a search as it stands, to hand over: every row as a table (with what was taken back, and bearings turned true), or
 * places, bearings and the boat's track as GPX or GeoJSON. Nothing is reckoned: no fix, no regions.
 */
public final class ExportSearch {

    /** What is written. */
    public enum Form {
        /** CSV, every row. */
        TABLE("text/csv; charset=utf-8"),
        /** GPX 1.1: places noted and the boat's track. */
        GPX("application/gpx+xml"),
        /** GeoJSON: places, bearings, track. */
        GEOJSON("application/geo+json");

        private final String contentType;

        Form(String contentType) {
            this.contentType = contentType;
        }

        /** For a web answer. */
        public String contentType() {
            return contentType;
        }

        /**
         * By a file's ending.
         *
         * @throws BadInputException if it is none of .csv, .gpx, .geojson, .json
         */
        public static Form ofName(String name) throws BadInputException {
            String low = name.toLowerCase(Locale.ROOT);
            if (low.endsWith(".csv")) {
                return TABLE;
            }
            if (low.endsWith(".gpx")) {
                return GPX;
            }
            if (low.endsWith(".geojson") || low.endsWith(".json")) {
                return GEOJSON;
            }
            throw new BadInputException(name + ": accepted: a name that ends in .csv, .gpx or .geojson");
        }
    }

    private static final double BEARING_LINE_M = 15_000;

    private final FileStore files;

    /** Writes through this store. */
    public ExportSearch(FileStore files) {
        this.files = files;
    }

    /** Writes the log of a table of observations; the form follows the name of {@code out}. */
    public void write(Path table, Path out) throws BadInputException, IOException {
        files.write(out, of(table, null, Form.ofName(String.valueOf(out.getFileName()))));
    }

    /**
     * The log in a form.
     *
     * @param study the study whose boat track of that time goes with it, or null
     * @throws BadInputException if the table cannot be used
     */
    public static byte[] of(Path table, @Nullable Path study, Form form) throws BadInputException, IOException {
        if (!Files.isRegularFile(table)) {
            throw new BadInputException(table + ": there is no such file; accepted: a table of observations");
        }
        SeekTable read = SeekTable.read(table.toString(), Files.readAllBytes(table));
        Map<Long, Double> trueDeg = trueBearings(read);
        String name = String.valueOf(table.getFileName()).replaceFirst("\\.[^.]*$", "");
        return switch (form) {
            case TABLE -> table(read, trueDeg);
            case GPX -> gpx(name, read, trueDeg, track(read, study));
            case GEOJSON -> geoJson(read, trueDeg, track(read, study));
        };
    }

    private static Map<Long, Double> trueBearings(SeekTable read) {
        Map<Long, Double> out = new LinkedHashMap<>();
        SearchSettings.Bearings usual = SearchSettings.defaults().bearings();
        BearingCorrection correction = new BearingCorrection(
                MagneticModel.wmm2025(),
                new SearchSettings.Bearings(
                        usual.sdDeg(),
                        usual.sdSpread(),
                        usual.wildShare(),
                        read.deviation,
                        usual.courseSdDeg(),
                        usual.compassSdDeg()),
                read.declinationDeg);
        read.packages
                .values()
                .forEach(rows -> rows.observations.forEach(o -> {
                    if (o instanceof Observation.Bearing b) {
                        try {
                            out.put(
                                    read.lineOf(o),
                                    correction
                                            .correct(b.bearingDeg(), b.source(), b.headingDeg(), b.own(), b.time())
                                            .bearingDeg());
                        } catch (IllegalArgumentException noModel) {
                            // outside the years of the magnetic model: the reading itself stands in the table
                            return;
                        }
                    }
                }));
        return out;
    }

    private static List<Track.Point> track(SeekTable read, @Nullable Path study) throws IOException {
        List<Track.Point> out = new ArrayList<>();
        Instant from = null;
        Instant to = null;
        for (SeekFile.Raw row : read.raw) {
            if (row.time() != null && !row.kind().equals("start")) {
                from = from == null || row.time().isBefore(from) ? row.time() : from;
                to = to == null || row.time().isAfter(to) ? row.time() : to;
            }
        }
        if (study != null && from != null && to != null) {
            for (BoatTrack.Point p : BoatTrack.between(study, from.minusSeconds(3600), to.plusSeconds(3600))) {
                out.add(new Track.Point(p.time(), new Position(p.latDeg(), p.lonDeg())));
            }
        }
        return out;
    }

    private static byte[] table(SeekTable read, Map<Long, Double> trueDeg) {
        StringBuilder text = new StringBuilder(
                "line,time,lat,lon,kind,values,true_bearing_deg,taken_back,outcome,hours,miles,in_words\n");
        Map<Long, SearchEnd> ends = ends(read);
        for (SeekFile.Raw row : read.raw) {
            Position own = row.own();
            Double deg = trueDeg.get(row.line());
            SearchEnd end = ends.get(row.line());
            text.append(String.format(
                    Locale.ROOT,
                    "%d,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s%n",
                    row.line(),
                    row.time() == null ? "" : row.time(),
                    own == null ? "" : String.format(Locale.ROOT, "%.6f", own.latDeg()),
                    own == null ? "" : String.format(Locale.ROOT, "%.6f", own.lonDeg()),
                    row.kind(),
                    quoted(row.values()),
                    deg == null ? "" : String.format(Locale.ROOT, "%.1f", deg),
                    read.undone.contains(row.line()) ? "yes" : "no",
                    end == null ? "" : SeekParts.word(end.outcome()),
                    end == null ? "" : String.format(Locale.ROOT, "%.2f", end.hours()),
                    end == null ? "" : String.format(Locale.ROOT, "%.2f", end.miles()),
                    quoted(words(row, trueDeg, end))));
        }
        return text.toString().replace("\r\n", "\n").getBytes(StandardCharsets.UTF_8);
    }

    private static String quoted(String text) {
        return text.matches("[^\",\\r\\n]*") ? text : "\"" + text.replace("\"", "\"\"") + "\"";
    }

    private static byte[] gpx(String name, SeekTable read, Map<Long, Double> trueDeg, List<Track.Point> track)
            throws IOException {
        Map<Long, SearchEnd> ends = ends(read);
        List<GpxWriter.Waypoint> points = new ArrayList<>();
        for (SeekFile.Raw row : read.raw) {
            Position own = row.own();
            if (own != null && !read.undone.contains(row.line())) {
                points.add(new GpxWriter.Waypoint(
                        row.line() + " " + row.kind(), own, row.time(), words(row, trueDeg, ends.get(row.line()))));
            }
        }
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        GpxWriter.write(
                out,
                "search " + name,
                "Log of a search; not for navigation" + endings(read, ends),
                null,
                points,
                List.of(),
                track.isEmpty() ? List.of() : List.of(new Track("boat", track)));
        return out.toByteArray();
    }

    /** How the searches of the table ended, by the line of the row; hours and miles reckoned where they were not noted. */
    private static Map<Long, SearchEnd> ends(SeekTable read) {
        Map<Long, SearchEnd> out = new LinkedHashMap<>();
        read.packages.values().forEach(rows -> {
            SearchEnd noted = rows.end;
            if (noted != null) {
                out.put(rows.endLine, SeekEnds.reckoned(read, rows, noted));
            }
        });
        return out;
    }

    private static String endings(SeekTable read, Map<Long, SearchEnd> ends) {
        StringBuilder text = new StringBuilder();
        for (SeekFile.Raw row : read.raw) {
            SearchEnd end = ends.get(row.line());
            if (end != null) {
                text.append("; ").append(words(row, Map.of(), end));
            }
        }
        return text.toString();
    }

    private static String words(SeekFile.Raw row, Map<Long, Double> trueDeg, @Nullable SearchEnd end) {
        Double deg = trueDeg.get(row.line());
        if (end == null) {
            return SeekWords.of(row.kind(), row.values())
                    + (deg == null ? "" : String.format(Locale.ROOT, " (%03.0f° true)", deg));
        }
        String noted = row.values().replaceAll("(?<!\\S)(hours|miles)=\\S*", "");
        return SeekWords.of(
                row.kind(),
                String.format(Locale.ROOT, "%s hours=%.1f miles=%.1f", noted.strip(), end.hours(), end.miles()));
    }

    private static byte[] geoJson(SeekTable read, Map<Long, Double> trueDeg, List<Track.Point> track) {
        List<Map<String, Object>> features = new ArrayList<>();
        Map<Long, SearchEnd> ends = ends(read);
        for (SeekFile.Raw row : read.raw) {
            Position own = row.own();
            SearchEnd end = ends.get(row.line());
            if (own == null && end == null) {
                continue;
            }
            Map<String, Object> about = new LinkedHashMap<>();
            about.put("line", row.line());
            about.put("kind", row.kind());
            about.put("time", row.time() == null ? null : row.time().toString());
            about.put("values", row.values());
            about.put("takenBack", read.undone.contains(row.line()));
            Double deg = trueDeg.get(row.line());
            about.put("trueBearingDeg", deg);
            about.put("inWords", words(row, trueDeg, end));
            if (end != null) {
                about.put("outcome", SeekParts.word(end.outcome()));
                about.put("hours", Math.rint(end.hours() * 100) / 100);
                about.put("miles", Math.rint(end.miles() * 100) / 100);
            }
            features.add(own == null ? GeoJson.unlocated(about) : GeoJson.feature(GeoJson.point(own), about));
            if (own != null && deg != null && !read.undone.contains(row.line())) {
                features.add(GeoJson.feature(
                        GeoJson.line(List.of(own, Geodesics.from(own, deg, BEARING_LINE_M))),
                        Map.of("line", row.line(), "kind", "bearing-line", "trueBearingDeg", deg)));
            }
        }
        if (track.size() > 1) {
            features.add(GeoJson.feature(
                    GeoJson.line(track.stream().map(Track.Point::position).toList()), Map.of("kind", "boat-track")));
        }
        return ResultJson.of(GeoJson.collection(features));
    }
}
