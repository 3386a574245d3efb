package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.OwnMaps;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast map}: a study's own coast and pictures of the sea. */
@Command(
        name = "map",
        mixinStandardHelpOptions = true,
        description =
                "Adds a study's own maps: a coast (GeoJSON, GPX) that counts as land, or raster tiles (MBTiles) for"
                        + " the search page. Not for navigation.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class MapCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Parameters(index = "1..*", arity = "1..*", paramLabel = "FILE", description = "Maps to add.")
    private List<Path> maps;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws IOException, BadInputException {
        if (!Files.isRegularFile(folder.resolve("study.db"))) {
            throw new BadInputException(folder + ": is no study; accepted: a folder made by aftercast new");
        }
        PrintWriter out = spec.commandLine().getOut();
        for (Path map : maps) {
            out.println(new OwnMaps(FileStore.onDisk()).add(folder, map));
        }
        out.flush();
        return 0;
    }
}
