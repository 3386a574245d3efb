package org.aftercast.web;

import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;

/** An empty study, served, and a browser before it; the tests of a class follow one another on that study. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
abstract class PagesTest {

    Path dir;
    Served served;
    Browser browser;

    @BeforeAll
    void start(@TempDir Path folder) throws Exception {
        dir = folder;
        served = Served.empty(dir.resolve("study"));
        browser = Browser.at(served.server, dir.resolve("profile"));
        browser.settings("kp", "day");
        prepare();
    }

    /** What a class wants in the study before its first test. */
    void prepare() throws Exception {}

    @AfterAll
    void end() throws Exception {
        if (browser != null) {
            browser.close();
        }
        if (served != null) {
            served.close();
        }
    }
}
