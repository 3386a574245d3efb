package org.aftercast.voyage;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportException;
import org.aftercast.intake.ImportRequest;
import org.aftercast.intake.LayoutGuess;
import org.aftercast.intake.LayoutJson;
import org.aftercast.intake.OpenImport;
import org.aftercast.intake.TextImport;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.Hashes;
import org.aftercast.study.RawFile;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Loads a download into a study: raw bytes, then the recording as Parquet, then the database row. Until the row stands
 * the study does not know the download; what an interrupted load leaves is tidied up when the study is next opened.
 *
 * <p>The raw bytes are read once: the same bytes are hashed, kept and parsed.
 */
public final class LoadDownload {

    private static final int MOST_NAME_CHARACTERS = 80;

    private final FileStore files;
    private final InstantSource clock;
    private final ColumnStore columns;

    /** Loads through this store, at this clock's time. */
    public LoadDownload(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
        this.columns = ColumnStore.parquet();
    }

    /**
     * Loads.
     *
     * @throws BadInputException if the animal is not in the study, the download is already there, or files cannot be read
     *     without a layout
     * @throws ImportException if a file cannot be read; names file, line and column
     * @throws IOException if the study cannot be opened or written
     * @throws java.util.concurrent.CancellationException if the request's progress says so; nothing is kept
     */
    public Loaded load(LoadRequest request) throws BadInputException, IOException {
        List<DownloadLayout> layouts = layouts(request);
        refuseSameFileTwice(request.files());
        try (StudyStore store = StudyStore.open(request.study(), StudyStore.Access.WRITE, files, clock)) {
            Animal animal = animal(store, request.animal());
            refuseKnown(store, request.files());
            return new Load(store, request, animal.name(), layouts).run();
        }
    }

    private static void refuseSameFileTwice(List<Path> paths) throws BadInputException {
        Set<Path> seen = new HashSet<>();
        for (Path path : paths) {
            if (!seen.add(path.toAbsolutePath().normalize())) {
                throw new BadInputException(path + ": is named twice; accepted: each file once");
            }
        }
    }

    private static List<DownloadLayout> layouts(LoadRequest request) throws BadInputException, ImportException {
        if (request.files().isEmpty()) {
            throw new BadInputException("no file was named; accepted: one or more files to load");
        }
        List<DownloadLayout> layouts = new ArrayList<>(request.layouts());
        if (layouts.size() > 1 && layouts.size() != request.files().size()) {
            throw new BadInputException(layouts.size() + " layouts for "
                    + request.files().size() + " files; accepted: one layout for all files, or one for each");
        }
        if (layouts.isEmpty()) {
            List<LayoutGuess> guesses = LayoutGuess.ofAll(request.files(), request.options());
            for (int f = 0; f < guesses.size(); f++) {
                Path file = request.files().get(f);
                DownloadLayout layout = guesses.get(f).layoutOrThrow(file.toString());
                if (request.guess() == LoadRequest.Guess.REFUSED) {
                    throw new BadInputException(
                            file + ": no layout was given; accepted: a layout (--layout), or --accept"
                                    + " to read the file as \"aftercast load --explain " + file + "\" shows");
                }
                layouts.add(layout);
            }
        }
        if (request.clock() != null) {
            layouts.replaceAll(layout -> layout.withClock(request.clock()));
        }
        return layouts;
    }

