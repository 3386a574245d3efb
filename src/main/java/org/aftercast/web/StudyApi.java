package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.aftercast.study.CaptureSheet;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.Standing;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.EnterCaptures;
import org.aftercast.voyage.ExportCaptures;
import org.aftercast.voyage.ListStudy;
import org.aftercast.web.ApiException.Kind;
import org.aftercast.web.ApiException.Problem;
import org.jspecify.annotations.Nullable;

/** The study's table, captures and packages. */
final class StudyApi {

    private final Desk desk;
    private final Gate gate;

    StudyApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/study", Role.VIEW, this::study),
                new Route("GET", "/api/columns", Role.VIEW, this::columns),
                new Route("GET", "/api/animals/{animal}", Role.VIEW, this::animal),
                new Route("PUT", "/api/animals/{animal}", Role.RECORD, this::save),
                new Route("GET", "/api/captures.csv", Role.VIEW, this::export),
                new Route("POST", "/api/captures", Role.RECORD, this::enter),
                new Route("GET", "/api/packages", Role.VIEW, this::packages));
    }

    /** One row of the study's table. */
    record Row(
            String animal,
            Standing.Stage stage,
            String next,
            double overdueH,
            @Nullable String packageSerial,
            @Nullable Double frequencyMHz,
            java.time.@Nullable Instant releasedUtc,
            java.time.@Nullable Instant plannedDetachmentUtc,
            @Nullable String recordingSha256,
            @Nullable String readingKey,
            SearchOutcome.@Nullable Outcome searchOutcome) {}

    private void study(Context ctx) throws Exception {
        ListStudy.Result list = new ListStudy(desk.clock()).of(desk.folder());
        Map<String, Release> releases = new HashMap<>();
        Map<String, FloatPackage> packages = new HashMap<>();
        Map<String, SearchOutcome> searches = new HashMap<>();
        desk.look(store -> {
            store.all(SearchOutcome.class).forEach(o -> searches.merge(fold(o.animal()), o, SearchOutcome::decisive));
            store.all(Release.class).forEach(r -> releases.put(fold(r.animal()), r));
            store.all(FloatPackage.class).forEach(p -> packages.put(fold(p.serial()), p));
            return 0;
        });
        List<Row> rows = new ArrayList<>();
        for (Standing s : list.animals()) {
            Release release = releases.get(fold(s.animal()));
            String serial = s.packageSerial();
            SearchOutcome search = searches.get(fold(s.animal()));
            FloatPackage carried = serial == null ? null : packages.get(fold(serial));
            rows.add(new Row(
                    s.animal(),
                    s.stage(),
                    s.next(),
                    s.overdueH(),
                    serial,
                    carried == null ? null : carried.frequencyMHz(),
                    release == null ? null : release.releasedUtc(),
                    release == null ? null : release.plannedDetachmentUtc(),
                    s.recordingSha256(),
                    s.readingKey(),
                    search == null ? null : search.outcome()));
        }
        Map<String, Object> answer = new LinkedHashMap<>();
        answer.put("info", list.info());
        answer.put("atUtc", list.atUtc());
        answer.put("animals", rows);
        Json.answer(ctx, answer);
    }

    private void columns(Context ctx) throws Exception {
        List<Map<String, Object>> columns = new ArrayList<>();
        for (String name : CaptureSheet.columns()) {
            String accepts = CaptureSheet.accepts(name);
            Map<String, Object> column = new LinkedHashMap<>();
            column.put("name", name);
            column.put("accepts", accepts);
            column.put(
                    "words",
                    accepts.startsWith("one of ") ? List.of(accepts.substring(7).split(", ")) : List.of());
            columns.add(column);
        }
        Json.answer(ctx, Map.of("columns", columns));
    }

    private void animal(Context ctx) throws Exception {
        String name = ctx.pathParam("animal");
        Map<String, Object> answer = desk.look(store -> {
            CaptureSheet.Entry entry = entryOf(store, name)
                    .orElseThrow(() -> ApiException.notFound("there is no animal \"" + name + "\" in this study"));
            String stored = entry.animal().name();
            Standing standing = Standing.of(store, desk.clock().instant()).stream()
                    .filter(s -> s.animal().equals(stored))
                    .findFirst()
                    .orElseThrow();
            Map<String, Object> found = new LinkedHashMap<>();
            found.put("animal", stored);
            found.put("cells", CaptureSheet.format(entry));
            found.put("stage", standing.stage());
            found.put("next", standing.next());
            found.put("recordingSha256", standing.recordingSha256());
            found.put("readingKey", standing.readingKey());
            found.put(
                    "recordings",
                    store.all(RecordingRow.class).stream()
                            .filter(r -> fold(r.animal()).equals(fold(stored)))
                            .map(RecordingRow::sha256)
                            .toList());
            return found;
        });
        Json.answer(ctx, answer);
    }

    /**
     * Saves the cells that were changed on the page. Where a cell has been changed by somebody else since the page was
     * loaded, nothing is saved and both values are told.
     */
    private void save(Context ctx) throws Exception {
        String name = ctx.pathParam("animal");
        JsonNode body = Json.body(ctx);
        Map<String, String> changed = cells(body.get("cells"));
        Map<String, String> base = cells(body.get("base"));
        boolean isNew = body.path("new").asBoolean(false);
        String who = Desk.who(ctx, gate.device(ctx));
        EnterCaptures.Result result = desk.write(() -> {
            Map<String, String> current = desk.look(
                    store -> entryOf(store, name).map(CaptureSheet::format).orElse(Map.of()));
            if (isNew && !current.isEmpty()) {
                throw new ApiException(
                        Kind.CONFLICT,
                        "animal \"" + name + "\" is in the study already; open it to correct it",
                        List.of(new Problem("animal", "is in the study already")));
            }
            if (!isNew && current.isEmpty()) {
                throw ApiException.notFound("there is no animal \"" + name + "\" in this study");
            }
            refuseConflicts(changed, base, current);
            Map<String, String> row = new LinkedHashMap<>();
            row.put("animal", name);
            row.putAll(changed);
            return new EnterCaptures(desk.files(), desk.clock()).enterRow(desk.folder(), row, who);
        });
        Json.answer(ctx, Map.of("animal", name, "warnings", result.warnings()));
    }

    private static void refuseConflicts(
            Map<String, String> changed, Map<String, String> base, Map<String, String> current) throws ApiException {
        List<Problem> conflicts = new ArrayList<>();
        changed.forEach((column, mine) -> {
            String was = base.getOrDefault(column, "");
            String is = current.getOrDefault(column, "");
            if (!Objects.equals(was, is) && !Objects.equals(mine, is)) {
                conflicts.add(new Problem(
                        column,
                        "was changed meanwhile to \"" + is + "\"; yours is \"" + mine + "\" and was not saved"));
            }
        });
        if (!conflicts.isEmpty()) {
            throw new ApiException(
                    Kind.CONFLICT, "somebody else changed this animal meanwhile; nothing was saved", conflicts);
        }
    }

    private static Map<String, String> cells(@Nullable JsonNode node) throws ApiException {
        Map<String, String> cells = new LinkedHashMap<>();
        if (node == null || !node.isObject()) {
            return cells;
        }
        List<String> known = CaptureSheet.columns();
        for (Map.Entry<String, JsonNode> field : node.properties()) {
            if (!known.contains(field.getKey())) {
                throw ApiException.badInput("cells: there is no column \"" + field.getKey() + "\"");
            }
            cells.put(field.getKey(), field.getValue().asText("").strip());
        }
        return cells;
    }

    private void export(Context ctx) throws Exception {
        ctx.contentType("text/csv; charset=utf-8")
                .header("Content-Disposition", "attachment; filename=\"captures.csv\"")
                .result(ExportCaptures.of(desk.folder(), desk.clock()));
    }

    private void enter(Context ctx) throws Exception {
        String mode = Optional.ofNullable(ctx.queryParam("existing")).orElse("refuse");
        EnterCaptures.Existing existing = switch (mode) {
            case "refuse" -> EnterCaptures.Existing.REFUSE;
            case "replace" -> EnterCaptures.Existing.REPLACE;
            default -> throw ApiException.badInput("existing: \"" + mode + "\" is neither refuse nor replace");
        };
        String who = Desk.who(ctx, gate.device(ctx));
        byte[] bytes = ctx.bodyAsBytes();
        EnterCaptures.Result result = desk.write(() -> new EnterCaptures(desk.files(), desk.clock())
                .enterTable(desk.folder(), "the file", bytes, existing, who));
        Json.answer(ctx, result);
    }

    /** One package with the animal that carries it, or carried it last. */
    record Carried(FloatPackage floatPackage, @Nullable String animal, Standing.@Nullable Stage stage) {}

    private void packages(Context ctx) throws Exception {
        List<Carried> all = desk.look(store -> {
            Map<String, Standing> bearer = new HashMap<>();
            for (Standing s : Standing.of(store, desk.clock().instant())) {
                if (s.packageSerial() != null) {
                    bearer.put(fold(s.packageSerial()), s);
                }
            }
            List<Carried> carried = new ArrayList<>();
            for (FloatPackage p : store.all(FloatPackage.class)) {
                Standing s = bearer.get(fold(p.serial()));
                carried.add(new Carried(p, s == null ? null : s.animal(), s == null ? null : s.stage()));
            }
            return carried;
        });
        Json.answer(ctx, Map.of("packages", all));
    }

    private static Optional<CaptureSheet.Entry> entryOf(StudyStore store, String animal) throws Exception {
        return CaptureSheet.of(store).stream()
                .filter(e -> fold(e.animal().name()).equals(fold(animal)))
                .findFirst();
    }

    private static String fold(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
