package org.aftercast.voyage;

import java.nio.file.Path;
import java.util.List;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.jspecify.annotations.Nullable;

/**
 * A download to load into a study.
 *
 * @param study the study's folder
 * @param animal name of an animal of the study
 * @param files one file; several that continue one another; or one per sensor
 * @param layouts none, one for all files, or one per file
 * @param guess whether files without a layout may be read by an unambiguous guess
 * @param options what is known about the time beyond the files
 * @param clock what is known about the logger's clock, in place of the layouts'; null keeps theirs
 * @param secondCopy folder for a second verified copy of the raw files, or null
 * @param battery what the logger's battery was like at read-out
 * @param who noted in the history
 * @param progress told how far the reading is
 */
public record LoadRequest(
        Path study,
        String animal,
        List<Path> files,
        List<DownloadLayout> layouts,
        Guess guess,
        ImportOptions options,
        DownloadLayout.@Nullable ClockNotes clock,
        @Nullable Path secondCopy,
        Battery battery,
        String who,
        ImportProgress progress) {

    public LoadRequest {
        files = List.copyOf(files);
        layouts = List.copyOf(layouts);
    }

    /** Whether a guess will do. */
    public enum Guess {
        /** A guess is taken if it is unambiguous. */
        ACCEPTED,
        /** Only a layout will do. */
        REFUSED
    }

    /** The logger's battery at read-out. */
    public enum Battery {
        OK,
        LOW,
        NOT_NOTED
    }
}
