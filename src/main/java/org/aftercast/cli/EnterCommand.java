package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.EnterCaptures;
import org.aftercast.voyage.EnterCaptures.Existing;
import org.aftercast.voyage.ExportCaptures;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast enter}. */
@Command(
        name = "enter",
        mixinStandardHelpOptions = true,
        description =
                "Enters captures and packages, or what was landed on each trip, from a CSV file: every row or none.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class EnterCommand implements Callable<Integer> {

    @Parameters(index = "0", arity = "0..1", paramLabel = "DIR", description = "Folder of the study.")
    private @Nullable Path folder;

    @Parameters(
            index = "1",
            arity = "0..1",
            paramLabel = "TABLE.csv",
            description = "The capture table, or the table of landings.")
    private @Nullable Path csv;

    @Option(
            names = "--replace",
            description =
                    "Animals or trips that are in the study already get what the file says; the history keeps the rest.")
    private boolean replace;

    @Option(names = "--template", description = "Print an empty table and stop.")
    private boolean template;

    @Option(names = "--export", paramLabel = "OUT.csv", description = "Write the study's capture table and stop.")
    private @Nullable Path export;

    @Option(
            names = "--landings",
            description = "With --template or --export: the table of landings instead of the capture table.")
    private boolean landings;

    @Mixin
    private WhoOption who;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        if (template) {
            out.print(landings ? EnterCaptures.landingsTemplate() : EnterCaptures.template());
            out.flush();
            return 0;
        }
        if (folder == null) {
            throw new ParameterException(spec.commandLine(), "Which study? Give its folder.");
        }
        if (export != null) {
            String table = landings
                    ? ExportCaptures.landings(folder, InstantSource.system())
                    : ExportCaptures.of(folder, InstantSource.system());
            FileStore.onDisk().write(export, table.getBytes(StandardCharsets.UTF_8));
            out.println("Wrote the " + (landings ? "table of landings" : "capture table") + " to " + export + ".");
            return 0;
        }
        if (csv == null) {
            throw new ParameterException(
                    spec.commandLine(), "Which table? Give a CSV file; --template prints an empty one.");
        }
        EnterCaptures.Result result = new EnterCaptures(FileStore.onDisk(), InstantSource.system())
                .enter(folder, csv, replace ? Existing.REPLACE : Existing.REFUSE, who.who());
        result.notices().forEach(out::println);
        out.println(result.added() + " added, " + result.changed() + " changed, " + result.unchanged() + " as before.");
        result.warnings().forEach(warning -> out.println("Look at this: " + warning));
        return 0;
    }
}
