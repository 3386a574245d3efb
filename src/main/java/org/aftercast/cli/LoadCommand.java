package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.LayoutGuess;
import org.aftercast.intake.LayoutJson;
import org.aftercast.intake.Scratch;
import org.aftercast.intake.StillPoses;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.CalibrateLogger;
import org.aftercast.voyage.ExplainDownload;
import org.aftercast.voyage.LoadDownload;
import org.aftercast.voyage.LoadRequest;
import org.aftercast.voyage.Loaded;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast load}: a download into a study, or an explanation of how it would be understood. */
@Command(
        name = "load",
        mixinStandardHelpOptions = true,
        customSynopsis = {
            "aftercast load DIR ANIMAL FILE… (--layout L.json | --accept) [OPTIONS]",
            "       aftercast load --explain FILE… [--layout L.json] [OPTIONS]"
        },
        description = "Loads a download into the study, or shows how it would be understood (--explain).")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class LoadCommand implements Callable<Integer> {

    @Parameters(
            arity = "1..*",
            paramLabel = "DIR ANIMAL FILE",
            description =
                    "Study folder, animal and files; with --explain files only. Several files continue one another,"
                            + " or hold one sensor each.")
    private List<String> words = List.of();

    @Option(
            names = "--explain",
            description = "Show what each column is taken for and what the files give together, and load nothing.")
    private boolean explain;

    @Option(
            names = "--layout",
            paramLabel = "L.json",
            description = "Download layout; once for all files, or once per file.")
    private List<Path> layoutFiles = List.of();

    @Option(names = "--accept", description = "Read files without a layout if their guess leaves no doubt.")
    private boolean accept;

    @Option(names = "--save-layout", paramLabel = "L.json", description = "Write the layout to this file.")
    private @Nullable Path saveLayout;

    @Option(
            names = "--start",
            paramLabel = "TIME",
            description = "Time of the first sample (2026-05-03T14:05:06Z), for files without dates.")
    private @Nullable Instant startUtc;

    @Option(names = "--rate-hz", paramLabel = "R", description = "Samples per second, for files without time stamps.")
    private @Nullable Double rateHz;

    @Option(
            names = "--zone",
            paramLabel = "ZONE",
            description = "Time zone of dates that carry none (Europe/London, +02:00).")
    private @Nullable String zone;

    @Option(
            names = "--dates",
            paramLabel = "day-first|month-first",
            converter = DatesConverter.class,
            description = "What stands first in dates like 03/05/2026, where the file leaves it open.")
    private ImportOptions.@Nullable DateOrder dates;

    @Option(names = "--set-logger", paramLabel = "TIME", description = "What the logger showed when its clock was set.")
    private @Nullable Instant setLogger;

    @Option(names = "--set-true", paramLabel = "TIME", description = "The true time then.")
    private @Nullable Instant setTrue;

    @Option(names = "--readout-logger", paramLabel = "TIME", description = "What the logger showed at read-out.")
    private @Nullable Instant readLogger;

    @Option(names = "--readout-true", paramLabel = "TIME", description = "The true time then.")
    private @Nullable Instant readTrue;

    @Option(
            names = "--still-poses",
            paramLabel = "FILE",
            description = "Calibrate the axes from this file of the same logger at rest in six or more poses.")
    private @Nullable Path stillPoses;

    @Option(
            names = "--second-copy",
            paramLabel = "DIR",
            description = "Keep and verify a second copy of the raw files here, best on another disk.")
    private @Nullable Path secondCopy;

    @Option(
            names = "--battery",
            paramLabel = "ok|low",
            description = "The logger's battery at read-out, for the card that says whether it may be erased.")
    private @Nullable Battery battery;

    @Mixin
    private WhoOption who;

    @Spec
    private CommandSpec spec;

    /** Words with a hyphen, as everywhere. */
    static final class DatesConverter implements CommandLine.ITypeConverter<ImportOptions.DateOrder> {
        @Override
        public ImportOptions.DateOrder convert(String word) {
            return switch (word) {
                case "day-first" -> ImportOptions.DateOrder.DAY_FIRST;
                case "month-first" -> ImportOptions.DateOrder.MONTH_FIRST;
                default ->
                    throw new CommandLine.TypeConversionException(
                            "\"" + word + "\" is neither day-first nor month-first");
            };
        }
    }

    /** What can be said of a battery. */
    enum Battery {
        OK,
        LOW
    }

    @Override
    public Integer call() throws Exception {
        return explain ? explainAll() : load();
    }

    private int explainAll() throws IOException, BadInputException {
        PrintWriter out = spec.commandLine().getOut();
        List<Path> files = words.stream().map(Path::of).toList();
        List<DownloadLayout> layouts = layouts();
        DownloadLayout first;
        boolean clear;
        try (Scratch scratch = Scratch.make("explain");
                LoadProgress progress = LoadProgress.on(spec.commandLine().getErr(), files.get(0))) {
            Path spill = scratch.folder().resolve("rows");
            if (files.size() == 1) {
                ExplainDownload.Explained explained = ExplainDownload.explain(
                        files.get(0), layouts.isEmpty() ? null : layouts.get(0), options(), spill, progress);
                LoadText.explain(out, explained);
                first = explained.layout();
                clear = explained.content() != null;
            } else {
                ExplainDownload.Together together =
                        ExplainDownload.together(files, layouts, options(), spill, progress);
                LoadText.explain(out, together);
                first = together.each().get(0).layout();
                clear = together.content() != null;
            }
        }
        if (saveLayout != null && first != null && clear) {
            save(first);
        } else if (saveLayout != null) {
            spec.commandLine()
                    .getErr()
                    .println(
                            "No layout was saved: first answer what is not clear (--dates, --zone, --rate-hz, --start).");
        }
        return clear ? 0 : 2;
    }

    private int load() throws IOException, BadInputException {
        if (words.size() < 3) {
            throw new ParameterException(
                    spec.commandLine(), "load needs a study folder, an animal and at least one file");
        }
        List<Path> paths = words.subList(2, words.size()).stream().map(Path::of).toList();
        try (LoadProgress progress = LoadProgress.on(spec.commandLine().getErr(), paths.get(0))) {
            LoadRequest request = new LoadRequest(
                    Path.of(words.get(0)),
                    words.get(1),
                    paths,
                    layouts(),
                    accept ? LoadRequest.Guess.ACCEPTED : LoadRequest.Guess.REFUSED,
                    options(),
                    clock(),
                    secondCopy,
                    battery == null ? LoadRequest.Battery.NOT_NOTED : LoadRequest.Battery.valueOf(battery.name()),
                    who.who(),
                    progress);
            Loaded loaded = new LoadDownload(FileStore.onDisk(), InstantSource.system()).load(request);
            progress.finish();
            LoadText.loaded(spec.commandLine().getOut(), loaded);
            if (saveLayout != null) {
                save(loaded.layouts().get(0));
            }
        }
        return 0;
    }

    private List<DownloadLayout> layouts() throws IOException, BadInputException {
        int fileCount = explain ? words.size() : words.size() - 2;
        if (layoutFiles.size() > 1 && layoutFiles.size() != fileCount) {
            throw new BadInputException(layoutFiles.size() + " layouts for " + fileCount
                    + " files; accepted: one layout for all files, or one for each");
        }
        List<DownloadLayout> layouts = new ArrayList<>();
        for (Path file : layoutFiles) {
            layouts.add(LayoutJson.read(file));
        }
        if (stillPoses != null) {
            calibrate(layouts, stillPoses);
        }
        return layouts;
    }

    /** Puts the calibration into every layout; without one the files' own guess is taken for all of them. */
    private void calibrate(List<DownloadLayout> layouts, Path poses) throws IOException, BadInputException {
        if (layouts.isEmpty()) {
            Path first = Path.of(words.get(explain ? 0 : Math.min(2, words.size() - 1)));
            if (!explain && !accept) {
                throw new BadInputException("--still-poses: no layout was given; accepted: with --layout or --accept");
            }
            layouts.add(LayoutGuess.of(first, options()).layoutOrThrow(first.toString()));
        }
        StillPoses.Result result = CalibrateLogger.fromPoses(poses, layouts.get(0), options());
        layouts.replaceAll(layout -> layout.withCalibration(result.calibration()));
        spec.commandLine()
                .getOut()
                .printf(
                        Locale.ROOT,
                        "Calibrated from %d still poses; the axes then differ from 1 g by %.4f g (root mean square).%n",
                        result.poses().size(),
                        result.residualG());
    }

    private ImportOptions options() throws BadInputException {
        if (rateHz != null && !(rateHz > 0 && rateHz <= 10_000)) {
            throw new BadInputException("--rate-hz: " + rateHz + " is outside (0, 10000] Hz");
        }
        return new ImportOptions(startUtc, rateHz, zone, dates);
    }

    private DownloadLayout.@Nullable ClockNotes clock() throws BadInputException {
        if (setLogger == null && setTrue == null && readLogger == null && readTrue == null) {
            return null;
        }
        try {
            return new DownloadLayout.ClockNotes(setLogger, setTrue, readLogger, readTrue);
        } catch (IllegalArgumentException wrong) {
            throw new BadInputException(
                    wrong.getMessage() + " (--set-logger with --set-true, --readout-logger with --readout-true)");
        }
    }

    private void save(DownloadLayout layout) throws IOException {
        Path target = java.util.Objects.requireNonNull(saveLayout, "asked for");
        FileStore.onDisk().write(target, LayoutJson.write(layout).getBytes(java.nio.charset.StandardCharsets.UTF_8));
        spec.commandLine().getOut().printf(Locale.ROOT, "Layout saved to %s.%n", target);
    }
}
