package org.aftercast.voyage;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.aftercast.fate.FateCall;
import org.aftercast.fate.RecordEnd;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.intake.Scratch;
import org.aftercast.report.EstimateSection;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;

/**
 * The whole job on an invented study: makes it, enters the captures, writes the downloads as loggers would, loads and
 * reads them, judges, estimates, reports. Nothing is shortened: every step is the use case that a real study takes.
 */
public final class Demo {

    private static final String WHO = "demo";
    private static final String NOTE = "Invented throughout: no real animal, person, vessel, day or place of release.";

    private final FileStore files;
    private final InstantSource clock;

    /** Works through this store, at this clock's time. */
    public Demo(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * Makes the study and runs the job on it.
     *
     * @param folder absent or empty
     * @param say told each step
     * @throws BadInputException if the folder is taken
     * @throws IOException if something cannot be written
     */
    public void make(Path folder, Consumer<String> say) throws BadInputException, IOException {
        make(folder, DemoCast.animals(), say);
    }

    /** The same with a part of the cast, for tests. */
    void make(Path folder, List<DemoCast.Animal> cast, Consumer<String> say) throws BadInputException, IOException {
        refuseTaken(folder);
        InstantSource before = InstantSource.fixed(DemoCast.PLANNED);
        new NewStudy(files, before).make(folder, info(), WHO);
        new KeepNumbers(files, before).plan(folder, DemoCast.plan(), WHO);
        try (Scratch scratch = Scratch.make("demo")) {
            Path downloads = scratch.folder();
            Path captures = downloads.resolve("captures.csv");
            Files.writeString(captures, DemoCast.captures(cast));
            EnterCaptures.Result entered =
                    new EnterCaptures(files, clock).enter(folder, captures, EnterCaptures.Existing.REFUSE, WHO);
            say.accept(entered.added() + " animals entered");
            Path landings = downloads.resolve("landings.csv");
            Files.writeString(landings, DemoCast.landings(cast));
            new EnterCaptures(files, clock).enter(folder, landings, EnterCaptures.Existing.REFUSE, WHO);
            load(folder, cast, downloads, say);
        }
        read(folder, say);
        judge(folder, cast, say);
        KeepNumbers numbers = new KeepNumbers(files, clock);
        numbers.put(folder, DemoCast.controls(), WHO);
        numbers.put(folder, DemoCast.fishery(), WHO);
        search(folder, cast, say);
        report(folder, say);
    }

    /** Writes the report and says its headline. */
    private void report(Path folder, Consumer<String> say) throws BadInputException, IOException {
        ReportStudy.Written written = new ReportStudy(files, clock).write(folder, ReportStudy.Request.everything());
        EstimateSection estimate = written.report().estimate();
        if (estimate != null) {
            EstimateSection.Counts counts = estimate.counts();
            say.accept(String.format(
                    Locale.ROOT,
                    "Of %d animals %.0f h after release: %d dead by the declared rule, %d alive, %d another end, %d not known",
                    counts.animals(),
                    estimate.horizonH(),
                    counts.died(),
                    counts.alive(),
                    counts.otherEnd(),
                    counts.unknown()));
            EstimateSection.ShareLine share = estimate.headline();
            if (share != null) {
                say.accept(String.format(
                        Locale.ROOT,
                        "Share dead by then, the declared answer: %.0f %% (%.0f–%.0f %%, %s)",
                        100 * share.value(),
                        100 * share.low(),
                        100 * share.high(),
                        share.interval()));
            }
        }
        for (Path file : written.files()) {
            String name = String.valueOf(file.getFileName());
            if (name.startsWith("report.")) {
                say.accept("Report: " + file);
            }
        }
        say.accept("All of it is invented: it shows the work, not a fish.");
    }

    private void read(Path folder, Consumer<String> say) throws BadInputException, IOException {
        Map<FateCall, Integer> calls = new EnumMap<>(FateCall.class);
        int recordings;
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            List<ReadStudy.OfAnimal> readings = new ReadStudy(store, clock)
                    .read(WHO, List.of(), Settings.defaults(), (animal, done, total, fromCache) -> {});
            recordings = readings.size();
            readings.forEach(r -> calls.merge(r.reading().fate().call(), 1, Integer::sum));
        }
        List<String> parts = new ArrayList<>();
        calls.forEach((call, n) -> parts.add(n + " " + call.name().toLowerCase(Locale.ROOT)));
        say.accept(recordings + " recordings read; the program's calls: " + String.join(", ", parts));
    }

