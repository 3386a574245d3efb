package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What this device may do, and pairing. */
final class DeviceApi {

    private final Gate gate;

    DeviceApi(Gate gate) {
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/device", Role.NOBODY, this::device),
                new Route("POST", "/api/pair", Role.NOBODY, this::pair));
    }

    private void device(Context ctx) throws Exception {
        Pairing.Device device = gate.device(ctx);
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("role", gate.roleOf(ctx));
        answer.put("name", device == null ? null : device.name());
        answer.put("shared", gate.shared());
        answer.put("thisMachine", Gate.isThisMachine(ctx));
        Json.answer(ctx, answer);
    }

    private void pair(Context ctx) throws Exception {
        Pairing pairing = gate.pairing();
        if (pairing == null) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED,
                    "the pages are not shared; start them with: aftercast serve DIR --share");
        }
        JsonNode body = Json.body(ctx);
        String token = pairing.pair(Json.text(body, "code"), Json.text(body, "name"));
        Cookie cookie = new Cookie(Gate.TOKEN_COOKIE, token);
        cookie.setPath("/");
        cookie.setHttpOnly(true);
        cookie.setSameSite(SameSite.STRICT);
        ctx.cookie(cookie);
        Pairing.Device device = pairing.deviceOf(token);
        Json.answer(ctx, Map.of("role", device == null ? Role.NOBODY : device.role()));
    }
}
