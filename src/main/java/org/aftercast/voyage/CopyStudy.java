package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
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
     * @return what verifying the copy found
     * @throws IOException if the study cannot be read or the copy cannot be written; then it is no study
     */
    public StudyCheck.Report copy(Path from, Path to) throws IOException {
        try (StudyStore store = StudyStore.open(from, StudyStore.Access.READ, files, clock)) {
            store.copyTo(to);
        }
        return StudyCheck.of(to, clock, file -> {});
    }
}
