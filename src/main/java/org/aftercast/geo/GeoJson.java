package org.aftercast.geo;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Geometry as GeoJSON (RFC 7946; source key rfc7946), as plain maps and lists for a JSON writer.
 *
 * <p>Longitude before latitude, degrees to 1e-6 (0.1 m), outer rings counter-clockwise and holes clockwise, rings closed,
 * lines and polygons cut at the antimeridian.
 */
public final class GeoJson {

    private GeoJson() {}

    /**
     * A ring and its holes.
     *
     * @param outer the boundary; closing point may be given or left out
     * @param holes boundaries of what is cut out
     */
    public record Polygon(List<Position> outer, List<List<Position>> holes) {
        public Polygon {
            outer = List.copyOf(outer);
            holes = List.copyOf(holes);
        }
    }

    /** One point. */
    public static Map<String, Object> point(Position position) {
        return geometry("Point", pair(position.lonDeg(), position.latDeg()));
    }

    /** A line; several where it crosses the antimeridian. */
    public static Map<String, Object> line(List<Position> points) {
        List<List<double[]>> parts = new ArrayList<>();
        List<double[]> part = new ArrayList<>();
        for (int i = 0; i < points.size(); i++) {
            Position here = points.get(i);
            if (i > 0) {
                Position before = points.get(i - 1);
                double step = here.lonDeg() - before.lonDeg();
                if (Math.abs(step) > 180) {
                    double edge = step > 0 ? -180 : 180;
                    double along = (edge - before.lonDeg()) / (step > 0 ? step - 360 : step + 360);
                    double lat = before.latDeg() + along * (here.latDeg() - before.latDeg());
                    part.add(pair(edge, lat));
                    parts.add(part);
                    part = new ArrayList<>();
                    part.add(pair(-edge, lat));
                }
            }
            part.add(pair(here.lonDeg(), here.latDeg()));
        }
        parts.add(part);
        return parts.size() == 1 ? geometry("LineString", parts.get(0)) : geometry("MultiLineString", parts);
    }

    /** Polygons as one MultiPolygon; those across the antimeridian are cut there. */
    public static Map<String, Object> polygons(List<Polygon> polygons) {
        List<List<List<double[]>>> all = new ArrayList<>();
        for (Polygon polygon : polygons) {
            List<double[]> outer = unrolled(polygon.outer(), null);
            double low = outer.stream().mapToDouble(p -> p[0]).min().orElse(0);
            double high = outer.stream().mapToDouble(p -> p[0]).max().orElse(0);
            for (int turn = -1; turn <= 1; turn++) {
                double west = -180 + 360.0 * turn;
                if (high <= west || low >= west + 360) {
                    continue;
                }
                List<double[]> cut = cut(outer, west, west + 360);
                if (cut.size() < 3) {
                    continue;
                }
                List<List<double[]>> rings = new ArrayList<>();
                rings.add(closed(cut, west + 180, 1));
                for (List<Position> hole : polygon.holes()) {
                    List<double[]> cutHole = cut(unrolled(hole, outer.get(0)), west, west + 360);
                    if (cutHole.size() >= 3) {
                        rings.add(closed(cutHole, west + 180, -1));
                    }
                }
                all.add(rings);
            }
        }
        return geometry("MultiPolygon", all);
    }

    /** A feature with its properties. */
    public static Map<String, Object> feature(Map<String, Object> geometry, Map<String, Object> properties) {
        Map<String, Object> feature = new LinkedHashMap<>();
        feature.put("type", "Feature");
        feature.put("geometry", geometry);
        feature.put("properties", properties);
        return feature;
    }

    /** A feature without a place: RFC 7946, section 3.2, has its geometry null. */
    public static Map<String, Object> unlocated(Map<String, Object> properties) {
        Map<String, Object> feature = new LinkedHashMap<>();
        feature.put("type", "Feature");
        feature.put("geometry", null);
        feature.put("properties", properties);
        return feature;
    }

    /** Several features. */
    public static Map<String, Object> collection(List<Map<String, Object>> features) {
        Map<String, Object> collection = new LinkedHashMap<>();
        collection.put("type", "FeatureCollection");
        collection.put("features", features);
        return collection;
    }

    private static Map<String, Object> geometry(String type, Object coordinates) {
        Map<String, Object> geometry = new LinkedHashMap<>();
        geometry.put("type", type);
        geometry.put("coordinates", coordinates);
        return geometry;
    }

    private static double[] pair(double lonDeg, double latDeg) {
        return new double[] {Math.rint(lonDeg * 1e6) / 1e6, Math.rint(latDeg * 1e6) / 1e6};
    }

    /** Longitudes made continuous, possibly beyond ±180, without the closing point. */
    private static List<double[]> unrolled(List<Position> ring, double @Nullable [] near) {
        List<double[]> out = new ArrayList<>();
        double before = near == null ? ring.get(0).lonDeg() : near[0];
        int count = ring.size() > 1 && ring.get(0).equals(ring.get(ring.size() - 1)) ? ring.size() - 1 : ring.size();
        for (int i = 0; i < count; i++) {
            double lon = before + Bearings.wrap180(ring.get(i).lonDeg() - before);
            out.add(new double[] {lon, ring.get(i).latDeg()});
            before = lon;
        }
        return out;
    }

    private static List<double[]> cut(List<double[]> ring, double west, double east) {
        return half(half(ring, west, 1), east, -1);
    }

    /** Keeps what lies on one side of a meridian (Sutherland and Hodgman's clipping). */
    private static List<double[]> half(List<double[]> ring, double meridian, int side) {
        List<double[]> out = new ArrayList<>();
        for (int i = 0; i < ring.size(); i++) {
            double[] a = ring.get(i);
            double[] b = ring.get((i + 1) % ring.size());
            boolean aIn = side * (a[0] - meridian) >= 0;
            boolean bIn = side * (b[0] - meridian) >= 0;
            if (aIn) {
                out.add(a);
            }
            if (aIn != bIn) {
                double along = (meridian - a[0]) / (b[0] - a[0]);
                out.add(new double[] {meridian, a[1] + along * (b[1] - a[1])});
            }
        }
        return out;
    }

    private static List<double[]> closed(List<double[]> ring, double centre, int sign) {
        double area = 0;
        for (int i = 0; i < ring.size(); i++) {
            double[] a = ring.get(i);
            double[] b = ring.get((i + 1) % ring.size());
            area += a[0] * b[1] - b[0] * a[1];
        }
        List<double[]> out = new ArrayList<>();
        double shift = Math.rint(centre / 360) * 360;
        for (double[] p : ring) {
            out.add(pair(p[0] - shift, p[1]));
        }
        if (area * sign < 0) {
            Collections.reverse(out);
        }
        out.add(out.get(0));
        return out;
    }
}
