package org.aftercast.geo;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Writes GPX 1.1 (source key gpx11): metadata, then way points, routes and tracks in the schema's order; times in UTC;
 * degrees to 1e-7. Characters XML cannot hold are left out.
 */
public final class GpxWriter {

    private GpxWriter() {}

    /**
     * A marked place.
     *
     * @param note longer text, or null
     */
    public record Waypoint(
            String name,
            Position position,
            @Nullable Instant time,
            @Nullable String note) {}

    /**
     * Writes one document and leaves the stream open.
     *
     * @param name title
     * @param description what it is; say here when the data are invented
     * @throws IOException if the stream cannot be written
     */
    public static void write(
            OutputStream out,
            String name,
            String description,
            @Nullable Instant written,
            List<Waypoint> waypoints,
            List<Track> routes,
            List<Track> tracks)
            throws IOException {
        Writer w = new OutputStreamWriter(out, StandardCharsets.UTF_8);
        w.write("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        w.write("<gpx version=\"1.1\" creator=\"Aftercast\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n");
        w.write("  <metadata><name>" + xml(name) + "</name><desc>" + xml(description) + "</desc>");
        if (written != null) {
            w.write("<time>" + written + "</time>");
        }
        w.write("</metadata>\n");
        for (Waypoint point : waypoints) {
            w.write("  <wpt " + place(point.position()) + ">");
            if (point.time() != null) {
                w.write("<time>" + point.time() + "</time>");
            }
            w.write("<name>" + xml(point.name()) + "</name>");
            String note = point.note();
            if (note != null) {
                w.write("<desc>" + xml(note) + "</desc>");
            }
            w.write("</wpt>\n");
        }
        for (Track route : routes) {
            w.write("  <rte><name>" + xml(route.name()) + "</name>\n");
            for (Track.Point point : route.points()) {
                w.write("    <rtept " + place(point.position()) + "/>\n");
            }
            w.write("  </rte>\n");
        }
        for (Track track : tracks) {
            w.write("  <trk><name>" + xml(track.name()) + "</name><trkseg>\n");
            for (Track.Point point : track.points()) {
                w.write("    <trkpt " + place(point.position()) + ">");
                if (point.time() != null) {
                    w.write("<time>" + point.time() + "</time>");
                }
                w.write("</trkpt>\n");
            }
            w.write("  </trkseg></trk>\n");
        }
        w.write("</gpx>\n");
        w.flush();
    }

    private static String place(Position position) {
        return "lat=\"" + degrees(position.latDeg()) + "\" lon=\"" + degrees(position.lonDeg()) + "\"";
    }

    static String degrees(double value) {
        return new BigDecimal(value).setScale(7, RoundingMode.HALF_EVEN).toPlainString();
    }

    private static String xml(String text) {
        StringBuilder out = new StringBuilder();
        text.codePoints()
                .filter(c -> c == '\t'
                        || c == '\n'
                        || (c >= 0x20 && c <= 0xD7FF)
                        || (c >= 0xE000 && c <= 0xFFFD)
                        || c >= 0x10000)
                .forEach(c -> {
                    switch (c) {
                        case '&' -> out.append("&amp;");
                        case '<' -> out.append("&lt;");
                        case '>' -> out.append("&gt;");
                        case '"' -> out.append("&quot;");
                        default -> out.appendCodePoint(c);
                    }
                });
        return out.toString();
    }
}
