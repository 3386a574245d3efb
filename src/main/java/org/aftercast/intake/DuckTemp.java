package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.List;

/**
 * Keeps the temporary folder clean: DuckDB unpacks its library (80 MB) there and leaves it behind when the process is
 * killed. On Linux the library is removed as soon as it is loaded, which does not disturb it; elsewhere what is left from
 * more than a day ago is removed at the next start. docs/decisions/parquet.md
 */
final class DuckTemp {

    private static final long DAY_MS = 86_400_000L;
    private static final String LIBRARY = "libduckdb_java";
    private static final String SPILL = "aftercast-spill-";

    private DuckTemp() {}

    /** Makes a private folder for what does not fit into memory, and removes what earlier processes have left. */
    static Path makeSpill() throws IOException {
        Path spill = Files.createTempDirectory(SPILL);
        spill.toFile().deleteOnExit();
        Path temporary = spill.getParent();
        if (temporary != null) {
            sweep(temporary, Files.getLastModifiedTime(spill));
        }
        return spill;
    }

    /** Removes libraries and empty spill folders that are more than a day older than {@code now}. */
    static void sweep(Path temporary, FileTime now) throws IOException {
        for (String glob : List.of(LIBRARY + "*", SPILL + "*")) {
            try (DirectoryStream<Path> found = Files.newDirectoryStream(temporary, glob)) {
                for (Path path : found) {
                    removeIfOld(path, now);
                }
            }
        }
    }

    private static void removeIfOld(Path path, FileTime now) {
        try {
            if (now.toMillis() - Files.getLastModifiedTime(path).toMillis() > DAY_MS) {
                Files.deleteIfExists(path);
            }
        } catch (IOException inUseOrNotOurs) {
            // Another user's, or still loaded by a running process: it is left alone.
        }
    }

    /** Removes the library this process has loaded, found among its memory maps; does nothing where there are none. */
    static void removeOwnLibrary() throws IOException {
        Path maps = Path.of("/proc/self/maps");
        if (!Files.isReadable(maps)) {
            return;
        }
        for (String line : Files.readAllLines(maps)) {
            int slash = line.indexOf('/');
            String path = slash < 0 ? "" : line.substring(slash);
            String name = path.substring(path.lastIndexOf('/') + 1);
            if (name.startsWith(LIBRARY)
                    && name.endsWith(".so")
                    && path.startsWith(System.getProperty("java.io.tmpdir"))) {
                Files.deleteIfExists(Path.of(path));
            }
        }
    }
}
