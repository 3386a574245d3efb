package org.aftercast.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;

/** The pages' own files, and the parts they use, from the class path. */
final class Assets {

    private static final Pattern PLAIN = Pattern.compile("[a-z0-9A-Z/_-]+(\\.[a-zA-Z0-9_-]+)+");

    private static final Map<String, String> TYPES = Map.of(
            "html", "text/html; charset=utf-8",
            "js", "text/javascript; charset=utf-8",
            "css", "text/css; charset=utf-8",
            "svg", "image/svg+xml",
            "png", "image/png",
            "json", "application/json",
            "ttf", "font/ttf");

    /** Parts, ready-made, out of their jars. */
    private static final Map<String, String> PARTS = Map.of(
            "parts/leaflet.js", "/META-INF/resources/webjars/leaflet/1.9.4/dist/leaflet-src.esm.js",
            "parts/leaflet.css", "/META-INF/resources/webjars/leaflet/1.9.4/dist/leaflet.css");

    private final Map<String, byte[]> kept = new ConcurrentHashMap<>();

    void serve(Context ctx) throws ApiException, IOException {
        String name = ctx.path().equals("/") ? "index.html" : ctx.path().substring(1);
        if (!PLAIN.matcher(name).matches()) {
            throw ApiException.notFound("there is no page " + ctx.path());
        }
        byte[] bytes = kept.get(name);
        if (bytes == null) {
            bytes = read(name);
            kept.put(name, bytes);
        }
        String type = TYPES.get(name.substring(name.lastIndexOf('.') + 1));
        ctx.contentType(type == null ? "application/octet-stream" : type).result(bytes);
    }

    private static byte[] read(String name) throws IOException, ApiException {
        String part = PARTS.get(name);
        String resource = part != null ? part : "/org/aftercast/web/" + name;
        try (InputStream in = Assets.class.getResourceAsStream(resource)) {
            if (in == null) {
                throw ApiException.notFound("there is no page /" + name);
            }
            return in.readAllBytes();
        }
    }
}
