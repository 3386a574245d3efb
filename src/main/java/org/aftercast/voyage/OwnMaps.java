package org.aftercast.voyage;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import org.aftercast.geo.Position;
import org.aftercast.study.FileStore;

/**
 * A study's own maps, in its folder {@code maps/}: coasts (GeoJSON polygons, GPX tracks or routes that close) that are land
 * beside the shipped one, and pictures of the sea (MBTiles with raster tiles) for the page. Not for navigation.
 */
public final class OwnMaps {

    /** Folder of the maps in the study. */
    public static final String FOLDER = "maps";

    /** What can be added. */
    public static final String ACCEPTED =
            "a coast as GeoJSON (.geojson, .json) or GPX (.gpx), or raster tiles as MBTiles (.mbtiles)";

    private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._ -]{0,79}");

    private final FileStore files;

    /** Writes through this store. */
    public OwnMaps(FileStore files) {
        this.files = files;
    }

    /**
     * Adds a map, or puts a newer one of the same name in its place. It is read as it will be used first.
     *
     * @return in words, what was added
     * @throws BadInputException if it cannot be used
     * @throws IOException if it cannot be written
     */
    public String add(Path study, Path file) throws BadInputException, IOException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + ": there is no such file; accepted: " + ACCEPTED);
        }
        String name = String.valueOf(file.getFileName());
        if (!NAME.matcher(name).matches()) {
            throw new BadInputException(file
                    + ": the name has other characters than letters, digits, space, dot, line; accepted: rename it");
        }
        String told;
        if (isTiles(file)) {
            MapTiles.About about = MapTiles.about(file);
            told = String.format(
                    Locale.ROOT,
                    "%s: %s tiles, zoom %d to %d",
                    name,
                    about.format(),
                    about.leastZoom(),
                    about.mostZoom());
        } else {
            told = name + ": " + CoastFile.rings(file).size() + " rings of coast";
        }
        Path folder = study.resolve(FOLDER);
        files.makeFolder(folder);
        files.write(folder.resolve(name), aside -> {
            try (InputStream in = Files.newInputStream(file);
                    OutputStream out = Files.newOutputStream(aside)) {
                in.transferTo(out);
            }
        });
        return told;
    }

    /** The coasts of a study, by file name: outer rings and holes. A file that can no longer be read is an error. */
    public static Map<String, List<List<Position>>> coasts(Path study) throws BadInputException, IOException {
        Map<String, List<List<Position>>> out = new TreeMap<>();
        for (Path file : list(study)) {
            if (!isTiles(file)) {
                out.put(String.valueOf(file.getFileName()), CoastFile.rings(file));
            }
        }
        return out;
    }

    /** Rings of all coasts of a study. */
    public static List<List<Position>> rings(Path study) throws BadInputException, IOException {
        List<List<Position>> out = new ArrayList<>();
        coasts(study).values().forEach(out::addAll);
        return out;
    }

    /** What the tile files of a study are. */
    public static List<MapTiles.About> tiles(Path study) throws BadInputException, IOException {
        List<MapTiles.About> out = new ArrayList<>();
        for (Path file : list(study)) {
            if (isTiles(file)) {
                out.add(MapTiles.about(file));
            }
        }
        return out;
    }

    /** The tile file of that name, or null. Only names that lie in the folder are found. */
    public static @org.jspecify.annotations.Nullable Path tileFile(Path study, String name) throws IOException {
        for (Path file : list(study)) {
            if (isTiles(file) && String.valueOf(file.getFileName()).equals(name)) {
                return file;
            }
        }
        return null;
    }

    private static boolean isTiles(Path file) {
        return String.valueOf(file.getFileName()).toLowerCase(Locale.ROOT).endsWith(".mbtiles");
    }

    private static List<Path> list(Path study) throws IOException {
        Path folder = study.resolve(FOLDER);
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (var all = Files.list(folder)) {
            return all.filter(f -> String.valueOf(f.getFileName())
                            .toLowerCase(Locale.ROOT)
                            .matches(".*\\.(geojson|json|gpx|mbtiles)"))
                    .sorted()
                    .toList();
        }
    }
}
