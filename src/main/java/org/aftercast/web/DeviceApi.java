package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.util.ArrayList;
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
                new Route("GET", "/api/pairing", Role.JUDGE, this::pairing),
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

    /** Addresses, codes and QR codes: on this machine only, for somebody with another device in hand. */
    private void pairing(Context ctx) throws Exception {
        Pairing pairing = gate.pairing();
        if (!Gate.isThisMachine(ctx)) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED, "pairing codes are shown on the machine that serves only");
        }
        List<Map<String, Object>> codes = new ArrayList<>();
        List<String> addresses = pairing == null
                ? List.of()
                : pairing.addresses().stream()
                        .sorted()
                        .map(a -> "http://" + a + ":" + ctx.req().getLocalPort() + "/")
                        .toList();
        if (pairing != null) {
            for (Role role : Role.values()) {
                String code = pairing.codes().get(role);
                if (code != null) {
                    String link = addresses.isEmpty() ? "" : pairLink(addresses.get(0), code);
                    codes.add(Map.of(
                            "role", role,
                            "code", code,
                            "link", link,
                            "qr", link.isEmpty() ? List.of() : QrCode.rows(link)));
                }
            }
        }
        Json.answer(ctx, Map.of("shared", pairing != null, "addresses", addresses, "codes", codes));
    }

    /** The address that opens the pairing page with a code filled in. */
    static String pairLink(String address, String code) {
        return address + "#/pair?code=" + code;
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
