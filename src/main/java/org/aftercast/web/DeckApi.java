package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.aftercast.fate.Sighting;
import org.aftercast.intake.Scratch;
import org.aftercast.study.Animal;
import org.aftercast.study.Checklist;
import org.aftercast.study.Photo;
import org.aftercast.study.Release;
import org.aftercast.study.Seen;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Words;
import org.jspecify.annotations.Nullable;

/** What is done and seen on deck: the checklist before a release, photographs, and what people saw. */
final class DeckApi {

    private static final List<String> CHECKLIST = List.of(
            "stillPoses",
            "tap1Utc",
            "tap2Utc",
            "tap3Utc",
            "beaconHeardUtc",
            "stopRule",
            "permitCode",
            "checklistNotes");

    private final Desk desk;
    private final Gate gate;

    DeckApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/animals/{animal}/deck", Role.VIEW, this::deck),
                new Route("PUT", "/api/animals/{animal}/checklist", Role.RECORD, this::checklist),
                new Route("POST", "/api/animals/{animal}/seen", Role.RECORD, this::see),
                new Route("POST", "/api/animals/{animal}/seen/{number}/remove", Role.RECORD, this::unsee),
                new Route("POST", "/api/animals/{animal}/photos", Role.RECORD, this::keepPhoto),
                new Route("GET", "/api/photos/{sha256}", Role.VIEW, this::photo));
    }

    private void deck(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        Json.answer(ctx, desk.look(store -> {
            String animal = stored(store, asked);
            Checklist list = store.find(Checklist.class, animal).orElse(Checklist.empty(animal));
            Map<String, @Nullable Object> answer = new LinkedHashMap<>();
            answer.put("animal", animal);
            answer.put("checklist", cells(list));
            answer.put("missing", list.missing());
            answer.put(
                    "releasedUtc",
                    store.find(Release.class, animal).map(Release::releasedUtc).orElse(null));
            answer.put(
                    "photos",
                    store.all(Photo.class).stream()
                            .filter(p -> p.animal().equalsIgnoreCase(animal))
                            .toList());
            answer.put(
                    "seen",
                    store.all(Seen.class).stream()
                            .filter(s -> s.animal().equalsIgnoreCase(animal))
                            .toList());
            answer.put(
                    "kinds",
                    Arrays.stream(Sighting.What.values()).map(Words::of).toList());
            return answer;
        }));
    }

    private static String stored(StudyStore store, String animal) throws IOException, ApiException {
        return store.find(Animal.class, animal)
                .map(Animal::name)
                .orElseThrow(() -> ApiException.notFound("there is no animal \"" + animal + "\" in this study"));
    }

    private static Map<String, String> cells(Checklist list) {
        Map<String, String> cells = new LinkedHashMap<>();
        cells.put("stillPoses", Words.of(list.stillPoses()));
        cells.put("tap1Utc", text(list.tap1Utc()));
        cells.put("tap2Utc", text(list.tap2Utc()));
        cells.put("tap3Utc", text(list.tap3Utc()));
        cells.put("beaconHeardUtc", text(list.beaconHeardUtc()));
        cells.put("stopRule", Words.of(list.stopRule()));
        cells.put("permitCode", text(list.permitCode()));
        cells.put("checklistNotes", text(list.checklistNotes()));
        return cells;
    }

    private static String text(@Nullable Object value) {
        return value == null ? "" : value.toString();
    }

    /** Saves what was changed; where somebody else has changed the same meanwhile, nothing is saved and both are told. */
    private void checklist(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        JsonNode body = Json.body(ctx);
        Map<String, String> changed = known(body.path("cells"));
        Map<String, String> base = known(body.path("base"));
        write(store -> {
            String animal = stored(store, asked);
            return store.change(who, change -> {
                Map<String, String> cells =
                        cells(change.find(Checklist.class, animal).orElse(Checklist.empty(animal)));
                refuseConflicts(changed, base, cells);
                cells.putAll(changed);
                change.put(new Checklist(
                        animal,
                        word(Checklist.StillPoses.class, "stillPoses", cells.getOrDefault("stillPoses", "")),
                        time("tap1Utc", cells.getOrDefault("tap1Utc", "")),
                        time("tap2Utc", cells.getOrDefault("tap2Utc", "")),
                        time("tap3Utc", cells.getOrDefault("tap3Utc", "")),
                        time("beaconHeardUtc", cells.getOrDefault("beaconHeardUtc", "")),
                        word(Checklist.StopRule.class, "stopRule", cells.getOrDefault("stopRule", "")),
                        blank(cells.get("permitCode")),
                        blank(cells.get("checklistNotes"))));
                return 0;
            });
        });
        deck(ctx);
    }

    private static Map<String, String> known(JsonNode node) throws ApiException {
        Map<String, String> cells = new LinkedHashMap<>();
        for (Map.Entry<String, JsonNode> field : node.properties()) {
            if (!CHECKLIST.contains(field.getKey())) {
                throw ApiException.badInput(
                        "cells: there is no \"" + field.getKey() + "\"; accepted: " + String.join(", ", CHECKLIST));
            }
            cells.put(field.getKey(), field.getValue().asText("").strip());
        }
        return cells;
    }

    private static void refuseConflicts(
            Map<String, String> changed, Map<String, String> base, Map<String, String> current) throws ApiException {
        List<ApiException.Problem> conflicts = new ArrayList<>();
        changed.forEach((name, mine) -> {
            String is = current.getOrDefault(name, "");
            if (!Objects.equals(base.getOrDefault(name, is), is) && !Objects.equals(mine, is)) {
                conflicts.add(new ApiException.Problem(
                        name, "was changed meanwhile to \"" + is + "\"; yours is \"" + mine + "\" and was not saved"));
            }
        });
        if (!conflicts.isEmpty()) {
            throw new ApiException(
                    ApiException.Kind.CONFLICT,
                    "somebody else changed this checklist meanwhile; nothing was saved",
                    conflicts);
        }
    }

    private <T> T write(Desk.Look<T> change) throws Exception {
        return desk.write(() -> {
            try (StudyStore store =
                    StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                return change.at(store);
            }
        });
    }

    private static <E extends Enum<E>> E word(Class<E> type, String name, String word) throws ApiException {
        try {
            return Words.parse(type, word);
        } catch (IllegalArgumentException unknown) {
            throw new ApiException(
                    ApiException.Kind.BAD_INPUT,
                    name + ": " + unknown.getMessage(),
                    List.of(new ApiException.Problem(name, String.valueOf(unknown.getMessage()))));
        }
    }

    private static @Nullable Instant time(String name, String text) throws ApiException {
        if (text.isBlank()) {
            return null;
        }
        try {
            return Instant.parse(text.strip());
        } catch (DateTimeException bad) {
            String problem = "\"" + text + "\" is not a time; accepted: UTC such as 2026-06-01T14:05:00Z";
            throw new ApiException(
                    ApiException.Kind.BAD_INPUT,
                    name + ": " + problem,
                    List.of(new ApiException.Problem(name, problem)));
        }
    }

    private static @Nullable String blank(@Nullable String text) {
        return text == null || text.isBlank() ? null : text;
    }

    private void see(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        JsonNode body = Json.body(ctx);
        Sighting.What what = word(Sighting.What.class, "what", Json.text(body, "what"));
        Instant at = time("seenUtc", body.path("seenUtc").asText(""));
        String note = blank(body.path("seenNote").asText("").strip());
        String photo = blank(body.path("photoSha256").asText("").strip());
        write(store -> {
            String animal = stored(store, asked);
            if (photo != null && store.find(Photo.class, photo).isEmpty()) {
                throw ApiException.badInput("photoSha256: there is no such photograph in this study");
            }
            return store.change(who, change -> {
                int number = change.all(Seen.class).stream()
                                .filter(s -> s.animal().equalsIgnoreCase(animal))
                                .mapToInt(Seen::number)
                                .max()
                                .orElse(0)
                        + 1;
                change.add(new Seen(animal, number, what, at, note, photo));
                return number;
            });
        });
        deck(ctx);
    }

    private void unsee(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        String number = ctx.pathParam("number");
        write(store -> {
            String animal = stored(store, asked);
            Seen seen = store.all(Seen.class).stream()
                    .filter(s -> s.animal().equalsIgnoreCase(animal)
                            && String.valueOf(s.number()).equals(number))
                    .findFirst()
                    .orElseThrow(() -> ApiException.notFound(animal + ": nothing with number " + number + " was seen"));
            return store.change(who, change -> {
                change.remove(seen);
                return 0;
            });
        });
        deck(ctx);
    }

    private void keepPhoto(Context ctx) throws Exception {
        String asked = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        String name = ctx.queryParam("name");
        String plain =
                name == null ? "" : name.replaceAll("[^A-Za-z0-9._-]", "_").replaceAll("^\\.+", "");
        if (plain.isBlank()) {
            throw ApiException.badInput("name: say what the photograph is called");
        }
        Instant taken = time("takenUtc", Objects.requireNonNullElse(ctx.queryParam("takenUtc"), ""));
        String caption = blank(ctx.queryParam("caption"));
        byte[] bytes = ctx.bodyAsBytes();
        try (Scratch scratch = Scratch.make("photo")) {
            Path file = scratch.folder().resolve(plain.substring(0, Math.min(80, plain.length())));
            Files.write(file, bytes);
            write(store -> store.addPhoto(who, stored(store, asked), file, taken, caption));
        }
        deck(ctx);
    }

    private void photo(Context ctx) throws Exception {
        String sha256 = ctx.pathParam("sha256");
        Path file = desk.look(store -> store.find(Photo.class, sha256)
                .map(photo -> store.photosFolder().resolve(photo.storedName()))
                .orElseThrow(() -> ApiException.notFound("there is no such photograph in this study")));
        ctx.contentType(String.valueOf(file.getFileName()).endsWith(".png") ? "image/png" : "image/jpeg")
                .header("Content-Security-Policy", "default-src 'none'; sandbox")
                .result(Files.newInputStream(file));
    }
}
