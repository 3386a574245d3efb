package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.study.FileStore;

/** How many animals a study needs. */
public final class PlanStudy {

    private final FileStore files;

    public PlanStudy(FileStore files) {
        this.files = files;
    }

    /**
     * Plans.
     *
     * @throws BadInputException if more animals would be needed than can be counted through
     */
    public static Plan of(PlanQuestion question) throws BadInputException {
        try {
            return Plan.of(question);
        } catch (IllegalArgumentException tooMany) {
            throw new BadInputException(String.valueOf(tooMany.getMessage()));
        }
    }

    /**
     * Writes the plan as JSON, wholly or not at all.
     *
     * @throws IOException if it cannot be written
     */
    public void writeJson(Plan plan, Path target) throws IOException {
        files.write(target, ResultJson.of(plan));
    }
}
