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
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BiConsumer;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.FirstLines;
import org.aftercast.intake.ImportProgress;
import org.aftercast.intake.LayoutGuess;
import org.aftercast.intake.LayoutJson;
import org.aftercast.intake.Scratch;
import org.aftercast.voyage.ExplainDownload;
import org.aftercast.voyage.LoadDownload;
import org.aftercast.voyage.LoadRequest;
import org.aftercast.voyage.Loaded;
import org.jspecify.annotations.Nullable;

/** Downloads: brought to this machine, looked at, corrected, loaded with progress, or given up. */
final class LoadApi implements AutoCloseable {

    private static final long LARGEST_DOWNLOAD_BYTES = 4_000_000_000L;
    private static final long TELL_EVERY_MS = 200;
    private static final int LINES_SHOWN = 60;

    private final Desk desk;
    private final Gate gate;
    private final Jobs jobs = new Jobs();
    private final Map<String, Path> arrived = new ConcurrentHashMap<>();
    /** The look at each first file that is under way; a newer one stops it. */
    private final Map<String, AtomicBoolean> looks = new ConcurrentHashMap<>();

    private @Nullable Scratch scratch;

    LoadApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("POST", "/api/downloads", Role.RECORD, this::arrive),
                new Route("POST", "/api/downloads/explain", Role.RECORD, this::explain),
                new Route("POST", "/api/downloads/load", Role.RECORD, this::load),
                new Route("GET", "/api/jobs/{id}", Role.VIEW, this::follow),
                new Route("POST", "/api/jobs/{id}/cancel", Role.RECORD, this::cancel));
    }

    /** Files that arrive are kept outside the study until they are loaded. */
    private synchronized Path folder() throws IOException {
        if (scratch == null) {
            scratch = Scratch.make("arrived");
        }
        return scratch.folder();
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

    private List<Path> files(LoadWish wish) throws ApiException {
        List<Path> files = new ArrayList<>();
        for (String id : wish.ids()) {
            Path file = arrived.get(id);
            if (file == null) {
                throw ApiException.notFound("this file is not here any more; choose it again. Nothing was loaded");
            }
            files.add(file);
        }
        return files;
    }

    private void explain(Context ctx) throws Exception {
        LoadWish wish = LoadWish.of(Json.body(ctx));
        List<Path> files = files(wish);
        AtomicBoolean overtaken = new AtomicBoolean();
        AtomicBoolean older = looks.put(wish.ids().get(0), overtaken);
        if (older != null) {
            older.set(true);
        }
        Path spill = files.get(0).resolveSibling("rows-" + UUID.randomUUID());
        ImportProgress progress = new Told((done, total) -> {}, overtaken);
        List<DownloadLayout> layouts = wish.layoutsWithClock();
        try {
            List<ExplainDownload.Explained> each;
            ExplainDownload.@Nullable Content content;
            if (files.size() == 1) {
                ExplainDownload.Explained one = ExplainDownload.explain(
                        files.get(0), layouts.isEmpty() ? null : layouts.get(0), wish.options(), spill, progress);
                each = List.of(one);
                content = one.content();
            } else {
                ExplainDownload.Together all =
                        ExplainDownload.together(files, layouts, wish.options(), spill, progress);
                each = all.each();
                content = all.content();
            }
            List<Map<String, @Nullable Object>> shown = new ArrayList<>();
            for (int f = 0; f < files.size(); f++) {
                shown.add(shown(wish.ids().get(f), each.get(f)));
            }
            Map<String, @Nullable Object> answer = new LinkedHashMap<>();
            answer.put("files", shown);
            answer.put("content", content);
            Json.answer(ctx, answer);
        } catch (CancellationException newer) {
            throw new ApiException(ApiException.Kind.CONFLICT, "a newer look at the same file took over");
        } finally {
            looks.remove(wish.ids().get(0), overtaken);
        }
    }

    private static Map<String, @Nullable Object> shown(String id, ExplainDownload.Explained file) throws IOException {
        Map<String, @Nullable Object> shown = new LinkedHashMap<>();
        LayoutGuess guess = file.guess();
        shown.put("id", id);
        shown.put("name", String.valueOf(file.file().getFileName()));
        shown.put(
                "guess",
                guess == null
                        ? null
                        : Map.of(
                                "columns", guess.columns(),
                                "ambiguities", guess.ambiguities(),
                                "notes", guess.notes()));
        shown.put("layout", file.layout() == null ? null : Json.MAPPER.readTree(LayoutJson.write(file.layout())));
        shown.put("lines", guess == null ? null : FirstLines.of(file.file(), LINES_SHOWN));
        return shown;
    }

    private void load(Context ctx) throws Exception {
        JsonNode body = Json.body(ctx);
        LoadWish wish = LoadWish.of(body);
        List<Path> files = files(wish);
        String animal = Json.text(body, "animal");
        String who = Desk.who(ctx, gate.device(ctx));
        if (wish.secondCopy() != null && !Gate.isThisMachine(ctx)) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED,
                    "a second copy is kept on the machine that serves the pages; ask for it there");
        }
        String work = jobs.start((progress, cancel) -> {
            Loaded loaded = desk.write(() -> new LoadDownload(desk.files(), desk.clock())
                    .load(new LoadRequest(
                            desk.folder(),
                            animal,
                            files,
                            wish.layouts(),
                            LoadRequest.Guess.ACCEPTED,
                            wish.options(),
                            wish.clock(),
                            wish.secondCopy(),
                            wish.battery(),
                            who,
                            new Told(progress, cancel))));
            for (int f = 0; f < files.size(); f++) {
                arrived.remove(wish.ids().get(f));
                Files.deleteIfExists(files.get(f));
            }
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
    public void close() {
        jobs.close();
        if (scratch != null) {
            scratch.close();
        }
    }
}
