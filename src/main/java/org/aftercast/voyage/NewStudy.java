package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import org.aftercast.study.FileStore;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;

/** Makes an empty study. */
public final class NewStudy {

    private final FileStore files;
    private final InstantSource clock;

    /** Writes through this store, at this clock's time. */
    public NewStudy(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * Makes the folder and everything in it.
     *
     * @param folder absent or empty
     * @param info what holds for the whole study
     * @param who noted in the history
     * @throws BadInputException if {@code who} cannot be a name
     * @throws IOException if the folder is taken or cannot be written
     */
    public void make(Path folder, StudyInfo info, String who) throws BadInputException, IOException {
        try {
            StudyStore.create(folder, info, who, files, clock).close();
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
    }
}