    private static Animal animal(StudyStore store, String name) throws BadInputException, IOException {
        try {
            Animal.named(name);
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
        Optional<Animal> animal = store.find(Animal.class, name);
        if (animal.isPresent()) {
            return animal.get();
        }
        List<String> known =
                store.all(Animal.class).stream().map(Animal::name).limit(12).toList();
        throw new BadInputException("animal \"" + name + "\" is not in the study; accepted: "
                + (known.isEmpty() ? "an animal entered before (aftercast enter)" : String.join(", ", known) + " …"));
    }

    /** Files of the same length as one in the study are hashed before any work is done. */
    private static void refuseKnown(StudyStore store, List<Path> paths) throws BadInputException, IOException {
        List<RawFile> known = store.all(RawFile.class);
        for (Path path : paths) {
            if (!Files.isRegularFile(path)) {
                continue;
            }
            long size = Files.size(path);
            if (known.stream().anyMatch(raw -> raw.sizeBytes() == size)) {
                refuseKnown(store, path, Hashes.ofFile(path));
            }
        }
    }

    private static void refuseKnown(StudyStore store, Path path, String sha256) throws BadInputException, IOException {
        Optional<RawFile> raw = store.find(RawFile.class, sha256);
        if (raw.isPresent()) {
            Optional<RecordingRow> recording =
                    store.find(RecordingRow.class, raw.get().recordingSha256());
            throw new BadInputException(path + ": is in the study already"
                    + recording
                            .map(row -> ", loaded for " + row.animal() + " on " + row.loadedUtc())
                            .orElse("")
                    + " as " + raw.get().storedName() + "; accepted: a download that is not there yet");
        }
    }

    /** One load under way. */
    private final class Load {
        private final StudyStore store;
        private final LoadRequest request;
        private final String animal;
        private final List<DownloadLayout> layouts;
        private final List<Path> arriving = new ArrayList<>();
        private final List<Path> asides = new ArrayList<>();
        private final List<Path> written = new ArrayList<>();
        private @Nullable OpenImport open;
        private @Nullable Exception refusal;

        Load(StudyStore store, LoadRequest request, String animal, List<DownloadLayout> layouts) {
            this.store = store;
            this.request = request;
            this.animal = animal;
            this.layouts = layouts;
        }

        Loaded run() throws BadInputException, IOException {
            boolean done = false;
            try {
                keepRaw(0);
                Loaded loaded = store(java.util.Objects.requireNonNull(open, "the import was just opened"));
                done = true;
                return loaded;
            } catch (IOException | RuntimeException failure) {
                if (refusal instanceof ImportException problem) {
                    throw problem;
                }
                if (refusal instanceof RuntimeException problem) {
                    throw problem;
                }
                throw failure;
            } finally {
                if (open != null) {
                    open.close();
                }
                if (!done) {
                    for (Path path : written) {
                        files.delete(path);
                    }
                }
            }
        }

        /** Opens the raw files one inside the other, so that all of them stand or none; innermost they are read. */
        private void keepRaw(int number) throws IOException {
            if (number == request.files().size()) {
                try {
                    open = TextImport.open(new ImportRequest(
                            request.files(),
                            layouts,
                            request.options(),
                            asides.get(0).resolveSibling(asides.get(0).getFileName() + ".rows"),
                            this::rawCopy,
                            request.progress()));
                } catch (ImportException | RuntimeException problem) {
                    refusal = problem;
                    throw problem;
                }
                return;
            }
            Path arrives = store.rawFolder().resolve("arriving-" + UUID.randomUUID());
            files.write(arrives, aside -> {
                asides.add(aside);
                keepRaw(number + 1);
            });
            arriving.add(arrives);
            written.add(arrives);
        }

        private OutputStream rawCopy(int number) throws IOException {
            return Files.newOutputStream(asides.get(number));
        }

        private Loaded store(OpenImport opened) throws BadInputException, IOException {
            Recording recording = opened.recording();
            List<RawFile> raws = new ArrayList<>();
            for (int f = 0; f < opened.files().size(); f++) {
                OpenImport.RawInput input = opened.files().get(f);
                refuseKnown(store, input.path(), input.sha256());
                String original = String.valueOf(input.path().getFileName());
                String stored = input.sha256() + "-" + plain(original);
                // The files were finished from the innermost outwards.
                Path arrived = arriving.get(arriving.size() - 1 - f);
                Path target = store.rawFolder().resolve(stored);
                files.move(arrived, target);
                written.remove(arrived);
                written.add(target);
                files.makeReadOnly(target);
                raws.add(new RawFile(input.sha256(), recording.sourceSha256(), f + 1, original, stored, input.bytes()));
            }
            CompletableFuture<List<String>> copies = CompletableFuture.supplyAsync(() -> verifiedCopies(raws));
            Path parquet = store.recordingsFolder().resolve(recording.sourceSha256() + ".parquet");
            try {
                files.write(parquet, aside -> columns.write(recording, aside));
                written.add(parquet);
            } finally {
                copies.exceptionally(failure -> List.of()).join();
            }
            List<String> verified = join(copies);
            RecordingRow row = new RecordingRow(
                    recording.sourceSha256(),
                    animal,
                    String.valueOf(parquet.getFileName()),
                    Hashes.ofFile(parquet),
                    recording.samples().sampleCount(),
                    recording.clock().sampleRateHz(),
                    recording.clock().startUtc(),
                    layoutText(opened.layouts()),
                    clock.instant(),
                    EstimateDocument.MADE_BY);
            store.addRecording(request.who(), row, raws);
            EraseCard card = EraseCards.of(
                    store, row, recording, request, opened.layouts().get(0), verified);
            return new Loaded(
                    row,
                    opened.layouts(),
                    opened.summaries(),
                    recording.gaps(),
                    recording.flags(),
                    card,
                    store.notices());
        }

        /** Reads every copy back and compares; the second copy is written first. */
        private List<String> verifiedCopies(List<RawFile> raws) {
            List<String> verified = new ArrayList<>();
            try {
                for (RawFile raw : raws) {
                    check(store.rawFolder().resolve(raw.storedName()), raw.sha256());
                }
                verified.add(store.rawFolder().toString());
                Path second = request.secondCopy();
                if (second != null) {
                    files.makeFolder(second);
                    for (RawFile raw : raws) {
                        Path from = store.rawFolder().resolve(raw.storedName());
                        Path to = second.resolve(raw.storedName());
                        if (!Files.exists(to)) {
                            files.write(to, aside -> Files.copy(from, aside));
                        }
                        check(to, raw.sha256());
                    }
                    verified.add(second.toString());
                }
            } catch (IOException failure) {
                throw new CompletionException(failure);
            }
            return verified;
        }

        private static void check(Path copy, String sha256) throws IOException {
            if (!Hashes.ofFile(copy).equals(sha256)) {
                throw new IOException(copy + ": differs from what was read; the disk or its cable may be failing");
            }
        }

        private static List<String> join(CompletableFuture<List<String>> copies) throws IOException {
            try {
                return copies.join();
            } catch (CompletionException failure) {
                if (failure.getCause() instanceof IOException cause) {
                    throw cause;
                }
                throw failure;
            }
        }
    }

    private static String layoutText(List<DownloadLayout> layouts) {
        if (layouts.stream().distinct().count() == 1) {
            return LayoutJson.write(layouts.get(0));
        }
        return layouts.stream()
                        .map(layout -> LayoutJson.write(layout).strip())
                        .toList()
                        .toString() + "\n";
    }

    /** The original name without anything a file system might refuse. */
    private static String plain(String original) {
        String plain = original.replaceAll("[^A-Za-z0-9._-]", "_");
        return plain.length() <= MOST_NAME_CHARACTERS ? plain : plain.substring(plain.length() - MOST_NAME_CHARACTERS);
    }
}
