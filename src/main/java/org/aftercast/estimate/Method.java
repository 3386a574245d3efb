package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How a result was obtained, in plain words.
 *
 * @param name name of the method, with the interval it uses
 * @param assumptions what must hold for the result to be right, one sentence each
 * @param refusal why there is no result, one sentence; null when there is one
 */
public record Method(
        String name, List<String> assumptions, @Nullable String refusal) {

    public Method {
        assumptions = List.copyOf(assumptions);
    }

    /** A method that gave a result. */
    static Method used(String name, List<String> assumptions) {
        return new Method(name, assumptions, null);
    }

    /** A method that the data cannot carry. */
    static Method refused(String name, String reason) {
        return new Method(name, List.of(), reason);
    }

    /** Whether there is no result. */
    public boolean withoutAnswer() {
        return refusal != null;
    }
}
