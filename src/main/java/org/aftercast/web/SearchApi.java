package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Position;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.Detachment;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.SearchLog;
import org.aftercast.voyage.Seek;
import org.aftercast.voyage.SeekDocument;
import org.jspecify.annotations.Nullable;

/** The search for one package: observations in, fix, regions and advice out. */
final class SearchApi {

    private static final double COAST_RADIUS_M = 80_000;

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
                new Route("GET", "/api/coast", Role.VIEW, this::coast));
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
            found.put("siteLatDeg", info.latDeg());
            found.put("siteLonDeg", info.lonDeg());
            return found;
        });
        String animal = String.valueOf(answer.get("animal"));
        SearchLog log = new SearchLog(desk.files());
        answer.put("rows", log.rows(desk.folder(), animal));
        answer.put("result", null);
        answer.put("refusal", null);
        answer.put("ended", List.of());
        Path file = SearchLog.file(desk.folder(), animal);
        if (Files.isRegularFile(file)) {
            try {
                SeekDocument document = reckon(animal, file);
                answer.put("ended", document.ended());
                answer.put("result", document.packages().isEmpty() ? null : document);
            } catch (BadInputException notEnough) {
                answer.put("refusal", String.join("; ", notEnough.problems()));
            }
        }
        Json.answer(ctx, answer);
    }

    private synchronized SeekDocument reckon(String animal, Path file) throws Exception {
        FileTime changed = Files.getLastModifiedTime(file);
        long bytes = Files.size(file);
        Reckoned kept = reckoned.get(animal);
        if (kept != null && kept.changed().equals(changed) && kept.bytes() == bytes) {
            return kept.document();
        }
        SeekDocument document = new Seek(desk.files()).run(file, new Seek.Options(SearchSettings.defaults(), 6, null));
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
            return 0;
        });
        search(ctx);
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
        Json.answer(ctx, Map.of("type", "FeatureCollection", "features", polygons, "source", Coast.SOURCE));
    }
}
