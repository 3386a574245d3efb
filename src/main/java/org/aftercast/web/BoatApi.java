package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.io.Closeable;
import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.geo.OwnShip;
import org.aftercast.search.PingMeter;
import org.aftercast.voyage.BoatTrack;
import org.aftercast.voyage.HearPings;
import org.aftercast.voyage.OwnGps;
import org.jspecify.annotations.Nullable;

/** The boat's own position and track, and the ping meter. */
final class BoatApi implements Closeable {

    private final OwnGps gps;
    private final Object listening = new Object();

    BoatApi(Desk desk) {
        this.gps = new OwnGps(desk.folder(), desk.files(), desk.clock());
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/gps", Role.VIEW, this::position),
                new Route("PUT", "/api/gps", Role.RECORD, this::listenTo),
                new Route("GET", "/api/gps/track", Role.VIEW, this::track),
                new Route("POST", "/api/pings", Role.VIEW, this::pingsOfSound),
                new Route("POST", "/api/pings/line", Role.RECORD, this::pingsOfLine));
    }

    void listenTo(@Nullable String source) throws Exception {
        gps.listenTo(source);
    }

    private void position(Context ctx) throws Exception {
        OwnGps.State state = gps.state();
        OwnShip ship = state.ownShip();
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("source", state.source());
        answer.put("link", state.link());
        answer.put("position", ship.position());
        answer.put("gpsTime", ship.gpsTime());
        answer.put("ageS", state.ageS());
        answer.put("stale", state.stale());
        answer.put("speedMps", ship.speedMps());
        answer.put("courseDeg", ship.courseDeg());
        answer.put("headingTrueDeg", ship.headingTrueDeg());
        answer.put("headingMagneticDeg", ship.headingMagneticDeg());
        answer.put("satellites", ship.satellites());
        answer.put("counts", state.counts());
        List<String> problems = state.problems();
        answer.put("problems", problems.subList(Math.max(0, problems.size() - 5), problems.size()));
        answer.put("accepted", OwnGps.ACCEPTED);
        Json.answer(ctx, answer);
    }

    private void listenTo(Context ctx) throws Exception {
        // What is opened lies on this machine or its network: a paired telephone may look, not choose.
        if (!Gate.isThisMachine(ctx)) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED, "the source of positions is chosen on the machine that serves");
        }
        JsonNode source = Json.body(ctx).path("source");
        gps.listenTo(source.isTextual() ? source.asText() : null);
        position(ctx);
    }

    private void track(Context ctx) throws Exception {
        List<List<Double>> line = gps.track().stream()
                .map((BoatTrack.Point p) -> List.of(p.lonDeg(), p.latDeg()))
                .toList();
        List<String> times = gps.track().stream().map(p -> p.time().toString()).toList();
        Object geometry = line.size() < 2
                ? Map.of("type", "MultiPoint", "coordinates", line)
                : Map.of("type", "LineString", "coordinates", line);
        Json.answer(ctx, Map.of("type", "Feature", "properties", Map.of("times", times), "geometry", geometry));
    }

    private void pingsOfSound(Context ctx) throws Exception {
        Json.answer(ctx, HearPings.bytes(ctx.bodyAsBytes(), settings(ctx)));
    }

    private void pingsOfLine(Context ctx) throws Exception {
        double seconds = number(ctx, "seconds", 10);
        PingMeter.Settings settings = settings(ctx);
        synchronized (listening) {
            Json.answer(ctx, HearPings.lineInput(seconds, settings));
        }
    }

    private static PingMeter.Settings settings(Context ctx) throws ApiException {
        PingMeter.Settings usual = PingMeter.Settings.defaults();
        double low = number(ctx, "leastPerMinute", usual.leastPerMinute());
        double high = number(ctx, "mostPerMinute", usual.mostPerMinute());
        try {
            return new PingMeter.Settings(usual.lowHz(), usual.highHz(), low, high, usual.longestS());
        } catch (IllegalArgumentException bad) {
            throw ApiException.badInput(String.valueOf(bad.getMessage()));
        }
    }

    private static double number(Context ctx, String name, double otherwise) throws ApiException {
        String text = ctx.queryParam(name);
        if (text == null || text.isBlank()) {
            return otherwise;
        }
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException bad) {
            throw ApiException.badInput(name + ": \"" + text + "\" is not a number");
        }
    }

    @Override
    public void close() throws IOException {
        gps.close();
    }
}
