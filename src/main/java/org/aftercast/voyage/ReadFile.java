package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.Imported;
import org.aftercast.intake.LayoutJson;
import org.aftercast.intake.NumberTable;
import org.aftercast.intake.TextImport;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/** Reads a download without a study: file in, reading out, result written where asked. */
public final class ReadFile {

    private final FileStore files;

    /** Writes results through this store. */
    public ReadFile(FileStore files) {
        this.files = files;
    }

    /**
     * A reading with what is known about its file.
     *
     * @param reading the reading
     * @param document as it is written
     */
    public record Result(Reading reading, ReadingDocument document) {}

    /**
     * Reads one file.
     *
     * @param file the download
     * @param layoutFile a saved layout, or null: then only an unambiguous guess is accepted
     * @param options start and rate where the file has none
     * @param context what is known about the animal
     * @param settings what can be adjusted
     * @throws IOException (an {@link org.aftercast.intake.ImportException}) if the file cannot be read
     * @throws BadInputException if what is known contradicts the file
     */
    public Result read(
            Path file, @Nullable Path layoutFile, ImportOptions options, ReadContext context, Settings settings)
            throws IOException, BadInputException {
        DownloadLayout layout = layoutFile == null ? null : LayoutJson.read(layoutFile);
        Imported imported = TextImport.read(file, layout, options);
        Reading reading;
        try {
            reading = ReadRecording.read(imported.recording(), context, settings);
        } catch (IllegalArgumentException refused) {
            throw new BadInputException(file + ": " + refused.getMessage());
        }
        String name = String.valueOf(file.getFileName());
        return new Result(reading, ReadingDocument.of(reading, name, imported.layout(), imported.guessNotes()));
    }

    /** Writes the result as JSON (docs/reading.schema.json). */
    public void writeJson(Result result, Path target) throws IOException {
        files.write(target, result.document().toJson());
    }

    /**
     * Writes the one-per-second table.
     *
     * @param target ends in .csv or .parquet
     * @throws BadInputException if it ends otherwise
     */
    public void writeSeries(Result result, Path target) throws IOException, BadInputException {
        NumberTable table = SeriesTable.of(result.reading().motion().seconds());
        String name = String.valueOf(target.getFileName());
        if (name.endsWith(".csv")) {
            files.write(target, table::writeCsv);
        } else if (name.endsWith(".parquet")) {
            files.write(target, table::writeParquet);
        } else {
            throw new BadInputException(
                    "--series " + target + ": the ending says the format; accepted: .csv or .parquet");
        }
    }
}
