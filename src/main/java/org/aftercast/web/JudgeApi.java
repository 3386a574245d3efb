package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateReading;
import org.aftercast.fate.RecordEnd;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.Words;
import org.aftercast.voyage.Blindness;
import org.aftercast.voyage.Judge;
import org.jspecify.annotations.Nullable;

/** Verdicts: what a reader may see, giving one, settling two. */
final class JudgeApi {

    private final Desk desk;
    private final Gate gate;
    private final RecordingShelf shelf;

    JudgeApi(Desk desk, Gate gate, RecordingShelf shelf) {
        this.desk = desk;
        this.gate = gate;
        this.shelf = shelf;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/judging", Role.VIEW, this::progress),
                new Route("GET", "/api/animals/{animal}/bench", Role.JUDGE, this::bench),
                new Route("POST", "/api/animals/{animal}/verdicts", Role.JUDGE, this::give));
    }

    private void progress(Context ctx) throws Exception {
        Json.answer(ctx, desk.look(store -> new Judge(store).progress()));
    }

    private void bench(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String reader = Desk.who(ctx, gate.device(ctx));
        Judge.Bench bench = desk.look(store -> new Judge(store).bench(animal, reader));
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("animal", bench.animal());
        answer.put("reader", reader);
        answer.put("sight", bench.sight());
        answer.put("release", bench.release());
        answer.put("capture", bench.capture());
        answer.put("verdicts", bench.verdicts());
        answer.put("next", bench.next());
        answer.put(
                "animalFates", Arrays.stream(AnimalFate.values()).map(Words::of).toList());
        answer.put(
                "recordEnds", Arrays.stream(RecordEnd.values()).map(Words::of).toList());
        answer.put("looked", desk.look(store -> Blindness.hasLooked(store, bench.animal(), reader)));
        answer.put("opinion", null);
        if (bench.sight() == Judge.Sight.OPEN) {
            OpenRecording open = shelf.open(bench.animal());
            if (open.reading() != null) {
                answer.put("opinion", opinion(open.reading().fate()));
            }
        }
        Json.answer(ctx, answer);
    }

    /** The program's opinion with its evidence; shown only after a reader's own verdict is locked. */
    private static Map<String, @Nullable Object> opinion(FateReading fate) {
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("call", fate.call());
        answer.put("animalFate", fate.animal());
        answer.put("recordEnd", fate.recordEnd());
        answer.put("probabilities", fate.probabilities());
        answer.put("recordOnly", fate.recordOnly());
        answer.put("changeAtS", fate.changeAtS());
        answer.put("lastCertainSignOfLifeS", fate.lastCertainSignOfLifeS());
        answer.put("summary", fate.summary());
        answer.put("endings", fate.endings());
        answer.put("evidence", fate.evidence());
        answer.put("wouldChangeTheMind", fate.wouldChangeTheMind());
        answer.put("notes", fate.notes());
        return answer;
    }

    private void give(Context ctx) throws Exception {
        JsonNode body = Json.body(ctx);
        Judge.Opinion opinion = new Judge.Opinion(
                ctx.pathParam("animal"),
                Desk.who(ctx, gate.device(ctx)),
                word(AnimalFate.class, body, "animalFate"),
                word(RecordEnd.class, body, "recordEnd"),
                instant(body.path("changeUtc").asText("")),
                Json.text(body, "reason"));
        boolean settle = body.path("settle").asBoolean(false);
        Verdict verdict = desk.write(() -> {
            try (StudyStore store =
                    StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                Judge judge = new Judge(store);
                return settle ? judge.settle(opinion) : judge.give(opinion);
            }
        });
        Json.answer(ctx, verdict);
    }

    private static <E extends Enum<E>> E word(Class<E> type, JsonNode body, String field) throws ApiException {
        try {
            return Words.parse(type, Json.text(body, field));
        } catch (IllegalArgumentException unknown) {
            throw new ApiException(
                    ApiException.Kind.BAD_INPUT,
                    field + ": " + unknown.getMessage(),
                    List.of(new ApiException.Problem(field, String.valueOf(unknown.getMessage()))));
        }
    }

    private static @Nullable Instant instant(String text) throws ApiException {
        if (text.isBlank()) {
            return null;
        }
        try {
            return Instant.parse(text.strip());
        } catch (DateTimeException bad) {
            String problem = "\"" + text + "\" is not a time; accepted: such as 2026-06-01T14:05:00Z";
            throw new ApiException(
                    ApiException.Kind.BAD_INPUT,
                    "changeUtc: " + problem,
                    List.of(new ApiException.Problem("changeUtc", problem)));
        }
    }
}
