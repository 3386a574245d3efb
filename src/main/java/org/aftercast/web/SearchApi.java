package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.geo.Coast;
import org.aftercast.geo.GeoJson;
import org.aftercast.geo.Position;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.Detachment;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.EndSearch;
import org.aftercast.voyage.ExportSearch;
import org.aftercast.voyage.MapTiles;
import org.aftercast.voyage.OwnMaps;
import org.aftercast.voyage.SearchLog;
import org.aftercast.voyage.Seek;
import org.aftercast.voyage.SeekDocument;
import org.aftercast.voyage.SeekStudy;
import org.aftercast.voyage.SeekWords;
import org.jspecify.annotations.Nullable;

/** The search for one package: observations in, fix, regions and advice out. */
final class SearchApi {

    private static final double COAST_RADIUS_M = 80_000;
    private static final int FEW_PARTICLES = 5000;

    private final Desk desk;
    private final Gate gate;
    private final Map<String, Reckoned> reckoned = new LinkedHashMap<>();

    /** A result with the state of the table it was reckoned from. */
    private record Reckoned(FileTime changed, long bytes, SeekDocument document) {}

    SearchApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/animals/{animal}/search", Role.VIEW, this::search),
                new Route("POST", "/api/animals/{animal}/search", Role.RECORD, this::add),
                new Route("GET", "/api/animals/{animal}/search/log", Role.VIEW, this::log),
                new Route("GET", "/api/searches", Role.VIEW, this::searches),
                new Route("GET", "/api/coast", Role.VIEW, this::coast),
                new Route("GET", "/api/tiles", Role.VIEW, this::tiles),
                new Route("GET", "/api/tiles/{file}/{zoom}/{x}/{y}", Role.VIEW, this::tile));
    }

    private void search(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        Map<String, @Nullable Object> answer = desk.look(store -> {
            Release release = store.find(Release.class, asked)
                    .orElseThrow(
                            () -> ApiException.notFound("animal \"" + asked + "\" has no release in this study yet"));
            String serial = release.packageSerial();
            StudyInfo info = store.info();
            Map<String, @Nullable Object> found = new LinkedHashMap<>();
            found.put("animal", release.animal());
            found.put("release", release);
            found.put(
                    "floatPackage",
                    serial == null
                            ? null
                            : store.find(FloatPackage.class, serial).orElse(null));
            found.put(
                    "detachment", store.find(Detachment.class, release.animal()).orElse(null));
            SearchOutcome outcome = store.all(SearchOutcome.class).stream()
                    .filter(o -> o.animal().equalsIgnoreCase(release.animal()))
                    .reduce(SearchOutcome::decisive)
                    .orElse(null);
            found.put("outcome", outcome);
            found.put("outcomeBy", outcome == null ? null : lastChange(store, outcome));
            found.put("siteLatDeg", info.latDeg());
            found.put("siteLonDeg", info.lonDeg());
            return found;
        });
        String animal = String.valueOf(answer.get("animal"));
        SearchLog log = new SearchLog(desk.files());
        List<SearchLog.Row> rows = log.rows(desk.folder(), animal);
        answer.put("rows", rows);
        answer.put("words", rows.stream().map(row -> words(row, rows)).toList());
        answer.put("result", null);
        answer.put("refusal", null);
        answer.put("ended", List.of());
        answer.put("declinationDeg", null);
        Path file = SearchLog.file(desk.folder(), animal);
        if (Files.isRegularFile(file)) {
            try {
                SeekDocument document = reckon(animal, file);
                answer.put("ended", document.ended());
                answer.put("result", document.packages().isEmpty() ? null : document);
                if (!document.packages().isEmpty()) {
                    SeekDocument.NextStep advice = document.packages().get(0).advice();
                    SeekDocument.LegPart leg = advice == null ? null : advice.leg();
                    answer.put("declinationDeg", leg == null ? null : leg.declinationDeg());
                }
            } catch (BadInputException notEnough) {
                answer.put("refusal", String.join("; ", notEnough.problems()));
            }
        }
        Json.answer(ctx, answer);
    }

    /** Who put the outcome on record, and when. */
    private record By(String who, Instant atUtc) {}

    private static @Nullable By lastChange(StudyStore store, SearchOutcome outcome) throws StudyException {
        String key = outcome.animal() + " / " + outcome.number();
        By last = null;
        for (HistoryEntry entry : store.history()) {
            if (entry.table().equals("searchOutcome") && entry.key().equalsIgnoreCase(key)) {
                last = new By(entry.who(), entry.atUtc());
            }
        }
        return last;
    }

    private static String words(SearchLog.Row row, List<SearchLog.Row> all) {
        if (row.kind().equals("undo")) {
            String line = row.values().replaceFirst("^\\s*line=(\\d+)\\s*$", "$1");
            for (SearchLog.Row taken : all) {
                if (line.equals(Integer.toString(taken.line()))) {
                    return taken.kind() + ", " + SeekWords.of(taken.kind(), taken.values());
                }
            }
        }
        return SeekWords.of(row.kind(), row.values());
    }

    private synchronized SeekDocument reckon(String animal, Path file) throws Exception {
        FileTime changed = Files.getLastModifiedTime(file);
        long bytes = Files.size(file);
        Reckoned kept = reckoned.get(animal);
        if (kept != null && kept.changed().equals(changed) && kept.bytes() == bytes) {
            return kept.document();
        }
        SeekDocument document =
                new Seek(desk.files()).run(file, new Seek.Options(SearchSettings.defaults(), 6, null, desk.folder()));
        reckoned.put(animal, new Reckoned(changed, bytes, document));
        return document;
    }

    private void add(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        List<SearchLog.Row> rows = new ArrayList<>();
        for (JsonNode row : Json.body(ctx).path("rows")) {
            rows.add(new SearchLog.Row(
                    0,
                    row.path("time").asText(""),
                    row.path("lat").asText(""),
                    row.path("lon").asText(""),
                    row.path("kind").asText(""),
                    row.path("values").asText("")));
        }
        if (rows.isEmpty()) {
            throw ApiException.badInput("rows: none given");
        }
        String stored = desk.look(store -> store.find(Release.class, animal)
                .map(Release::animal)
                .orElseThrow(
                        () -> ApiException.notFound("animal \"" + animal + "\" has no release in this study yet")));
        desk.write(() -> {
            new SearchLog(desk.files()).add(desk.folder(), stored, who, rows);
            if (rows.stream().anyMatch(r -> r.kind().equals("end") || r.kind().equals("undo"))) {
                try (StudyStore store =
                        StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                    EndSearch.record(store, who, stored);
                }
            }
            return 0;
        });
        search(ctx);
    }

    /** The log as it stands, as a table, GPX or GeoJSON. */
    private void log(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String asked = String.valueOf(ctx.queryParam("form")).toUpperCase(Locale.ROOT);
        ExportSearch.Form form = switch (asked) {
            case "TABLE", "GPX", "GEOJSON" -> ExportSearch.Form.valueOf(asked);
            default -> throw ApiException.badInput("form: accepted: table, gpx or geojson");
        };
        Path file = SearchLog.file(desk.folder(), animal);
        if (!Files.isRegularFile(file)) {
            throw ApiException.notFound("no search was begun for animal \"" + animal + "\"");
        }
        String ending = form == ExportSearch.Form.TABLE ? "csv" : form == ExportSearch.Form.GPX ? "gpx" : "geojson";
        ctx.header("Content-Disposition", "attachment; filename=\"search-" + animal + "." + ending + "\"");
        ctx.contentType(form.contentType()).result(ExportSearch.of(file, desk.folder(), form));
    }

    /** All searches of the study together: which package first. Few particles: it is the order that counts. */
    private void searches(Context ctx) throws Exception {
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("result", null);
        answer.put("refusal", null);
        try {
            answer.put(
                    "result",
                    new SeekStudy(desk.files())
                            .run(
                                    desk.folder(),
                                    new Seek.Options(
                                            SearchSettings.defaults().with(FEW_PARTICLES, 1), 0, null, desk.folder())));
        } catch (BadInputException notEnough) {
            answer.put("refusal", String.join("; ", notEnough.problems()));
        }
        Json.answer(ctx, answer);
    }

    private void tiles(Context ctx) throws Exception {
        Json.answer(ctx, Map.of("tiles", OwnMaps.tiles(desk.folder())));
    }

    private void tile(Context ctx) throws Exception {
        Path file = OwnMaps.tileFile(desk.folder(), ctx.pathParam("file"));
        if (file == null) {
            throw ApiException.notFound("the study has no tiles \"" + ctx.pathParam("file") + "\"");
        }
        MapTiles.Tile tile;
        try {
            tile = MapTiles.tile(
                    file,
                    Integer.parseInt(ctx.pathParam("zoom")),
                    Integer.parseInt(ctx.pathParam("x")),
                    Integer.parseInt(ctx.pathParam("y")));
        } catch (NumberFormatException bad) {
            throw ApiException.badInput("zoom, x, y: whole numbers are needed");
        }
        if (tile == null) {
            throw ApiException.notFound("there is no tile there");
        }
        ctx.header("Cache-Control", "private, max-age=3600");
        ctx.contentType(tile.contentType()).result(tile.bytes());
    }

    /** Land around a place as GeoJSON, for the map. */
    private void coast(Context ctx) throws Exception {
        Position centre;
        try {
            centre = new Position(
                    Double.parseDouble(String.valueOf(ctx.queryParam("latDeg"))),
                    Double.parseDouble(String.valueOf(ctx.queryParam("lonDeg"))));
        } catch (IllegalArgumentException bad) {
            throw ApiException.badInput("latDeg, lonDeg: not a place in degrees");
        }
        List<Object> polygons = new ArrayList<>();
        for (List<Position> ring : Coast.shipped().ringsAround(centre, COAST_RADIUS_M)) {
            List<List<Double>> points = new ArrayList<>();
            ring.forEach(p -> points.add(List.of(p.lonDeg(), p.latDeg())));
            points.add(points.get(0));
            polygons.add(Map.of(
                    "type", "Feature",
                    "properties", Map.of(),
                    "geometry", Map.of("type", "Polygon", "coordinates", List.of(points))));
        }
        for (Map.Entry<String, List<List<Position>>> own :
                OwnMaps.coasts(desk.folder()).entrySet()) {
            for (List<Position> ring : own.getValue()) {
                polygons.add(GeoJson.feature(
                        GeoJson.polygons(List.of(new GeoJson.Polygon(ring, List.of()))), Map.of("file", own.getKey())));
            }
        }
        Json.answer(ctx, Map.of("type", "FeatureCollection", "features", polygons, "source", Coast.SOURCE));
    }
}
