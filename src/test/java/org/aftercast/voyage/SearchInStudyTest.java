package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Position;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Words;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Searches kept in a study: log, end, hand-over, several at once, own maps. All invented. */
class SearchInStudyTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-08-01T20:00:00Z"));
    private static final byte[] PNG = {
        (byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10, 0, 0, 0, 13, 'I', 'H', 'D', 'R', 0, 0, 0, 1
    };

    @TempDir
    Path temp;

    private Path study;
    private final FileStore files = FileStore.onDisk();

    @BeforeEach
    void makeStudy() throws Exception {
        study = temp.resolve("s");
        new NewStudy(files, CLOCK).make(study, StudyInfo.titled("A test study (invented)"), "tester");
        try (StudyStore store = open()) {
            store.change("tester", change -> {
                change.put(Animal.named("A1"));
                change.put(Animal.named("A2"));
                return 0;
            });
        }
    }

    private StudyStore open() throws Exception {
        return StudyStore.open(study, StudyStore.Access.WRITE, files, CLOCK);
    }

    private static SearchLog.Row row(String time, String lat, String lon, String kind, String values) {
        return new SearchLog.Row(0, time, lat, lon, kind, values);
    }

    private void begin(String animal, String lon) throws Exception {
        SearchLog log = new SearchLog(files);
        log.add(
                study,
                animal,
                "kp",
                List.of(
                        row("2026-08-01T07:00:00Z", "52.480", lon, "start", "sd_m=800"),
                        row("2026-08-01T07:30:00Z", "", "", "boat", "speed_kn=14"),
                        row("", "52.41", "-4.15", "home", "")));
    }

    @Test
    void theLogOnlyGrowsAndAnEndBecomesTheStudysRecord() throws Exception {
        begin("A1", "-4.58");
        SearchLog log = new SearchLog(files);
        log.add(
                study,
                "A1",
                "kp",
                List.of(row("2026-08-01T08:10:00Z", "52.40", "-4.60", "bearing", "deg=0 source=true")));
        String before = Files.readString(study.resolve("searches/A1.csv"));
        log.add(
                study,
                "A1",
                "kp",
                List.of(row("2026-08-01T09:00:00Z", "52.50", "-4.60", "end", "outcome=handed-in hours=3.5 miles=22")));
        String after = Files.readString(study.resolve("searches/A1.csv"));
        assertThat(after).startsWith(before);
        try (StudyStore store = open()) {
            EndSearch.record(store, "kp", "A1");
            SearchOutcome told = store.all(SearchOutcome.class).get(0);
            assertThat(told.outcome()).isEqualTo(SearchOutcome.Outcome.HANDED_IN);
            assertThat(told.foundLatDeg()).isEqualTo(52.5);
            assertThat(told.searchNotes()).isEqualTo("From the search log.");
            assertThat(told.searchH()).isEqualTo(3.5);
            assertThat(told.searchNm()).isEqualTo(22.0);
            assertThat(told.startedUtc()).isEqualTo(Instant.parse("2026-08-01T07:30:00Z"));
        }
        int line = log.rows(study, "A1").stream()
                .filter(r -> r.kind().equals("end"))
                .findFirst()
                .orElseThrow()
                .line();
        log.add(study, "A1", "kp", List.of(row("2026-08-01T09:05:00Z", "", "", "undo", "line=" + line)));
        assertThat(Files.readString(study.resolve("searches/A1.csv"))).startsWith(after);
        try (StudyStore store = open()) {
            EndSearch.record(store, "kp", "A1");
            assertThat(store.all(SearchOutcome.class)).hasSize(1);
            assertThat(store.all(SearchOutcome.class).get(0).outcome()).isEqualTo(SearchOutcome.Outcome.NOT_FOUND);
        }
        // A row that cannot be used leaves the table as it was.
        assertThatThrownBy(() -> log.add(
                        study, "A1", "kp", List.of(row("2026-08-01T06:00:00Z", "52.4", "-4.6", "listen", "heard=no"))))
                .hasMessageContaining("before the last contact");
        assertThat(Files.readAllLines(study.resolve("searches/A1.csv"))).hasSize(11);
    }

    @Test
    void severalSearchesAreReckonedTogetherAndTheRetrievedTeaches() throws Exception {
        begin("A1", "-4.58");
        begin("A2", "-4.70");
        SeekStudy all = new SeekStudy(files);
        Seek.Options options = new Seek.Options(SearchSettings.defaults().with(3000, 1), 0, null);
        SeekDocument both = all.run(study, options);
        assertThat(both.packages()).hasSize(2).allMatch(p -> p.whyInThisOrder().contains("h to it"));
        new SearchLog(files)
                .add(
                        study,
                        "A2",
                        "kp",
                        List.of(row("2026-08-01T10:00:00Z", "52.480", "-4.6205", "end", "outcome=retrieved")));
        SeekDocument one = all.run(study, options);
        assertThat(one.packages()).hasSize(1);
        assertThat(one.ended().get(0).name()).isEqualTo("A2");
        assertThat(one.packages().get(0).fix().driftToDeg()).isBetween(45.0, 135.0);
        assertThatThrownBy(() -> all.run(temp, options)).hasMessageContaining("no search was begun");
    }

    @Test
    void theLogIsHandedOverAsTableGpxAndGeoJson() throws Exception {
        begin("A1", "-4.58");
        SearchLog log = new SearchLog(files);
        log.add(
                study,
                "A1",
                "kp",
                List.of(
                        row("2026-08-01T08:10:00Z", "52.40", "-4.60", "bearing", "deg=10 source=true"),
                        row("2026-08-01T08:20:00Z", "52.45", "-4.60", "listen", "heard=no"),
                        row("2026-08-01T08:21:00Z", "", "", "undo", "line=8")));
        BoatTrack track = new BoatTrack(study, files);
        track.add(Instant.parse("2026-08-01T08:00:00Z"), new Position(52.39, -4.5));
        track.add(Instant.parse("2026-08-01T08:09:00Z"), new Position(52.40, -4.6));
        track.close();
        Path table = study.resolve("searches/A1.csv");
        String csv = new String(ExportSearch.of(table, study, ExportSearch.Form.TABLE), StandardCharsets.UTF_8);
        assertThat(csv)
                .startsWith("line,time,lat,lon,kind,values,true_bearing_deg,taken_back,outcome,hours,miles,in_words\n");
        assertThat(csv)
                .contains(
                        "7,2026-08-01T08:10:00Z,52.400000,-4.600000,bearing,deg=10 source=true,10.0,no,,,,\"10°, true (010° true)\"");
        assertThat(csv)
                .contains(
                        "8,2026-08-01T08:20:00Z,52.450000,-4.600000,listen,heard=no,,yes,,,,\"not heard, all round\"");
        String gpx = new String(ExportSearch.of(table, study, ExportSearch.Form.GPX), StandardCharsets.UTF_8);
        assertThat(gpx).contains("7 bearing").contains("<trkpt").doesNotContain("8 listen");
        String geo = new String(ExportSearch.of(table, study, ExportSearch.Form.GEOJSON), StandardCharsets.UTF_8);
        assertThat(geo).contains("boat-track").contains("bearing-line");
        assertThatThrownBy(() -> new ExportSearch(files).write(table, temp.resolve("log.xls")))
                .hasMessageContaining("accepted: a name that ends in");
        new ExportSearch(files).write(table, temp.resolve("log.gpx"));
        assertThat(temp.resolve("log.gpx")).exists();
    }

    /** The four ends of a search, each its own in the study, in what seek says, and in all three forms of the log. */
    @ParameterizedTest
    @CsvSource({
        "retrieved,retrieved from the water",
        "stranded,found ashore",
        "handed-in,handed in by somebody",
        "abandoned,search abandoned"
    })
    void everyEndIsHandedOverWithHoursAndMiles(String outcome, String words) throws Exception {
        begin("A1", "-4.58");
        SearchLog log = new SearchLog(files);
        String place = outcome.equals("abandoned") ? "" : "52.5";
        log.add(
                study,
                "A1",
                "kp",
                List.of(
                        row("2026-08-01T08:00:00Z", "52.40", "-4.60", "listen", "heard=no"),
                        row(
                                "2026-08-01T11:00:00Z",
                                place,
                                place.isEmpty() ? "" : "-4.6",
                                "end",
                                "outcome=" + outcome + " hours=3.5")));
        double miles;
        try (StudyStore store = open()) {
            EndSearch.record(store, "kp", "A1");
            SearchOutcome told = store.all(SearchOutcome.class).get(0);
            miles = told.searchNm();
            assertThat(Words.of(told.outcome())).isEqualTo(outcome);
            assertThat(told.outcome().inHand()).isEqualTo(!outcome.equals("abandoned"));
            assertThat(told.searchH()).isEqualTo(3.5);
            // Home to the place of listening: 0.45 degrees of longitude at 52.4 N, 16.5 NM and a little; then 6 NM
            // north.
            assertThat(miles).isCloseTo(place.isEmpty() ? 16.5 : 22.5, within(0.1));
        }
        Path table = study.resolve("searches/A1.csv");
        SeekDocument document = new Seek(files)
                .run(table, new Seek.Options(SearchSettings.defaults().with(500, 1), 0, null, study));
        assertThat(document.ended().get(0).outcome()).isEqualTo(outcome);
        String csv = new String(ExportSearch.of(table, study, ExportSearch.Form.TABLE), StandardCharsets.UTF_8);
        String told = words + ", after 3.5 h, " + (place.isEmpty() ? "16.5" : "22.6") + " NM run";
        assertThat(csv).contains(String.format(Locale.ROOT, "no,%s,3.50,%.2f,\"%s\"", outcome, miles, told));
        String gpx = new String(ExportSearch.of(table, study, ExportSearch.Form.GPX), StandardCharsets.UTF_8);
        assertThat(gpx).contains("not for navigation; " + told);
        assertThat(gpx.contains("8 end")).isEqualTo(!place.isEmpty());
        JsonNode features = new ObjectMapper()
                .readTree(ExportSearch.of(table, study, ExportSearch.Form.GEOJSON))
                .get("features");
        JsonNode end = features.get(features.size() - 1);
        assertThat(end.at("/properties/outcome").asText()).isEqualTo(outcome);
        assertThat(end.at("/properties/hours").asDouble()).isEqualTo(3.5);
        assertThat(end.at("/geometry").isNull()).isEqualTo(place.isEmpty());
    }

    /** As a person would say it; figures as they were noted, megahertz with three decimals. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "beacon|frequency_mhz=151.1 range_nm=8|151.100 MHz, heard half the time at 8 NM",
                "start|sd_m=800 planned=2026-08-01T07:30:00Z|sure to within 800 m, planned to come off 2026-08-01T07:30:00Z",
                "wind|speed_mps=6 from_deg=225|6 m/s, from 225°",
                "boat|speed_kn=14 fuel_h=9|makes 14 kn, fuel for 9 h",
                "listen|heard=no gain=2 seconds=60|not heard, gain step 2, all round for 60 s",
                "bearing|deg=25 source=hand-compass gain=1|25°, by hand compass, gain step 1",
                "sweep|levels=0:12/45:24!/90:- source=true gain=1|0° 12 dB, 45° 24 dB or more, 90° not heard, true, gain step 1",
                "sighting|seen=no distance_m=300|looked for, not seen, within 300 m",
                "drift|speed_kn=0.5 to_deg=30 what=stopped-boat|0.5 kn, towards 30°, measured with the boat, stopped",
                "drift|speed_mps=0.2 to_deg=90 what=drogue hours=0.166|0.2 m/s, towards 90°, measured with a drogue, over 10 min",
                "end|outcome=handed-in hours=3 miles=20 package=B2|B2: handed in by somebody, after 3 h, 20 NM run",
                "undo|line=7|takes back row 7",
                "listen|heard=yes colour=red|heard, all round, colour red",
            })
    void aRowIsSaidAsAPersonWould(String kind, String values, String words) {
        assertThat(SeekWords.of(kind, values)).isEqualTo(words);
    }

    private Path mbtiles(String name, String format, byte[] tile) throws Exception {
        Path file = temp.resolve(name);
        try (Connection db = DriverManager.getConnection("jdbc:sqlite:" + file)) {
            db.createStatement().execute("CREATE TABLE metadata (name text, value text)");
            db.createStatement()
                    .execute(
                            "CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob)");
            db.createStatement()
                    .execute("INSERT INTO metadata VALUES ('name','Bay'),('format','" + format
                            + "'),('bounds','-5,52,-4,53'),('attribution','invented')");
            try (PreparedStatement put = db.prepareStatement("INSERT INTO tiles VALUES (3, 2, 5, ?)")) {
                put.setBytes(1, tile);
                put.executeUpdate();
            }
        }
        return file;
    }

    /** MBTiles 1.3: rows are counted from the south, so row 5 of 8 is row 2 from the north. */
    @Test
    void rasterTilesAreServedAndVectorTilesRefused() throws Exception {
        OwnMaps maps = new OwnMaps(files);
        assertThat(maps.add(study, mbtiles("bay.mbtiles", "png", PNG)))
                .isEqualTo("bay.mbtiles: png tiles, zoom 3 to 3");
        MapTiles.About about = OwnMaps.tiles(study).get(0);
        assertThat(about.boundsDeg()).containsExactly(-5.0, 52.0, -4.0, 53.0);
        assertThat(about.credit()).isEqualTo("invented");
        Path file = OwnMaps.tileFile(study, "bay.mbtiles");
        assertThat(file).isNotNull();
        assertThat(MapTiles.tile(file, 3, 2, 2).bytes()).isEqualTo(PNG);
        assertThat(MapTiles.tile(file, 3, 2, 2).contentType()).isEqualTo("image/png");
        assertThat(MapTiles.tile(file, 3, 2, 5)).isNull();
        assertThat(MapTiles.tile(file, 3, -1, 99)).isNull();
        assertThat(OwnMaps.tileFile(study, "../study.db")).isNull();
        byte[] pbf = {0x1f, (byte) 0x8b, 8, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3};
        assertThatThrownBy(() -> maps.add(study, mbtiles("v.mbtiles", "pbf", pbf)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("vector tiles");
        Path text = Files.writeString(temp.resolve("no.mbtiles"), "hello, no database at all, only words");
        assertThatThrownBy(() -> maps.add(study, text)).hasMessageContaining("is no MBTiles");
    }

    @Test
    void anOwnCoastIsLandToTheSearch() throws Exception {
        OwnMaps maps = new OwnMaps(files);
        Path geo = Files.writeString(
                temp.resolve("islet.geojson"),
                "{\"type\":\"Polygon\",\"coordinates\":[[[-4.70,52.40],[-4.69,52.40],[-4.69,52.41],[-4.70,52.41],[-4.70,52.40]]]}");
        assertThat(maps.add(study, geo)).isEqualTo("islet.geojson: 1 rings of coast");
        Path gpx = Files.writeString(
                temp.resolve("walk.gpx"),
                "<?xml version=\"1.0\"?><gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>"
                        + "<trkpt lat=\"52.5\" lon=\"-4.8\"/><trkpt lat=\"52.5\" lon=\"-4.79\"/><trkpt lat=\"52.51\""
                        + " lon=\"-4.79\"/><trkpt lat=\"52.5001\" lon=\"-4.8001\"/></trkseg></trk></gpx>");
        maps.add(study, gpx);
        assertThat(OwnMaps.rings(study)).hasSize(2);
        assertThat(OwnMaps.rings(study).get(1).get(0).latDeg()).isCloseTo(52.5, within(1e-12));
        Path open = Files.writeString(
                temp.resolve("open.gpx"),
                "<gpx><trk><trkseg><trkpt lat=\"52.5\" lon=\"-4.8\"/><trkpt lat=\"53\" lon=\"-4\"/></trkseg></trk></gpx>");
        assertThatThrownBy(() -> maps.add(study, open)).hasMessageContaining("none of its 1 lines ends within 200 m");
        Path entity = Files.writeString(
                temp.resolve("bad.gpx"),
                "<!DOCTYPE g [<!ENTITY x SYSTEM \"file:///etc/hostname\">]><gpx><trk><name>&x;</name></trk></gpx>");
        assertThatThrownBy(() -> maps.add(study, entity)).isInstanceOf(BadInputException.class);
        Path bad = Files.writeString(temp.resolve("bad2.gpx"), "<gpx><rte>\n<rtept lat=\"99\" lon=\"0\"/></rte></gpx>");
        assertThatThrownBy(() -> maps.add(study, bad)).hasMessageContaining("line 2: lat \"99\"");
        assertThatThrownBy(() -> maps.add(study, temp.resolve("none.gpx"))).hasMessageContaining("no such file");
        assertThat(Coast.shipped()
                        .landAround(new Position(52.45, -4.6), 50_000, OwnMaps.rings(study))
                        .isLand(new Position(52.405, -4.695)))
                .isTrue();
        assertThat(Coast.shipped().landAround(new Position(52.45, -4.6), 50_000).isLand(new Position(52.405, -4.695)))
                .isFalse();
        begin("A1", "-4.58");
        SeekDocument document = new SeekStudy(files)
                .run(study, new Seek.Options(SearchSettings.defaults().with(2000, 1), 0, null));
        assertThat(document.packages()).hasSize(1);
    }
}
