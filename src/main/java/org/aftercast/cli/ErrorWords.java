package org.aftercast.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import picocli.CommandLine;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** Bad arguments in the words of a person, for every command alike: no class, no field, no wall of options. */
final class ErrorWords {

    private static final Pattern DECIMAL = Pattern.compile("'([^']*)' is not an? (?:double|float)");

    private static final Pattern WHOLE = Pattern.compile("'([^']*)' is not an? (?:int|long|short|byte)");

    private static final Pattern NONE_OF = Pattern.compile(
            "expected one of \\[([^\\]]*)\\] \\(case-(?:in)?sensitive\\) but was '([^']*)'", Pattern.DOTALL);

    private static final Pattern CLASS = Pattern.compile(
            "cannot convert '([^']*)' to (?:class |interface )?([\\w.$]+)(?: \\(.*\\))?", Pattern.DOTALL);

    private static final Pattern FIELD = Pattern.compile("^([a-z][A-Za-z]*): ");

    /** Names of choices as the rooms know them, and as they are typed. */
    private static final Map<String, String> OPTIONS = Map.ofEntries(
            Map.entry("share", "--share"),
            Map.entry("halfWidth", "--half-width"),
            Map.entry("animals", "--animals"),
            Map.entry("otherShare", "--other-share"),
            Map.entry("power", "--power"),
            Map.entry("back", "--back"),
            Map.entry("shed", "--shed"),
            Map.entry("assurance", "--assurance"),
            Map.entry("perCluster", "--per-trip"),
            Map.entry("likeness", "--likeness"),
            Map.entry("horizonH", "--horizon"),
            Map.entry("halfTimeH", "--half-time"),
            Map.entry("level", "--level"),
            Map.entry("released", "--released"),
            Map.entry("weightsFrom", "--weights-from"));

    private ErrorWords() {}

    /** Prints what is wrong and where help is; the exit code is 2. */
    static int explain(ParameterException bad, String[] args) {
        CommandLine command = bad.getCommandLine();
        PrintWriter err = command.getErr();
        err.println(of(String.valueOf(bad.getMessage())));
        UnmatchedArgumentException.printSuggestions(bad, err);
        err.println("See " + command.getCommandSpec().qualifiedName() + " --help");
        err.flush();
        return ExitCode.USAGE;
    }

    /** A message of the parser, or of a room, as a person would put it. */
    static String of(String message) {
        String text = DECIMAL.matcher(message).replaceAll("'$1' is not a number; accepted: such as 24 or 0.5");
        text = WHOLE.matcher(text).replaceAll("'$1' is not a whole number; accepted: such as 12");
        text = NONE_OF.matcher(text)
                .replaceAll(found -> Matcher.quoteReplacement("'" + found.group(2) + "' is not known; accepted: "
                        + found.group(1).toLowerCase(Locale.ROOT)));
        text = CLASS.matcher(text)
                .replaceAll(found -> Matcher.quoteReplacement("'" + found.group(1) + "' is " + wanted(found.group(2))));
        return typed(text);
    }

    /** A line that begins with the name of a choice, with the option as it is typed. */
    static String typed(String message) {
        Matcher field = FIELD.matcher(message);
        String option = field.find() ? OPTIONS.get(field.group(1)) : null;
        return option == null ? message : option + message.substring(field.end(1));
    }

    private static String wanted(String type) {
        return switch (type.substring(type.lastIndexOf('.') + 1)) {
            case "Instant" -> "not a time; accepted: UTC such as 2026-06-01T14:05:00Z";
            case "LocalDate" -> "not a date; accepted: such as 2026-06-01";
            case "ZoneId" -> "not a time zone; accepted: such as Europe/Lisbon or UTC";
            case "Duration" -> "not a length of time; accepted: such as PT2H30M for 2.5 hours";
            case "Path", "File" -> "not a name of a file";
            default -> "not understood";
        };
    }
}
