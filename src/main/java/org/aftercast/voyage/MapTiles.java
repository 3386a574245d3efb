package org.aftercast.voyage;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Raster tiles from an MBTiles file (open specification 1.3: a SQLite database with tables metadata and tiles, rows counted
 * from the south). Opened to read only; vector tiles are refused.
 */
public final class MapTiles {

    private static final int DEEPEST = 24;
    private static final List<String> RASTER = List.of("png", "jpg", "jpeg", "webp");
    private static final int SIGNATURE = 12;

    private MapTiles() {}

    /**
     * What a file holds.
     *
     * @param file its name
     * @param title as its maker named it
     * @param format png, jpg or webp
     * @param leastZoom lowest zoom
     * @param mostZoom highest zoom
     * @param boundsDeg west, south, east, north, or null when not told
     * @param credit whose it is, or an empty string
     */
    public record About(
            String file,
            String title,
            String format,
            int leastZoom,
            int mostZoom,
            @Nullable List<Double> boundsDeg,
            String credit) {}

    /** A tile as it lies in the file. */
    public record Tile(String contentType, byte[] bytes) {}

    /**
     * Reads what a file holds.
     *
     * @throws BadInputException if it is no MBTiles, or has no raster tiles
     */
    public static About about(Path file) throws BadInputException {
        try (Connection db = open(file)) {
            Map<String, String> told = new HashMap<>();
            try (PreparedStatement ask = db.prepareStatement("SELECT name, value FROM metadata");
                    ResultSet rows = ask.executeQuery()) {
                while (rows.next()) {
                    told.put(String.valueOf(rows.getString(1)).toLowerCase(Locale.ROOT), rows.getString(2));
                }
            }
            String format = told.getOrDefault("format", "").toLowerCase(Locale.ROOT);
            if (format.equals("pbf") || format.equals("mvt")) {
                throw vector(file);
            }
            int least = 0;
            int most = 0;
            byte[] first = null;
            try (PreparedStatement ask = db.prepareStatement(
                            "SELECT min(zoom_level), max(zoom_level) FROM tiles WHERE zoom_level BETWEEN 0 AND 24");
                    ResultSet row = ask.executeQuery()) {
                if (row.next()) {
                    least = row.getInt(1);
                    most = row.getInt(2);
                }
            }
            try (PreparedStatement ask = db.prepareStatement("SELECT tile_data FROM tiles LIMIT 1");
                    ResultSet row = ask.executeQuery()) {
                if (row.next()) {
                    first = row.getBytes(1);
                }
            }
            if (first == null) {
                throw new BadInputException(file + ": holds no tile; accepted: MBTiles with raster tiles");
            }
            String seen = kind(first);
            if (seen == null) {
                throw RASTER.contains(format)
                        ? new BadInputException(file + ": says its tiles are " + format
                                + ", but they are not; accepted: png, jpg, webp")
                        : vector(file);
            }
            return new About(
                    String.valueOf(file.getFileName()),
                    told.getOrDefault("name", String.valueOf(file.getFileName())),
                    seen,
                    least,
                    most,
                    bounds(told.get("bounds")),
                    told.getOrDefault("attribution", ""));
        } catch (SQLException bad) {
            throw new BadInputException(file + ": is no MBTiles (" + bad.getMessage()
                    + "); accepted: a SQLite file with tables metadata and tiles");
        }
    }

    /**
     * One tile.
     *
     * @param x column from the west
     * @param y row from the north, as web maps count
     * @return the tile, or null when the file has none there
     * @throws BadInputException if the file cannot be read
     */
    public static @Nullable Tile tile(Path file, int zoom, int x, int y) throws BadInputException {
        if (zoom < 0 || zoom > DEEPEST || x < 0 || y < 0 || x >= 1 << zoom || y >= 1 << zoom) {
            return null;
        }
        try (Connection db = open(file);
                PreparedStatement ask = db.prepareStatement(
                        "SELECT tile_data FROM tiles WHERE zoom_level = ? AND tile_column = ? AND tile_row = ?")) {
            ask.setInt(1, zoom);
            ask.setInt(2, x);
            ask.setInt(3, (1 << zoom) - 1 - y);
            try (ResultSet row = ask.executeQuery()) {
                byte[] bytes = row.next() ? row.getBytes(1) : null;
                String kind = bytes == null ? null : kind(bytes);
                return bytes == null || kind == null
                        ? null
                        : new Tile("image/" + (kind.equals("jpg") ? "jpeg" : kind), bytes);
            }
        } catch (SQLException bad) {
            throw new BadInputException(file + ": cannot be read (" + bad.getMessage() + ")");
        }
    }

    private static BadInputException vector(Path file) {
        return new BadInputException(file
                + ": holds vector tiles, which this program does not draw; accepted: raster tiles (png, jpg, webp), or the"
                + " coast as GeoJSON");
    }

    private static Connection open(Path file) throws SQLException {
        return DriverManager.getConnection(
                "jdbc:sqlite:file:" + file.toAbsolutePath().toUri().getRawPath() + "?mode=ro&immutable=1");
    }

    private static @Nullable List<Double> bounds(@Nullable String text) {
        if (text == null) {
            return null;
        }
        String[] parts = text.split(",", -1);
        try {
            return parts.length != 4
                    ? null
                    : List.of(
                            Double.parseDouble(parts[0].strip()),
                            Double.parseDouble(parts[1].strip()),
                            Double.parseDouble(parts[2].strip()),
                            Double.parseDouble(parts[3].strip()));
        } catch (NumberFormatException notTold) {
            return null;
        }
    }

    /** What a tile is by its first bytes, or null. */
    private static @Nullable String kind(byte[] b) {
        if (b.length < SIGNATURE) {
            return null;
        }
        if ((b[0] & 0xFF) == 0x89 && b[1] == 'P' && b[2] == 'N' && b[3] == 'G') {
            return "png";
        }
        if ((b[0] & 0xFF) == 0xFF && (b[1] & 0xFF) == 0xD8) {
            return "jpg";
        }
        return b[0] == 'R' && b[1] == 'I' && b[2] == 'F' && b[8] == 'W' && b[9] == 'E' ? "webp" : null;
    }
}
