package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import org.aftercast.study.FileStore;
import org.aftercast.study.Standing;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;

/** Where every animal of a study stands. */
public final class ListStudy {

    /**
     * The table.
     *
     * @param info the study
     * @param atUtc the instant it holds for
     * @param animals overdue packages first, then by stage
     */
    public record Result(StudyInfo info, Instant atUtc, List<Standing> animals) {}

    private final InstantSource clock;

    /** Asks this clock what is overdue. */
    public ListStudy(InstantSource clock) {
        this.clock = clock;
    }

    /**
     * Reads the study; changes nothing.
     *
     * @throws IOException if there is no study or it cannot be read
     */
    public Result of(Path folder) throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, FileStore.onDisk(), clock)) {
            Instant now = clock.instant();
            return new Result(store.info(), now, Standing.of(store, now));
        }
    }
}
