package org.aftercast.study;

import java.io.IOException;
import org.jspecify.annotations.Nullable;

/** A study that cannot be opened or changed as asked: says which, why, and what would help. Nothing was changed. */
public final class StudyException extends IOException {

    private static final long serialVersionUID = 1L;

    /** A sentence that names the study. */
    public StudyException(String problem) {
        super(problem);
    }

    /** A sentence that names the study, and what lies beneath. */
    public StudyException(String problem, @Nullable Throwable cause) {
        super(problem, cause);
    }
}
