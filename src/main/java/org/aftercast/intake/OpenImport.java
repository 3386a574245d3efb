package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.aftercast.recording.Recording;

/**
 * An import whose rows are still kept aside: the recording can be read until this is closed, for instance to store it.
 *
 * @param recording the recording
 * @param layouts the layout of each file, given or guessed
 * @param guesses how each file was understood where no layout was given; empty otherwise
 * @param files what was read
 * @param summaries one per channel
 * @param rowCount rows with values
 * @param rows what must be closed in the end
 */
public record OpenImport(
        Recording recording,
        List<DownloadLayout> layouts,
        List<LayoutGuess> guesses,
        List<RawInput> files,
        List<ChannelSummary> summaries,
        long rowCount,
        List<RowsAside> rows)
        implements AutoCloseable {

    /**
     * One file that was read.
     *
     * @param path as given
     * @param sha256 of its bytes, lower-case hexadecimal
     * @param bytes its length
     */
    public record RawInput(Path path, String sha256, long bytes) {}

    /** Rows kept aside. */
    public static final class RowsAside {
        private final RowStore store;

        RowsAside(RowStore store) {
            this.store = store;
        }
    }

    /** Removes what was kept aside. */
    @Override
    public void close() throws IOException {
        for (RowsAside aside : rows) {
            aside.store.close();
        }
    }
}
