package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.By;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Debian's Chromium, driven; a test that asks for it is skipped with a message where it is not installed. */
final class Browser implements AutoCloseable {

    private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
    private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
    private static final Duration LONGEST_WAIT = Duration.ofSeconds(60);

    final ChromeDriver driver;
    private final String address;

    private Browser(ChromeDriver driver, String address) {
        this.driver = driver;
        this.address = address;
    }

    /** A fresh browser with no network but this machine, at the server's address. */
    static Browser at(PageServer server, Path profile) {
        return at(server.address(), profile);
    }

    /** The same at another address of this machine. */
    static Browser at(String address, Path profile) {
        Assumptions.assumeTrue(
                Files.isExecutable(CHROMIUM) && Files.isExecutable(DRIVER),
                "no Chromium with its driver here (Debian: chromium, chromium-driver); browser tests are skipped");
        ChromeOptions options = new ChromeOptions();
        options.setBinary(CHROMIUM.toString());
        options.addArguments(
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-background-networking",
                "--disable-dev-shm-usage",
                "--force-prefers-reduced-motion",
                // Nothing outside can be reached: every other name leads nowhere.
                "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE "
                        + java.net.URI.create(address).getHost(),
                "--user-data-dir=" + profile);
        ChromeDriverService service = new ChromeDriverService.Builder()
                .usingDriverExecutable(DRIVER.toFile())
                .usingAnyFreePort()
                .build();
        return new Browser(new ChromeDriver(service, options), address);
    }

    /** Sets the size of the page in CSS pixels. */
    void size(int width, int height) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 600));
    }

    /** Opens a page by its part of the address after {@code #/} and waits until it is shown. */
    void open(String page) {
        driver.get("about:blank");
        driver.get(address + "#/" + page);
        ready(page.split("[/?]", 2)[0]);
    }

    /** Waits until the page of this name has been shown. */
    void ready(String page) {
        until("document.querySelector('main')?.dataset.ready === '" + page + "'");
    }

    /** Waits until an expression of the page is true. */
    void until(String expression) {
        new WebDriverWait(driver, LONGEST_WAIT, Duration.ofMillis(50))
                .withMessage(() -> expression + "\n" + text())
                .until(d -> Boolean.TRUE.equals(run("return Boolean(" + expression + ")")));
    }

    Object run(String script, Object... arguments) {
        return ((JavascriptExecutor) driver).executeScript(script, arguments);
    }

    /** The page's text. */
    String text() {
        return String.valueOf(run("return document.body.innerText"));
    }

    WebElement find(String css) {
        new WebDriverWait(driver, LONGEST_WAIT, Duration.ofMillis(50))
                .withMessage(() -> css + "\n" + text())
                .until(d -> !d.findElements(By.cssSelector(css)).isEmpty());
        return driver.findElement(By.cssSelector(css));
    }

    /** Types into a field after clearing it. */
    void type(String css, String text) {
        WebElement field = find(css);
        field.clear();
        field.sendKeys(text);
    }

    void click(String css) {
        WebElement element = find(css);
        run("arguments[0].scrollIntoView({block: 'center'})", element);
        element.click();
    }

    void settings(String who, String theme) {
        if (!String.valueOf(driver.getCurrentUrl()).startsWith(address)) {
            driver.get(address + "icon.svg");
        }
        run(
                "localStorage.setItem('aftercast.who', arguments[0]); localStorage.setItem('aftercast.theme', arguments[1])",
                who,
                theme);
    }

    /** The accessibility checker finds nothing wrong on the page as it stands. */
    void accessible(String what) {
        run(Axe.SCRIPT);
        Object found = driver.executeAsyncScript("const done = arguments[arguments.length - 1];"
                + "axe.run(document, {resultTypes: ['violations']}).then(r => done(r.violations.map(v => v.id + ': ' +"
                + " v.help + ' at ' + v.nodes.slice(0, 3).map(n => n.target.join(' ') + ' (' + n.any.concat(n.all, n.none)"
                + ".map(c => c.message).join('; ') + ')').join(', '))), e => done([String(e)]))");
        assertThat((List<?>) found).as("accessibility of " + what).isEmpty();
    }

    /** No script failed and nothing was asked of another machine. */
    void noComplaints() {
        List<String> severe = driver.manage().logs().get(LogType.BROWSER).getAll().stream()
                .filter(entry -> entry.getLevel().getName().equals("SEVERE"))
                .map(Object::toString)
                .filter(line -> !line.contains("the server responded with a status of 4"))
                .toList();
        assertThat(severe).isEmpty();
    }

    @Override
    public void close() {
        driver.quit();
    }

    /** The checker's script. */
    private static final class Axe {
        static final String SCRIPT = read();

        private static String read() {
            try (InputStream in = Browser.class.getResourceAsStream("/axe.min.js")) {
                if (in == null) {
                    throw new IllegalStateException("axe.min.js is not on the test class path");
                }
                return new String(in.readAllBytes(), StandardCharsets.UTF_8);
            } catch (IOException failure) {
                throw new IllegalStateException(failure);
            }
        }
    }
}
