package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.ReaderAgreement;
import org.aftercast.study.FileStore;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.Words;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.Judge;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast judge}. */
@Command(
        name = "judge",
        mixinStandardHelpOptions = true,
        description = {
            "Locks a reader's verdict on an animal, or settles two of them.",
            "Without an animal: how far the study is judged. Without a fate: what this reader may see."
        })
@SuppressWarnings("NullAway.Init") // filled by picocli
final class JudgeCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Parameters(index = "1", arity = "0..1", paramLabel = "ANIMAL", description = "The animal.")
    private @Nullable String animal;

    @Option(names = "--reader", paramLabel = "CODE", description = "Code of the person who judges.")
    private @Nullable String reader;

    @Option(
            names = "--animal-fate",
            paramLabel = "FATE",
            description = "alive-at-end, died, eaten, dead-then-scavenged or undecided.")
    private @Nullable String animalFate;

    @Option(
            names = "--record-end",
            paramLabel = "END",
            description = "planned-detachment, shed-early, logger-stopped, flooded or package-lost.")
    private @Nullable String recordEnd;

    @Option(
            names = "--change-utc",
            paramLabel = "TIME",
            description = "When it died, was eaten or lost its package, such as 2026-06-01T14:05:00Z.")
    private @Nullable String changeUtc;

    @Option(names = "--reason", paramLabel = "TEXT", description = "Why, in words.")
    private @Nullable String reason;

    @Option(names = "--settle", description = "This is what both readers settle on.")
    private boolean settle;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        boolean looking = animal == null || animalFate == null;
        StudyStore.Access access = looking ? StudyStore.Access.READ : StudyStore.Access.WRITE;
        try (StudyStore store = StudyStore.open(folder, access, FileStore.onDisk(), InstantSource.system())) {
            store.notices().forEach(out::println);
            Judge judge = new Judge(store);
            if (animal == null) {
                progress(out, judge);
                return 0;
            }
            judge.mustHave(animal);
            if (reader == null) {
                throw new ParameterException(spec.commandLine(), "Who judges? Give --reader CODE.");
            }
            if (animalFate == null) {
                bench(out, judge.bench(animal, reader));
                return 0;
            }
            AnimalFate fate = word(AnimalFate.class, "--animal-fate", animalFate);
            if (recordEnd == null || reason == null) {
                throw new ParameterException(
                        spec.commandLine(), "A verdict needs --animal-fate, --record-end and --reason.");
            }
            Judge.Opinion opinion = new Judge.Opinion(
                    animal,
                    reader,
                    fate,
                    word(RecordEnd.class, "--record-end", recordEnd),
                    time(changeUtc),
                    reason.strip());
            Verdict verdict = settle ? judge.settle(opinion) : judge.give(opinion);
            out.println("Locked as the " + Words.of(verdict.role()) + " verdict on " + verdict.animal() + ".");
            return 0;
        }
    }

    private static void progress(PrintWriter out, Judge judge) throws Exception {
        Judge.Progress progress = judge.progress();
        line(out, "No verdict yet", progress.unjudged());
        line(out, "One verdict; a second reader is wanted", progress.firstOnly());
        line(out, "Two readers agree", progress.agreed());
        line(out, "Two readers disagree; to be settled", progress.open());
        line(out, "Settled", progress.settled());
        ReaderAgreement agreement = judge.agreement();
        if (agreement != null) {
            Double kappa = agreement.kappa();
            Double kappaSe = agreement.kappaSe();
            out.printf(
                    Locale.ROOT,
                    "Readers agree on %.0f %% of %d animals; kappa %s; AC1 %.2f%n",
                    agreement.agreement() * 100,
                    agreement.subjects(),
                    kappa == null || kappaSe == null
                            ? "cannot be told (one call only)"
                            : String.format(Locale.ROOT, "%.2f (standard error %.2f)", kappa, kappaSe),
                    agreement.ac1());
        }
    }

    private static void line(PrintWriter out, String what, List<String> animals) {
        if (!animals.isEmpty()) {
            out.println(what + " (" + animals.size() + "): " + String.join(", ", animals));
        }
    }

    private static void bench(PrintWriter out, Judge.Bench bench) {
        out.println(bench.animal() + ": recording " + bench.recordingSha256() + ", reading " + bench.readingKey());
        if (bench.release() != null) {
            out.println("released " + bench.release().releasedUtc() + ", detachment planned "
                    + bench.release().plannedDetachmentUtc());
        }
        if (bench.sight() == Judge.Sight.BLIND) {
            out.println("Capture, machine and other readers are shown when your verdict is locked.");
        }
        ReadingRow reading = bench.reading();
        if (reading != null && reading.animalFate() != null && reading.recordEnd() != null) {
            out.println("machine: " + Words.of(reading.animalFate()) + ", " + Words.of(reading.recordEnd()));
        }
        for (Verdict verdict : bench.verdicts()) {
            out.println(Words.of(verdict.role()) + " (" + verdict.reader() + ", " + verdict.lockedUtc() + "): "
                    + Words.of(verdict.animalFate()) + ", " + Words.of(verdict.recordEnd()) + ": " + verdict.reason());
        }
        if (bench.next() != null) {
            out.println("next: " + Words.of(bench.next()) + " verdict");
        }
    }

    private static <E extends Enum<E>> E word(Class<E> type, String option, String word) throws BadInputException {
        try {
            return Words.parse(type, word);
        } catch (IllegalArgumentException unknown) {
            throw new BadInputException(option + ": " + unknown.getMessage());
        }
    }

    private static @Nullable Instant time(@Nullable String text) throws BadInputException {
        if (text == null) {
            return null;
        }
        try {
            return Instant.parse(text.toUpperCase(Locale.ROOT));
        } catch (DateTimeException bad) {
            throw new BadInputException(
                    "--change-utc: \"" + text + "\" is not a time; accepted: UTC such as 2026-06-01T14:05:00Z");
        }
    }
}
