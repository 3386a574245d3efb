package org.aftercast.voyage;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.aftercast.study.FileStore;

/**
 * All searches of a study at once: which package first, and what the retrieved ones tell of the drift. The tables of the
 * packages are laid together as one: what belongs to a package keeps its name, wind, current and boat count for all, the tide
 * and the like are taken from the last table that has them.
 */
public final class SeekStudy {

    private static final String HEADER = "time,lat,lon,kind,values";
    private static final Set<String> OF_PACKAGE =
            Set.of("start", "bearing", "listen", "sweep", "sighting", "drift", "beacon", "end");
    private static final Set<String> OF_WATER = Set.of("wind", "current");

    private final FileStore files;

    /** Results are written through this store. */
    public SeekStudy(FileStore files) {
        this.files = files;
    }

    /**
     * Reckons every search of a study.
     *
     * @throws BadInputException if there is none, or a table cannot be used
     * @throws IOException if a table cannot be read
     */
    public SeekDocument run(Path study, Seek.Options options) throws BadInputException, IOException {
        List<Path> tables = tables(study);
        if (tables.isEmpty()) {
            throw new BadInputException(study + ": no search was begun in this study; accepted: a study with tables in "
                    + SearchLog.FOLDER + "/");
        }
        byte[] merged = merged(tables);
        return new Seek(files)
                .run(
                        String.valueOf(study.toAbsolutePath().normalize().getFileName()),
                        merged,
                        new Seek.Options(options.settings(), options.forecastHours(), options.coast(), study));
    }

    /** The tables of a study, by name. */
    static List<Path> tables(Path study) throws IOException {
        Path folder = study.resolve(SearchLog.FOLDER);
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (var all = Files.list(folder)) {
            return all.filter(f -> String.valueOf(f.getFileName()).endsWith(".csv"))
                    .sorted()
                    .toList();
        }
    }

    private static byte[] merged(List<Path> tables) throws BadInputException, IOException {
        List<String> out = new ArrayList<>();
        Map<String, List<String>> single = new LinkedHashMap<>();
        for (Path file : tables) {
            String animal = String.valueOf(file.getFileName()).replaceFirst("\\.csv$", "");
            SeekTable table = SeekTable.read(file.toString(), Files.readAllBytes(file));
            Map<String, List<String>> own = new LinkedHashMap<>();
            for (SeekFile.Raw row : table.raw) {
                if (table.undone.contains(row.line()) || row.kind().equals("undo")) {
                    continue;
                }
                if (OF_PACKAGE.contains(row.kind())) {
                    out.add(line(row, row.values().replaceAll("(?<!\\S)package=\\S*", "") + " package=" + animal));
                } else if (OF_WATER.contains(row.kind())) {
                    out.add(line(row, row.values()));
                } else {
                    own.computeIfAbsent(row.kind(), kind -> new ArrayList<>()).add(line(row, row.values()));
                }
            }
            single.putAll(own);
        }
        single.values().forEach(out::addAll);
        return (HEADER + "\n" + String.join("\n", out.stream().distinct().toList()) + "\n")
                .getBytes(StandardCharsets.UTF_8);
    }

    private static String line(SeekFile.Raw row, String values) {
        return String.format(
                Locale.ROOT,
                "%s,%s,%s,%s",
                row.time() == null ? "" : row.time(),
                row.own() == null
                        ? ","
                        : String.format(
                                Locale.ROOT,
                                "%.7f,%.7f",
                                row.own().latDeg(),
                                row.own().lonDeg()),
                row.kind(),
                values.replace(';', ' ').strip());
    }
}
