package org.aftercast.cli;

import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import org.aftercast.study.FileStore;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyInfo.BottomRest;
import org.aftercast.study.Words;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.NewStudy;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast new}. */
@Command(name = "new", mixinStandardHelpOptions = true, description = "Makes an empty study.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class NewCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study; absent or empty.")
    private Path folder;

    @Option(names = "--title", paramLabel = "TEXT", description = "Title (default: the folder's name).")
    private @Nullable String title;

    @Option(names = "--species", paramLabel = "TEXT", description = "Species.")
    private @Nullable String species;

    @Option(names = "--site", paramLabel = "TEXT", description = "Where, in words.")
    private @Nullable String site;

    @Option(
            names = "--time-zone",
            paramLabel = "ZONE",
            description = "Zone for local times (default: ${DEFAULT-VALUE}).")
    private String timeZone = "UTC";

    @Option(names = "--latitude", paramLabel = "DEG", description = "Latitude of the site in degrees, north positive.")
    private @Nullable Double latDeg;

    @Option(names = "--longitude", paramLabel = "DEG", description = "Longitude of the site in degrees, east positive.")
    private @Nullable Double lonDeg;

    @Option(
            names = "--rests-on-bottom",
            paramLabel = "yes|no",
            description = "Whether the species can lie still on the bottom and breathe (default: not known).")
    private @Nullable String restsOnBottom;

    @Option(
            names = "--catch-death-h",
            paramLabel = "H",
            description = "Declared rule: deaths within this many hours of release count as caused by the catch"
                    + " (default: ${DEFAULT-VALUE}).")
    private double catchDeathH = 24;

    @Option(
            names = "--horizon-h",
            paramLabel = "H",
            description = "Hours after release for which mortality is estimated (default: ${DEFAULT-VALUE}).")
    private double horizonH = 24;

    @Mixin
    private WhoOption who;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        StudyInfo base = StudyInfo.titled("untitled");
        StudyInfo info;
        try {
            Path name = folder.toAbsolutePath().normalize().getFileName();
            info = new StudyInfo(
                    StudyInfo.ID,
                    title != null ? title : name == null ? base.title() : name.toString(),
                    species,
                    site,
                    timeZone,
                    latDeg,
                    lonDeg,
                    bottomRest(),
                    catchDeathH,
                    null,
                    horizonH,
                    base.frequencySpacingKHz(),
                    base.packageMassLimitPercent(),
                    base.origin(),
                    null);
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
        new NewStudy(FileStore.onDisk(), InstantSource.system()).make(folder, info, who.who());
        spec.commandLine().getOut().println("Made an empty study in " + folder + ".");
        spec.commandLine().getOut().println("Next: aftercast enter " + folder + " CAPTURES.csv");
        return 0;
    }

    private BottomRest bottomRest() throws BadInputException {
        if (restsOnBottom == null) {
            return BottomRest.UNKNOWN;
        }
        return switch (restsOnBottom) {
            case "yes" -> BottomRest.CAN_REST;
            case "no" -> BottomRest.NEVER_RESTS;
            default ->
                throw new BadInputException("--rests-on-bottom: \"" + restsOnBottom
                        + "\" is neither yes nor no; stored is one of " + Words.all(BottomRest.class));
        };
    }
}
