package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BiConsumer;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.intake.LayoutJson;
import org.aftercast.voyage.ExplainDownload;
import org.aftercast.voyage.LoadDownload;
import org.aftercast.voyage.LoadRequest;
import org.aftercast.voyage.Loaded;
import org.jspecify.annotations.Nullable;

/** Downloads: brought to this machine, looked at, corrected, loaded with progress, or given up. */
final class LoadApi implements AutoCloseable {

    private static final long LARGEST_DOWNLOAD_BYTES = 4_000_000_000L;
    private static final long TELL_EVERY_MS = 200;

    private final Desk desk;
    private final Gate gate;
    private final Jobs jobs = new Jobs();
    private final Map<String, Path> arrived = new ConcurrentHashMap<>();
    private @Nullable Path folder;

    LoadApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("POST", "/api/downloads", Role.RECORD, this::arrive),
                new Route("POST", "/api/downloads/{id}/explain", Role.RECORD, this::explain),
                new Route("POST", "/api/downloads/{id}/load", Role.RECORD, this::load),
                new Route("GET", "/api/work/{id}", Role.VIEW, this::follow),
                new Route("POST", "/api/work/{id}/cancel", Role.RECORD, this::cancel));
    }

    /** Files that arrive are kept outside the study until they are loaded. */
    private synchronized Path folder() throws IOException {
        if (folder == null) {
            folder = Files.createTempDirectory("aftercast-arrived-");
        }
        return folder;
    }

    private void arrive(Context ctx) throws Exception {
        String name = ctx.queryParam("name");
        String plain =
                name == null ? "" : name.replaceAll("[^A-Za-z0-9._-]", "_").replaceAll("^\\.+", "");
        if (plain.isBlank()) {
            throw ApiException.badInput("name: say what the file is called");
        }
        String id = UUID.randomUUID().toString();
        Path own = Files.createDirectory(folder().resolve(id));
        Path file = own.resolve(plain.substring(0, Math.min(80, plain.length())));
        long bytes = 0;
        try (InputStream in = ctx.req().getInputStream();
                OutputStream out = Files.newOutputStream(file)) {
            byte[] buffer = new byte[1 << 16];
            int n = in.read(buffer);
            while (n >= 0) {
                bytes += n;
                if (bytes > LARGEST_DOWNLOAD_BYTES) {
                    throw new ApiException(
                            ApiException.Kind.TOO_LARGE,
                            "the file is too large; accepted: up to " + LARGEST_DOWNLOAD_BYTES + " bytes");
                }
                out.write(buffer, 0, n);
                n = in.read(buffer);
            }
        } catch (IOException | ApiException failure) {
            Files.deleteIfExists(file);
            throw failure;
        }
        arrived.put(id, file);
        Json.answer(ctx, Map.of("id", id, "name", String.valueOf(file.getFileName()), "bytes", bytes));
    }

    private Path file(Context ctx) throws ApiException {
        Path file = arrived.get(ctx.pathParam("id"));
        if (file == null) {
            throw ApiException.notFound("this file is not here any more; choose it again. Nothing was loaded");
        }
        return file;
    }

    private void explain(Context ctx) throws Exception {
        Path file = file(ctx);
        JsonNode body = Json.body(ctx);
        ExplainDownload.Explained explained = ExplainDownload.explain(
                file,
                layout(body),
                options(body),
                file.resolveSibling("rows-" + UUID.randomUUID()),
                ImportProgress.NONE);
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("guess", explained.guess() == null ? null : guess(explained));
        answer.put(
                "layout",
                explained.layout() == null ? null : Json.MAPPER.readTree(LayoutJson.write(explained.layout())));
        answer.put("content", explained.content());
        Json.answer(ctx, answer);
    }

    private static Map<String, Object> guess(ExplainDownload.Explained explained) {
        var guess = java.util.Objects.requireNonNull(explained.guess());
        return Map.of("columns", guess.columns(), "ambiguities", guess.ambiguities(), "notes", guess.notes());
    }

    private static @Nullable DownloadLayout layout(JsonNode body) throws IOException {
        JsonNode layout = body.get("layout");
        return layout == null || layout.isNull()
                ? null
                : LayoutJson.parse("layout", Json.MAPPER.writeValueAsString(layout));
    }

    private static ImportOptions options(JsonNode body) throws ApiException {
        try {
            String start = body.path("startUtc").asText("").strip();
            String zone = body.path("zone").asText("").strip();
            JsonNode rate = body.path("rateHz");
            return new ImportOptions(
                    start.isEmpty() ? null : Instant.parse(start),
                    rate.isNumber() ? rate.asDouble() : null,
                    zone.isEmpty() ? null : zone);
        } catch (DateTimeException | IllegalArgumentException bad) {
            throw ApiException.badInput("startUtc, rateHz or zone: " + bad.getMessage());
        }
    }

    private void load(Context ctx) throws Exception {
        Path file = file(ctx);
        JsonNode body = Json.body(ctx);
        String animal = Json.text(body, "animal");
        String who = Desk.who(ctx, gate.device(ctx));
        DownloadLayout layout = layout(body);
        ImportOptions options = options(body);
        String id = ctx.pathParam("id");
        String work = jobs.start((progress, cancel) -> {
            Loaded loaded = desk.write(() -> new LoadDownload(desk.files(), desk.clock())
                    .load(new LoadRequest(
                            desk.folder(),
                            animal,
                            List.of(file),
                            layout == null ? List.of() : List.of(layout),
                            LoadRequest.Guess.ACCEPTED,
                            options,
                            null,
                            null,
                            LoadRequest.Battery.NOT_NOTED,
                            who,
                            new Told(progress, cancel))));
            arrived.remove(id);
            Files.deleteIfExists(file);
            return Map.of(
                    "animal", loaded.row().animal(),
                    "sha256", loaded.row().sha256(),
                    "card", loaded.card());
        });
        Json.answer(ctx, Map.of("work", work));
    }

    /** Passes on how far the import is, and whether it should stop. */
    private record Told(BiConsumer<Long, Long> progress, AtomicBoolean cancel) implements ImportProgress {
        @Override
        public void at(long bytesDone, long bytesTotal) {
            progress.accept(bytesDone, bytesTotal);
        }

        @Override
        public boolean isCancelled() {
            return cancel.get();
        }
    }

    /** Server-sent events until the work has ended. */
    private void follow(Context ctx) throws Exception {
        String id = ctx.pathParam("id");
        Jobs.State state = jobs.state(id);
        HttpServletResponse response = ctx.res();
        response.setContentType("text/event-stream");
        response.setCharacterEncoding("UTF-8");
        OutputStream out = response.getOutputStream();
        try {
            while (true) {
                out.write(("data: " + Json.MAPPER.writeValueAsString(state) + "\n\n").getBytes(StandardCharsets.UTF_8));
                out.flush();
                if (state.stand() != Jobs.Stand.WAITING && state.stand() != Jobs.Stand.UNDER_WAY) {
                    return;
                }
                Thread.sleep(TELL_EVERY_MS);
                state = jobs.state(id);
            }
        } catch (IOException gone) {
            // The page has gone; the work goes on, and its state can be asked for again.
        }
    }

    private void cancel(Context ctx) throws Exception {
        jobs.cancel(ctx.pathParam("id"));
        Json.answer(ctx, Map.of("asked", true));
    }

    @Override
    public void close() throws IOException {
        jobs.close();
        if (folder != null) {
            desk.files().delete(folder);
        }
    }
}
