package org.aftercast.web;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** A request that cannot be answered; becomes the one error shape of the JSON interface. */
final class ApiException extends Exception {

    private static final long serialVersionUID = 1L;

    /** One thing that is wrong, with the field it concerns where there is one. */
    record Problem(@Nullable String field, String text) {}

    /** The kinds of failure with their HTTP status. */
    enum Kind {
        BAD_INPUT(400),
        NOT_PAIRED(401),
        NOT_ALLOWED(403),
        NOT_FOUND(404),
        CONFLICT(409),
        TOO_LARGE(413),
        BUSY(503),
        FAILED(500);

        private final int status;

        Kind(int status) {
            this.status = status;
        }

        int status() {
            return status;
        }
    }

    private final Kind kind;
    private final transient List<Problem> problems;

    ApiException(Kind kind, String message) {
        this(kind, message, List.of());
    }

    ApiException(Kind kind, String message, List<Problem> problems) {
        super(message);
        this.kind = kind;
        this.problems = List.copyOf(problems);
    }

    static ApiException badInput(String message) {
        return new ApiException(Kind.BAD_INPUT, message);
    }

    static ApiException notFound(String message) {
        return new ApiException(Kind.NOT_FOUND, message);
    }

    Kind kind() {
        return kind;
    }

    List<Problem> problems() {
        return problems;
    }
}
