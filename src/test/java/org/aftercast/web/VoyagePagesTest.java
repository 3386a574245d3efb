package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.function.UnaryOperator;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.EstimateStudy;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** One animal from its capture to the report, through the pages, in a real browser. The tests follow one another. */
class VoyagePagesTest extends PagesTest {

    private Path csv;

    @Override
    void prepare() throws Exception {
        csv = InventedStudy.download(dir.resolve("sim"), "survives", 1.0, 20, 4);
    }

    @Test
    @Order(1)
    void anAnimalIsAddedOnAPhone() throws Exception {
        browser.size(390, 844);
        browser.open("capture/new");
        browser.type("input[name=animal]", "SH-01");
        browser.type("input[name=fightMin]", "8");
        browser.type("input[name=packageSerial]", "P1");
        JsonNode meta =
                Json.MAPPER.readTree(Files.readString(Path.of(csv.toString().replace(".csv", ".truth.json"))));
        Instant released = Instant.parse(meta.path("startUtc").asText())
                .plusSeconds(meta.path("fate").path("releaseS").asLong());
        browser.type("input[name=releasedUtc]", released.toString());
        browser.click("button[type=submit]");
        browser.ready("study");
        assertThat(browser.text()).contains("SH-01");
    }

    @Test
    @Order(2)
    void itsDownloadIsSeenAndLoaded() {
        browser.size(1280, 900);
        browser.open("load/SH-01");
        browser.accessible("load");
        browser.find("#load-file").sendKeys(csv.toAbsolutePath().toString());
        browser.until("document.body.innerText.includes('What reading it gives')");
        assertThat(browser.text()).contains("accXG", "20 samples per second");
        browser.accessible("load with a guess");
        browser.click(".save-bar button.main");
        browser.until("document.body.innerText.includes('Loaded for SH-01')");
        assertThat(browser.text()).contains("Do not erase the logger yet");
    }

    @Test
    @Order(3)
    void itIsReadAndItsRecordingShown() {
        browser.open("study");
        browser.click("[data-animal='SH-01'] button");
        browser.until("document.querySelector('[data-animal=\"SH-01\"] .stage')?.innerText === 'read'");
        browser.open("recording/SH-01");
        browser.until("document.querySelector('.panels').dataset.ready === 'yes'");
        assertThat(browser.text())
                .contains("You have not judged this animal yet", "burst")
                .doesNotContain("Recovery")
                .doesNotContain("swimming");
        browser.accessible("recording, blind");
        browser.settings("crew", "day");
        browser.open("recording/SH-01");
        browser.run("[...document.querySelectorAll('button')].find(b => b.innerText.startsWith('Show them')).click()");
        browser.until("document.querySelector('.lists')?.innerText.includes('Recovery')");
        assertThat(browser.text()).contains("swimming");
        browser.accessible("recording");
        browser.open("judge/SH-01");
        assertThat(browser.text()).contains("The verdict must come from readers who have not");
        browser.settings("kp", "day");
        browser.open("recording/SH-01");
        browser.until("document.querySelector('.panels').dataset.ready === 'yes'");
    }

    @Test
    @Order(4)
    void keysZoomAndPanAndTheValuesFollow() {
        WebElement plot = browser.find("canvas.plot");
        String before = shown();
        plot.sendKeys("+");
        browser.until("document.querySelector('.panels').dataset.shown !== '" + before + "'");
        String closer = shown();
        plot.sendKeys(Keys.ARROW_RIGHT);
        browser.until("document.querySelector('.panels').dataset.shown !== '" + closer + "'");
        String values = browser.find("#plot-values").getText();
        assertThat(values).contains("Depth").contains("Sway").contains("Beat frequency");
        plot.sendKeys("0");
        browser.until("document.querySelector('.panels').dataset.shown === '" + before + "'");
        // Something is drawn in every panel: the picture is not one colour.
        Object inks = browser.run(
                "const c = document.querySelector('canvas.plot'); const d = c.getContext('2d')"
                        + ".getImageData(0, 0, c.width, c.height).data; const seen = new Set();"
                        + "for (let i = 0; i < d.length; i += 40) seen.add(d[i] << 16 | d[i + 1] << 8 | d[i + 2]); return seen.size");
        assertThat(((Number) inks).intValue()).isGreaterThan(5);
    }

    private String shown() {
        browser.until("document.querySelector('.panels').dataset.shown");
        return String.valueOf(browser.run("return document.querySelector('.panels').dataset.shown"));
    }

    @Test
    @Order(5)
    void aStretchIsMarked() {
        List<WebElement> buttons = browser.driver.findElements(org.openqa.selenium.By.cssSelector(".bar button"));
        buttons.stream()
                .filter(b -> b.getText().equals("Mark"))
                .findFirst()
                .orElseThrow()
                .click();
        browser.type("#mark-remark", "turns here");
        browser.click(".mark button.main");
        browser.until("document.querySelector('.lists').innerText.includes('turns here')");
    }

