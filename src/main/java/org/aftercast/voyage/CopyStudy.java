package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyCheck;
import org.aftercast.study.StudyStore;

/** Copies a study safely, also while another program writes to it, and verifies the copy. */
public final class CopyStudy {

    private final FileStore files;
    private final InstantSource clock;

    /** Writes through this store. */
    public CopyStudy(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * Copies.
     *
     * @param from the study
     * @param to absent or empty
     * @return what verifying the copy found; its notes begin with the files that were left out
     * @throws IOException if the study cannot be read or the copy cannot be written; then it is no study
     */
    public StudyCheck.Report copy(Path from, Path to) throws IOException {
        List<String> notes = new ArrayList<>();
        try (StudyStore store = StudyStore.open(from, StudyStore.Access.READ, files, clock)) {
            for (Path left : store.copyTo(to)) {
                notes.add(store.folder().relativize(left)
                        + ": not copied; it is a link, half-written, or named by no record");
            }
        }
        StudyCheck.Report found = StudyCheck.of(to, clock, file -> {});
        notes.addAll(found.notes());
        return new StudyCheck.Report(
                found.problems(), notes, found.records(), found.entries(), found.files(), found.bytes());
    }
}
