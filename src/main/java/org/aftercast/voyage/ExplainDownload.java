package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.intake.ChannelSummary;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.intake.ImportRequest;
import org.aftercast.intake.LayoutGuess;
import org.aftercast.intake.OpenImport;
import org.aftercast.intake.TextImport;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/** Shows how a download would be understood, before anything is loaded. Nothing is written. */
public final class ExplainDownload {

    private ExplainDownload() {}

    /**
     * How a file would be understood.
     *
     * @param file the file
     * @param guess what it was taken for; null if a layout was given
     * @param layout the layout that would be used and saved; null if nothing can be built without being told more
     * @param content what reading it by that layout gives; null if the guess leaves a doubt
     */
    public record Explained(
            Path file,
            @Nullable LayoutGuess guess,
            @Nullable DownloadLayout layout,
            @Nullable Content content) {}

    /**
     * What is in the file.
     *
     * @param clock start and rate
     * @param sampleCount samples on the grid
     * @param summaries one per channel
     * @param gaps runs of samples without acceleration
     * @param flags what else must be known
     */
    public record Content(
            SampleClock clock,
            long sampleCount,
            List<ChannelSummary> summaries,
            List<SampleRange> gaps,
            List<Flag> flags) {}

    /**
     * Reads the file whole, but keeps nothing.
     *
     * @param layout the layout to try, or null to guess
     * @param spill a file that does not exist yet, for rows of files of any length; null keeps them in memory
     * @throws org.aftercast.intake.ImportException if the file cannot be read
     * @throws IOException if rows cannot be kept aside
     */
    public static Explained explain(
            Path file,
            @Nullable DownloadLayout layout,
            ImportOptions options,
            @Nullable Path spill,
            ImportProgress progress)
            throws IOException {
        LayoutGuess guess = layout == null ? LayoutGuess.of(file, options) : null;
        DownloadLayout used = guess == null ? layout : guess.layout();
        if (used == null || (guess != null && !guess.isUnambiguous())) {
            return new Explained(file, guess, used, null);
        }
        List<DownloadLayout> layouts = new ArrayList<>(List.of(used));
        try (OpenImport open =
                TextImport.open(new ImportRequest(List.of(file), layouts, options, spill, null, progress))) {
            return new Explained(
                    file,
                    guess,
                    used,
                    new Content(
                            open.recording().clock(),
                            open.recording().samples().sampleCount(),
                            open.summaries(),
                            open.recording().gaps(),
                            open.recording().flags()));
        }
    }
}
