package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;

/** Whoever is still to judge an animal learns from no route what the program or another reader thinks of it. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class BlindApiTest {

    @TempDir
    private static Path dir;

    private Served served;

    @BeforeAll
    void start() throws Exception {
        served = Served.empty(dir.resolve("study"));
        served.json("PUT", "/api/animals/A1?who=crew", """
                {"new": true, "cells": {"fightMin": "31", "packageSerial": "P1", "frequencyMHz": "150.1",
                 "releasedUtc": "2026-06-01T10:00Z", "plannedDetachmentUtc": "2026-06-01T18:00Z"}}""");
        InventedStudy.load(
                served.folder, "A1", InventedStudy.download(dir.resolve("sim"), "swallowed-by-warm", 8, 20, 5));
        InventedStudy.read(served.folder);
        served.json(
                "POST", "/api/animals/A1/marks?who=crew", "{\"startS\": 10, \"endS\": 20, \"remark\": \"eaten here\"}");
    }

    @AfterAll
    void end() throws Exception {
        served.close();
    }

    private JsonNode recording(String who) throws Exception {
        return served.json("GET", "/api/animals/A1/recording?who=" + who, "");
    }

    private String everything(String who) throws Exception {
        return recording(who)
                + served.json("GET", "/api/animals/A1/bench?who=" + who, "")
                        .toString()
                        .replaceAll("\"(animalFates|recordEnds)\":\\[[^]]*]", "")
                + served.json("GET", "/api/history?who=" + who, "")
                + served.json("GET", "/api/findings?who=" + who, "").path("animals")
                + served.json("GET", "/api/judging?who=" + who, "");
    }

    private void giveVerdict(String who, String fate, int status) throws Exception {
        String body = "{\"animalFate\": \"" + fate
                + "\", \"recordEnd\": \"logger-stopped\", \"changeUtc\": \"2026-06-01T12:00:00Z\", \"reason\": \"by me\"}";
        if (status == 200) {
            served.json("POST", "/api/animals/A1/verdicts?who=" + who, body);
        } else {
            served.error(status, "POST", "/api/animals/A1/verdicts?who=" + who, body);
        }
    }

    @Test
    @Order(1)
    void theProgramHasAnOpinionThatCouldBeToldAtAll() throws Exception {
        served.json("POST", "/api/animals/A1/look?who=crew", "{}");
        assertThat(everything("crew")).contains("inside-predator", "eaten here");
    }

    @Test
    @Order(2)
    void aReaderToBeSeesMeasuresAndNoOpinion() throws Exception {
        for (String who : new String[] {"kp", ""}) {
            JsonNode meta = recording(who);
            assertThat(meta.path("sight").asText()).isEqualTo("blind");
            assertThat(meta.path("reading").path("beatCount").asInt()).isPositive();
            assertThat(meta.path("reading").path("bouts").isNull()).isTrue();
            assertThat(meta.path("reading").path("detachment").isNull()).isTrue();
            assertThat(meta.path("reading").path("recovery").isNull()).isTrue();
            assertThat(meta.path("marks")).isEmpty();
        }
        assertThat(everything("kp"))
                .doesNotContain("inside-predator")
                .doesNotContain("predator-attack")
                .doesNotContain("eaten")
                .doesNotContain("probabilities");
        JsonNode bench = served.json("GET", "/api/animals/A1/bench?who=kp", "");
        assertThat(bench.path("capture").isNull()).isTrue();
        assertThat(bench.path("opinion").isNull()).isTrue();
        assertThat(bench.toString()).doesNotContain("fightMin");
    }

    @Test
    @Order(3)
    void whoeverLookedCannotJudgeBlind() throws Exception {
        giveVerdict("crew", "eaten", 400);
        JsonNode bench = served.json("GET", "/api/animals/A1/bench?who=crew", "");
        assertThat(bench.path("looked").asBoolean()).isTrue();
        assertThat(bench.path("next").isNull()).isTrue();
        assertThat(recording("crew").path("marks").toString())
                .contains("Looked at the program's reading before judging: crew");
    }

    @Test
    @Order(4)
    void afterTheFirstVerdictItsReaderSeesAllAndTheSecondNothing() throws Exception {
        served.json("POST", "/api/animals/A1/marks?who=mo", "{\"startS\": 1, \"endS\": 2, \"remark\": \"mo's own\"}");
        giveVerdict("kp", "eaten", 200);
        assertThat(recording("kp").path("reading").path("bouts")).isNotEmpty();
        assertThat(everything("kp")).contains("inside-predator", "by me", "eaten here");
        assertThat(everything("mo"))
                .contains("mo's own")
                .doesNotContain("by me")
                .doesNotContain("eaten")
                .doesNotContain("inside-predator");
        giveVerdict("mo", "died", 200);
        assertThat(everything("mo")).contains("inside-predator", "by me", "eaten here");
        assertThat(recording("").path("sight").asText())
                .as("both are given: nobody is blind any more")
                .isEqualTo("open");
    }
}
