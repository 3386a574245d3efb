package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.Position;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SeekTest {

    /** An invented hunt in Cardigan Bay: the package lies at 52.50 N, 4.60 W; bearings are exact to the degree. */
    private static final String HUNT = """
            time,lat,lon,kind,values
            # invented
            2026-08-01T07:00:00Z,52.480,-4.580,start,sd_m=3000
            2026-08-01T07:00:00Z,,,wind,speed_mps=1 from_deg=230
            2026-08-01T07:30:00Z,,,boat,speed_kn=14 fuel_h=9
            ,52.41,-4.15,home,
            2026-08-01T08:10:00Z,52.40,-4.60,bearing,deg=0 source=true
            2026-08-01T08:20:00Z,52.50,-4.45,bearing,deg=270 source=true
            2026-08-01T08:25:00Z,52.42,-4.50,bearing,deg=323 source=true
            2026-08-01T08:26:00Z,52.42,-4.50,bearing,deg=90 source=true
            2026-08-01T08:30:00Z,52.42,-4.50,undo,line=10
            """;

    @TempDir
    Path folder;

    private final Seek seek = new Seek(FileStore.onDisk());

    private SeekDocument run(String text) throws Exception {
        Path file = folder.resolve("hunt.csv");
        Files.writeString(file, text);
        return seek.run(file, new Seek.Options(SearchSettings.defaults().with(4000, 1), 2, null));
    }

    private static Position at(SeekDocument.Place place) {
        return new Position(place.latDeg(), place.lonDeg());
    }

    @Test
    void findsThePackageWithinItsRegion() throws Exception {
        SeekDocument document = run(HUNT);
        SeekDocument.Sought found = document.packages().get(0);
        assertThat(Geodesics.distanceM(at(found.fix().peak()), new Position(52.5, -4.6)))
                .isLessThan(2000);
        assertThat(found.residuals()).hasSize(3).allMatch(r -> r.verdict().equals("agrees"));
        assertThat(found.classicalFix()).isNotNull();
        assertThat(Geodesics.distanceM(at(found.classicalFix().at()), new Position(52.5, -4.6)))
                .isLessThan(400);
        assertThat(found.beacon().adrift()).isGreaterThan(0.95);
        assertThat(found.forecast()).hasSize(3);
        assertThat(document.cautions().get(0)).startsWith("Go or no-go comes first");
        assertThat(document.cautions()).anyMatch(c -> c.contains("tide"));
        // Two thirds of nine hours after 07:30 is 13:30, less the run home of about 17 NM at 14 kn.
        Instant turnBack = Instant.parse(found.turnBack().at());
        double homeH = Geodesics.distanceM(new Position(52.42, -4.50), new Position(52.41, -4.15)) / 1852 / 14;
        assertThat(Duration.between(turnBack, Instant.parse("2026-08-01T13:30:00Z"))
                                .toSeconds()
                        / 3600.0)
                .isCloseTo(homeH, within(0.1));
    }

    @Test
    void jsonKeepsToItsSchemaAndGeoJsonAndGpxAreWritten() throws Exception {
        SeekDocument document = run(HUNT);
        Path json = folder.resolve("out.json");
        seek.writeJson(document, json);
        String schema =
                Files.readString(Path.of(System.getProperty("aftercast.basedir", "."), "docs/seek.schema.json"));
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                        .getSchema(schema)
                        .validate(Files.readString(json), InputFormat.JSON))
                .isEmpty();
        Path geoJson = folder.resolve("out.geojson");
        seek.writeGeoJson(document, geoJson);
        assertThat(Files.readString(geoJson)).contains("\"FeatureCollection\"").contains("\"region\"");
        Path gpx = folder.resolve("out.gpx");
        seek.writeGpx(document, gpx);
        assertThat(Files.readString(gpx)).contains("<wpt lat=");
        // Its own region can be read back as a coast.
        assertThat(CoastFile.rings(geoJson)).isNotEmpty();
    }

    @Test
    void sameFileAndSeedSameResult() throws Exception {
        assertThat(ResultJson.of(run(HUNT))).isEqualTo(ResultJson.of(run(HUNT)));
    }

    @Test
    void severalPackagesArePutInOrder() throws Exception {
        SeekDocument document = run("""
                time,lat,lon,kind,values
                2026-08-01T07:00:00Z,52.30,-5.60,start,sd_m=3000 package=far
                2026-08-01T07:00:00Z,52.45,-4.50,start,sd_m=1000 package=near
                2026-08-01T07:30:00Z,,,boat,speed_kn=14
                ,52.41,-4.15,home,
                2026-08-01T08:10:00Z,52.44,-4.40,bearing,deg=290 source=true package=near
                2026-08-01T08:20:00Z,52.44,-4.40,drift,speed_mps=0.2 to_deg=20 what=drogue
                """);
        assertThat(document.packages().stream().map(SeekDocument.Sought::name)).containsExactly("near", "far");
        assertThat(document.packages().get(0).whyInThisOrder()).contains("h to it");
    }

    @Test
    void everyBadCellIsToldWithLineAndColumn() {
        assertThatThrownBy(() -> run("""
                        time,lat,lon,kind,values
                        2026-08-01T07:00:00Z,52.480,-4.580,start,sd_m=abc
                        yesterday,52.40,-4.60,bearing,deg=0 source=true
                        2026-08-01T08:20:00Z,95,-4.45,bearing,deg=270 source=true
                        2026-08-01T08:20:00Z,52.5,-4.45,bearing,deg=270 source=nose
                        2026-08-01T08:20:00Z,52.5,-4.45,bearing,deg=270 source=bow-and-compass
                        2026-08-01T08:20:00Z,52.5,-4.45,ping,deg=270
                        2026-08-01T08:20:00Z,52.5,-4.45,listen,gain=1
                        2026-08-01T08:20:00Z,52.5,-4.45,undo,line=99
                        """))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("line 2, column 5: sd_m: \"abc\" is not a number")
                .hasMessageContaining("line 3, column 1: \"yesterday\" is not a time")
                .hasMessageContaining("line 4, column 2: lat: 95.0; accepted: −90 to 90")
                .hasMessageContaining("line 5, column 5: source: \"nose\"; accepted: source=true, hand-compass")
                .hasMessageContaining("line 6, column 5: heading_deg: a bearing read from the bow")
                .hasMessageContaining("line 7, column 4: \"ping\" is not a kind")
                .hasMessageContaining("line 8, column 5: kind listen needs heard; accepted: heard=yes or heard=no")
                .hasMessageContaining("line 9, column 5: undo needs line; accepted: line=N");
    }

    @Test
    void aWrongHeaderAnUnknownValueAndAMissingStartAreRefused() {
        assertThatThrownBy(() -> run("time,lat\n1,2\n")).hasMessageContaining("accepted: time,lat,lon,kind,values");
        assertThatThrownBy(() -> run("")).hasMessageContaining("is empty");
        assertThatThrownBy(() -> run("time,lat,lon,kind,values\n2026-08-01T07:00:00Z,52,-4.5,listen,heard=no\n"))
                .hasMessageContaining("start");
        assertThatThrownBy(() -> run(HUNT.replace("sd_m=3000", "sd_m=3000 mood=good")))
                .hasMessageContaining("\"mood\" is not a value of kind start");
        assertThatThrownBy(() -> run(HUNT.replace("2026-08-01T08:10:00Z", "2026-07-01T08:10:00Z")))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("line 7, column 1: 2026-07-01T08:10:00Z is before the last contact");
        assertThatThrownBy(() ->
                        seek.run(folder.resolve("none.csv"), new Seek.Options(SearchSettings.defaults(), 1, null)))
                .hasMessageContaining("no such file");
    }

    /** A retrieved package (0.5 m/s to the east for three hours) tells of the drift of the one still sought. */
    @Test
    void aRetrievedPackageTeachesTheRestAndCostsAreTold() throws Exception {
        String other = """
                2026-08-01T06:00:00Z,52.480,-4.700,start,sd_m=50 package=B
                """;
        String end = "2026-08-01T09:00:00Z,52.480,-4.6205,end,outcome=retrieved package=B\n";
        SeekDocument before = run(HUNT + other);
        SeekDocument after = run(HUNT + other + end);
        assertThat(after.ended()).hasSize(1);
        SeekDocument.Ended ended = after.ended().get(0);
        assertThat(ended.outcome()).isEqualTo("retrieved");
        assertThat(ended.driftMps()).isCloseTo(0.5, within(0.005));
        assertThat(ended.driftToDeg()).isCloseTo(90, within(0.2));
        assertThat(ended.hours()).isCloseTo(1.5, within(0.01));
        assertThat(after.packages()).hasSize(1);
        assertThat(before.packages()).hasSize(2);
        assertThat(after.packages().get(0).fix().driftToDeg()).isBetween(60.0, 120.0);
        assertThat(after.packages().get(0).fix().driftMps()).isGreaterThan(0.3);
        Path json = folder.resolve("ended.json");
        seek.writeJson(after, json);
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                        .getSchema(Files.readString(
                                Path.of(System.getProperty("aftercast.basedir", "."), "docs/seek.schema.json")))
                        .validate(Files.readString(json), InputFormat.JSON))
                .isEmpty();
        SeekDocument over = run(HUNT + "2026-08-01T12:00:00Z,52.5,-4.6,end,outcome=stranded hours=5 miles=31\n");
        assertThat(over.packages()).isEmpty();
        assertThat(over.ended().get(0).driftMps()).isNull();
        assertThat(over.ended().get(0).miles()).isEqualTo(31);
        assertThatThrownBy(() -> run(HUNT + "2026-08-01T12:00:00Z,,,end,outcome=retrieved\n"))
                .hasMessageContaining("line 12, column 2: end outcome=retrieved needs lat and lon");
        assertThatThrownBy(() -> run(HUNT + "2026-08-01T12:00:00Z,,,end,outcome=eaten\n"))
                .hasMessageContaining("accepted: outcome=retrieved, stranded, handed-in, abandoned");
    }

    @Test
    void hostileRowsAreToldWithLineAndColumn() {
        String head = "time,lat,lon,kind,values\n2026-08-01T07:00:00Z,52.480,-4.580,start,sd_m=3000\n";
        String[][] cases = {
            {"2026-08-01T08:00:00Z,NaN,-4.5,listen,heard=no", "line 3, column 2: lat: \"NaN\" is not a number"},
            {"2026-08-01T08:00:00Z,52.4,Infinity,listen,heard=no", "line 3, column 3: lon"},
            {"2026-08-01T08:00:00Z,52.4,-4.5f,listen,heard=no", "line 3, column 3: lon: \"-4.5f\""},
            {"2026-08-01T08:00:00Z,52.4,181,listen,heard=no", "line 3, column 2: the place is 8368 km"},
            {
                "2026-08-01T06:59:59Z,52.4,-4.5,listen,heard=no",
                "line 3, column 1: 2026-08-01T06:59:59Z is before the last"
            },
            {
                "2036-08-01T08:00:00Z,52.4,-4.5,listen,heard=no",
                "line 3, column 1: 2036-08-01T08:00:00Z is 3653 days after"
            },
            {"2026-08-01T08:00:00Z,-52.4,-4.5,listen,heard=no", "line 3, column 2: the place is 11"},
            {"2026-08-01T08:00:00Z,52.4,-4.5,listen,heard=no gain=2.5", "line 3, column 5: gain: \"2.5\""},
            {"2026-08-01T08:00:00Z,52.4,-4.5,listen,heard=no gain=9", "line 3, column 5: gain: 9 is not one of"},
            {"2026-08-01T08:00:00Z,52.4,-4.5,listen,heard=no seconds=1e9", "line 3, column 5: seconds"},
            {"2026-08-01T08:00:00Z,52.4,-4.5,bearing,deg=nan source=true", "line 3, column 5: deg: \"nan\""},
            {"2026-08-01T08:00:00Z,,,beacon,frequency_mhz=1e9", "line 3, column 5: frequency_mhz"},
            {"2026-08-01T08:00:00Z,,,receiver,steps_db=0/20/10", "line 3, column 5: steps_db"},
            {
                "2026-08-01T08:00:00Z,,,boat,speed_kn=900",
                "line 3, column 5: speed_kn: 900 is no speed of kind boat; accepted: 0 to 30 m/s (58 kn)"
            },
            {
                "2026-08-01T08:00:00Z,,,wind,speed_mps=1e6 from_deg=0",
                "line 3, column 5: speed_mps: 1e6 is no speed of kind wind"
            },
            {
                "2026-13-01T08:00:00Z,52.4,-4.5,listen,heard=no",
                "line 3, column 1: \"2026-13-01T08:00:00Z\" is not a time"
            },
            {
                "2026-08-01T08:00:00Z,52.4,-4.5,drift,speed_mps=0.2 to_deg=20 what=drogue hours=-1",
                "line 3, column 5: hours"
            },
            {"2026-08-01T08:00:00Z,10,10,here,", "line 3, column 2: the place is "},
            {",10,10,home,", "line 3, column 2: the place is "},
        };
        for (String[] c : cases) {
            assertThatThrownBy(() -> run(head + c[0] + "\n"))
                    .as(c[0])
                    .isInstanceOf(BadInputException.class)
                    .hasMessageContaining(c[1]);
        }
    }

    /**
     * The package drifts south of the Lleyn peninsula, the boat and its harbour lie north of it: no leg leads across land (the
     * coast asked again, in fine steps), and the way home is reckoned round it, so that the time to turn back comes earlier
     * than along the straight line.
     */
    @Test
    void noLegLeadsAcrossLandAndTheWayHomeGoesRoundIt() throws Exception {
        Position boat = new Position(52.98, -4.55);
        Land land = Coast.shipped().landAround(boat, 60_000);
        for (String heard : new String[] {"no", "yes"}) {
            SeekDocument document = run("time,lat,lon,kind,values\n2026-08-01T07:00:00Z,52.80,-4.40,start,sd_m=1500\n"
                    + "2026-08-01T07:00:00Z,,,boat,speed_kn=14 fuel_h=9\n,53.02,-4.45,home,\n"
                    + "2026-08-01T08:00:00Z,52.98,-4.55,listen,heard=" + heard + "\n"
                    + "2026-08-01T08:10:00Z,52.76,-4.50,here,\n");
            SeekDocument.Sought sought = document.packages().get(0);
            SeekDocument.LegPart leg = sought.advice().leg();
            if (leg != null && leg.distanceM() > 1) {
                Position from = new Position(52.76, -4.50);
                for (int k = 0; k <= 400; k++) {
                    assertThat(land.isLand(Geodesics.from(from, leg.courseDeg(), leg.distanceM() * k / 400)))
                            .isFalse();
                }
            }
            // Two thirds of 9 h from 07:00 is 13:00; straight home 29 km at 14 kn (7.2 m/s) 67 min: 11:53. Round
            // Bardsey Sound it
            // is twice as far.
            assertThat(Instant.parse(sought.turnBack().at()))
                    .isBetween(Instant.parse("2026-08-01T09:30:00Z"), Instant.parse("2026-08-01T11:15:00Z"));
        }
    }

    /** Where maps tear: beside the pole and across the date line the same hunt ends as elsewhere. Times out of order. */
    @Test
    void polesAndTheDateLineAreOrdinaryPlaces() throws Exception {
        double[][] places = {{89.95, 0}, {-89.9, 120}, {60, 180}, {-17, -179.99}, {0, 0}};
        for (double[] place : places) {
            Position truth = new Position(place[0], place[1]);
            StringBuilder text = new StringBuilder("time,lat,lon,kind,values\n");
            text.append("2026-08-01T07:00:00Z,").append(place[0]).append(',').append(place[1]);
            text.append(",start,sd_m=2000\n");
            text.append("2026-08-01T07:00:00Z,,,boat,speed_kn=14\n");
            for (int k = 2; k >= 0; k--) {
                Position own = Geodesics.from(truth, 10 + 115 * k, 6000);
                double deg = Geodesics.between(own, truth).bearingDeg();
                text.append(String.format(
                        java.util.Locale.ROOT,
                        "2026-08-01T08:%02d:00Z,%.7f,%.7f,bearing,deg=%.2f source=true%n",
                        10 * k,
                        own.latDeg(),
                        own.lonDeg(),
                        (deg + 360) % 360));
            }
            SeekDocument document = run(text.toString());
            assertThat(Geodesics.distanceM(at(document.packages().get(0).fix().peak()), truth))
                    .as(place[0] + ", " + place[1])
                    .isLessThan(1500);
            Path json = folder.resolve("edge.geojson");
            seek.writeGeoJson(document, json);
            assertThat(Files.readString(json)).doesNotContain("NaN");
        }
    }

    /** Every kind named in the page is known to the reader, and every kind the reader names is in the page. */
    @Test
    void thePageNamesEveryKind() throws Exception {
        String page = Files.readString(Path.of(System.getProperty("aftercast.basedir", "."), "docs/search.md"));
        String told = "";
        try {
            run("time,lat,lon,kind,values\n2026-08-01T07:00:00Z,52,-4.5,zzz,\n");
        } catch (BadInputException bad) {
            told = String.valueOf(bad.getMessage());
        }
        String list = told.substring(told.indexOf("accepted: ") + 10)
                .lines()
                .findFirst()
                .orElseThrow();
        String[] kinds = list.split(", ");
        assertThat(kinds.length).isGreaterThan(15);
        for (String kind : kinds) {
            assertThat(page).contains("| `" + kind + "` |");
        }
    }
}
