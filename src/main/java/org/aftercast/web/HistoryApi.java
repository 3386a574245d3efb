package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.Blindness;
import org.jspecify.annotations.Nullable;

/** Every change of every record, newest first; what would spoil a blind verdict is left out for whoever is to give one. */
final class HistoryApi {

    private static final int MOST = 500;

    /** Tables whose rows hold an opinion on a fate. */
    private static final Set<String> OPINIONS = Set.of("verdict", "reading", "mark");

    private final Desk desk;
    private final Gate gate;

    HistoryApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(new Route("GET", "/api/history", Role.VIEW, this::history));
    }

    private void history(Context ctx) throws Exception {
        String animal = ctx.queryParam("animal");
        String who = Desk.whoOrNull(ctx, gate.device(ctx));
        Map<String, Object> answer = desk.look(store -> {
            Map<String, String> animals = new HashMap<>();
            for (RecordingRow row : store.all(RecordingRow.class)) {
                animals.put(row.sha256(), row.animal());
            }
            List<HistoryEntry> newest = new ArrayList<>();
            for (HistoryEntry e : store.history()) {
                if (animal == null || animal.equalsIgnoreCase(animalOf(e, animals))) {
                    newest.add(e);
                }
            }
            Collections.reverse(newest);
            Map<String, Boolean> blind = new HashMap<>();
            List<Map<String, @Nullable Object>> shown = new ArrayList<>();
            for (HistoryEntry e : newest.subList(0, Math.min(newest.size(), MOST))) {
                shown.add(shown(e, OPINIONS.contains(e.table()) && hidden(store, e, animals, who, blind)));
            }
            return Map.of("total", newest.size(), "entries", shown);
        });
        Json.answer(ctx, answer);
    }

    private static boolean hidden(
            StudyStore store,
            HistoryEntry e,
            Map<String, String> animals,
            @Nullable String who,
            Map<String, Boolean> blind)
            throws Exception {
        if (e.who().equalsIgnoreCase(who) && !e.table().equals("reading")) {
            return false;
        }
        String animal = animalOf(e, animals);
        Boolean known = blind.get(animal);
        if (known == null) {
            known = Blindness.isBlind(store, animal, who);
            blind.put(animal, known);
        }
        return known;
    }

    /** The animal an entry belongs to, or its key's first part where it is of none. */
    private static String animalOf(HistoryEntry e, Map<String, String> animals) throws Exception {
        String first = e.key().split(" / ", 2)[0];
        String row = e.after() == null ? e.before() : e.after();
        if (row != null) {
            JsonNode cells = Json.MAPPER.readTree(row);
            if (cells.hasNonNull("animal")) {
                return cells.path("animal").asText();
            }
            if (cells.hasNonNull("recordingSha256")) {
                return animals.getOrDefault(cells.path("recordingSha256").asText(), first);
            }
        }
        return animals.getOrDefault(first, first);
    }

    private static Map<String, @Nullable Object> shown(HistoryEntry e, boolean hidden) {
        Map<String, @Nullable Object> shown = new LinkedHashMap<>();
        shown.put("number", e.number());
        shown.put("atUtc", e.atUtc());
        shown.put("who", e.who());
        shown.put("what", e.what());
        shown.put("table", e.table());
        shown.put("key", e.key());
        shown.put("hidden", hidden);
        shown.put("before", hidden ? null : e.before());
        shown.put("after", hidden ? null : e.after());
        return shown;
    }
}
