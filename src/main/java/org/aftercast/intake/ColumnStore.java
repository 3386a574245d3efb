package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.Path;
import org.aftercast.recording.Recording;

/**
 * Recordings on disk, one Parquet file each: plain columns with units in their names, one row per sample of the grid, and
 * what else a recording consists of (clock, gaps, flags, raw SHA-256) in the file's own metadata.
 */
public interface ColumnStore {

    /**
     * Writes a recording. The file is complete only when this returns.
     *
     * @param recording samples are read block by block, so it may be larger than memory
     * @param target the file to create or overwrite; to be wrapped in the study's write-aside
     * @throws IOException if it cannot be written
     */
    void write(Recording recording, Path target) throws IOException;

    /**
     * Opens a stored recording. Its samples are read from the file on demand and by any number of threads.
     *
     * @throws ImportException if the file is missing, damaged or not a recording
     */
    Recording open(Path file) throws ImportException;

    /** The store through DuckDB. */
    static ColumnStore parquet() {
        return new ParquetStore();
    }
}
