package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.support.ui.Select;

/** Downloads that need a person's word, through the form of the load page. The files are invented. */
class LoadPagesTest extends PagesTest {

    @Override
    void prepare() throws Exception {
        for (String animal : new String[] {"A1", "A2"}) {
            served.json("PUT", "/api/animals/" + animal + "?who=kp", """
                    {"new": true, "cells": {"packageSerial": "P%s", "releasedUtc": "2026-05-03T14:05:10Z",
                     "plannedDetachmentUtc": "2026-05-03T14:05:50Z"}}""".formatted(animal));
        }
    }

    /** One minute at 10 Hz; the third of May or the fifth of March. */
    private Path ambiguous(String name, int fromS, int toS) throws Exception {
        StringBuilder csv = new StringBuilder("when,ax,ay,az,depth\n");
        for (int i = 10 * fromS; i < 10 * toS; i++) {
            csv.append(String.format(
                    Locale.ROOT,
                    "03/05/2026 14:05:%02d.%d,%.3f,%.3f,0.980,%.2f%n",
                    i / 10,
                    i % 10,
                    0.1 * Math.sin(i / 5.0),
                    0.05 * Math.cos(i / 5.0),
                    2 + i * 0.01));
        }
        return Files.writeString(dir.resolve(name), csv);
    }

    private String startUtc(String animal) throws Exception {
        return served.json("GET", "/api/animals/" + animal + "/recording", "")
                .path("startUtc")
                .asText();
    }

    private String cell(String column, String head) {
        return String.valueOf(browser.run("return document.querySelector('tr[data-column=\"" + column
                + "\"] td[data-head=\"" + head + "\"]').innerText"));
    }

    @Test
    @Order(1)
    void ambiguousDatesMustBeChosenAndThenShowWhatTheyMean() throws Exception {
        browser.size(1280, 900);
        browser.open("load/A1");
        browser.find("#load-file").sendKeys(ambiguous("dates.csv", 0, 60).toString());
        browser.until("document.querySelector('[data-set=timeKind]')");
        assertThat(browser.text()).contains("may be day first or month first", "Choose how the time is told");
        assertThat(browser.find("[data-set=timeKind]").getDomProperty("value")).isEmpty();
        assertThat(browser.find(".save-bar button.main").isEnabled()).isFalse();
        browser.accessible("a form with a doubt");

        new Select(browser.find("[data-set=timeKind]")).selectByValue("month-first");
        browser.until("document.querySelector('#load-found').innerText.includes('5 March 2026')");
        new Select(browser.find("[data-set=timeKind]")).selectByValue("day-first");
        browser.until("document.querySelector('#load-found').innerText.includes('3 May 2026')");
        assertThat(browser.find(".save-bar button.main").isEnabled()).isTrue();
        assertThat(cell("depth", "First")).isEqualTo("2");
        assertThat(cell("depth", "Last")).isEqualTo("7.99");
        assertThat(cell("depth", "Least")).isEqualTo("2");
        assertThat(cell("depth", "Greatest")).isEqualTo("7.99");
        assertThat(browser.run("return document.querySelectorAll('svg.course path').length"))
                .isEqualTo(4L);
    }

    @Test
    @Order(2)
    void aTurnedAxisAndAnotherUnitShowAtOnce() {
        assertThat(cell("az", "First")).isEqualTo("0.98");
        browser.find("tr[data-column=az] input[data-set=scale]").sendKeys(Keys.chord(Keys.CONTROL, "a"), "-1");
        browser.until("document.querySelector('tr[data-column=az] td[data-head=First]').innerText === '-0.98'");
        new Select(browser.find("tr[data-column=depth] td[data-head=Unit] select")).selectByValue("ft");
        // One foot is 0.3048 m exactly (NIST SP 811, appendix B.8).
        browser.until("document.querySelector('tr[data-column=depth] td[data-head=First]').innerText === '0.6096'");
        new Select(browser.find("tr[data-column=depth] td[data-head=Unit] select")).selectByValue("m");
        browser.find("tr[data-column=az] input[data-set=scale]").sendKeys(Keys.chord(Keys.CONTROL, "a"), "1");
        browser.until("document.querySelector('tr[data-column=depth] td[data-head=First]').innerText === '2'");
        browser.until("document.querySelector('tr[data-column=az] td[data-head=First]').innerText === '0.98'");
    }