    /** Two invented readers judge a few animals, blind; they differ on one and settle it. */
    private void judge(Path folder, List<DemoCast.Animal> cast, Consumer<String> say)
            throws BadInputException, IOException {
        int given = 0;
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            Judge judge = new Judge(store);
            for (DemoCast.Opinion opinion : DemoCast.opinions(cast)) {
                Judge.Opinion said = new Judge.Opinion(
                        opinion.animal(),
                        opinion.reader(),
                        opinion.fate(),
                        RecordEnd.PLANNED_DETACHMENT,
                        opinion.changeUtc(),
                        opinion.reason());
                if (opinion.settles()) {
                    judge.settle(said);
                } else {
                    judge.give(said);
                }
                given++;
            }
        }
        say.accept(given + " verdicts of two invented readers");
    }

    /** The package still adrift: what was noted on the water, ready for {@code aftercast seek}. */
    private void search(Path folder, List<DemoCast.Animal> cast, Consumer<String> say) throws IOException {
        for (DemoCast.Animal animal : cast) {
            if (animal.fate() == DemoCast.Whereabouts.ADRIFT) {
                files.makeFolder(folder.resolve(SearchLog.FOLDER));
                Path noted = folder.resolve(SearchLog.FOLDER).resolve(animal.name() + ".csv");
                files.write(noted, DemoSearch.observations(animal).getBytes(StandardCharsets.UTF_8));
                say.accept("The package of " + animal.name() + " is still adrift. To look for it: aftercast seek "
                        + noted);
            }
        }
    }

    private static void refuseTaken(Path folder) throws BadInputException, IOException {
        if (!Files.exists(folder)) {
            return;
        }
        if (!Files.isDirectory(folder)) {
            throw new BadInputException(folder + ": is a file; accepted: a folder that is absent or empty");
        }
        try (Stream<Path> inside = Files.list(folder)) {
            if (inside.findAny().isPresent()) {
                throw new BadInputException(folder + ": is not empty; accepted: a folder that is absent or empty");
            }
        }
    }

    private static StudyInfo info() {
        StudyInfo base = StudyInfo.titled("Invented demo: starry smooth-hounds, Cardigan Bay");
        return new StudyInfo(
                StudyInfo.ID,
                base.title(),
                "Mustelus asterias, starry smooth-hound, invented",
                "Cardigan Bay (invented releases)",
                "Europe/London",
                52.45,
                -4.48,
                StudyInfo.BottomRest.CAN_REST,
                18,
                null,
                18,
                base.frequencySpacingKHz(),
                base.packageMassLimitPercent(),
                StudyInfo.Origin.INVENTED,
                NOTE);
    }

    /** While one download is loaded, the next is made. */
    private void load(Path folder, List<DemoCast.Animal> cast, Path downloads, Consumer<String> say)
            throws BadInputException, IOException {
        List<DemoCast.Animal> retrieved = cast.stream()
                .filter(animal -> animal.fate() == DemoCast.Whereabouts.RETRIEVED)
                .toList();
        CompletableFuture<Path> next = download(retrieved.get(0), downloads);
        double hours = 0;
        for (int i = 0; i < retrieved.size(); i++) {
            Path file = await(next);
            if (i + 1 < retrieved.size()) {
                next = download(retrieved.get(i + 1), downloads);
            }
            DemoCast.Animal animal = retrieved.get(i);
            new LoadDownload(files, clock).load(request(folder, animal.name(), file));
            Files.delete(file);
            hours += animal.scenario().logger().durationH();
        }
        say.accept(String.format(
                Locale.ROOT, "%d downloads loaded, %.0f hours at %s Hz", retrieved.size(), hours, DemoCast.RATE_HZ));
    }

    private static LoadRequest request(Path folder, String animal, Path file) {
        return new LoadRequest(
                folder,
                animal,
                List.of(file),
                List.of(),
                LoadRequest.Guess.ACCEPTED,
                ImportOptions.none(),
                null,
                null,
                LoadRequest.Battery.OK,
                WHO,
                ImportProgress.NONE);
    }

    private CompletableFuture<Path> download(DemoCast.Animal animal, Path downloads) {
        return CompletableFuture.supplyAsync(() -> {
            SimulatedRecording made = RecordingSimulator.simulate(animal.scenario(), animal.seed());
            Path file = downloads.resolve(animal.name() + "-invented.csv.gz");
            List<String> comments = new ArrayList<>();
            comments.add("INVENTED DATA: aftercast demo, animal " + animal.name() + ". " + NOTE);
            try {
                SimulatedCsv.writeGzip(made.samples(), made.clock(), comments, file);
            } catch (IOException failure) {
                throw new UncheckedIOException(failure);
            }
            return file;
        });
    }

    private static Path await(CompletableFuture<Path> file) throws IOException {
        try {
            return file.join();
        } catch (CompletionException failure) {
            if (failure.getCause() instanceof UncheckedIOException cause) {
                throw cause.getCause();
            }
            throw failure;
        }
    }
}
