package org.aftercast.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import picocli.CommandLine;

/** Writes docs/commands.md from the commands' own help; run its main after a change of an option. */
public final class CommandsPage {

    private CommandsPage() {}

    static String text() {
        StringBuilder page =
                new StringBuilder("# Commands\n\nEvery command and option, as `aftercast COMMAND --help` prints"
                        + " them. Exit codes: 0 done, 1 unexpected failure, 2 bad arguments, bad input, or a file that cannot be"
                        + " read or written.\n");
        Aftercast.commandLine().getSubcommands().entrySet().stream()
                .sorted(java.util.Map.Entry.comparingByKey())
                .filter(e -> !e.getKey().equals("help"))
                .forEach(e -> page.append("\n## ")
                        .append(e.getKey())
                        .append("\n\n```\n")
                        .append(e.getValue()
                                .setUsageHelpWidth(100)
                                .getUsageMessage(CommandLine.Help.Ansi.OFF)
                                .replace("\r\n", "\n")
                                .stripTrailing())
                        .append("\n```\n"));
        return page.toString();
    }

    public static void main(String[] args) throws IOException {
        Files.writeString(Path.of("docs/commands.md"), text());
    }
}
