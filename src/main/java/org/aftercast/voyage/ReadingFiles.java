package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.fate.FateReading;
import org.aftercast.intake.ImportException;
import org.aftercast.intake.NumberTable;
import org.aftercast.motion.Beats;
import org.aftercast.motion.FrameBlock;
import org.aftercast.motion.MotionReading;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/**
 * A reading as a folder: {@code result.json} (docs/reading.schema.json), {@code seconds.parquet} and {@code beats.parquet}
 * for whoever wants to compute on, and {@code state.json}, from which the same reading is opened again without computing.
 */
final class ReadingFiles {

    static final String RESULT = "result.json";
    static final String STATE = "state.json";
    static final String SECONDS = "seconds.parquet";
    static final String BEATS = "beats.parquet";
    static final List<String> ALL = List.of(RESULT, STATE, SECONDS, BEATS);

    private static final ObjectMapper MAPPER = JsonMapper.builder()
            .addModule(new JavaTimeModule())
            .enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS)
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .build();

    private ReadingFiles() {}

    /** Everything of a reading but the long columns. */
    record State(
            String softwareVersion,
            Settings settings,
            Reading.About recording,
            double bandLowHz,
            double bandHighHz,
            String bandSource,
            double postureCutoffHz,
            double noiseG,
            List<FrameBlock> frames,
            List<String> motionNotes,
            @Nullable String beatRefusal,
            double methodAgreement,
            BehaviourReading behaviour,
            FateReading fate) {}

    /** Writes the four files of a reading into a folder that exists. */
    static void write(Reading reading, String source, Path folder, FileStore files) throws IOException {
        MotionReading m = reading.motion();
        State state = new State(
                reading.softwareVersion(),
                reading.settings(),
                reading.recording(),
                m.bandLowHz(),
                m.bandHighHz(),
                m.bandSource(),
                m.postureCutoffHz(),
                m.noiseG(),
                m.frames(),
                m.notes(),
                m.beatRefusal(),
                m.methodAgreement(),
                reading.behaviour(),
                reading.fate());
        files.write(folder.resolve(SECONDS), SeriesTable.of(m.seconds())::writeParquet);
        files.write(folder.resolve(BEATS), beatTable(m.beats())::writeParquet);
        files.write(folder.resolve(STATE), MAPPER.writeValueAsBytes(state));
        files.write(
                folder.resolve(RESULT),
                ReadingDocument.of(reading, source, null, List.of()).toJson());
    }

    /**
     * Opens a reading again.
     *
     * @throws ImportException if a file is missing or damaged
     */
    static Reading open(Path folder) throws IOException {
        State state;
        try {
            state = MAPPER.readValue(Files.readAllBytes(folder.resolve(STATE)), State.class);
        } catch (JsonProcessingException damaged) {
            throw new ImportException(
                    folder.resolve(STATE).toString(),
                    damaged.getLocation() == null ? 0 : damaged.getLocation().getLineNr(),
                    0,
                    "is damaged, or was made by another version",
                    "a reading of this version; read the recording again");
        }
        Beats beats = beats(NumberTable.readParquet(folder.resolve(BEATS)));
        MotionReading motion = new MotionReading(
                state.settings().motion(),
                state.bandLowHz(),
                state.bandHighHz(),
                state.bandSource(),
                state.postureCutoffHz(),
                state.noiseG(),
                state.frames(),
                beats,
                SeriesTable.from(NumberTable.readParquet(folder.resolve(SECONDS))),
                state.motionNotes(),
                state.beatRefusal(),
                state.methodAgreement());
        return new Reading(
                state.softwareVersion(),
                state.settings(),
                state.recording(),
                motion,
                ReadRecording.own(beats, state.behaviour()),
                state.behaviour(),
                state.fate());
    }

    /** Median beat frequency of a kept reading's animal, Hz; NaN when it never swam. */
    static double beatHz(Path folder) throws IOException {
        try {
            return MAPPER.readTree(Files.readAllBytes(folder.resolve(STATE)))
                    .at("/behaviour/normal/beatHz")
                    .asDouble(Double.NaN);
        } catch (JsonProcessingException damaged) {
            throw new ImportException(
                    folder.resolve(STATE).toString(),
                    0,
                    0,
                    "is damaged, or was made by another version",
                    "a reading of this version; read the recording again");
        }
    }

    private static NumberTable beatTable(Beats beats) {
        Map<String, double[]> columns = new LinkedHashMap<>();
        columns.put("startS", beats.startS());
        columns.put("periodS", SeriesTable.wide(beats.periodS()));
        columns.put("amplitudeG", SeriesTable.wide(beats.amplitudeG()));
        columns.put("peakToPeakG", SeriesTable.wide(beats.peakToPeakG()));
        columns.put("confidence", SeriesTable.wide(beats.confidence()));
        return new NumberTable(columns);
    }

    private static Beats beats(NumberTable table) {
        return new Beats(
                table.column("startS"),
                table.floats("periodS"),
                table.floats("amplitudeG"),
                table.floats("peakToPeakG"),
                table.floats("confidence"));
    }

    /** The settings as they are hashed for the cache key. */
    static byte[] settingsBytes(Settings settings, ReadContext context) throws IOException {
        return MAPPER.writeValueAsBytes(List.of(settings, context));
    }
}
