package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CoastTest {

    private static final Coast COAST = Coast.shipped();

    /** Places anyone can check on a map: town or open water. */
    @ParameterizedTest
    @CsvSource({
        "51.50,-0.12,true",
        "52.41,-4.08,true",
        "52.30,-4.60,false",
        "54.45,10.30,false",
        "54.32,10.13,true",
        "0,0,false",
        "42.0,50.5,false",
        "-17.8,178.0,true",
        "-33.9,151.6,false",
        "64.9,-18.5,true",
        "78.0,16.0,true"
    })
    void townsAndOpenWater(double lat, double lon, boolean land) {
        Position place = new Position(lat, lon);
        assertThat(COAST.landAround(place, 20_000).isLand(0, 0)).isEqualTo(land);
    }

    /** Against plain ray casting in degrees over the same coast in Python: src/test/reference/coast_points.py. */
    @Test
    void agreesWithPlainRayCasting() throws Exception {
        List<String> rows;
        try (InputStream in = CoastTest.class.getResourceAsStream("coast-points.csv")) {
            rows = new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .skip(1)
                    .toList();
        }
        Map<String, Land> lands = new HashMap<>();
        int disagree = 0;
        for (String row : rows) {
            String[] part = row.split(",");
            Position place = new Position(Double.parseDouble(part[1]), Double.parseDouble(part[2]));
            Land land = lands.computeIfAbsent(part[0], area -> COAST.landAround(place, 120_000));
            if (land.isLand(place) != part[3].equals("1")) {
                // Straight in degrees and straight on the plane differ by metres: only at the very coast.
                LocalPlane.Point point = land.plane().toPlane(place);
                assertThat(land.coastDistanceM(point.xM(), point.yM(), 500))
                        .as(row)
                        .isLessThan(30);
                disagree++;
            }
        }
        assertThat(rows).hasSize(200);
        assertThat(disagree).isLessThanOrEqualTo(2);
    }

    /** Slow twin: a line crosses land when one of its points, taken every 20 m, is on land. */
    @Test
    void linesAcrossLand() {
        Land land = COAST.landAround(new Position(52.4, -4.4), 60_000);
        Random random = new Random(3);
        int crossing = 0;
        for (int i = 0; i < 400; i++) {
            double x1 = (random.nextDouble() - 0.5) * 80_000;
            double y1 = (random.nextDouble() - 0.5) * 80_000;
            double x2 = x1 + (random.nextDouble() - 0.5) * 30_000;
            double y2 = y1 + (random.nextDouble() - 0.5) * 30_000;
            int steps = (int) (Math.hypot(x2 - x1, y2 - y1) / 20) + 1;
            boolean touched = false;
            for (int k = 0; k <= steps && !touched; k++) {
                double t = (double) k / steps;
                touched = land.isLand(x1 + t * (x2 - x1), y1 + t * (y2 - y1));
            }
            boolean crosses = land.crosses(x1, y1, x2, y2);
            // Sampling can miss a spit narrower than 20 m; the exact test must never miss what sampling finds.
            if (touched) {
                assertThat(crosses).isTrue();
                crossing++;
            } else if (crosses) {
                assertThat(land.coastDistanceM(x1, y1, 40_000)).isLessThan(40_000);
            }
        }
        assertThat(crossing).isBetween(100, 300);
        assertThat(land.crosses(0, 0, 0, 0)).isEqualTo(land.isLand(0, 0));
    }

    @Test
    void addedLandAndOpenSea() {
        Position sea = new Position(52.30, -4.60);
        List<Position> islet =
                List.of(Geodesics.from(sea, 0, 300), Geodesics.from(sea, 120, 300), Geodesics.from(sea, 240, 300));
        Land land = COAST.landAround(sea, 20_000, List.of(islet));
        assertThat(land.isLand(0, 0)).isTrue();
        assertThat(land.crosses(-1000, 0, 1000, 0)).isTrue();
        assertThat(land.crosses(-1000, 400, 1000, 400)).isFalse();
        assertThat(Land.none(sea, 1000).crosses(-500, 0, 500, 0)).isFalse();
        assertThat(Coast.none().landAround(sea, 1000).coastDistanceM(0, 0, 99)).isEqualTo(99);
        assertThatThrownBy(() -> COAST.landAround(sea, 0)).hasMessageContaining("radiusM");
        assertThatThrownBy(() -> COAST.landAround(sea, 1000, List.of(islet.subList(0, 2))))
                .hasMessageContaining("three at least");
    }
}