    @Test
    @Order(6)
    void twoReadersJudgeBlindAndSettle() {
        verdict("kp", "alive-at-end");
        assertThat(browser.text()).contains("What the program thinks", "Evidence");
        browser.accessible("judge with everything shown");
        browser.settings("mo", "day");
        browser.open("judge/SH-01");
        assertThat(browser.text())
                .contains("You see the record and its measures alone")
                .doesNotContain("What the program thinks");
        assertThat(browser.text()).doesNotContain("because it swam");
        browser.accessible("judge, blind");
        verdict("mo", "undecided");
        assertThat(browser.text()).contains("because it swam", "Settle the two verdicts");
        fill("alive-at-end");
        browser.until("document.body.innerText.includes('nothing is left to settle')");
        browser.open("recording/SH-01");
        browser.until("document.querySelector('.lists')?.innerText.includes('Recovery')");
        browser.settings("kp", "day");
    }

    private void verdict(String reader, String fate) {
        browser.settings(reader, "day");
        browser.open("judge/SH-01");
        fill(fate);
        browser.until("document.body.innerText.includes('What the program thinks')");
    }

    private void fill(String fate) {
        browser.click("input[name=animalFate][value=" + fate + "]");
        browser.click("input[name=recordEnd][value=logger-stopped]");
        browser.type("#reason", "because it swam to the end");
        browser.click(".verdict button.main");
    }

    @Test
    @Order(7)
    void theFindingsOpenTheirSourcesAndTheReportIsWritten() throws Exception {
        browser.open("findings");
        assertThat(browser.text()).contains("Share that died within 24 h", "What this cannot say");
        browser.run("[...document.querySelectorAll('button.number')].find(b => b.innerText === '1 animal').click()");
        browser.until("document.querySelector('#source').innerText.includes('SH-01')");
        browser.accessible("findings");
        browser.size(390, 844);
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
        browser.run("[...document.querySelectorAll('button')].find(b => b.innerText === 'Write the report').click()");
        browser.until("document.querySelector('a[href=\"/api/report/report.html\"]')");
        assertThat(served.send("GET", "/api/report/report.html", "").statusCode())
                .isEqualTo(200);
        assertThat(Files.size(served.folder.resolve("reports/report.pdf"))).isGreaterThan(1000);
    }

    @Test
    @Order(8)
    void controlsFisheryAndPlanAreKeptAndShown() throws Exception {
        horizon(0.5);
        browser.size(1280, 900);
        browser.open("findings");
        browser.run("document.querySelector('#fishery').open = true");
        browser.type("#controls-animals", "20");
        browser.type("#controls-died", "21");
        browser.click("#keep-controls");
        browser.until("document.querySelector('.keeping .message')?.innerText.includes('outside 0 to 20')");
        browser.accessible("findings with a problem");
        browser.type("#controls-died", "1");
        browser.click("#keep-controls");
        browser.until("document.body.innerText.includes('Of 20 control animals')");
        browser.type("#fishery-released", "4000");
        browser.type("#fishery-low", "3200");
        browser.type("#fishery-high", "5000");
        browser.type("#fishery-what", "charter boats 2026");
        browser.click("#keep-fishery");
        browser.until("document.body.innerText.includes('In numbers of animals')");
        assertThat(browser.text()).contains("charter boats 2026", "Taking this off the share that died");
        browser.run("document.querySelector('#plan').open = true");
        browser.type("#plan-halfTimeH", "6");
        browser.until("document.querySelector('#plan').innerText.includes('records of other lengths')");
        browser.until("document.querySelector('.plan-figure')?.naturalWidth > 100");
        browser.click("#keep-plan");
        browser.until("document.body.innerText.includes('What was planned, and what came of it')");
        browser.accessible("findings with kept numbers");
        browser.size(390, 844);
        browser.open("findings");
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
        assertThat(browser.find("#fishery-what").getDomProperty("value")).isEqualTo("charter boats 2026");
        browser.size(1280, 900);

        // The command line says the same without any option, and the report too.
        EstimateResult told = new EstimateStudy(FileStore.onDisk())
                .fromStudy(served.folder, null, UnaryOperator.identity(), InstantSource.fixed(Served.NOW))
                .estimate();
        JsonNode shown = served.json("GET", "/api/findings?who=kp", "");
        assertThat(shown.path("estimate").path("scaledUp"))
                .isEqualTo(Json.MAPPER.readTree(Json.MAPPER.writeValueAsString(told.scaledUp())));
        assertThat(told.settings().controls()).isEqualTo(new EstimateSettings.Controls(20, 1));
        served.json("POST", "/api/report?who=kp", "{}");
        String report = Files.readString(served.folder.resolve("reports/report.html"));
        assertThat(report.replace('\u00a0', ' '))
                .contains("Above control animals", "In numbers of animals", "What was planned, and what came of it");
        assertThat(served.folder.resolve("reports/data/plan.json")).exists();

        // Somebody else was quicker: nothing is overwritten.
        served.error(
                409, "POST", "/api/kept/controls?who=mo", "{\"base\": null, \"value\": {\"animals\": 5, \"died\": 0}}");
        browser.open("findings");
        browser.click("#take-back-controls");
        browser.until("!document.body.innerText.includes('Of 20 control animals')");
        assertThat(served.json("GET", "/api/kept", "").path("controls").isNull())
                .isTrue();
        assertThat(served.json("GET", "/api/history", "").toString()).contains("controlAnimals", "removed");
    }

