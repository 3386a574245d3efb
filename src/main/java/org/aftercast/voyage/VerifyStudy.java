package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.function.Consumer;
import org.aftercast.study.StudyCheck;

/** Checks every checksum, record and link of a study; changes nothing. */
public final class VerifyStudy {

    private final InstantSource clock;

    /** Needs a clock only to open the study. */
    public VerifyStudy(InstantSource clock) {
        this.clock = clock;
    }

    /**
     * Checks.
     *
     * @param progress told each file before it is read
     * @throws IOException if there is no study; a damaged one is reported
     */
    public StudyCheck.Report of(Path folder, Consumer<Path> progress) throws IOException {
        return StudyCheck.of(folder, clock, progress);
    }
}
