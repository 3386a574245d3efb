package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The JSON interface against a real server on a real study. */
class ApiTest {

    @TempDir
    private Path dir;

    private Served served;

    @BeforeEach
    void start() throws Exception {
        served = Served.empty(dir.resolve("study"));
    }

    @AfterEach
    void end() throws Exception {
        served.close();
    }

    @Test
    void everyRouteIsDocumentedAndEveryDocumentedRouteIsThere() throws Exception {
        Path docs = Path.of(System.getProperty("aftercast.basedir", ".")).resolve("docs/api.md");
        Set<String> documented = new TreeSet<>();
        Matcher heading =
                Pattern.compile("(?m)^### ((?:GET|PUT|POST) /api/\\S+)$").matcher(Files.readString(docs));
        while (heading.find()) {
            documented.add(heading.group(1));
        }
        Set<String> routes = new TreeSet<>();
        for (Route route : PageServer.routes(
                new Desk(dir, InstantSource.fixed(Served.NOW)),
                new Gate(null),
                new LoadApi(new Desk(dir, InstantSource.fixed(Served.NOW)), new Gate(null)),
                new BoatApi(new Desk(dir, InstantSource.fixed(Served.NOW))))) {
            routes.add(route.method() + " " + route.path());
        }
        assertThat(documented).isEqualTo(routes);
    }

    @Test
    void anAnimalIsEnteredCorrectedAndKeptInTheHistory() throws Exception {
        served.json("PUT", "/api/animals/SH-01?who=kp", """
                {"new": true, "base": {}, "cells": {"fightMin": "12.5", "hookLocation": "jaw"}}""");
        JsonNode animal = served.json("GET", "/api/animals/SH-01", "");
        assertThat(animal.path("cells").path("fightMin").asText()).isEqualTo("12.5");
        assertThat(animal.path("stage").asText()).isEqualTo("planned");

        served.json("PUT", "/api/animals/SH-01?who=kp", """
                {"base": {"fightMin": "12.5"}, "cells": {"fightMin": "14"}}""");
        JsonNode history = served.json("GET", "/api/history?animal=SH-01", "");
        JsonNode newest = history.path("entries").get(0);
        assertThat(newest.path("who").asText()).isEqualTo("kp");
        assertThat(newest.path("before").asText()).contains("\"fightMin\":12.5");
        assertThat(newest.path("after").asText()).contains("\"fightMin\":14.0");
    }

    @Test
    void aBadCellIsNamedAndNothingIsSaved() throws Exception {
        JsonNode error = served.error(400, "PUT", "/api/animals/SH-01?who=kp", """
                {"new": true, "cells": {"fightMin": "99999", "hookLocation": "knee"}}""");
        assertThat(error.path("kind").asText()).isEqualTo("bad-input");
        assertThat(error.path("problems").findValuesAsText("field")).contains("fightMin", "hookLocation");
        assertThat(served.json("GET", "/api/study", "").path("animals")).isEmpty();
    }

    @Test
    void whoeverComesSecondIsToldAndOverwritesNothing() throws Exception {
        served.json("PUT", "/api/animals/A1?who=kp", """
                {"new": true, "cells": {"fightMin": "10"}}""");
        served.json("PUT", "/api/animals/A1?who=kp", """
                {"base": {"fightMin": "10"}, "cells": {"fightMin": "11"}}""");
        JsonNode error = served.error(409, "PUT", "/api/animals/A1?who=mo", """
                {"base": {"fightMin": "10"}, "cells": {"fightMin": "12"}}""");
        assertThat(error.path("problems").get(0).path("text").asText()).contains("11", "12");
        assertThat(served.json("GET", "/api/animals/A1", "")
                        .path("cells")
                        .path("fightMin")
                        .asText())
                .isEqualTo("11");
        // Another cell of the same animal does not collide.
        served.json("PUT", "/api/animals/A1?who=mo", """
                {"base": {"lengthM": ""}, "cells": {"lengthM": "0.8"}}""");
    }

