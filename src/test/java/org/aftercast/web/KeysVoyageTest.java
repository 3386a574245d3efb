package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;
import org.openqa.selenium.interactions.Actions;

/**
 * The whole voyage at 390 pixels with keys alone: add an animal, load a file, read, judge as two readers, settle, findings,
 * report. Nothing is clicked and nothing is focused by script; only the system's file dialog, which is not the page's, is
 * answered for the person.
 */
class KeysVoyageTest {

    private static final int MOST_TABS = 250;

    @TempDir
    private Path dir;

    private Served served;
    private Browser browser;

    @BeforeEach
    void start() throws Exception {
        served = Served.empty(dir.resolve("study"));
        browser = Browser.at(served.server, dir.resolve("profile"));
        browser.size(390, 844);
    }

    @AfterEach
    void end() throws Exception {
        if (browser != null) {
            browser.close();
        }
        served.close();
    }

    private void press(CharSequence... keys) {
        new Actions(browser.driver).sendKeys(keys).perform();
    }

    /** Presses Tab until an element that matches has the focus; it must then show that it has. */
    private void tabTo(String css) {
        for (int i = 0; i < MOST_TABS; i++) {
            if (Boolean.TRUE.equals(
                    browser.run("return Boolean(document.activeElement?.matches(arguments[0]))", css))) {
                return;
            }
            press(Keys.TAB);
        }
        throw new AssertionError("the Tab key never comes to " + css + "\n" + browser.text());
    }

    /** Goes to a button or link by the words on it, and presses it. */
    private void pressOn(String css, String words) {
        browser.until(
                "[...document.querySelectorAll('" + css + "')].some(e => e.innerText.trim() === '" + words + "')");
        browser.run(
                "document.querySelectorAll('[data-wanted]').forEach(e => delete e.dataset.wanted);"
                        + "[...document.querySelectorAll(arguments[0])].find(e => e.innerText.trim() === arguments[1])"
                        + ".dataset.wanted = 'yes'",
                css,
                words);
        tabTo("[data-wanted]");
        press(Keys.ENTER);
    }

    private void typeInto(String css, String text) {
        tabTo(css);
        new Actions(browser.driver)
                .keyDown(Keys.CONTROL)
                .sendKeys("a")
                .keyUp(Keys.CONTROL)
                .sendKeys(text)
                .perform();
    }

    private void verdict(String fate) {
        tabTo(".verdict input[name=animalFate]");
        press(Keys.SPACE);
        for (int i = 0; i < 8 && !checked("animalFate", fate); i++) {
            press(Keys.ARROW_DOWN);
        }
        assertThat(checked("animalFate", fate)).isTrue();
        tabTo(".verdict input[name=recordEnd]");
        press(Keys.SPACE);
        for (int i = 0; i < 8 && !checked("recordEnd", "logger-stopped"); i++) {
            press(Keys.ARROW_DOWN);
        }
        typeInto("#reason", "it swam to the end");
        tabTo(".verdict button.main");
        press(Keys.ENTER);
    }

    private boolean checked(String name, String value) {
        return Boolean.TRUE.equals(browser.run(
                "return document.querySelector('input[name=' + arguments[0] + '][value=' + arguments[1] + ']').checked",
                name,
                value));
    }

    @Test
    void isMadeWithKeysAlone() throws Exception {
        browser.open("study");
        typeInto("#who", "kp");
        pressOn("main a", "Add an animal");
        browser.ready("capture");
        typeInto("input[name=animal]", "K1");
        typeInto("input[name=fightMin]", "12");
        typeInto("input[name=packageSerial]", "F-1");
        typeInto("input[name=frequencyMHz]", "150.1");
        typeInto("input[name=releasedUtc]", "2026-06-01T02:00Z");
        press(Keys.ENTER);
        browser.ready("study");

        pressOn("#top a", "Load");
        browser.ready("load");
        tabTo("#load-animal");
        press("K1");
        tabTo("#load-file");
        Path csv = InventedStudy.download(dir.resolve("sim"), "survives", 3, 20, 3);
        browser.find("#load-file").sendKeys(csv.toString());
        browser.until("document.querySelector('.save-bar button.main')?.disabled === false");
        tabTo(".save-bar button.main");
        press(Keys.ENTER);
        browser.until("document.body.innerText.includes('Loaded for K1')");
        pressOn("main button", "Read this recording");
        browser.ready("recording");

        browser.until("document.querySelector('.panels').dataset.ready === 'yes'");
        String whole = String.valueOf(browser.run("return document.querySelector('.panels').dataset.shown"));
        tabTo("canvas.plot");
        press("+");
        browser.until("document.querySelector('.panels').dataset.shown !== '" + whole + "'");
        pressOn("main a", "Judge");
        browser.ready("judge");
        verdict("alive-at-end");
        browser.until("document.body.innerText.includes('What the program thinks')");

        typeInto("#who", "mo");
        press(Keys.TAB);
        browser.until("document.body.innerText.includes('Your verdict (second reader)')");
        assertThat(browser.text()).doesNotContain("What the program thinks");
        verdict("undecided");
        browser.until("document.body.innerText.includes('Settle the two verdicts')");
        verdict("alive-at-end");
        browser.until("document.body.innerText.includes('nothing is left to settle')");

        pressOn("#top a", "Findings");
        browser.ready("findings");
        assertThat(browser.text()).contains("Share that died within");
        pressOn("main button", "Write the report");
        browser.until("document.querySelector('a[href=\"/api/report/report.html\"]')");
        assertThat(Files.size(served.folder.resolve("reports/report.pdf"))).isGreaterThan(1000);
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
        browser.noComplaints();
    }
}
