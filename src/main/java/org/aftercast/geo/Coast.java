package org.aftercast.geo;

import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.zip.GZIPInputStream;

/**
 * Where land is: rings of coast over the whole earth, from which a {@link Land} around a place is cut.
 *
 * <p><strong>Not for navigation.</strong> The shipped coast is Natural Earth 1:10m (public domain; about 1 km, islets and
 * rocks left out, no depths): it keeps particles off the land and legs from crossing it, no more. A study can add a
 * better one. Rings are taken even-odd: a ring inside another is a lake.
 */
public final class Coast {

    /** What the shipped coast is, for maps and documents. */
    public static final String SOURCE = "Natural Earth 1:10m land, public domain. Not for navigation.";

    /** Rings with their bounds; longitudes of one ring are as stored, −180 to 180. */
    private record Ring(double[] lonDeg, double[] latDeg, double west, double east, double south, double north) {}

    private final List<Ring> rings;

    private Coast(List<Ring> rings) {
        this.rings = rings;
    }

    /** No land at all. */
    public static Coast none() {
        return new Coast(List.of());
    }

    /** The coast shipped with the program; about 0.1 s to load, 7 MB in memory: keep it. */
    public static Coast shipped() {
        try (InputStream raw = Coast.class.getResourceAsStream("coast-10m.bin.gz")) {
            if (raw == null) {
                throw new IllegalStateException("coast-10m.bin.gz is missing from the program: build it again");
            }
            DataInputStream in = new DataInputStream(new BufferedInputStream(new GZIPInputStream(raw), 1 << 16));
            byte[] magic = new byte[8];
            in.readFully(magic);
            if (!"ACCOAST1".equals(new String(magic, StandardCharsets.US_ASCII))) {
                throw new IllegalStateException("coast-10m.bin.gz: not a coast of version 1");
            }
            double scaleLon = in.readDouble();
            double scaleLat = in.readDouble();
            double lon0 = in.readDouble();
            double lat0 = in.readDouble();
            int count = in.readInt();
            in.readInt();
            List<Ring> rings = new ArrayList<>(count);
            for (int r = 0; r < count; r++) {
                int points = (int) varint(in);
                double[] lon = new double[points];
                double[] lat = new double[points];
                long x = 0;
                long y = 0;
                for (int i = 0; i < points; i++) {
                    x += signed(varint(in));
                    y += signed(varint(in));
                    lon[i] = lon0 + scaleLon * x;
                    lat[i] = lat0 + scaleLat * y;
                }
                rings.add(ring(lon, lat));
            }
            return new Coast(rings);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    /**
     * This coast with more rings, for example a better coast of a study or a pier. Even-odd: added land over shipped land
     * would cancel out, so added rings are kept as a coast of their own and land is what either says.
     *
     * @param added rings as places in order, three or more each; closing point may be left out
     */
    public Land landAround(Position centre, double radiusM, List<List<Position>> added) {
        LocalPlane plane = new LocalPlane(centre);
        List<double[][]> base = cut(rings, plane, radiusM);
        List<Ring> more = new ArrayList<>();
        for (List<Position> places : added) {
            if (places.size() < 3) {
                throw new IllegalArgumentException("added: a ring of " + places.size() + " places; three at least");
            }
            double[] lon = new double[places.size()];
            double[] lat = new double[places.size()];
            for (int i = 0; i < lon.length; i++) {
                lon[i] = i == 0
                        ? places.get(0).lonDeg()
                        : lon[i - 1] + Bearings.wrap180(places.get(i).lonDeg() - lon[i - 1]);
                lat[i] = places.get(i).latDeg();
            }
            more.add(ring(lon, lat));
        }
        return new Land(plane, radiusM, base, cut(more, plane, radiusM));
    }

    /**
     * The land within a square of half side {@code radiusM} around a place, on that place's plane.
     *
     * @param radiusM half side in metres, up to {@link LocalPlane#MAX_RADIUS_M}/3
     */
    public Land landAround(Position centre, double radiusM) {
        return landAround(centre, radiusM, List.of());
    }

    /**
     * The rings of land around a place, for drawing: cut to the square of {@link #landAround(Position, double)}. A ring may
     * run along the edge of the square.
     *
     * @param radiusM half side in metres, up to {@link LocalPlane#MAX_RADIUS_M}/3
     */
    public List<List<Position>> ringsAround(Position centre, double radiusM) {
        LocalPlane plane = new LocalPlane(centre);
        List<List<Position>> out = new ArrayList<>();
        for (double[][] ring : cut(rings, plane, radiusM)) {
            List<Position> places = new ArrayList<>(ring[0].length);
            for (int i = 0; i < ring[0].length; i++) {
                places.add(plane.toEarth(ring[0][i], ring[1][i]));
            }
            out.add(places);
        }
        return out;
    }

    private static List<double[][]> cut(List<Ring> rings, LocalPlane plane, double radiusM) {
        if (!(radiusM > 0 && radiusM <= LocalPlane.MAX_RADIUS_M / 3)) {
            throw new IllegalArgumentException(
                    "radiusM: " + radiusM + " is outside 0–" + LocalPlane.MAX_RADIUS_M / 3 + " m");
        }
        // A window in degrees somewhat wider than the square; land is cut in degrees, then put on the plane.
        Position centre = plane.origin();
        double halfLat = 1.6 * radiusM / 110_500;
        double south = Math.max(-90, centre.latDeg() - halfLat);
        double north = Math.min(90, centre.latDeg() + halfLat);
        double tightest = Math.cos(Math.toRadians(Math.min(89, Math.max(Math.abs(south), Math.abs(north)))));
        double halfLon = Math.min(180, 1.6 * radiusM / (111_300 * tightest));
        List<double[][]> out = new ArrayList<>();
        for (Ring ring : rings) {
            for (int turn = -1; turn <= 1; turn++) {
                double west = centre.lonDeg() - halfLon - 360.0 * turn;
                double east = centre.lonDeg() + halfLon - 360.0 * turn;
                if (ring.east < west || ring.west > east || ring.north < south || ring.south > north) {
                    continue;
                }
                double[][] piece = window(ring, west, east, south, north);
                if (piece[0].length >= 3) {
                    out.add(onPlane(piece, plane));
                }
            }
        }
        return out;
    }

    private static double[][] onPlane(double[][] piece, LocalPlane plane) {
        int n = piece[0].length;
        double[][] xy = new double[2][n];
        for (int i = 0; i < n; i++) {
            LocalPlane.Point point = plane.toPlane(new Position(piece[1][i], piece[0][i]));
            xy[0][i] = point.xM();
            xy[1][i] = point.yM();
        }
        return xy;
    }

    /** Sutherland and Hodgman's clipping to a window; edges along the window's sides do no harm even-odd. */
    private static double[][] window(Ring ring, double west, double east, double south, double north) {
        double[][] points = {ring.lonDeg, ring.latDeg};
        points = half(points, 0, west, 1);
        points = half(points, 0, east, -1);
        points = half(points, 1, south, 1);
        return half(points, 1, north, -1);
    }

    private static double[][] half(double[][] in, int axis, double limit, int side) {
        int n = in[0].length;
        double[][] out = new double[2][2 * n];
        int count = 0;
        for (int i = 0; i < n; i++) {
            int j = i + 1 == n ? 0 : i + 1;
            boolean here = side * (in[axis][i] - limit) >= 0;
            boolean next = side * (in[axis][j] - limit) >= 0;
            if (here) {
                out[0][count] = in[0][i];
                out[1][count++] = in[1][i];
            }
            if (here != next) {
                double along = (limit - in[axis][i]) / (in[axis][j] - in[axis][i]);
                out[axis][count] = limit;
                out[1 - axis][count] = in[1 - axis][i] + along * (in[1 - axis][j] - in[1 - axis][i]);
                count++;
            }
        }
        return new double[][] {Arrays.copyOf(out[0], count), Arrays.copyOf(out[1], count)};
    }

    private static Ring ring(double[] lon, double[] lat) {
        double west = Double.POSITIVE_INFINITY;
        double east = Double.NEGATIVE_INFINITY;
        double south = Double.POSITIVE_INFINITY;
        double north = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < lon.length; i++) {
            west = Math.min(west, lon[i]);
            east = Math.max(east, lon[i]);
            south = Math.min(south, lat[i]);
            north = Math.max(north, lat[i]);
        }
        return new Ring(lon, lat, west, east, south, north);
    }

    private static long varint(DataInputStream in) throws IOException {
        long value = 0;
        for (int shift = 0; ; shift += 7) {
            int next = in.readUnsignedByte();
            value |= (long) (next & 127) << shift;
            if (next < 128) {
                return value;
            }
        }
    }

    private static long signed(long zigzag) {
        return (zigzag >>> 1) ^ -(zigzag & 1);
    }
}
