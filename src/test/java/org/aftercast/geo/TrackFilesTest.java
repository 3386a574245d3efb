package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.NodeList;

class TrackFilesTest {

    private static final Instant TIME = Instant.parse("2026-08-01T10:00:00Z");

    /** Order of the GPX 1.1 schema: metadata, wpt, rte, trk. */
    @Test
    void gpxIsInTheSchemasOrderAndParses() throws Exception {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        Track track = new Track(
                "run & <home>",
                List.of(
                        new Track.Point(TIME, new Position(52.3, -4.6)),
                        new Track.Point(TIME.plusSeconds(60), new Position(52.31, -4.6))));
        GpxWriter.write(
                out,
                "search \u0001 1",
                "invented",
                TIME,
                List.of(new GpxWriter.Waypoint(
                        "fix", new Position(-0.0000001, 179.99999999), TIME, "95 % within 1 km")),
                List.of(new Track("next", track.points())),
                List.of(track));
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        factory.setNamespaceAware(true);
        Document document = factory.newDocumentBuilder().parse(new ByteArrayInputStream(out.toByteArray()));
        assertThat(document.getDocumentElement().getNamespaceURI()).isEqualTo("http://www.topografix.com/GPX/1/1");
        assertThat(document.getDocumentElement().getAttribute("version")).isEqualTo("1.1");
        NodeList children = document.getDocumentElement().getElementsByTagName("*");
        StringBuilder order = new StringBuilder();
        for (int i = 0; i < children.getLength(); i++) {
            String name = children.item(i).getNodeName();
            if (List.of("metadata", "wpt", "rte", "trk").contains(name)) {
                order.append(name).append(' ');
            }
        }
        assertThat(order.toString()).isEqualTo("metadata wpt rte trk ");
        assertThat(document.getElementsByTagName("trkpt").item(1).getTextContent())
                .isEqualTo("2026-08-01T10:01:00Z");
        assertThat(track.lengthM()).isCloseTo(1112.8, within(1.0));
    }

    private static double area(List<double[]> ring) {
        double sum = 0;
        for (int i = 0; i + 1 < ring.size(); i++) {
            sum += ring.get(i)[0] * ring.get(i + 1)[1] - ring.get(i + 1)[0] * ring.get(i)[1];
        }
        return sum / 2;
    }

    @SuppressWarnings("unchecked")
    private static List<List<List<double[]>>> rings(Map<String, Object> geometry) {
        assertThat(geometry.get("type")).isEqualTo("MultiPolygon");
        return (List<List<List<double[]>>>) geometry.get("coordinates");
    }

    /** RFC 7946, 3.1.6: outer rings counter-clockwise, holes clockwise, closed; 3.1.1: longitude first. */
    @Test
    void ringsTurnTheRightWay() {
        List<Position> clockwise =
                List.of(new Position(0, 0), new Position(1, 0), new Position(1, 1), new Position(0, 1));
        List<Position> hole =
                List.of(new Position(0.4, 0.4), new Position(0.4, 0.6), new Position(0.6, 0.6), new Position(0.6, 0.4));
        List<List<List<double[]>>> polygons =
                rings(GeoJson.polygons(List.of(new GeoJson.Polygon(clockwise, List.of(hole)))));
        assertThat(polygons).hasSize(1);
        assertThat(area(polygons.get(0).get(0))).isCloseTo(1, within(1e-9));
        assertThat(area(polygons.get(0).get(1))).isCloseTo(-0.04, within(1e-9));
        assertThat(polygons.get(0).get(0).get(0))
                .isEqualTo(polygons.get(0).get(0).get(4));
    }

    /** RFC 7946, 3.1.9: cut at the antimeridian so that no part crosses it. */
    @Test
    void cutsAtTheAntimeridian() {
        List<Position> square = List.of(
                new Position(-17, 179), new Position(-17, -179), new Position(-16, -179), new Position(-16, 179));
        List<List<List<double[]>>> polygons = rings(GeoJson.polygons(List.of(new GeoJson.Polygon(square, List.of()))));
        assertThat(polygons).hasSize(2);
        double total = 0;
        for (List<List<double[]>> polygon : polygons) {
            double low = polygon.get(0).stream().mapToDouble(p -> p[0]).min().orElseThrow();
            double high = polygon.get(0).stream().mapToDouble(p -> p[0]).max().orElseThrow();
            assertThat(high - low).isCloseTo(1, within(1e-9));
            total += area(polygon.get(0));
        }
        assertThat(total).isCloseTo(2, within(1e-9));
        Map<String, Object> line = GeoJson.line(List.of(new Position(0, 179), new Position(1, -179)));
        assertThat(line.get("type")).isEqualTo("MultiLineString");
        assertThat(GeoJson.line(square.subList(0, 1)).get("type")).isEqualTo("LineString");
    }
}
