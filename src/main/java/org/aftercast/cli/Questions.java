package org.aftercast.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ParameterException;

/** Questions on the terminal, one line each; a bad answer is asked again. */
final class Questions {

    private static final int MOST_TRIES = 5;

    private final CommandLine command;
    private final BufferedReader in = new BufferedReader(new InputStreamReader(System.in, Charset.defaultCharset()));

    Questions(CommandLine command) {
        this.command = command;
    }

    /** A number, or {@code kept} for an empty line. */
    @Nullable
    Double number(String question, @Nullable Double kept) {
        return ask(question, kept, false);
    }

    /** A number with a value to keep. */
    double needed(String question, double kept) {
        Double answer = ask(question, kept, false);
        return answer == null ? kept : answer;
    }

    /** A number, or null for an empty line. */
    @Nullable
    Double optional(String question) {
        return ask(question, null, true);
    }

    private @Nullable Double ask(String question, @Nullable Double kept, boolean mayBeNothing) {
        PrintWriter out = command.getOut();
        for (int attempt = 0; attempt < MOST_TRIES; attempt++) {
            out.print(question + (kept == null ? "" : " [" + EstimateSummary.number(kept) + "]") + ": ");
            out.flush();
            String line = readLine();
            if (line == null) {
                throw new ParameterException(
                        command, "No answer to: " + question + ". Give the options instead; see --help.");
            }
            String text = line.strip().replace(',', '.');
            if (text.isEmpty() && (kept != null || mayBeNothing)) {
                return kept;
            }
            try {
                double value = Double.parseDouble(text);
                if (Double.isFinite(value)) {
                    return value;
                }
                out.println("  \"" + line.strip() + "\" is not a number that can be used.");
            } catch (NumberFormatException bad) {
                out.println("  \"" + line.strip() + "\" is not a number; accepted: digits with a decimal point.");
            }
        }
        throw new ParameterException(command, "No usable answer to: " + question);
    }

    private @Nullable String readLine() {
        try {
            return in.readLine();
        } catch (IOException failure) {
            throw new ParameterException(command, "The terminal cannot be read: " + failure.getMessage(), failure);
        }
    }
}
