package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import org.aftercast.intake.ImportException;
import org.aftercast.intake.Scratch;
import org.aftercast.study.StudyException;
import org.aftercast.voyage.BadInputException;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import picocli.CommandLine.Spec;

/** The command {@code aftercast}. */
@Command(
        name = "aftercast",
        mixinStandardHelpOptions = true,
        version = "aftercast 0.1.0",
        description = "What happens to a fish after an angler lets it go: from the plan to the report.",
        subcommands = {
            NewCommand.class,
            EnterCommand.class,
            ListCommand.class,
            LoadCommand.class,
            ExportCommand.class,
            VerifyCommand.class,
            CopyCommand.class,
            JudgeCommand.class,
            EstimateCommand.class,
            PlanCommand.class,
            SeekCommand.class,
            HearCommand.class,
            MapCommand.class,
            ReadCommand.class,
            SimulateCommand.class,
            ReportCommand.class,
            ServeCommand.class,
            DemoCommand.class,
            CommandLine.HelpCommand.class
        })
public final class Aftercast implements Runnable {

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before run()
    private CommandSpec spec;

    private Aftercast() {}

    /** Runs one command and exits with its code: 0 done, 1 unexpected failure, 2 bad arguments or bad input. */
    public static void main(String[] args) {
        sweep();
        System.exit(run(args));
    }

    /** What a killed process has left in the temporary folder is removed, and said. */
    private static void sweep() {
        try {
            Scratch.sweep().forEach(System.err::println);
        } catch (IOException unreadable) {
            System.err.println("The temporary folder cannot be looked through: " + unreadable.getMessage());
        }
    }

    static CommandLine commandLine() {
        return new CommandLine(new Aftercast())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .setParameterExceptionHandler(ErrorWords::explain)
                .setExecutionExceptionHandler(Aftercast::explain);
    }

    static int run(String... args) {
        return commandLine().execute(args);
    }

    /**
     * Bad input, and files that cannot be read or written (a full disk): every problem on its own line, exit code 2.
     * Anything else: what failed, exit code 1.
     */
    private static int explain(Exception failure, CommandLine command, ParseResult parsed) {
        PrintWriter err = command.getErr();
        if (failure instanceof BadInputException bad) {
            bad.problems().forEach(err::println);
            return ExitCode.USAGE;
        }
        if (failure instanceof StudyException || failure instanceof ImportException) {
            err.println(failure.getMessage());
            return ExitCode.USAGE;
        }
        if (failure instanceof IOException) {
            err.println(failure.getMessage() == null ? failure.toString() : failure.getMessage());
            return ExitCode.USAGE;
        }
        err.println("aftercast failed unexpectedly; please report the lines below");
        failure.printStackTrace(err);
        return ExitCode.SOFTWARE;
    }

    @Override
    public void run() {
        throw new ParameterException(
                spec.commandLine(), "Which command? Such as new, enter, load, read, estimate or report.");
    }
}