    @Test
    @Order(3)
    void aWrongDelimiterIsSaidAndCanBePutRight() {
        new Select(browser.find("[data-set=delimiter]")).selectByValue("semicolon");
        browser.until("!document.querySelector('tr[data-column=az]')");
        browser.until("document.querySelector('.save-bar button.main').disabled");
        new Select(browser.find("[data-set=delimiter]")).selectByValue("comma");
        browser.until("document.querySelector('tr[data-column=az]')");
        for (String[] use :
                new String[][] {{"when", "time"}, {"ax", "accXG"}, {"ay", "accYG"}, {"az", "accZG"}, {"depth", "depthM"}
                }) {
            new Select(browser.find("tr[data-column=" + use[0] + "] select")).selectByValue(use[1]);
        }
        browser.until("!document.querySelector('.save-bar button.main').disabled");
    }

    @Test
    @Order(4)
    void withClockBatteryAndSecondCopyTheCardSaysYes() throws Exception {
        Path copy = dir.resolve("other-disk");
        browser.type("#load-readLogger", "2026-05-04T08:00:00Z");
        browser.type("#load-readTrue", "2026-05-04T08:00:00Z");
        new Select(browser.find("#load-battery")).selectByValue("ok");
        browser.type("#load-secondCopy", copy.toString());
        browser.accessible("the whole form");
        browser.size(390, 844);
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
        browser.accessible("the whole form on a phone");
        browser.size(1280, 900);
        browser.until("!document.querySelector('.save-bar button.main').disabled");
        browser.click(".save-bar button.main");
        browser.until("document.body.innerText.includes('Loaded for A1')");
        assertThat(browser.text()).contains("The logger may be erased.");
        assertThat(startUtc("A1")).isEqualTo("2026-05-03T14:05:00Z");
        try (var files = Files.list(copy)) {
            assertThat(files).hasSize(1);
        }
    }

    @Test
    @Order(5)
    void severalFilesContinueOneAnother() throws Exception {
        browser.open("load/A2");
        browser.find("#load-file").sendKeys(ambiguous("first.csv", 0, 30) + "\n" + ambiguous("second.csv", 30, 58));
        browser.until("document.querySelectorAll('[data-set=timeKind]').length === 2");
        browser.run("document.querySelectorAll('[data-set=timeKind]').forEach(s => { s.value = 'day-first';"
                + " s.dispatchEvent(new Event('change')); })");
        browser.until("document.querySelector('#load-found').innerText.includes('580 samples')");
        browser.click(".save-bar button.main");
        browser.until("document.body.innerText.includes('Loaded for A2')");
        assertThat(browser.text()).contains("Do not erase the logger yet");
        assertThat(browser.text()).doesNotContain("--");
        assertThat(served.json("GET", "/api/animals/A2/recording", "")
                        .path("sampleCount")
                        .asLong())
                .isEqualTo(580);
    }

    @Test
    @Order(6)
    void whatCannotBeReadIsSaidInTheOneErrorShape() throws Exception {
        JsonNode error = served.error(400, "POST", "/api/downloads/explain?who=kp", "{\"downloads\": []}");
        assertThat(error.path("message").asText()).startsWith("downloads: accepted");
        error = served.error(404, "POST", "/api/downloads/explain?who=kp", "{\"downloads\": [\"gone\"]}");
        assertThat(error.path("kind").asText()).isEqualTo("not-found");
        String id = served.json("POST", "/api/downloads?name=x.csv&who=kp", "t,ax,ay,az\n0.1,0,0,1\n")
                .path("id")
                .asText();
        error = served.error(
                400,
                "POST",
                "/api/downloads/load?who=kp",
                "{\"animal\": \"A1\", \"downloads\": [\"" + id + "\"], \"secondCopy\": \"not/whole\"}");
        assertThat(error.path("message").asText()).startsWith("secondCopy: \"not/whole\" is no whole path");
        error = served.error(
                400,
                "POST",
                "/api/downloads/explain?who=kp",
                "{\"downloads\": [\"" + id + "\"], \"clock\": {\"readLogger\": \"2026-05-04T08:00:00Z\"}}");
        assertThat(error.path("message").asText()).contains("come in pairs");
    }
}
