package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.awt.image.BufferedImage;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import javax.imageio.ImageIO;
import org.aftercast.voyage.VerifyStudy;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.support.ui.Select;

/** Checklist, photographs, sightings, and a search with the boat's GPS and a sweep, in a real browser. */
class DeckPagesTest extends PagesTest {

    @Override
    void prepare() throws Exception {
        served.json("PUT", "/api/animals/D1?who=kp", """
                {"new": true, "cells": {"packageSerial": "P1", "frequencyMHz": "150.1",
                 "releaseLatDeg": "52.4", "releaseLonDeg": "-4.6", "plannedDetachmentUtc": "2026-06-03T08:00Z"}}""");
    }

    private JsonNode deck() throws Exception {
        return served.json("GET", "/api/animals/D1/deck", "");
    }

    @Test
    @Order(1)
    void theChecklistIsFilledStepByStepAndKeptOverAReload() throws Exception {
        browser.size(390, 844);
        browser.open("study");
        browser.click("[data-animal='D1'] a.button");
        browser.ready("deck");
        assertThat(browser.text())
                .contains("Still to do: still poses, taps timed by GPS (0 of 3), beacon heard in air");
        browser.click("input[data-cell=stillPoses][value=done]");
        browser.type("input[data-cell=tap1Utc]", "2026-06-01T09:50:01Z");
        browser.open("deck/D1");
        assertThat(browser.text()).contains("Not saved yet");
        assertThat(browser.find("input[data-cell=tap1Utc]").getDomProperty("value"))
                .isEqualTo("2026-06-01T09:50:01Z");
        browser.type("input[data-cell=tap2Utc]", "2026-06-01T09:50:06Z");
        browser.type("input[data-cell=tap3Utc]", "2026-06-01T09:50:02Z");
        browser.type("input[data-cell=beaconHeardUtc]", "2026-06-01T09:52:00Z");
        browser.click("input[data-cell=stopRule][value=go-ahead]");
        browser.click("form button.main");
        browser.until("document.querySelector('main [role=alert]')?.innerText.includes('tap3Utc')");
        browser.type("input[data-cell=tap3Utc]", "2026-06-01T09:50:12Z");
        browser.click("form button.main");
        browser.until("document.body.innerText.includes('All is done: ready for release.')");
        browser.accessible("on deck");
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
        assertThat(deck().path("missing")).isEmpty();
        assertThat(served.json("GET", "/api/study", "").toString()).contains("release the animal");
        assertThat(served.json("GET", "/api/history?who=kp", "").toString()).contains("tap3Utc");
    }

    @Test
    @Order(2)
    void somebodyElsesChangeOfTheSameIsNotOverwritten() throws Exception {
        JsonNode error = served.error(
                409,
                "PUT",
                "/api/animals/D1/checklist?who=mo",
                "{\"cells\": {\"stopRule\": \"stop\"}, \"base\": {\"stopRule\": \"not-yet\"}}");
        assertThat(error.path("problems").get(0).path("field").asText()).isEqualTo("stopRule");
        served.error(400, "PUT", "/api/animals/D1/checklist?who=mo", "{\"cells\": {\"stopRule\": \"perhaps\"}}");
        served.error(400, "PUT", "/api/animals/D1/checklist?who=mo", "{\"cells\": {\"other\": \"x\"}}");
        assertThat(deck().path("checklist").path("stopRule").asText()).isEqualTo("go-ahead");
    }

