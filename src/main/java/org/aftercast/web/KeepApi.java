package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.ControlAnimals;
import org.aftercast.study.Fishery;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.KeepNumbers;
import org.aftercast.voyage.PlanStudy;
import org.aftercast.voyage.StudyOutcomes;
import org.jspecify.annotations.Nullable;

/** What the study keeps besides its animals: the plan, control animals, the fishery it stands for. */
final class KeepApi {

    private static final int MOST_GROUPS = 12;

    private static final Map<String, String> FIGURES =
            Map.of("plan.svg", "image/svg+xml", "plan.png", "image/png", "plan.pdf", "application/pdf");

    private final Desk desk;
    private final Gate gate;

    KeepApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/kept", Role.VIEW, this::kept),
                new Route("POST", "/api/kept/{what}", Role.RECORD, this::keep),
                new Route("GET", "/api/plan", Role.VIEW, KeepApi::plan),
                new Route("GET", "/api/plan/figure/{file}", Role.VIEW, KeepApi::figure));
    }

    private void kept(Context ctx) throws Exception {
        Json.answer(ctx, desk.look(KeepApi::kept));
    }

    private static Map<String, @Nullable Object> kept(StudyStore store) throws Exception {
        KeepNumbers.Kept kept = KeepNumbers.of(store);
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("plan", kept.plan());
        answer.put("controls", kept.controls());
        answer.put("fishery", kept.fishery());
        answer.put("groups", groups(store));
        return answer;
    }

    /** Columns of the capture table that divide the animals into a few groups, with their groups. */
    private static Map<String, Set<String>> groups(StudyStore store) throws Exception {
        Map<String, Set<String>> all = new TreeMap<>();
        for (StudyOutcomes.Decided decided : StudyOutcomes.of(store)) {
            decided.outcome()
                    .groups()
                    .forEach((column, group) ->
                            all.computeIfAbsent(column, c -> new TreeSet<>()).add(group));
        }
        all.values().removeIf(groups -> groups.size() < 2 || groups.size() > MOST_GROUPS);
        return all;
    }

    /** Keeps or takes back, unless somebody else has changed it since the page was loaded. */
    private void keep(Context ctx) throws Exception {
        String word = ctx.pathParam("what");
        KeepNumbers.Kind kind = switch (word) {
            case "plan" -> KeepNumbers.Kind.PLAN;
            case "controls" -> KeepNumbers.Kind.CONTROLS;
            case "fishery" -> KeepNumbers.Kind.FISHERY;
            default -> throw ApiException.notFound("a study keeps plan, controls and fishery, not \"" + word + "\"");
        };
        String who = Desk.who(ctx, gate.device(ctx));
        JsonNode body = Json.body(ctx);
        JsonNode value = body.path("value");
        KeepNumbers numbers = new KeepNumbers(desk.files(), desk.clock());
        desk.write(() -> {
            JsonNode now = Json.MAPPER.valueToTree(desk.look(KeepApi::kept)).path(word);
            JsonNode base = body.path("base");
            boolean same = base.isObject() ? base.equals(KeepApi::compare, now) : now.isNull();
            if (!same) {
                throw new ApiException(
                        ApiException.Kind.CONFLICT,
                        "somebody else changed this meanwhile; nothing was kept. Open the page anew to see it");
            }
            if (!value.isObject()) {
                numbers.takeBack(desk.folder(), kind, who);
            } else if (kind == KeepNumbers.Kind.PLAN) {
                PlanQuestion question = question(name -> text(value, name));
                PlanStudy.of(question); // refused when it cannot be counted through
                numbers.plan(desk.folder(), question, who);
            } else if (kind == KeepNumbers.Kind.CONTROLS) {
                numbers.put(desk.folder(), controls(value), who);
            } else {
                numbers.put(desk.folder(), fishery(value), who);
            }
            return 0;
        });
        kept(ctx);
    }

    /** Numbers are the same whether or not they are written with a fraction. */
    private static int compare(JsonNode a, JsonNode b) {
        if (a.isNumber() && b.isNumber()) {
            return Double.compare(a.asDouble(), b.asDouble());
        }
        return a.equals(b) ? 0 : 1;
    }

    private static ControlAnimals controls(JsonNode value) throws ApiException {
        return new ControlAnimals(
                ControlAnimals.ID,
                whole("animals", text(value, "animals")),
                whole("died", text(value, "died")),
                text(value, "controlNotes"));
    }

    private static Fishery fishery(JsonNode value) throws ApiException {
        Map<String, Double> shares = new TreeMap<>();
        for (Map.Entry<String, JsonNode> group : value.path("groupShares").properties()) {
            Double share = orNull("groupShares", group.getValue().asText(""));
            if (share != null) {
                shares.put(group.getKey().strip(), share);
            }
        }
        String from = text(value, "sharesFrom");
        return new Fishery(
                Fishery.ID,
                shares.isEmpty() ? null : text(value, "groupColumn"),
                shares,
                from == null ? 0 : whole("sharesFrom", from),
                orNull("released", text(value, "released")),
                orNull("releasedLow", text(value, "releasedLow")),
                orNull("releasedHigh", text(value, "releasedHigh")),
                text(value, "releasedWhat"));
    }

    /** How many animals a study needs; the question as query parameters, named as in the plan's JSON. */
    private static void plan(Context ctx) throws Exception {
        Plan answer = PlanStudy.of(question(ctx::queryParam));
        Json.answer(ctx, answer);
    }

    /** The plan's figure for a proposal; the same question as query parameters. */
    private static void figure(Context ctx) throws Exception {
        String file = ctx.pathParam("file");
        String type = FIGURES.get(file);
        if (type == null) {
            throw ApiException.notFound("there is no figure \"" + file + "\"; accepted: "
                    + String.join(", ", new TreeSet<>(FIGURES.keySet())));
        }
        ctx.contentType(type).result(PlanStudy.figure(PlanStudy.of(question(ctx::queryParam)), file));
    }

    private interface Given {
        @Nullable
        String of(String name);
    }

    private static PlanQuestion question(Given given) throws ApiException {
        String animals = given.of("animals");
        try {
            return new PlanQuestion(
                    number(given, "share", Double.NaN),
                    orNull("halfWidth", given.of("halfWidth")),
                    animals == null || animals.isBlank() ? null : whole("animals", animals),
                    orNull("otherShare", given.of("otherShare")),
                    number(given, "power", 0.8),
                    number(given, "back", 0.8),
                    number(given, "shed", 0),
                    number(given, "assurance", 0.9),
                    number(given, "perCluster", 1),
                    number(given, "likeness", 0),
                    number(given, "horizonH", 24),
                    orNull("halfTimeH", given.of("halfTimeH")),
                    BinomialInterval.CLOPPER_PEARSON,
                    number(given, "level", 0.95));
        } catch (IllegalArgumentException bad) {
            throw ApiException.badInput(String.valueOf(bad.getMessage()));
        }
    }

    private static double number(Given given, String name, double otherwise) throws ApiException {
        Double found = orNull(name, given.of(name));
        return found == null ? otherwise : found;
    }

    private static int whole(String name, @Nullable String text) throws ApiException {
        if (text == null || !text.strip().matches("\\d{1,9}")) {
            throw bad(name, text == null ? "is missing" : "\"" + text + "\" is not a whole number, 0 or more");
        }
        return Integer.parseInt(text.strip());
    }

    private static @Nullable Double orNull(String name, @Nullable String text) throws ApiException {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            double value = Double.parseDouble(text.strip());
            if (Double.isFinite(value)) {
                return value;
            }
        } catch (NumberFormatException bad) {
            // told below
        }
        throw bad(name, "\"" + text + "\" is not a number");
    }

    private static ApiException bad(String name, String what) {
        List<ApiException.Problem> problems = new ArrayList<>();
        problems.add(new ApiException.Problem(name, what));
        return new ApiException(ApiException.Kind.BAD_INPUT, name + ": " + what, problems);
    }

    /** A cell of the body as text, numbers too; null when absent or blank. */
    private static @Nullable String text(JsonNode value, String name) {
        String text = value.path(name).asText("").strip();
        return text.isEmpty() || value.path(name).isNull() ? null : text;
    }
}
