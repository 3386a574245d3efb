package org.aftercast.web;

import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.logging.Level;
import java.util.logging.Logger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.aftercast.intake.ImportException;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyException;
import org.aftercast.voyage.BadInputException;
import org.aftercast.web.ApiException.Kind;
import org.aftercast.web.ApiException.Problem;

/** Every failure as the one error shape. */
final class Errors {

    private static final Logger LOG = Logger.getLogger(Errors.class.getName());
    private static final Pattern FIELD = Pattern.compile("([a-z][A-Za-z0-9]*): (.*)", Pattern.DOTALL);

    private Errors() {}

    static void answer(Context ctx, Exception failure) {
        ApiException shown = asApi(failure);
        if (shown.kind() == Kind.FAILED) {
            LOG.log(Level.WARNING, ctx.method() + " " + ctx.path() + " failed", failure);
        }
        ctx.status(shown.kind().status());
        try {
            Json.answer(ctx, Map.of("error", inside(shown)));
        } catch (ApiException impossible) {
            ctx.result("{\"error\":{\"kind\":\"failed\",\"message\":\"\",\"problems\":[]}}");
        }
    }

    /** Kind, message and problems of a failure. */
    static Map<String, Object> inside(Exception failure) {
        ApiException shown = asApi(failure);
        Map<String, Object> error = new LinkedHashMap<>();
        error.put("kind", shown.kind());
        error.put("message", String.valueOf(shown.getMessage()));
        error.put("problems", shown.problems());
        return error;
    }

    static ApiException asApi(Exception failure) {
        if (failure instanceof ApiException already) {
            return already;
        }
        if (failure instanceof HttpResponseException http) {
            return new ApiException(
                    switch (http.getStatus()) {
                        case 413 -> Kind.TOO_LARGE;
                        case 404, 405 -> Kind.NOT_FOUND;
                        default -> http.getStatus() < 500 ? Kind.BAD_INPUT : Kind.FAILED;
                    },
                    http.getStatus() == 413
                            ? "the request is too large; accepted: up to " + PageServer.LARGEST_BODY_BYTES + " bytes"
                            : String.valueOf(http.getMessage()));
        }
        if (failure instanceof BadInputException bad) {
            return badInput(bad.problems());
        }
        if (failure instanceof RuleException rule) {
            return badInput(rule.lines());
        }
        if (failure instanceof ImportException bad) {
            return badInput(List.of(String.valueOf(bad.getMessage())));
        }
        if (failure instanceof StudyException refused) {
            String message = String.valueOf(refused.getMessage());
            return new ApiException(message.contains("another aftercast") ? Kind.BUSY : Kind.CONFLICT, message);
        }
        if (failure instanceof IOException) {
            return new ApiException(Kind.FAILED, String.valueOf(failure.getMessage()));
        }
        return new ApiException(
                Kind.FAILED, "something unexpected went wrong (" + failure + "); nothing was reported as saved");
    }

    private static ApiException badInput(List<String> lines) {
        List<Problem> problems = new ArrayList<>();
        for (String line : lines) {
            Matcher field = FIELD.matcher(line);
            problems.add(field.matches() ? new Problem(field.group(1), field.group(2)) : new Problem(null, line));
        }
        String message = lines.size() == 1 ? lines.get(0) : lines.size() + " things need a change";
        return new ApiException(Kind.BAD_INPUT, message, problems);
    }
}
