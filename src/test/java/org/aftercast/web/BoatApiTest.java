package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import org.aftercast.geo.NmeaSentence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Positions and pings over the JSON interface; the log of positions is invented. */
class BoatApiTest {

    @TempDir
    Path folder;

    private static String rmc(String time, String lat) {
        String body = "GPRMC," + time + ",A," + lat + ",N,00436.000,W,5.0,211.0,030626,,";
        return "$" + body + "*" + NmeaSentence.checksum(body) + "\r\n";
    }

    @Test
    void tellsThePositionOfAReplayedLogAndKeepsTheTrack() throws Exception {
        Path log = folder.resolve("boat.log");
        Files.writeString(
                log,
                rmc("120000", "5218.000") + "$GPRMC,damaged*00\r\n" + rmc("120010", "5218.060")
                        + rmc("120020", "5218.120"));
        Path study = folder.resolve("study");
        try (Served served = Served.empty(study)) {
            JsonNode none = served.json("GET", "/api/gps", "");
            assertThat(none.path("source").isNull()).isTrue();
            assertThat(none.path("stale").asBoolean()).isTrue();

            served.json("PUT", "/api/gps", "{\"source\":\"log:" + log + ":1000000\"}");
            JsonNode now = none;
            for (int i = 0; i < 200 && !now.path("link").asText().equals("replay ended"); i++) {
                Thread.sleep(25);
                now = served.json("GET", "/api/gps", "");
            }
            assertThat(now.path("position").path("latDeg").asDouble()).isCloseTo(52.302, within(1e-9));
            assertThat(now.path("stale").asBoolean()).isFalse();
            assertThat(now.path("gpsTime").asText()).isEqualTo("2026-06-03T12:00:20Z");
            assertThat(now.path("courseDeg").asDouble()).isEqualTo(211);
            assertThat(now.path("counts").path("refused").asInt()).isEqualTo(1);
            assertThat(now.path("problems").get(0).asText()).contains("checksum");

            JsonNode track = served.json("GET", "/api/gps/track", "");
            assertThat(track.path("geometry").path("coordinates")).hasSize(3);
        }
        assertThat(study.resolve("tracks/2026-06-03.csv"))
                .content()
                .startsWith("time,lat,lon\n2026-06-03T12:00:00Z,52.300000,-4.600000\n")
                .contains("52.302000");
    }

    @Test
    void refusesWhatIsNoSource() throws Exception {
        try (Served served = Served.empty(folder.resolve("study"))) {
            for (String source : new String[] {"carrier pigeon", "tcp:host:99999", "log:/nowhere/at/all.log"}) {
                HttpResponse<String> answer = served.send("PUT", "/api/gps", "{\"source\":\"" + source + "\"}");
                assertThat(answer.statusCode()).as(source).isEqualTo(400);
                assertThat(answer.body()).contains("gps");
            }
        }
    }

    @Test
    void refusesSoundThatIsNone() throws Exception {
        try (Served served = Served.empty(folder.resolve("study"))) {
            HttpResponse<String> answer = served.send("POST", "/api/pings", "no sound");
            assertThat(answer.statusCode()).isEqualTo(400);
            assertThat(answer.body()).contains("accepted: uncompressed WAV");
            HttpResponse<String> seconds = served.send("POST", "/api/pings/line?seconds=500", "");
            assertThat(seconds.statusCode()).isEqualTo(400);
            assertThat(seconds.body()).contains("1–120");
        }
    }
}
