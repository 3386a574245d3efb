package org.aftercast.voyage;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Position;

/** Reads a coast: polygons of GeoJSON, or tracks and routes of GPX whose ends meet (a walk around an island). */
final class CoastFile {

    /** Ends of a GPX line this near each other close it. */
    private static final double CLOSED_M = 200;

    private static final String ACCEPTED =
            "GeoJSON with Polygon, MultiPolygon or a collection of them, or GPX with tracks or routes that close; degrees";

    private CoastFile() {}

    /**
     * Outer rings and holes.
     *
     * @throws BadInputException if the file cannot be read or holds no ring
     */
    static List<List<Position>> rings(Path file) throws BadInputException {
        boolean gpx =
                String.valueOf(file.getFileName()).toLowerCase(Locale.ROOT).endsWith(".gpx");
        List<List<Position>> rings = gpx ? gpx(file) : geoJson(file);
        if (rings.isEmpty()) {
            throw new BadInputException(file + ": holds no polygon; accepted: " + ACCEPTED);
        }
        return rings;
    }

    private static List<List<Position>> geoJson(Path file) throws BadInputException {
        List<List<Position>> rings = new ArrayList<>();
        try {
            collect(new ObjectMapper().readTree(Files.readAllBytes(file)), rings);
        } catch (IOException failure) {
            throw new BadInputException(
                    file + ": is not GeoJSON (" + failure.getMessage() + "); accepted: " + ACCEPTED);
        } catch (IllegalArgumentException bad) {
            throw new BadInputException(file + ": " + bad.getMessage());
        }
        return rings;
    }

    private static void collect(JsonNode node, List<List<Position>> rings) {
        switch (node.path("type").asText()) {
            case "FeatureCollection" -> node.path("features").forEach(f -> collect(f, rings));
            case "GeometryCollection" -> node.path("geometries").forEach(g -> collect(g, rings));
            case "Feature" -> collect(node.path("geometry"), rings);
            case "MultiPolygon" -> node.path("coordinates").forEach(p -> p.forEach(r -> rings.add(ring(r))));
            case "Polygon" -> node.path("coordinates").forEach(r -> rings.add(ring(r)));
            default -> {
                // lines and points are no land
            }
        }
    }

    private static List<Position> ring(JsonNode ring) {
        List<Position> out = new ArrayList<>();
        for (JsonNode pair : ring) {
            if (pair.size() < 2 || !pair.get(0).isNumber() || !pair.get(1).isNumber()) {
                throw new IllegalArgumentException("a place is not [longitude, latitude] but " + pair);
            }
            out.add(new Position(pair.get(1).asDouble(), pair.get(0).asDouble()));
        }
        if (out.size() < 4) {
            throw new IllegalArgumentException(
                    "a ring has " + out.size() + " places; four at least, the last as the first");
        }
        return out;
    }

    private static List<List<Position>> gpx(Path file) throws BadInputException {
        XMLInputFactory factory = XMLInputFactory.newFactory();
        // A map from elsewhere must not make the program read other files.
        factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
        factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
        List<List<Position>> rings = new ArrayList<>();
        List<Position> line = new ArrayList<>();
        int open = 0;
        try (InputStream in = Files.newInputStream(file)) {
            XMLStreamReader xml = factory.createXMLStreamReader(in);
            while (xml.hasNext()) {
                int event = xml.next();
                if (event == XMLStreamConstants.START_ELEMENT) {
                    switch (xml.getLocalName()) {
                        case "trkseg", "rte" -> line = new ArrayList<>();
                        case "trkpt", "rtept" -> line.add(place(file, xml));
                        default -> {
                            // way points and names are no land
                        }
                    }
                } else if (event == XMLStreamConstants.END_ELEMENT
                        && (xml.getLocalName().equals("trkseg")
                                || xml.getLocalName().equals("rte"))) {
                    if (line.size() >= 4 && Geodesics.distanceM(line.get(0), line.get(line.size() - 1)) <= CLOSED_M) {
                        rings.add(line);
                    } else if (!line.isEmpty()) {
                        open++;
                    }
                    line = new ArrayList<>();
                }
            }
        } catch (IOException | XMLStreamException failure) {
            throw new BadInputException(
                    file + ": is not GPX (" + oneLine(failure.getMessage()) + "); accepted: " + ACCEPTED);
        }
        if (rings.isEmpty() && open > 0) {
            throw new BadInputException(file + ": none of its " + open + " lines ends within " + Math.round(CLOSED_M)
                    + " m of where it begins; accepted: " + ACCEPTED);
        }
        return rings;
    }

    private static Position place(Path file, XMLStreamReader xml) throws BadInputException {
        String lat = xml.getAttributeValue(null, "lat");
        String lon = xml.getAttributeValue(null, "lon");
        try {
            return new Position(Double.parseDouble(String.valueOf(lat)), Double.parseDouble(String.valueOf(lon)));
        } catch (IllegalArgumentException bad) {
            throw new BadInputException(file + ", line " + xml.getLocation().getLineNumber() + ": lat \"" + lat
                    + "\", lon \"" + lon + "\" is no place; accepted: degrees");
        }
    }

    private static String oneLine(@org.jspecify.annotations.Nullable String text) {
        return String.valueOf(text).replaceAll("\\s+", " ");
    }
}
