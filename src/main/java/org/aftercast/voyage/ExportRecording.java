package org.aftercast.voyage;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.RecordingExport;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.Hashes;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Writes a recording of a study as one file that other programs read, with its data dictionary beside it. The recording is
 * checked against its SHA-256 before anything is written.
 */
public final class ExportRecording {

    private final FileStore files;
    private final InstantSource clock;

    /** Writes through this store. */
    public ExportRecording(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * What was written.
     *
     * @param file the recording
     * @param dictionary the data dictionary, JSON
     * @param sampleCount rows of the recording
     */
    public record Exported(Path file, Path dictionary, long sampleCount) {}

    /**
     * Exports.
     *
     * @param study the study's folder
     * @param animal whose recording
     * @param sha256Start the first characters of the recording's SHA-256, where the animal has several; otherwise null
     * @param target ends in .csv (RFC 4180, a row per sample) or .parquet (the study's own file, byte for byte); replaced
     *     if it is there. The dictionary is {@code target} with {@code .dictionary.json} added
     * @throws BadInputException if the target is neither or lies in the study, or no single recording is meant
     * @throws IOException if the recording is damaged, or a file cannot be written
     */
    public Exported export(Path study, String animal, @Nullable String sha256Start, Path target)
            throws BadInputException, IOException {
        RecordingExport.Form form = form(target);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, files, clock)) {
            if (real(target.toAbsolutePath()).startsWith(study.toRealPath())) {
                throw new BadInputException(target + ": lies in the study's folder, where only the study writes;"
                        + " accepted: a file elsewhere");
            }
            RecordingRow row = row(store, animal, sha256Start);
            Path stored = store.recordingsFolder().resolve(row.parquetName());
            if (!Files.isRegularFile(stored) || !Hashes.ofFile(stored).equals(row.parquetSha256())) {
                throw new IOException(stored + ": is not what was stored when the download was loaded; nothing was"
                        + " exported. \"aftercast verify " + study + "\" says what else is wrong");
            }
            Recording recording = ColumnStore.parquet().open(stored);
            Path dictionary = target.resolveSibling(target.getFileName() + ".dictionary.json");
            String text = RecordingExport.dictionary(recording, row.animal(), form);
            writeBoth(target, aside -> write(recording, stored, form, aside), dictionary, text);
            return new Exported(target, dictionary, recording.samples().sampleCount());
        }
    }

    /** One inside the other, so that a full disk leaves neither. */
    private void writeBoth(Path target, FileStore.Writer writer, Path dictionary, String text) throws IOException {
        List<IOException> failed = new ArrayList<>();
        try {
            files.write(dictionary, aside -> {
                Files.writeString(aside, text);
                try {
                    files.write(target, writer);
                } catch (IOException failure) {
                    failed.add(failure);
                    throw failure;
                }
            });
        } catch (IOException failure) {
            throw failed.isEmpty() ? failure : failed.get(0);
        }
    }

    private static void write(Recording recording, Path stored, RecordingExport.Form form, Path aside)
            throws IOException {
        if (form == RecordingExport.Form.PARQUET) {
            Files.copy(stored, aside);
            return;
        }
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(aside), 1 << 20)) {
            RecordingExport.csv(recording, out);
        }
    }

    private static RecordingExport.Form form(Path target) throws BadInputException {
        String name = String.valueOf(target.getFileName()).toLowerCase(Locale.ROOT);
        if (name.endsWith(".csv")) {
            return RecordingExport.Form.CSV;
        }
        if (name.endsWith(".parquet")) {
            return RecordingExport.Form.PARQUET;
        }
        throw new BadInputException(target + ": ends in neither; accepted: a file that ends in .csv or .parquet");
    }

    /** The target with the links above it followed; the file itself need not be there. */
    private static Path real(Path absolute) throws IOException {
        Path folder = absolute.getParent();
        return folder == null || !Files.isDirectory(folder)
                ? absolute.normalize()
                : folder.toRealPath().resolve(absolute.getFileName());
    }

    private static RecordingRow row(StudyStore store, String animal, @Nullable String sha256Start)
            throws BadInputException, IOException {
        List<RecordingRow> all = store.all(RecordingRow.class);
        List<RecordingRow> own =
                all.stream().filter(row -> row.animal().equals(animal)).toList();
        if (own.isEmpty()) {
            boolean known =
                    store.all(Animal.class).stream().anyMatch(one -> one.name().equals(animal));
            String loaded = all.stream().map(RecordingRow::animal).distinct().collect(Collectors.joining(", "));
            throw new BadInputException(animal
                    + (known ? ": has no recording yet" : ": is not in the study")
                    + "; accepted: "
                    + (loaded.isEmpty() ? "an animal whose download was loaded (aftercast load)" : loaded));
        }
        List<RecordingRow> meant = own.stream()
                .filter(row -> sha256Start == null || row.sha256().startsWith(sha256Start.toLowerCase(Locale.ROOT)))
                .toList();
        if (meant.size() != 1) {
            throw new BadInputException(animal + ": "
                    + (meant.isEmpty()
                            ? "no recording begins with " + sha256Start
                            : meant.size() + " recordings are meant")
                    + "; accepted: --recording with the beginning of one of "
                    + own.stream().map(RecordingRow::sha256).collect(Collectors.joining(", ")));
        }
        return meant.get(0);
    }
}
