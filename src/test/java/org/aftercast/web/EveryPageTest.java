package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.OutputType;

/**
 * Every page in every look at 1280 and 390 pixels: no violation of accessibility (axe-core), nothing wider than the
 * screen, no complaint of the browser, no request to another machine. A few are compared with small pictures of how they
 * looked when they were last approved: blocks of 16 pixels, so that fonts may differ by a little and the layout may not.
 * {@code -Daftercast.screens=write} approves what is there now; what was seen lies under target/screens.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class EveryPageTest {

    private static final Map<String, String> PAGES = new LinkedHashMap<>();

    static {
        PAGES.put("study", "study");
        PAGES.put("study-stage", "study?stage=judged");
        PAGES.put("capture-new", "capture/new");
        PAGES.put("capture", "capture/J1");
        PAGES.put("decks", "deck");
        PAGES.put("deck", "deck/P1");
        PAGES.put("captures", "captures");
        PAGES.put("packages", "packages");
        PAGES.put("history", "history");
        PAGES.put("pair", "pair");
        PAGES.put("recordings", "recording");
        PAGES.put("recording", "recording/J1");
        PAGES.put("recording-blind", "recording/B1");
        PAGES.put("judging", "judge");
        PAGES.put("judge", "judge/J1");
        PAGES.put("judge-blind", "judge/B1");
        PAGES.put("findings", "findings");
        PAGES.put("load", "load");
        PAGES.put("searches", "search");
        PAGES.put("search-new", "search/R1");
        PAGES.put("search", "search/A1");
        PAGES.put("nothing-here", "no-such-page");
    }

    private static final List<String> COMPARED =
            List.of("study", "capture-new", "deck", "recording", "judge-blind", "findings", "load");

    /** A block of 16 × 16 pixels; what of its brightness may differ (0–255), for how many blocks, and on the mean. */
    private static final int BLOCK = 16;

    private static final int MOST_OF_A_BLOCK = 40;
    private static final double MOST_BLOCKS = 0.03;
    private static final double MOST_ON_THE_MEAN = 5;

    private static final Path BASE = Path.of(System.getProperty("aftercast.basedir", "."));
    private static final Path APPROVED = BASE.resolve("src/test/resources/screens");
    private static final Path SEEN = BASE.resolve("target/screens");

    @TempDir
    private static Path dir;

    private Served served;
    private Browser browser;

    @BeforeAll
    void start() throws Exception {
        Files.createDirectories(SEEN);
        served = Served.empty(dir.resolve("study"));
        browser = Browser.at(served.server, dir.resolve("profile"));
        enter("P1", "'packageSerial': 'F-01', 'frequencyMHz': '150.100'");
        enter("P2", "'fightMin': '4'");
        enter(
                "R1",
                "'packageSerial': 'F-02', 'frequencyMHz': '150.120', 'releasedUtc': '2026-06-03T08:00Z', 'releaseLatDeg': '52.4',"
                        + " 'releaseLonDeg': '-4.6', 'plannedDetachmentUtc': '2026-06-04T08:00Z'");
        enter(
                "A1",
                "'packageSerial': 'F-03', 'frequencyMHz': '150.140', 'releasedUtc': '2026-06-01T10:00Z', 'releaseLatDeg': '52.4',"
                        + " 'releaseLonDeg': '-4.6', 'plannedDetachmentUtc': '2026-06-03T08:00Z'");
        String caught =
                "'packageSerial': 'F-1%1$d', 'frequencyMHz': '150.2%1$d0', 'fightMin': '12', 'airExposureS': '70', 'hookLocation':"
                        + " 'jaw', 'waterTempC': '15.5', 'releasedUtc': '2026-06-01T%2$02d:00Z', 'plannedDetachmentUtc': '2026-06-01T%3$02d:50Z',"
                        + " 'searchOutcome': 'retrieved'";
        Path csv = InventedStudy.download(dir.resolve("sim"), "survives", 4, 20, 3);
        Path eaten = InventedStudy.download(dir.resolve("sim2"), "swallowed-by-warm", 4, 20, 5);
        enter("J1", caught.formatted(1, 2, 5));
        enter("B1", caught.formatted(2, 10, 13));
        InventedStudy.load(served.folder, "J1", csv);
        InventedStudy.load(served.folder, "B1", eaten);
        InventedStudy.read(served.folder);
        for (String reader : new String[] {"kp", "mo"}) {
            served.json(
                    "POST",
                    "/api/animals/J1/verdicts?who=" + reader,
                    "{\"animalFate\": \"alive-at-end\", \"recordEnd\": \"planned-detachment\", \"reason\": \"it swam to the end\"}");
        }
        served.json("POST", "/api/animals/A1/search?who=kp", """
                {"rows": [{"time": "2026-06-03T08:00:00Z", "lat": "52.4", "lon": "-4.6", "kind": "start", "values": "sd_m=500"},
                 {"time": "2026-06-03T08:00:00Z", "kind": "beacon", "values": "range_nm=8"},
                 {"time": "2026-06-03T09:00:00Z", "kind": "wind", "values": "speed_mps=6 from_deg=230"},
                 {"time": "2026-06-03T09:00:00Z", "kind": "boat", "values": "speed_kn=12 fuel_h=8"},
                 {"time": "", "lat": "52.41", "lon": "-4.1", "kind": "home", "values": ""},
                 {"time": "2026-06-03T11:00:00Z", "lat": "52.45", "lon": "-4.5", "kind": "listen", "values": "heard=yes gain=1"},
                 {"time": "2026-06-03T11:10:00Z", "lat": "52.45", "lon": "-4.5", "kind": "bearing", "values": "deg=250 source=true"}]}""");
    }

    private void enter(String animal, String cells) throws Exception {
        served.json(
                "PUT",
                "/api/animals/" + animal + "?who=kp",
                ("{'new': true, 'cells': {" + cells + "}}").replace('\'', '"'));
    }

    @AfterAll
    void end() throws Exception {
        if (browser != null) {
            browser.close();
        }
        if (served != null) {
            served.close();
        }
    }

    private void open(String page) {
        browser.open(page);
        browser.until(
                "!document.querySelector('.panels') || document.querySelector('.panels').dataset.ready === 'yes'");
    }

    @ParameterizedTest
    @ValueSource(strings = {"day", "glare", "night"})
    void isAccessibleAndFitsTheScreen(String theme) throws Exception {
        browser.settings("kp", theme);
        for (int width : new int[] {1280, 390}) {
            browser.size(width, width == 390 ? 844 : 900);
            for (Map.Entry<String, String> page : PAGES.entrySet()) {
                String what = page.getKey() + " by " + theme + " at " + width;
                open(page.getValue());
                browser.accessible(what);
                assertThat(String.valueOf(browser.run("return document.body.innerText")))
                        .as("words of " + what)
                        .doesNotContainPattern("\\[object |\\b(undefined|NaN|null|Infinity)\\b");
                assertThat(((Number) browser.run("return document.documentElement.scrollWidth")).intValue())
                        .as("width of " + what)
                        .isLessThanOrEqualTo(width);
                assertThat(browser.run("return performance.getEntriesByType('resource').map(e => e.name)"
                                + ".filter(name => !name.startsWith(location.origin) && !name.startsWith('data:')"
                                + " && !name.startsWith('blob:'))"))
                        .as("asked of another machine by " + what)
                        .isEqualTo(List.of());
                Files.write(SEEN.resolve(page.getKey() + "-" + theme + "-" + width + ".png"), whole(width));
            }
        }
        browser.noComplaints();
    }

    /** The whole page, however long. */
    private byte[] whole(int width) {
        int height = ((Number) browser.run("return document.documentElement.scrollHeight")).intValue();
        browser.size(width, Math.min(height, 6000));
        byte[] png = browser.driver.getScreenshotAs(OutputType.BYTES);
        browser.size(width, width == 390 ? 844 : 900);
        return png;
    }

    @Test
    void theFirstPageStandsWithinTwoSeconds() throws Exception {
        browser.settings("kp", "day");
        browser.size(1280, 900);
        long began = System.nanoTime();
        browser.open("study");
        assertThat((System.nanoTime() - began) / 1e9).isLessThan(2);
    }

    @Test
    void looksAsItDidWhenItWasApproved() throws Exception {
        browser.settings("kp", "day");
        List<String> differing = new ArrayList<>();
        for (int width : new int[] {1280, 390}) {
            browser.size(width, width == 390 ? 844 : 900);
            for (String name : COMPARED) {
                open(PAGES.get(name));
                BufferedImage now = blocks(
                        ImageIO.read(new ByteArrayInputStream(browser.driver.getScreenshotAs(OutputType.BYTES))));
                Path file = APPROVED.resolve(name + "-" + width + ".png");
                if ("write".equals(System.getProperty("aftercast.screens"))) {
                    Files.createDirectories(APPROVED);
                    ImageIO.write(now, "png", file.toFile());
                }
                String difference = difference(ImageIO.read(file.toFile()), now);
                if (difference != null) {
                    differing.add(name + " at " + width + ": " + difference);
                }
            }
        }
        assertThat(differing).isEmpty();
    }

    /** The picture with one grey pixel a block. */
    private static BufferedImage blocks(BufferedImage picture) {
        int w = picture.getWidth() / BLOCK;
        int h = picture.getHeight() / BLOCK;
        BufferedImage small = new BufferedImage(w, h, BufferedImage.TYPE_BYTE_GRAY);
        for (int y = 0; y < h; y++) {
            for (int x = 0; x < w; x++) {
                long sum = 0;
                for (int j = 0; j < BLOCK; j++) {
                    for (int i = 0; i < BLOCK; i++) {
                        int rgb = picture.getRGB(x * BLOCK + i, y * BLOCK + j);
                        sum += (rgb >> 16 & 255) + (rgb >> 8 & 255) + (rgb & 255);
                    }
                }
                small.getRaster().setSample(x, y, 0, (int) (sum / (3L * BLOCK * BLOCK)));
            }
        }
        return small;
    }

    /** In which way two pictures differ by more than fonts do, or null. */
    private static String difference(BufferedImage then, BufferedImage now) {
        if (then.getWidth() != now.getWidth() || then.getHeight() != now.getHeight()) {
            return "another size";
        }
        long sum = 0;
        int far = 0;
        int n = now.getWidth() * now.getHeight();
        for (int y = 0; y < now.getHeight(); y++) {
            for (int x = 0; x < now.getWidth(); x++) {
                int d = Math.abs(
                        then.getRaster().getSample(x, y, 0) - now.getRaster().getSample(x, y, 0));
                sum += d;
                far += d > MOST_OF_A_BLOCK ? 1 : 0;
            }
        }
        boolean same = far <= MOST_BLOCKS * n && sum <= MOST_ON_THE_MEAN * n;
        return same ? null : far + " of " + n + " blocks differ, " + sum / (double) n + " on the mean";
    }
}
