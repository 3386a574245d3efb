package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.Simulate;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code aftercast simulate}. */
@Command(
        name = "simulate",
        mixinStandardHelpOptions = true,
        description = "Writes invented recordings with known truth (CSV and JSON each).")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class SimulateCommand implements Callable<Integer> {

    @Option(
            names = "--kind",
            paramLabel = "COURSE",
            description = "How the animal fares: survives, dies-at-once, dies-on-the-way-down, dies-late,"
                    + " dies-then-scavenged, swallowed-by-warm, swallowed-by-cold, bitten, shed-early"
                    + " (default: drawn for each).")
    private @Nullable String kind;

    @Option(
            names = "--difficulty",
            paramLabel = "WORD",
            description = "How far scenarios may range: plain, hard, extreme (default: ${DEFAULT-VALUE}).")
    private String difficulty = "plain";

    @Option(
            names = "--hours",
            paramLabel = "H",
            description = "Length of each recording in hours (default: as the difficulty draws it).")
    private @Nullable Double hours;

    @Option(
            names = "--rate-hz",
            paramLabel = "R",
            description = "Acceleration samples a second (default: as the difficulty draws it).")
    private @Nullable Double rateHz;

    @Option(names = "--seed", paramLabel = "N", description = "First of the series (default: ${DEFAULT-VALUE}).")
    private long seed = 1;

    @Option(names = "--count", paramLabel = "N", description = "How many recordings (default: ${DEFAULT-VALUE}).")
    private int count = 1;

    @Option(names = "--out", paramLabel = "DIR", required = true, description = "Folder to write into.")
    private Path folder;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        List<Simulate.Written> written = new Simulate(FileStore.onDisk())
                .write(new Simulate.Wish(kind, difficulty, hours, rateHz, seed, count), folder);
        PrintWriter out = spec.commandLine().getOut();
        for (Simulate.Written one : written) {
            out.println(one.csv() + "  (invented: " + one.course() + ")");
        }
        out.println(written.size() + (written.size() == 1 ? " recording" : " recordings")
                + ", each with its truth beside it as .truth.json");
        return 0;
    }
}
