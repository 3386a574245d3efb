package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.LayoutJson;
import org.aftercast.voyage.LoadRequest;
import org.jspecify.annotations.Nullable;

/**
 * How a page wants one or more downloads to be read.
 *
 * @param ids the downloads, in the order in which they are joined
 * @param layouts none (guess), one for all, or one per file
 * @param options what is known about the time beyond the layouts
 * @param clock what is known about the logger's clock, or null
 * @param battery what the battery was like at read-out
 * @param secondCopy folder for a second copy, or null
 */
record LoadWish(
        List<String> ids,
        List<DownloadLayout> layouts,
        ImportOptions options,
        DownloadLayout.@Nullable ClockNotes clock,
        LoadRequest.Battery battery,
        @Nullable Path secondCopy) {

    private static final int MOST_FILES = 200;

    static LoadWish of(JsonNode body) throws ApiException, IOException {
        List<String> ids = new ArrayList<>();
        body.path("downloads").forEach(id -> ids.add(id.asText()));
        if (ids.isEmpty() || ids.size() > MOST_FILES || ids.stream().distinct().count() != ids.size()) {
            throw ApiException.badInput("downloads: accepted: the ids of 1 to " + MOST_FILES + " files, each once");
        }
        return new LoadWish(
                List.copyOf(ids), layouts(body), options(body), clock(body.path("clock")), battery(body), copy(body));
    }

    private static List<DownloadLayout> layouts(JsonNode body) throws IOException {
        List<DownloadLayout> layouts = new ArrayList<>();
        int number = 0;
        for (JsonNode layout : body.path("layouts")) {
            number++;
            layouts.add(LayoutJson.parse("layout " + number, Json.MAPPER.writeValueAsString(layout)));
        }
        return layouts;
    }

    private static ImportOptions options(JsonNode body) throws ApiException {
        try {
            String zone = body.path("zone").asText("").strip();
            JsonNode rate = body.path("rateHz");
            return new ImportOptions(
                    instant(body, "startUtc"), rate.isNumber() ? rate.asDouble() : null, zone.isEmpty() ? null : zone);
        } catch (IllegalArgumentException bad) {
            throw ApiException.badInput("rateHz or zone: " + bad.getMessage());
        }
    }

    private static DownloadLayout.@Nullable ClockNotes clock(JsonNode clock) throws ApiException {
        Instant setLogger = instant(clock, "setLogger");
        Instant setTrue = instant(clock, "setTrue");
        Instant readLogger = instant(clock, "readLogger");
        Instant readTrue = instant(clock, "readTrue");
        if (setLogger == null && setTrue == null && readLogger == null && readTrue == null) {
            return null;
        }
        try {
            return new DownloadLayout.ClockNotes(setLogger, setTrue, readLogger, readTrue);
        } catch (IllegalArgumentException wrong) {
            throw ApiException.badInput(String.valueOf(wrong.getMessage()));
        }
    }

    private static @Nullable Instant instant(JsonNode body, String field) throws ApiException {
        String text = body.path(field).asText("").strip();
        if (text.isEmpty()) {
            return null;
        }
        try {
            return Instant.parse(text);
        } catch (DateTimeException bad) {
            throw ApiException.badInput(
                    field + ": \"" + text + "\" is no instant; accepted: UTC like 2026-06-01T14:05:00Z");
        }
    }

    private static LoadRequest.Battery battery(JsonNode body) throws ApiException {
        String word = body.path("battery").asText("");
        return switch (word) {
            case "", "null", "not-noted" -> LoadRequest.Battery.NOT_NOTED;
            case "ok" -> LoadRequest.Battery.OK;
            case "low" -> LoadRequest.Battery.LOW;
            default -> throw ApiException.badInput("battery: \"" + word + "\"; accepted: ok, low, not-noted");
        };
    }

    private static @Nullable Path copy(JsonNode body) throws ApiException {
        String text = body.path("secondCopy").asText("").strip();
        if (text.isEmpty() || text.equals("null")) {
            return null;
        }
        try {
            Path folder = Path.of(text).normalize();
            if (folder.isAbsolute()) {
                return folder;
            }
        } catch (InvalidPathException bad) {
            // said below
        }
        throw ApiException.badInput("secondCopy: \"" + text + "\" is no whole path of a folder; accepted: one that"
                + " begins at the root or with a drive, best on another disk");
    }

    /** The same layouts with the clock notes that were given beside them. */
    List<DownloadLayout> layoutsWithClock() {
        return clock == null
                ? layouts
                : layouts.stream().map(layout -> layout.withClock(clock)).toList();
    }
}
