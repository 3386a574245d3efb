package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** Study, capture, table, packages and history in a real browser; the tests follow one another on one study. */
class StudyPagesTest extends PagesTest {

    @Test
    @Order(1)
    void anEmptyStudyTeachesTheFirstStep() {
        browser.size(1280, 900);
        browser.open("study");
        assertThat(browser.text()).contains("Nobody here yet", "Start with the first animal", "Add an animal");
        browser.accessible("the empty study");
    }

    @Test
    @Order(2)
    void anAnimalIsAddedWithKeysAlone() {
        browser.open("study");
        browser.run("document.querySelector('main a.button.main').focus()");
        browser.driver.switchTo().activeElement().sendKeys(Keys.ENTER);
        browser.ready("capture");
        browser.run("document.querySelector('input[name=animal]').focus()");
        browser.driver.switchTo().activeElement().sendKeys("SH-01");
        browser.run("document.querySelector('input[data-column=hookLocation]').focus()");
        browser.driver.switchTo().activeElement().sendKeys(Keys.SPACE);
        browser.run("document.querySelector('input[name=fightMin]').focus()");
        browser.driver.switchTo().activeElement().sendKeys("12.5", Keys.ENTER);
        browser.ready("study");
        browser.until("document.querySelector('[data-animal=\"SH-01\"]')");
        assertThat(browser.text()).contains("assign a package");
    }

    @Test
    @Order(3)
    void aBadValueIsNamedAtItsFieldAndStays() {
        browser.open("capture/SH-01");
        browser.type("input[name=lengthM]", "77");
        browser.click("button[type=submit]");
        browser.until("document.querySelector('input[name=lengthM]').getAttribute('aria-invalid') === 'true'");
        assertThat(browser.text()).contains("outside 0.01 to 20");
        assertThat(browser.find("input[name=lengthM]").getDomProperty("value")).isEqualTo("77");
        browser.accessible("the form with a problem");
    }

    @Test
    @Order(4)
    void whatWasTypedSurvivesAReloadAndSaysThatItIsNotSaved() {
        browser.open("capture/SH-01");
        browser.type("input[name=lengthM]", "0.82");
        browser.open("capture/SH-01");
        assertThat(browser.find("input[name=lengthM]").getDomProperty("value")).isEqualTo("0.82");
        assertThat(browser.text()).contains("has not been saved yet");
        browser.click("button[type=submit]");
        browser.ready("study");
        browser.open("capture/SH-01");
        assertThat(browser.text()).doesNotContain("has not been saved yet");
    }

    @Test
    @Order(5)
    void aLostConnectionIsSaidAndNothingTypedIsLost() {
        browser.open("capture/SH-01");
        browser.type("input[name=massKg]", "3.1");
        browser.run("window.fetchKept = window.fetch; window.fetch = () => Promise.reject(new TypeError('gone'))");
        browser.click("button[type=submit]");
        browser.until("document.body.innerText.includes('The server does not answer')");
        browser.run("window.fetch = window.fetchKept");
        browser.click("button[type=submit]");
        browser.ready("study");
    }

    @Test
    @Order(6)
    void overduePackagesComeFirst() throws Exception {
        served.json(
                "POST",
                "/api/captures?who=kp",
                "animal,packageSerial,frequencyMHz,releasedUtc,plannedDetachmentUtc\n"
                        + "B1,P1,148.1,2026-06-01T10:00Z,2026-06-04T10:00Z\n"
                        + "B2,P2,148.2,2026-06-01T10:00Z,2026-06-03T09:00Z\n"
                        + "B3,P3,148.3,2026-06-01T10:00Z,2026-06-02T10:00Z\n");
        browser.open("study");
        assertThat(browser.run("return [...document.querySelectorAll('tbody tr')].map(r => r.dataset.animal).join()"))
                .isEqualTo("B3,B2,SH-01,B1");
        assertThat(browser.text()).contains("2 packages are overdue", "overdue 26 h 00 min");
    }

    @Test
    @Order(7)
    void everyPageIsAccessibleInEveryLightAtBothSizes() {
        for (String theme : new String[] {"day", "glare", "night"}) {
            browser.settings("kp", theme);
            for (String page : new String[] {"study", "capture/B3", "captures", "packages", "history", "pair"}) {
                browser.size(1280, 900);
                browser.open(page);
                browser.accessible(page + " by " + theme);
                browser.size(390, 844);
                assertThat(browser.run("return document.documentElement.scrollWidth"))
                        .as("width of %s by %s", page, theme)
                        .isEqualTo(390L);
            }
        }
        browser.settings("kp", "day");
        browser.noComplaints();
    }
}