    /** A horizon that the test's short records reach. */
    private void horizon(double hours) throws Exception {
        InstantSource clock = InstantSource.fixed(Served.NOW);
        try (StudyStore store = StudyStore.open(served.folder, StudyStore.Access.WRITE, FileStore.onDisk(), clock)) {
            StudyInfo i = store.info();
            store.change("kp", change -> {
                change.put(new StudyInfo(
                        i.id(),
                        i.title(),
                        i.species(),
                        i.site(),
                        i.timeZone(),
                        i.latDeg(),
                        i.lonDeg(),
                        i.bottomRest(),
                        i.catchDeathH(),
                        i.catchDeathRule(),
                        hours,
                        i.frequencySpacingKHz(),
                        i.packageMassLimitPercent(),
                        i.origin(),
                        i.notes()));
                return 0;
            });
        }
    }

    @Test
    @Order(9)
    void aCancelledLoadLeavesNothing() throws Exception {
        served.json("PUT", "/api/animals/SH-02?who=kp", "{\"new\": true, \"cells\": {}}");
        Path other = InventedStudy.download(dir.resolve("sim"), "survives", 2.0, 20, 9);
        JsonNode arrived = served.json("POST", "/api/downloads?name=x.csv", Files.readString(other));
        String work = served.json(
                        "POST",
                        "/api/downloads/load?who=kp",
                        "{\"animal\": \"SH-02\", \"downloads\": [\""
                                + arrived.path("id").asText() + "\"]}")
                .path("work")
                .asText();
        served.json("POST", "/api/jobs/" + work + "/cancel?who=kp", "{}");
        String events = served.send("GET", "/api/jobs/" + work, "").body();
        assertThat(events).containsAnyOf("\"stand\":\"cancelled\"", "\"stand\":\"done\"");
        boolean loaded = events.contains("\"stand\":\"done\"");
        assertThat(served.json("GET", "/api/animals/SH-02", "").path("recordings"))
                .hasSize(loaded ? 1 : 0);
    }

    @Test
    @Order(10)
    void theSearchPageTakesNotesAndAdvises() throws Exception {
        served.json("PUT", "/api/animals/SH-03?who=kp", """
                {"new": true, "cells": {"packageSerial": "P3", "frequencyMHz": "150.1", "releasedUtc": "2026-06-01T10:00Z",
                 "releaseLatDeg": "52.4", "releaseLonDeg": "-4.6", "plannedDetachmentUtc": "2026-06-03T08:00Z"}}""");
        browser.size(390, 844);
        browser.open("search/SH-03");
        browser.accessible("search, first step");
        // The page's clock agrees with the server's, which stands still.
        browser.run(
                "const Real = Date; window.Date = class extends Real { constructor(...a) { if (a.length) super(...a);"
                        + " else super('" + Served.NOW + "'); } }");
        browser.click("form button.main");
        browser.until("document.querySelector('.entry')");
        browser.type("#own-lat", "52.42");
        browser.type("#own-lon", "-4.55");
        browser.click(".taps button.main");
        browser.until("document.querySelector('.log').innerText.includes('heard, gain step 1, all round for 60 s')");
        browser.accessible("search under way");
        assertThat(browser.text()).contains("Turn back by", "Most likely near");
        assertThat(Files.readString(served.folder.resolve("searches/SH-03.csv")))
                .contains("heard=yes");
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
    }

    @Test
    @Order(11)
    void everyPageOfTheVoyageIsAccessibleInEveryLight() {
        for (String theme : new String[] {"glare", "night"}) {
            browser.settings("kp", theme);
            browser.size(1280, 900);
            for (String page : new String[] {
                "recording/SH-01", "judge/SH-01", "judge", "findings", "load", "search/SH-03", "search"
            }) {
                browser.open(page);
                browser.accessible(page + " by " + theme);
            }
        }
        browser.settings("kp", "day");
        browser.noComplaints();
    }
}
