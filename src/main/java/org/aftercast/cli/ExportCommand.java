package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.ExportRecording;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast export}. */
@Command(
        name = "export",
        mixinStandardHelpOptions = true,
        description = "Writes a recording as CSV or Parquet for other programs, with a data dictionary beside it.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class ExportCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Parameters(index = "1", paramLabel = "ANIMAL", description = "The animal whose recording it is.")
    private String animal;

    @Parameters(
            index = "2",
            paramLabel = "OUT",
            description = "File to write; ends in .csv or .parquet. OUT.dictionary.json is written beside it.")
    private Path out;

    @Option(
            names = "--recording",
            paramLabel = "SHA256",
            description = "Which recording, by the beginning of its SHA-256, where the animal has several.")
    private @Nullable String recording;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        ExportRecording.Exported exported =
                new ExportRecording(FileStore.onDisk(), InstantSource.system()).export(folder, animal, recording, out);
        PrintWriter text = spec.commandLine().getOut();
        text.println("Written: " + exported.file() + " (" + exported.sampleCount() + " samples), "
                + exported.dictionary() + ".");
        text.flush();
        return 0;
    }
}
