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
            return new Explained(file, guess, used, content(open));
        }
    }

    /**
     * How several files would be understood as one recording.
     *
     * @param each how each file would be read; without content
     * @param content what they give together; null if one of them leaves a doubt
     */
    public record Together(List<Explained> each, @Nullable Content content) {
        public Together {
            each = List.copyOf(each);
        }
    }

    /**
     * Joins files that continue one another, or hold one sensor each, just as loading them would, but keeps nothing.
     *
     * @param files two or more, in the order in which they would be loaded
     * @param layouts none (each file is guessed), one for all, or one per file
     * @param spill see {@link #explain}
     * @throws org.aftercast.intake.ImportException if a file cannot be read, or they do not belong together
     * @throws IOException if rows cannot be kept aside
     */
    public static Together together(
            List<Path> files,
            List<DownloadLayout> layouts,
            ImportOptions options,
            @Nullable Path spill,
            ImportProgress progress)
            throws IOException {
        List<Explained> each = new ArrayList<>();
        List<DownloadLayout> used = new ArrayList<>();
        List<LayoutGuess> guesses = layouts.isEmpty() ? LayoutGuess.ofAll(files, options) : List.of();
        for (int f = 0; f < files.size(); f++) {
            LayoutGuess guess = guesses.isEmpty() ? null : guesses.get(f);
            DownloadLayout layout = guess == null ? layouts.get(layouts.size() == 1 ? 0 : f) : guess.layout();
            each.add(new Explained(files.get(f), guess, layout, null));
            if (layout != null && (guess == null || guess.isUnambiguous())) {
                used.add(layout);
            }
        }
        if (used.size() < files.size()) {
            return new Together(each, null);
        }
        try (OpenImport open = TextImport.open(new ImportRequest(files, used, options, spill, null, progress))) {
            return new Together(each, content(open));
        }
    }

    private static Content content(OpenImport open) {
        return new Content(
                open.recording().clock(),
                open.recording().samples().sampleCount(),
                open.summaries(),
                open.recording().gaps(),
                open.recording().flags());
    }
}
