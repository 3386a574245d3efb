package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;

/**
 * Keeps the temporary folder clean: DuckDB unpacks its library (80 MB) there and leaves it behind when the process is
 * killed. On Linux the library is removed as soon as it is loaded, which does not disturb it; what is left all the same
 * is removed at a later start. docs/decisions/parquet.md
 */
final class DuckTemp {

    private static final Path MAPS = Path.of("/proc/self/maps");
    private static final long TEN_MINUTES_MS = 600_000L;
    private static final long DAY_MS = 86_400_000L;
    private static final String LIBRARY = "libduckdb_java";

    private DuckTemp() {}

    /** Makes a private folder for what does not fit into memory, and removes libraries that earlier processes have left. */
    static Path makeSpill() throws IOException {
        Path spill = Scratch.make("spill").folder();
        Path temporary = spill.getParent();
        if (temporary != null) {
            sweep(temporary, Files.getLastModifiedTime(spill));
        }
        return spill;
    }

    /**
     * Removes libraries that are older than {@code now} by more than ten minutes on Linux, where removing one that is in
     * use disturbs nobody once it is loaded; by more than a day elsewhere.
     */
    static void sweep(Path temporary, FileTime now) throws IOException {
        try (DirectoryStream<Path> found = Files.newDirectoryStream(temporary, LIBRARY + "*")) {
            for (Path path : found) {
                removeIfOld(path, now);
            }
        }
    }

    private static void removeIfOld(Path path, FileTime now) {
        long limitMs = Files.isReadable(MAPS) ? TEN_MINUTES_MS : DAY_MS;
        try {
            if (now.toMillis() - Files.getLastModifiedTime(path).toMillis() > limitMs) {
                Files.deleteIfExists(path);
            }
        } catch (IOException inUseOrNotOurs) {
            // Another user's, or still loaded by a running process: it is left alone.
        }
    }

    /** Removes the library this process has loaded, found among its memory maps; does nothing where there are none. */
    static void removeOwnLibrary() throws IOException {
        if (!Files.isReadable(MAPS)) {
            return;
        }
        for (String line : Files.readAllLines(MAPS)) {
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
