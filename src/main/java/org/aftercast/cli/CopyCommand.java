package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyCheck;
import org.aftercast.voyage.CopyStudy;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast copy}. */
@Command(
        name = "copy",
        mixinStandardHelpOptions = true,
        description = "Copies a study safely, also while it is open elsewhere, and verifies the copy.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class CopyCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Parameters(index = "1", paramLabel = "TO", description = "Folder of the copy; absent or empty.")
    private Path to;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        StudyCheck.Report report = new CopyStudy(FileStore.onDisk(), InstantSource.system()).copy(folder, to);
        report.problems().forEach(problem -> out.println("Wrong in the copy: " + problem));
        report.notes().forEach(note -> out.println("Note: " + note));
        out.println("Copied to " + to + ": " + report.files() + " files, "
                + (report.problems().isEmpty() ? "verified." : report.problems().size() + " problems."));
        return report.problems().isEmpty() ? ExitCode.OK : ExitCode.SOFTWARE;
    }
}
