package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A second device on the network: everything goes over this machine's own network address, which is not the loopback. */
class SharedTest {

    @TempDir
    private Path dir;

    private Served served;
    private String address;
    private final HttpClient client = HttpClient.newHttpClient();

    @BeforeEach
    void start() throws Exception {
        served = Served.empty(dir.resolve("study"), PageServer.Reach.PAIRED_DEVICES);
        List<String> addresses = served.server.networkAddresses();
        Assumptions.assumeFalse(
                addresses.isEmpty(), "this machine has no network address besides the loopback; sharing is not tested");
        address = addresses.get(0);
    }

    @AfterEach
    void end() throws Exception {
        served.close();
    }

    private HttpResponse<String> ask(String method, String path, String body, String... headers) throws Exception {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(address + path.substring(1)))
                .method(method, HttpRequest.BodyPublishers.ofString(body));
        if (headers.length > 0) {
            request.headers(headers);
        }
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    private int status(String method, String path, String body, String cookie) throws Exception {
        return ask(method, path, body, "Cookie", cookie).statusCode();
    }

    private String code(String role) {
        return served.server.pairingCodes().get(role).replace(" ", "");
    }

    private String pair(String role) throws Exception {
        HttpResponse<String> paired =
                ask("POST", "/api/pair", "{\"code\": \"" + code(role) + "\", \"name\": \"phone " + role + "\"}");
        assertThat(paired.body()).contains("\"role\":\"" + role + "\"");
        String cookie = paired.headers().firstValue("Set-Cookie").orElseThrow();
        assertThat(cookie).contains("HttpOnly").containsIgnoringCase("SameSite=Strict");
        return cookie.split(";", 2)[0];
    }

    @Test
    void everyRoleMayDoWhatItSaysAndNoMore() throws Exception {
        String enter = "{\"new\": true, \"cells\": {}}";
        assertThat(ask("GET", "/api/study", "").statusCode()).as("unpaired").isEqualTo(401);
        assertThat(ask("GET", "/", "").statusCode()).as("the page itself").isEqualTo(200);
        String guess = "aftercast-token=guess";
        assertThat(status("GET", "/api/study", "", guess)).isEqualTo(401);

        String view = pair("view");
        assertThat(status("GET", "/api/study", "", view)).isEqualTo(200);
        assertThat(status("PUT", "/api/animals/A1?who=v", enter, view)).isEqualTo(403);
        assertThat(status("POST", "/api/report", "{}", view)).isEqualTo(403);

        String record = pair("record");
        assertThat(status("PUT", "/api/animals/A1", enter, record)).isEqualTo(200);
        assertThat(ask("GET", "/api/history", "", "Cookie", record).body())
                .as("the device's name where no code was typed")
                .contains("phone record");
        assertThat(status("GET", "/api/animals/A1/bench?who=r", "", record)).isEqualTo(403);
        assertThat(status("POST", "/api/animals/A1/verdicts?who=r", "{}", record))
                .isEqualTo(403);

        String judge = pair("judge");
        assertThat(status("GET", "/api/animals/A1/bench?who=j", "", judge))
                .as("allowed, but there is nothing to judge yet")
                .isEqualTo(400);
        assertThat(status("GET", "/api/pairing", "", judge))
                .as("codes of others stay on the laptop")
                .isEqualTo(403);
        assertThat(status("PUT", "/api/gps?who=j", "{\"source\": null}", judge)).isEqualTo(403);
    }

    @Test
    void otherPagesAndOtherNamesAreNotAnswered() throws Exception {
        String record = pair("record");
        HttpResponse<String> foreign = ask(
                "PUT",
                "/api/animals/A1?who=x",
                "{\"new\": true, \"cells\": {}}",
                "Cookie",
                record,
                "Origin",
                "http://elsewhere.example");
        assertThat(foreign.statusCode()).isEqualTo(403);
        assertThat(foreign.headers().firstValue("Content-Security-Policy").orElseThrow())
                .startsWith("default-src 'none'");
        assertThat(ask(
                                "POST",
                                "/api/captures?who=x",
                                "x".repeat((int) PageServer.LARGEST_BODY_BYTES + 1),
                                "Cookie",
                                record)
                        .statusCode())
                .isEqualTo(413);
    }

    @Test
    void theSquareHoldsTheLinkThatPairs() throws Exception {
        JsonNode pairing = served.json("GET", "/api/pairing", "");
        assertThat(pairing.path("addresses").get(0).asText()).isEqualTo(address);
        for (JsonNode code : pairing.path("codes")) {
            String link = code.path("link").asText();
            assertThat(link)
                    .isEqualTo(address + "#/pair?code=" + code.path("code").asText());
            assertThat(read(code.path("qr"))).isEqualTo(link);
        }
        assertThat(served.server.pairingQr()).hasSizeGreaterThan(10);
    }

    /** Draws the rows as a camera would see them and reads them with the library's reader. */
    private static String read(JsonNode rows) throws Exception {
        int scale = 4;
        int side = rows.size() * scale;
        int[] pixels = new int[side * side];
        for (int y = 0; y < side; y++) {
            for (int x = 0; x < side; x++) {
                pixels[y * side + x] = rows.get(y / scale).asText().charAt(x / scale) == '#' ? 0 : 0xffffff;
            }
        }
        return new QRCodeReader()
                .decode(new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(side, side, pixels))))
                .getText();
    }

    @Test
    void aPhonePairsOnThePageAndIsToldWhatItMayNot() throws Exception {
        try (Browser laptop = Browser.at(served.server, dir.resolve("laptop"))) {
            laptop.settings("kp", "day");
            laptop.size(1280, 900);
            laptop.open("pair");
            assertThat(laptop.text())
                    .contains(
                            "Pair another device", served.server.pairingCodes().get("view"));
            assertThat(laptop.run("return document.querySelectorAll('svg.qr').length"))
                    .isEqualTo(3L);
            laptop.accessible("pairing on the laptop");
        }
        try (Browser phone = Browser.at(address, dir.resolve("phone"))) {
            phone.size(390, 844);
            phone.driver.get(address);
            phone.ready("pair");
            phone.driver.get("about:blank");
            phone.driver.get(address + "#/pair?code=" + code("view"));
            phone.ready("pair");
            assertThat(phone.find("#pair-code").getDomProperty("value")).isEqualTo(code("view"));
            phone.accessible("pairing on the phone");
            phone.type("#pair-name", "deck phone");
            phone.click("form button.main");
            phone.ready("study");
            assertThat(phone.text()).contains("view only");
            phone.open("capture/new");
            phone.type("input[name=animal]", "A9");
            phone.click("button[type=submit]");
            phone.until("document.querySelector('[role=alert]')?.innerText.includes('may view only')");
            assertThat(served.json("GET", "/api/study", "").path("animals")).isEmpty();
        }
    }
}
