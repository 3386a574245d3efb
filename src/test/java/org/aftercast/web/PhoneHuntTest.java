package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import javax.imageio.ImageIO;
import org.aftercast.LineInput;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Position;
import org.aftercast.study.FileStore;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.OwnMaps;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.support.ui.Select;

/**
 * A whole hunt on a page as large as a phone, tapped by hand, the boat's place coming from a simulated GPS (NMEA 0183 over UDP on
 * this machine; checksums by the standard: the exclusive or of what lies between $ and *). The beacon's truth is invented: a
 * place that drifts to the east at 0.2 m/s, bearings to it right to the dial's 5°.
 */
class PhoneHuntTest extends PagesTest {

    private static final Instant OFF = Instant.parse("2026-06-03T08:00:00Z");
    private static final Position OFF_AT = new Position(52.40, -4.60);
    private static final DateTimeFormatter CLOCK =
            DateTimeFormatter.ofPattern("HHmmss").withZone(ZoneOffset.UTC);
    private static final Path SEEN = Path.of(System.getProperty("aftercast.basedir", "."), "target", "screens");

    private int port;
    private Position boat = OFF_AT;
    private Instant now = OFF;

    @Override
    void prepare() throws Exception {
        for (String n : List.of("1", "2")) {
            served.json(
                    "PUT",
                    "/api/animals/H" + n + "?who=kp",
                    String.format(
                            Locale.ROOT,
                            "{\"new\": true, \"cells\": {\"packageSerial\": \"P%s\", \"frequencyMHz\": \"150.%s\","
                                    + " \"releasedUtc\": \"2026-06-01T10:00Z\", \"releaseLatDeg\": \"52.4\","
                                    + " \"releaseLonDeg\": \"-4.6\", \"plannedDetachmentUtc\": \"2026-06-03T08:00Z\"}}",
                            n,
                            n));
        }
        try (DatagramSocket free = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
        ownMaps();
        served.json("PUT", "/api/gps?who=kp", "{\"source\": \"udp:" + port + "\"}");
        browser.size(390, 844);
        browser.settings("kp", "day");
    }

    /** An islet as GeoJSON, another as GPX, and a picture of the sea as MBTiles 1.3 (rows counted from the south). */
    private void ownMaps() throws Exception {
        OwnMaps maps = new OwnMaps(FileStore.onDisk());
        maps.add(
                served.folder,
                Files.writeString(
                        dir.resolve("islet.geojson"),
                        "{\"type\":\"Polygon\",\"coordinates\":[[[-4.70,52.30],[-4.68,52.30],[-4.68,52.31],[-4.70,52.31],[-4.70,52.30]]]}"));
        maps.add(
                served.folder,
                Files.writeString(
                        dir.resolve("skerry.gpx"),
                        "<?xml version=\"1.0\"?><gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>"
                                + "<trkpt lat=\"52.32\" lon=\"-4.75\"/><trkpt lat=\"52.32\" lon=\"-4.74\"/><trkpt lat=\"52.33\""
                                + " lon=\"-4.74\"/><trkpt lat=\"52.3201\" lon=\"-4.7501\"/></trkseg></trk></gpx>"));
        BufferedImage picture = new BufferedImage(256, 256, BufferedImage.TYPE_INT_RGB);
        for (int i = 0; i < 256 * 256; i++) {
            picture.setRGB(i % 256, i / 256, i / 256 % 32 == 0 || i % 32 == 0 ? 0xa9c4d6 : 0xd7e6f0);
        }
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        ImageIO.write(picture, "png", png);
        Path file = dir.resolve("bay.mbtiles");
        try (Connection db = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement make = db.createStatement()) {
            make.execute("CREATE TABLE metadata (name text, value text)");
            make.execute(
                    "CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob)");
            make.execute("INSERT INTO metadata VALUES ('name','Bay of the test'),('format','png'),"
                    + "('bounds','-6,51,-3,54'),('attribution','invented')");
            try (PreparedStatement put = db.prepareStatement("INSERT INTO tiles VALUES (8, ?, ?, ?)")) {
                // Spherical Mercator, 256 tiles across at zoom 8: 52.4 N 4.6 W is in column 124, row 84 from the north.
                for (int column = 123; column <= 125; column++) {
                    for (int row = 83; row <= 85; row++) {
                        put.setInt(1, column);
                        put.setInt(2, 255 - row);
                        put.setBytes(3, png.toByteArray());
                        put.executeUpdate();
                    }
                }
            }
        }
        maps.add(served.folder, file);
    }

    private Position truth() {
        return Geodesics.from(OFF_AT, 90, 0.2 * Duration.between(OFF, now).toSeconds());
    }

    /** The boat is there now: its GPS says so until the page has heard it. */
    private void boatAt(double latDeg, double lonDeg, String time) throws Exception {
        boat = new Position(latDeg, lonDeg);
        now = Instant.parse("2026-06-03T" + time + "Z");
        String lat = degreesMinutes(Math.abs(latDeg), 2);
        String lon = degreesMinutes(Math.abs(lonDeg), 3);
        String body = "GPRMC," + CLOCK.format(now) + ",A," + lat + ",N," + lon + ",W,0.4,090.0,030626,,";
        int sum = 0;
        for (char c : body.toCharArray()) {
            sum ^= c;
        }
        byte[] line = String.format("$%s*%02X\r\n", body, sum).getBytes(StandardCharsets.US_ASCII);
        String wanted = String.format(Locale.ROOT, "%.5f %.5f", latDeg, lonDeg);
        try (DatagramSocket socket = new DatagramSocket()) {
            for (int i = 0; i < 100; i++) {
                socket.send(new DatagramPacket(line, line.length, InetAddress.getLoopbackAddress(), port));
                Thread.sleep(150);
                if (wanted.equals(browser.run(
                        "return ['#own-lat', '#own-lon'].map(f => document.querySelector(f)?.value).join(' ')"))) {
                    return;
                }
            }
        }
        throw new AssertionError("the page did not follow the GPS to " + wanted + "\n" + browser.text());
    }

    private static String degreesMinutes(double deg, int digits) {
        return String.format(Locale.ROOT, "%0" + digits + "d%07.4f", (int) deg, (deg - (int) deg) * 60);
    }

    private void press(String words) {
        Object found = browser.run(
                "const b = [...document.querySelectorAll('button')].find(b => b.innerText.trim() === arguments[0] &&"
                        + " b.offsetParent); if (b) b.scrollIntoView({block: 'center'}); return b",
                words);
        assertThat(found).as("button " + words).isInstanceOf(WebElement.class);
        ((WebElement) found).click();
    }

    private void logged(String words) {
        browser.until("document.querySelector('.log li:not(.undone)')?.innerText.includes(" + quoted(words)
                + ") && !document.body.innerText.includes('Reckoning …')");
    }

    private static String quoted(String words) {
        return "'" + words.replace("'", "\\'") + "'";
    }

    /** Two taps: on the dial where the ping is loudest, and on the button. */
    private int bearing() {
        double deg = (Geodesics.between(boat, truth()).bearingDeg() + 360) % 360;
        int shown = (int) Math.round(deg / 5) * 5 % 360;
        WebElement dial = browser.find(".dial");
        browser.run("arguments[0].scrollIntoView({block: 'center'})", dial);
        new Actions(browser.driver)
                .moveToElement(dial, (int) Math.round(80 * Math.sin(Math.toRadians(deg))), (int)
                        Math.round(-80 * Math.cos(Math.toRadians(deg))))
                .click()
                .perform();
        browser.until("Math.abs(Number(document.querySelector('#bearing').value) - " + shown + ") % 355 <= 5");
        int told = Integer.parseInt(String.valueOf(browser.find("#bearing").getDomProperty("value")));
        press("Note bearing");
        logged(told + "°, true, gain step 1");
        return told;
    }

    private void seen(String name) throws Exception {
        Files.createDirectories(SEEN);
        browser.run("window.scrollTo(0, 0)");
        Files.write(SEEN.resolve("hunt-" + name + "-first.png"), browser.driver.getScreenshotAs(OutputType.BYTES));
        int height = ((Number) browser.run("return document.documentElement.scrollHeight")).intValue();
        browser.size(390, Math.min(height, 6000));
        Files.write(SEEN.resolve("hunt-" + name + ".png"), browser.driver.getScreenshotAs(OutputType.BYTES));
        browser.size(390, 844);
    }

    @Test
    @Order(1)
    void cautionsComeFirstAndTheSearchBegins() throws Exception {
        browser.open("search/H1");
        assertThat(browser.run("return document.querySelector('details.go').open"))
                .isEqualTo(true);
        assertThat(browser.text().indexOf("Go or no-go first"))
                .isPositive()
                .isLessThan(browser.text().indexOf("Where and when it came off"));
        browser.accessible("begin of a hunt");
        browser.type("#s-wind", "5");
        browser.type("#s-windfrom", "270");
        browser.type("#s-boat", "14");
        browser.type("#s-fuel", "8");
        browser.type("#s-depart", "2026-06-03T08:30:00Z");
        browser.type("#s-homelat", "52.41");
        browser.type("#s-homelon", "-4.15");
        seen("begin");
        browser.click("form button.main");
        browser.until("document.querySelector('.entry')");
        new Select(browser.find("#bearing-source")).selectByValue("true");
        assertThat(browser.text()).contains("P1 · 150.100 MHz");
        assertThat(browser.text()).contains("150.100 MHz, heard half the time at 8 NM", "5 m/s, from 270°");
    }

    @Test
    @Order(2)
    void heardNotHeardAndBearingsAreTwoTapsAndAMistakeIsTakenBack() throws Exception {
        boatAt(52.36, -4.62, "09:00:00");
        press("Not heard");
        logged("not heard, gain step 1, all round for 60 s");
        // A tap too much: taken back with one tap; the row stays, struck through.
        browser.until("document.querySelector('.taps .last').innerText.includes('listen: not heard')");
        browser.click(".taps .last");
        browser.until("document.querySelector('.log .undone')?.innerText.includes('not heard')");
        press("Heard");
        logged("heard, gain step 1");
        bearing();
        boatAt(52.38, -4.50, "09:20:00");
        bearing();
        boatAt(52.43, -4.52, "09:40:00");
        bearing();
        // The way to turn back and the next leg stay in sight, wherever the page is.
        browser.run("window.scrollTo(0, document.body.scrollHeight)");
        browser.until("(() => { const r = document.querySelector('.on-top').getBoundingClientRect();"
                + " return r.top >= 0 && r.bottom <= innerHeight })()");
        // The hunt's days are long past by this machine's clock: the line has its date and says so.
        assertThat(browser.find(".on-top").getText())
                .matches(
                        "Turn back by 2026-06-03 \\d\\d:\\d\\d The last note is \\d+ days old: everything below is of then\\.");
        assertThat(browser.find(".on-top").getDomAttribute("class")).contains("late");
        JsonNode peak = served.json("GET", "/api/animals/H1/search", "").at("/result/packages/0/fix/peak");
        assertThat(Geodesics.distanceM(
                        truth(),
                        new Position(
                                peak.get("latDeg").asDouble(),
                                peak.get("lonDeg").asDouble())))
                .isLessThan(2500);
        assertThat(browser.run("return document.documentElement.scrollWidth")).isEqualTo(390L);
    }

    @Test
    @Order(3)
    void whatTheMapShows() {
        // Region, bearings, rings of hearing, the boat's way, the study's own coast in two forms and its own picture.
        browser.until("document.querySelectorAll('.map path.region').length >= 2");
        browser.until("document.querySelectorAll('.map path.bearing').length === 3");
        browser.until("document.querySelectorAll('.map path.ring').length === 3");
        browser.until("document.querySelectorAll('.map path.own').length === 2");
        browser.until(
                "[...document.querySelectorAll('.map img.leaflet-tile')].some(i => i.complete && i.naturalWidth === 256)");
        assertThat(browser.text()).contains("Bay of the test · invented");
        browser.until(
                "document.querySelector('.map path.leg') || document.querySelector('.next-step h2').innerText.includes('here')");
        Object before = browser.run("return document.querySelector('.map path.ring').getAttribute('d')");
        new Select(browser.find("#gain")).selectByValue("4");
        browser.until(
                "document.querySelector('.map path.ring').getAttribute('d') !== " + quoted(String.valueOf(before)));
        new Select(browser.find("#gain")).selectByValue("1");
        // A tap on the map is the boat's place, until the GPS is followed again.
        browser.click(".map");
        browser.until("!document.querySelector('#follow-gps').checked");
        browser.click("#follow-gps");
    }

    @Test
    @Order(4)
    void aSweepByEarADriftAndSightingsNeedNoKeyboard() throws Exception {
        boatAt(52.42, -4.56, "10:00:00");
        browser.click(".more-notes > summary");
        new Select(browser.find("#sweep-source")).selectByValue("true");
        int[] ear = {3, 1, 0, 0, 0, 1, 3, 5}; // loudest to the north-west, as loud as it gets
        for (int i = 0; i < ear.length; i++) {
            browser.click(".ear:nth-of-type(" + (i + 1) + ") button:nth-of-type(" + (ear[i] + 1) + ")");
        }
        press("Note sweep");
        logged(
                "0° 12 dB, 45° 4 dB, 90° not heard, 135° not heard, 180° not heard, 225° 4 dB, 270° 12 dB, 315° 20 dB or more");
        press("Drift begins");
        press("Drift ends: note it");
        browser.until("document.body.innerText.includes('Too short to tell')");
        // Ten minutes later 120 m to the east: 0.2 m/s.
        Position drifted = Geodesics.from(boat, 90, 120);
        boatAt(drifted.latDeg(), drifted.lonDeg(), "10:10:00");
        press("Drift ends: note it");
        logged("measured with the boat, stopped, over 10 min");
        String drift = String.valueOf(browser.run("return document.querySelector('.log li').innerText"));
        assertThat(drift)
                .containsPattern("0\\.(199|20[0-2]) m/s, towards (8[89]|9[01])°, measured with the boat, stopped");
        press("Looked, not seen");
        logged("looked for, not seen, within 200 m");
        seen("under-way");
        for (String light : new String[] {"glare", "night"}) {
            browser.run("document.documentElement.dataset.theme = arguments[0]", light);
            browser.accessible("a hunt by " + light);
            seen(light);
        }
        browser.run("document.documentElement.dataset.theme = 'day'");
        browser.accessible("a hunt under way");
        // Everything to be tapped at sea is large enough for a glove (44 pixels: WCAG 2.2, success criterion 2.5.5).
        assertThat(
                        (List<?>)
                                browser.run(
                                        "return [...document.querySelectorAll('.entry button, .more-notes button, .log button')]"
                                                + ".filter(b => b.offsetParent && b.getBoundingClientRect().height < 44).map(b => b.innerText)"))
                .isEmpty();
    }

    @Test
    @Order(5)
    void withoutALineInputTheMeterSaysSo() {
        LineInput.assumeNone();
        browser.run("document.querySelectorAll('.more-notes details').forEach(d => d.open = true)");
        press("Measure from the line input");
        browser.until("document.body.innerText.includes('no line input on this machine')");
        assertThat(browser.text())
                .contains("accepted: a line or microphone input of this machine, or a recording as a file");
    }

    @Test
    @Order(6)
    void severalPackagesArePutInOrder() throws Exception {
        served.json("POST", "/api/animals/H2/search?who=kp", """
                {"rows": [
                 {"time": "2026-06-03T08:00:00Z", "lat": "52.50", "lon": "-4.70", "kind": "start", "values": "sd_m=1500"},
                 {"time": "2026-06-03T08:30:00Z", "lat": "", "lon": "", "kind": "boat", "values": "speed_kn=14"}]}""");
        browser.open("search");
        press("Reckon the order");
        browser.until("document.querySelectorAll('ol li b').length === 2");
        assertThat(browser.text()).contains("h to it, chance");
        seen("order");
    }

    @Test
    @Order(7)
    void theSearchEndsInEachWayAndGoesOnWhenThatIsTakenBack() throws Exception {
        browser.open("search/H1");
        boatAt(52.402, -4.56, "10:40:00");
        press("Seen");
        logged("seen");
        String[][] ends = {
            {"abandoned", "search abandoned", "nothing: the search for its package was abandoned"},
            {"stranded", "found ashore", "load the download"},
            {"handed-in", "handed in by somebody", "load the download"},
            {"retrieved", "retrieved from the water", "load the download"},
        };
        for (int i = 0; i < ends.length; i++) {
            press("End the search");
            new Select(browser.find("#end-search")).selectByValue(ends[i][0]);
            press("Note the end");
            browser.until("document.body.innerText.includes('The search is over.')");
            logged(ends[i][1]);
            JsonNode row = served.json("GET", "/api/animals/H1", "");
            assertThat(row.toString()).contains("\"searchOutcome\":\"" + ends[i][0] + "\"");
            assertThat(served.json("GET", "/api/study", "").toString()).contains(ends[i][2]);
            for (String form : new String[] {"table", "gpx", "geojson"}) {
                assertThat(served.send("GET", "/api/animals/H1/search/log?form=" + form, "")
                                .body())
                        .contains(ends[i][1]);
            }
            assertThat(browser.run("return document.querySelector('.on-top').hidden"))
                    .isEqualTo(true);
            if (i + 1 < ends.length) {
                browser.click(".taps .last");
                browser.until("document.querySelector('.next-step')");
            }
        }
        seen("over");
        browser.open("study");
        assertThat(browser.text()).contains("H1");
        browser.noComplaints();
    }

    private void clock(String time) {
        browser.run("Date.now = () => Date.parse(arguments[0])".replace("arguments[0]", quoted(time)));
    }

    private static SearchOutcome outcome(SearchOutcome.Outcome how, Instant ended) {
        return new SearchOutcome("H3", 1, null, ended, how, null, null, 6.5, null, null, null);
    }

    @Test
    @Order(8)
    void aSearchThatEndedSaysSoAndLookingAgainIsASecondStep() throws Exception {
        served.json(
                "PUT",
                "/api/animals/H3?who=kp",
                "{\"new\": true, \"cells\": {\"packageSerial\": \"P3\", \"frequencyMHz\": \"150.3\", \"batteryH\": \"200\","
                        + " \"releasedUtc\": \"2026-06-01T10:00Z\", \"releaseLatDeg\": \"52.4\", \"releaseLonDeg\": \"-4.6\","
                        + " \"plannedDetachmentUtc\": \"2026-06-03T08:00Z\"}}");
        try (StudyStore store =
                StudyStore.open(served.folder, StudyStore.Access.WRITE, FileStore.onDisk(), InstantSource.system())) {
            store.change("mo", change -> {
                change.put(outcome(SearchOutcome.Outcome.ABANDONED, Instant.parse("2026-06-05T15:00:00Z")));
                return 0;
            });
        }
        browser.open("search");
        browser.until("document.body.innerText.includes('H3 · P3 (abandoned, not sought any longer)')");
        browser.accessible("list of searches with outcomes");
        browser.open("search/H3");
        browser.until("document.querySelector('.message.outcome')");
        assertThat(browser.find(".message.outcome").getText())
                .matches("(?s)Abandoned on 2026-06-05 1[5-7]:00, by mo\\. 6\\.5 h were spent on it\\..*");
        assertThat(browser.find("#s-sd").isDisplayed()).isFalse();
        seen("abandoned");
        browser.accessible("a search that was abandoned");
        browser.click("details.again > summary");
        assertThat(browser.find("#s-sd").isDisplayed()).isTrue();
        browser.until("document.body.innerText.includes('expected to last 200 h')");
    }

    /** The page's clock is set; the hunt is of one summer's day. */
    @Test
    @Order(9)
    void theTurnBackLineGoesByTheClockWhileThePageIsOpen() throws Exception {
        served.json("POST", "/api/animals/H3/search?who=kp", """
                {"rows": [
                 {"time": "2026-06-10T07:00:00Z", "lat": "52.40", "lon": "-4.60", "kind": "start", "values": "sd_m=500"},
                 {"time": "2026-06-10T08:00:00Z", "lat": "", "lon": "", "kind": "boat", "values": "speed_kn=14 fuel_h=9"},
                 {"time": "", "lat": "52.41", "lon": "-4.15", "kind": "home", "values": ""},
                 {"time": "2026-06-10T08:59:30Z", "lat": "52.36", "lon": "-4.50", "kind": "listen", "values": "heard=yes gain=1"},
                 {"time": "2026-06-10T09:00:00Z", "lat": "52.36", "lon": "-4.50", "kind": "bearing", "values": "deg=305 source=true"}]}""");
        browser.open("search/H3");
        browser.until("document.querySelector('.on-top:not([hidden])')");
        clock("2026-06-10T09:01:00Z");
        browser.until("!document.querySelector('.on-top').innerText.includes('ote ')");
        String fresh = browser.find(".on-top").getText();
        assertThat(fresh).matches("(?s)Turn back by \\d\\d:\\d\\d .*");
        assertThat(browser.find(".on-top").getDomAttribute("class")).doesNotContain("late");
        // WMM2025 gives 0 to 2 degrees west there in these years, so the magnetic course is the greater one.
        java.util.regex.Matcher leg = java.util.regex.Pattern.compile("(\\d{3})° true \\((\\d{3})° magnetic\\) for ")
                .matcher(fresh);
        assertThat(leg.find()).as(fresh).isTrue();
        assertThat(Math.floorMod(Integer.parseInt(leg.group(2)) - Integer.parseInt(leg.group(1)), 360))
                .isBetween(0, 2);
        clock("2026-06-10T12:01:00Z");
        browser.until("document.querySelector('.on-top').innerText.includes('Last note 3 h 00 min ago.')");
        assertThat(browser.find(".on-top").getText()).doesNotContain("Turn for home now");
        clock("2026-06-10T17:00:00Z");
        browser.until("document.querySelector('.on-top.late')?.innerText.includes('Turn for home now.')");
        clock("2027-11-02T10:00:00Z");
        browser.until("document.querySelector('.on-top.late').innerText.includes("
                + "'The last note is 510 days old: everything below is of then.')");
        assertThat(browser.find(".on-top").getText()).matches("(?s)Turn back by \\d{4}-\\d\\d-\\d\\d .*");
        seen("old");
        browser.noComplaints();
    }
}
