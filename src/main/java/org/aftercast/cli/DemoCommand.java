package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.Demo;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast demo}. */
@Command(
        name = "demo",
        mixinStandardHelpOptions = true,
        description = "Makes an invented study and runs the whole job on it.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class DemoCommand implements Callable<Integer> {

    @Parameters(
            index = "0",
            arity = "0..1",
            paramLabel = "DIR",
            description = "Folder of the study; absent or empty (default: aftercast-demo, or the next free number).")
    private @Nullable Path folder;

    @Option(names = "--no-serve", description = "Stop after the report instead of serving the pages.")
    private boolean noServe;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        Path target = folder == null ? free() : folder;
        out.println("An invented study, made in " + target + ". No real animal, person, vessel or day.");
        out.flush();
        new Demo(FileStore.onDisk(), InstantSource.system()).make(target, line -> {
            out.println(line);
            out.flush();
        });
        if (noServe) {
            out.println("To see its pages: aftercast serve " + target);
            return 0;
        }
        return spec.parent().commandLine().execute("serve", target.toString());
    }

    /** The first of aftercast-demo, aftercast-demo-2, aftercast-demo-3 … that is not there yet. */
    private static Path free() {
        Path first = Path.of("aftercast-demo");
        Path path = first;
        for (int i = 2; Files.exists(path); i++) {
            path = Path.of(first + "-" + i);
        }
        return path;
    }
}
