package org.aftercast.cli;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** The command {@code aftercast}. */
@Command(
        name = "aftercast",
        mixinStandardHelpOptions = true,
        version = "aftercast 0.1.0",
        description = "What happens to a fish after an angler lets it go: from the plan to the report.",
        subcommands = {CommandLine.HelpCommand.class})
public final class Aftercast implements Runnable {

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before run()
    private CommandSpec spec;

    private Aftercast() {}

    /** Runs one command and exits with its code: 0 done, 1 unexpected failure, 2 bad arguments or bad input. */
    public static void main(String[] args) {
        System.exit(run(args));
    }

    static int run(String... args) {
        return new CommandLine(new Aftercast())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .execute(args);
    }

    @Override
    public void run() {
        throw new ParameterException(spec.commandLine(), "Which command? One of those listed below.");
    }
}
