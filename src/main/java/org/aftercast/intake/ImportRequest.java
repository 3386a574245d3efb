package org.aftercast.intake;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What to import, and how.
 *
 * @param files one file; or several that continue one another in the order given; or one per sensor
 * @param layouts none (guess), one for all files, or one per file
 * @param options what is known beyond the files
 * @param spill a file that does not exist yet, to keep rows in while the clock is checked; null keeps them in memory
 * @param rawCopy where the raw bytes of each file are kept as they are read, or null
 * @param progress told how far the import is
 */
public record ImportRequest(
        List<Path> files,
        List<DownloadLayout> layouts,
        ImportOptions options,
        @Nullable Path spill,
        @Nullable RawCopy rawCopy,
        ImportProgress progress) {

    public ImportRequest {
        files = List.copyOf(files);
        layouts = List.copyOf(layouts);
        if (files.isEmpty()) {
            throw new IllegalArgumentException("files: at least one is needed");
        }
        if (layouts.size() > 1 && layouts.size() != files.size()) {
            throw new IllegalArgumentException("layouts: " + layouts.size() + " for " + files.size()
                    + " files; give none, one for all, or one per file");
        }
    }

    /** Rows in memory, no raw copy, no progress. */
    public static ImportRequest inMemory(List<Path> files, List<DownloadLayout> layouts, ImportOptions options) {
        return new ImportRequest(files, layouts, options, null, null, ImportProgress.NONE);
    }

    /** Opens the place where the raw bytes of a file are kept. */
    @FunctionalInterface
    public interface RawCopy {
        /**
         * Opens the copy.
         *
         * @param number of the file, from 0
         */
        OutputStream open(int number) throws IOException;
    }
}