    @Test
    @Order(3)
    void aPhotographIsKeptByteForByteAndASightingPointsToIt() throws Exception {
        BufferedImage image = new BufferedImage(40, 30, BufferedImage.TYPE_INT_RGB);
        image.setRGB(5, 5, 0xff0000);
        Path png = dir.resolve("marks.png");
        ImageIO.write(image, "png", png.toFile());
        browser.find("#photo-file").sendKeys(png.toString());
        browser.type("#photo-caption", "tooth marks (invented)");
        browser.click("form:has(#photo-file) button");
        browser.until("document.querySelector('.gallery img')?.naturalWidth === 40");
        new Select(browser.find("#seen-what")).selectByValue("tooth-marks");
        browser.type("#seen-note", "two rows");
        new Select(browser.find("#seen-photo")).selectByVisibleText("tooth marks (invented)");
        browser.click("form:has(#seen-what) button:not([type=button])");
        browser.until("document.querySelector('.seen')?.innerText.includes('two rows')");
        browser.accessible("on deck with a photograph");

        String sha256 = deck().path("photos").get(0).path("sha256").asText();
        HttpResponse<byte[]> bytes = HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(served.server.address() + "api/photos/" + sha256))
                                .build(),
                        HttpResponse.BodyHandlers.ofByteArray());
        assertThat(bytes.body()).isEqualTo(Files.readAllBytes(png));
        served.error(409, "POST", "/api/animals/D1/photos?who=kp&name=x.txt", "not a photograph");
        served.error(404, "GET", "/api/photos/" + "0".repeat(64), "");
        browser.click(".seen button");
        browser.until("!document.querySelector('.seen')");
        assertThat(deck().path("seen")).isEmpty();
        assertThat(new VerifyStudy(InstantSource.fixed(Served.NOW))
                        .of(served.folder, path -> {})
                        .problems())
                .isEmpty();
    }

    @Test
    @Order(4)
    void theSearchFollowsTheBoatsGpsAndTakesASweep() throws Exception {
        // A GPS that says one place again and again (checksums by NMEA 0183: the exclusive or of what lies between $
        // and *).
        Path log = dir.resolve("gps.log");
        StringBuilder lines = new StringBuilder();
        for (int i = 0; i < 60; i++) {
            String body = String.format(
                    java.util.Locale.ROOT,
                    "GPRMC,12%02d%02d,A,5225.200,N,00433.000,W,4.0,213.0,030626,,",
                    i / 60,
                    i % 60);
            int sum = 0;
            for (char c : body.toCharArray()) {
                sum ^= c;
            }
            lines.append('$').append(body).append(String.format("*%02X\r\n", sum));
        }
        Files.writeString(log, lines);
        served.json("PUT", "/api/animals/D1?who=kp", "{\"cells\": {\"releasedUtc\": \"2026-06-01T10:00Z\"}}");
        browser.size(1280, 900);
        browser.open("search/D1");
        browser.run(
                "const Real = Date; window.Date = class extends Real { constructor(...a) { if (a.length) super(...a);"
                        + " else super('" + Served.NOW + "'); } }");
        browser.click("form button.main");
        browser.until("document.querySelector('.entry')");
        assertThat(browser.text()).contains("No GPS is listened to");
        served.json("PUT", "/api/gps?who=kp", "{\"source\": \"log:" + log + ":1\"}");
        browser.open("search/D1");
        browser.until("document.querySelector('.gps').innerText.includes('52° 25.200′ N, 4° 33.000′ W')");
        browser.until("document.querySelector('#own-lat').value === '52.42000'");
        assertThat(browser.find("#own-lon").getDomProperty("value")).isEqualTo("-4.55000");
        served.json("PUT", "/api/gps?who=kp", "{\"source\": null}");
        browser.click(".more-notes summary");
        browser.run("document.querySelectorAll('.more-notes details').forEach(d => d.open = true)"); // in decibels
        String[] levels = {"12", "18", "24!", "18", "-"};
        for (int i = 0; i < levels.length; i++) {
            browser.type(".level[data-heading='" + 45 * i + "']", levels[i]);
        }
        browser.run(
                "const Real = Date; window.Date = class extends Real { constructor(...a) { if (a.length) super(...a);"
                        + " else super('" + Served.NOW + "'); } }");
        browser.accessible("search with a sweep");
        browser.run("[...document.querySelectorAll('button')].find(b => b.innerText === 'Note sweep').click()");
        browser.until(
                "document.querySelector('.log').innerText.includes('0° 12 dB, 45° 18 dB, 90° 24 dB or more, 135° 18 dB, 180° not heard, true, gain step 1')");
        browser.until("document.querySelector('.next-step')?.innerText.includes('Most likely near')");
        assertThat(served.send("GET", "/api/animals/D1/search/log?form=gpx", "").body())
                .contains("<gpx");
        browser.run("[...document.querySelectorAll('button')].find(b => b.innerText === 'End the search').click()");
        new Select(browser.find("#end-search")).selectByValue("retrieved");
        browser.run("[...document.querySelectorAll('button')].find(b => b.innerText === 'Note the end').click()");
        browser.until("document.body.innerText.includes('The search is over.')");
        assertThat(browser.text()).contains("retrieved from the water, after");
        assertThat(served.json("GET", "/api/study", "").toString()).contains("load the download");
    }
}
