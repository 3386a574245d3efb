package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.InstantSource;
import org.aftercast.voyage.VerifyStudy;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.WindowType;

/** Reloads, second tabs, lost connections and restarted servers lose nothing that was saved and say what was not. */
class NothingLostTest {

    @TempDir
    private Path dir;

    private PageServer server;
    private Path study;
    private Browser browser;

    @BeforeEach
    void start() throws Exception {
        Served served = Served.empty(dir.resolve("study"));
        study = served.folder;
        served.json("PUT", "/api/animals/N1?who=kp", "{\"new\": true, \"cells\": {\"fightMin\": \"5\"}}");
        server = served.server;
        browser = Browser.at(server, dir.resolve("profile"));
        browser.settings("kp", "day");
        browser.size(1280, 900);
    }

    @AfterEach
    void end() throws Exception {
        if (browser != null) {
            browser.close();
        }
        server.close();
    }

    private void restart() throws Exception {
        int port = server.port();
        server.close();
        server = PageServer.start(study, port, PageServer.Reach.THIS_MACHINE, InstantSource.fixed(Served.NOW));
    }

    private JsonNode cells() throws Exception {
        try (Served other = Served.again(study)) {
            return other.json("GET", "/api/animals/N1", "").path("cells");
        }
    }

    @Test
    void aLostConnectionIsSaidAndTheFormIsSavedWhenTheServerIsBack() throws Exception {
        browser.open("capture/N1");
        browser.type("input[name=fightMin]", "7");
        int port = server.port();
        server.close();
        browser.click("button[type=submit]");
        browser.until("document.querySelector('[role=alert]')?.innerText.includes('The server does not answer')");
        assertThat(browser.text()).contains("Not saved yet");
        server = PageServer.start(study, port, PageServer.Reach.THIS_MACHINE, InstantSource.fixed(Served.NOW));
        browser.click("button[type=submit]");
        browser.ready("study");
        assertThat(cells().path("fightMin").asText()).isEqualTo("7");
    }

    @Test
    void aReloadAfterARestartBringsBackWhatWasTyped() throws Exception {
        browser.open("capture/N1");
        browser.type("input[name=fightMin]", "9");
        restart();
        browser.open("capture/N1");
        assertThat(browser.text()).contains("What you had typed before is back; it has not been saved yet.");
        assertThat(browser.find("input[name=fightMin]").getDomProperty("value")).isEqualTo("9");
        assertThat(cells().path("fightMin").asText()).isEqualTo("5");
    }

    @Test
    void twoTabsDoNotOverwriteOneAnother() throws Exception {
        browser.open("capture/N1");
        browser.type("input[name=fightMin]", "11");
        String first = browser.driver.getWindowHandle();
        browser.driver.switchTo().newWindow(WindowType.TAB);
        browser.size(1280, 900);
        browser.driver.get(server.address() + "#/study");
        browser.ready("study");
        browser.run("localStorage.removeItem(Object.keys(localStorage).find(k => k.startsWith('aftercast.draft')))");
        browser.open("capture/N1");
        browser.type("input[name=fightMin]", "22");
        browser.click("button[type=submit]");
        browser.ready("study");
        browser.driver.switchTo().window(first);
        browser.click("button[type=submit]");
        browser.until("document.querySelector('[role=alert]')?.innerText.includes('was changed meanwhile to \"22\"')");
        assertThat(browser.text()).contains("yours is \"11\" and was not saved");
        assertThat(cells().path("fightMin").asText()).isEqualTo("22");
    }

    @Test
    void aServerThatGoesWhileItLoadsLeavesAllOrNothingAndThePageSaysSo() throws Exception {
        Path csv = InventedStudy.download(dir.resolve("sim"), "survives", 24, 50, 3);
        browser.open("load/N1");
        browser.find("#load-file").sendKeys(csv.toString());
        browser.until("document.querySelector('.save-bar button.main')?.disabled === false");
        browser.click(".save-bar button.main");
        browser.until("document.querySelector('progress')");
        restart();
        browser.until("document.querySelector('[role=alert]')?.innerText.includes('as a whole or not at all')"
                + " || document.body.innerText.includes('Loaded for N1')");
        try (Served other = Served.again(study)) {
            int recordings =
                    other.json("GET", "/api/animals/N1", "").path("recordings").size();
            assertThat(recordings).isLessThanOrEqualTo(1);
        }
        assertThat(new VerifyStudy(InstantSource.fixed(Served.NOW))
                        .of(study, path -> {})
                        .problems())
                .isEmpty();
    }

    @Test
    void aVerdictThatWasTypedAndNotGivenComesBack() throws Exception {
        try (Served other = Served.again(study)) {
            other.json("PUT", "/api/animals/N1?who=kp", """
                    {"cells": {"packageSerial": "P1", "releasedUtc": "2026-06-01T02:00Z"}}""");
        }
        InventedStudy.load(study, "N1", InventedStudy.download(dir.resolve("sim"), "survives", 3, 20, 3));
        InventedStudy.read(study);
        browser.open("judge/N1");
        browser.click("input[name=animalFate][value=died]");
        browser.type("#reason", "it lay on the bottom");
        browser.open("judge/N1");
        assertThat(browser.text()).contains("What you had typed before is back; it has not been saved yet.");
        assertThat(browser.find("#reason").getDomProperty("value")).isEqualTo("it lay on the bottom");
        assertThat(browser.run("return document.querySelector('input[value=died]').checked"))
                .isEqualTo(true);
        browser.settings("mo", "day");
        browser.open("judge/N1");
        assertThat(browser.find("#reason").getDomProperty("value"))
                .as("another reader does not see it")
                .isEmpty();
    }
}