    @Test
    void theCaptureTableGoesOutAndComesBackUnchanged() throws Exception {
        String csv = "animal,fightMin,packageSerial,frequencyMHz\nA1,3,P1,148.1\nA2,4,P2,148.2\n";
        JsonNode result = served.json("POST", "/api/captures?who=kp", csv);
        assertThat(result.path("added").asInt()).isEqualTo(2);
        HttpResponse<String> out = served.send("GET", "/api/captures.csv", "");
        assertThat(out.headers().firstValue("Content-Type"))
                .hasValueSatisfying(t -> assertThat(t).startsWith("text/csv"));
        JsonNode again = served.json("POST", "/api/captures?existing=replace&who=kp", out.body());
        assertThat(again.path("unchanged").asInt()).isEqualTo(2);
        assertThat(again.path("changed").asInt()).isZero();
    }

    @Test
    void collidingFrequenciesAreRefused() throws Exception {
        JsonNode error = served.error(
                400,
                "POST",
                "/api/captures?who=kp",
                "animal,packageSerial,frequencyMHz\nA1,P1,148.100\nA2,P2,148.101\n");
        assertThat(error.path("problems").toString()).contains("kHz apart");
    }

    @Test
    void aRestartedServerHasLostNothing() throws Exception {
        served.json("PUT", "/api/animals/A1?who=kp", """
                {"new": true, "cells": {"fightMin": "10"}}""");
        served.close();
        try (Served other = Served.again(served.folder)) {
            assertThat(other.json("GET", "/api/study", "").path("animals")).hasSize(1);
        }
    }

    @Test
    void changesNeedToSayWho() throws Exception {
        JsonNode error = served.error(400, "PUT", "/api/animals/A1", "{\"new\": true, \"cells\": {}}");
        assertThat(error.path("problems").get(0).path("field").asText()).isEqualTo("who");
    }

    @Test
    void unknownRoutesAndAnimalsAreNotFoundInTheOneShape() throws Exception {
        for (String path : List.of("/api/nothing", "/api/animals/X", "/no-page.html", "/..%2fpom.xml")) {
            JsonNode error =
                    Json.MAPPER.readTree(served.send("GET", path, "").body()).path("error");
            assertThat(error.path("message").asText()).as(path).isNotBlank();
            assertThat(error.path("kind").asText()).as(path).isIn("not-found", "bad-input");
        }
    }

    @Test
    void pagesOfOthersCanNeitherChangeNorRead() throws Exception {
        JsonNode posted = served.error(
                403,
                "PUT",
                "/api/animals/A1?who=x",
                "{\"new\": true, \"cells\": {}}",
                "Origin",
                "http://elsewhere.example");
        assertThat(posted.path("kind").asText()).isEqualTo("not-allowed");
        served.error(403, "GET", "/api/study", "", "Sec-Fetch-Site", "cross-site");
        // A name of somebody else's that points at this machine.
        assertThat(withHost("elsewhere.example:80")).startsWith("HTTP/1.1 403");
        assertThat(withHost("localhost:" + served.server.port())).startsWith("HTTP/1.1 200");
        assertThat(served.json("GET", "/api/study", "").path("animals")).isEmpty();
    }

    private String withHost(String host) throws Exception {
        try (Socket socket = new Socket("127.0.0.1", served.server.port())) {
            PrintWriter out = new PrintWriter(socket.getOutputStream(), true, StandardCharsets.US_ASCII);
            out.print("GET /api/study HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n");
            out.flush();
            return new BufferedReader(new InputStreamReader(socket.getInputStream(), StandardCharsets.US_ASCII))
                    .readLine();
        }
    }

    @Test
    void everyAnswerCarriesThePolicyThatKeepsThePagesToThemselves() throws Exception {
        for (String path : List.of("/", "/api/study", "/js/main.js", "/api/nothing")) {
            HttpResponse<String> response = served.send("GET", path, "");
            assertThat(response.headers().firstValue("Content-Security-Policy"))
                    .as(path)
                    .hasValueSatisfying(policy -> assertThat(policy)
                            .contains("default-src 'none'")
                            .doesNotContain("http")
                            .doesNotContain("unsafe"));
            assertThat(response.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
        }
    }

    @Test
    void tooLargeABodyIsRefused() throws Exception {
        String large = "x".repeat((int) PageServer.LARGEST_BODY_BYTES + 1);
        HttpResponse<String> response = served.send("POST", "/api/captures?who=kp", large);
        assertThat(response.statusCode()).isEqualTo(413);
        assertThat(Json.MAPPER
                        .readTree(response.body())
                        .path("error")
                        .path("kind")
                        .asText())
                .isEqualTo("too-large");
    }
}
