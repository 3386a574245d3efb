package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.study.StudyCheck;
import org.aftercast.voyage.VerifyBundle;
import org.aftercast.voyage.VerifyStudy;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast verify}. */
@Command(
        name = "verify",
        mixinStandardHelpOptions = true,
        description = "Checks every checksum, record and link of a study, or of its open data; changes nothing.",
        exitCodeListHeading = "Exit codes:%n",
        exitCodeList = {"0:all is well", "1:something is wrong; each line says what", "2:there is no study to check"})
@SuppressWarnings("NullAway.Init") // filled by picocli
final class VerifyCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study, or of open data.")
    private Path folder;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        if (VerifyBundle.isBundle(folder)) {
            VerifyBundle.Report bundle = VerifyBundle.of(folder);
            bundle.problems().forEach(problem -> out.println("Wrong: " + problem));
            out.printf(
                    Locale.ROOT,
                    "%d files, %d rows checked: %s%n",
                    bundle.files(),
                    bundle.rows(),
                    said(bundle.problems().size()));
            return bundle.problems().isEmpty() ? ExitCode.OK : ExitCode.SOFTWARE;
        }
        StudyCheck.Report report = new VerifyStudy(InstantSource.system()).of(folder, file -> {});
        report.notes().forEach(note -> out.println("Note: " + note));
        report.problems().forEach(problem -> out.println("Wrong: " + problem));
        out.printf(
                Locale.ROOT,
                "%d records, %d history entries, %d files (%.1f MB) checked: %s%n",
                report.records(),
                report.entries(),
                report.files(),
                report.bytes() / 1e6,
                said(report.problems().size()));
        return report.problems().isEmpty() ? ExitCode.OK : ExitCode.SOFTWARE;
    }

    private static String said(int problems) {
        return problems == 0 ? "all is well" : problems + (problems == 1 ? " problem" : " problems");
    }
}
