package org.aftercast.intake;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * Parquet through DuckDB. One row per sample, missing samples are null, snappy in groups of {@value #GROUP_ROWS} rows:
 * docs/decisions/parquet.md has the measurement. What a table cannot hold (clock, gaps, flags) stands as JSON in the
 * file's key-value metadata under {@value #KEY}.
 */
final class ParquetStore implements ColumnStore {

    static final String KEY = "aftercast_recording";
    static final int GROUP_ROWS = 122_880;
    private static final int FORMAT_VERSION = 1;

    private static final JsonMapper MAPPER = JsonMapper.builder()
            .addModule(new JavaTimeModule())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .build();

    /** What stands beside the columns. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record Beside(
            int formatVersion,
            String sourceSha256,
            @Nullable Instant startUtc,
            double sampleRateHz,
            long sampleCount,
            List<SampleRange> gaps,
            List<Flag> flags,
            List<ColumnText> columns) {}

    /** The data dictionary of one column. */
    record ColumnText(String name, String unit, String meaning) {}

    @Override
    public void write(Recording recording, Path target) throws IOException {
        List<Channel> channels = new ArrayList<>(recording.samples().channels());
        List<ColumnText> texts = new ArrayList<>();
        for (Channel channel : channels) {
            texts.add(new ColumnText(channel.columnName(), channel.unit(), DataDictionary.meaning(channel)));
        }
        SampleClock clock = recording.clock();
        Beside beside = new Beside(
                FORMAT_VERSION,
                recording.sourceSha256(),
                clock.startUtc(),
                clock.sampleRateHz(),
                recording.samples().sampleCount(),
                recording.gaps(),
                recording.flags(),
                texts);
        try (SampleFeed feed = new SampleFeed(recording.samples(), channels)) {
            Duck.run("COPY (SELECT * FROM " + SampleFeed.FUNCTION + "(" + feed.key() + ")) TO "
                    + Duck.literal(target.toString())
                    + " (FORMAT parquet, USE_TMP_FILE false, COMPRESSION snappy, ROW_GROUP_SIZE "
                    + GROUP_ROWS
                    + ", KV_METADATA {" + KEY + ": " + Duck.literal(MAPPER.writeValueAsString(beside)) + "})");
        } catch (SQLException problem) {
            Files.deleteIfExists(target);
            throw new IOException(
                    target + ": the recording could not be written (" + firstLine(problem) + ")", problem);
        }
    }

    @Override
    public Recording open(Path file) throws ImportException {
        if (!Files.isRegularFile(file)) {
            throw new ImportException(file.toString(), 0, 0, "does not exist", "a stored recording");
        }
        Beside beside = beside(file);
        Set<Channel> channels = EnumSet.noneOf(Channel.class);
        for (ColumnText column : beside.columns()) {
            for (Channel channel : Channel.values()) {
                if (channel.columnName().equals(column.name())) {
                    channels.add(channel);
                }
            }
        }
        if (beside.formatVersion() > FORMAT_VERSION
                || channels.size() != beside.columns().size()) {
            throw new ImportException(
                    file.toString(),
                    0,
                    0,
                    "was stored by a newer version (format " + beside.formatVersion() + ")",
                    "recordings of format " + FORMAT_VERSION + " or older");
        }
        return new Recording(
                beside.sourceSha256(),
                new SampleClock(beside.startUtc(), beside.sampleRateHz()),
                new StoredSamples(file, channels, beside.sampleCount()),
                beside.gaps(),
                beside.flags());
    }

    private static Beside beside(Path file) throws ImportException {
        String path = Duck.literal(file.toString());
        try (Statement statement = Duck.mine().createStatement();
                ResultSet found = statement.executeQuery(
                        "SELECT decode(value), (SELECT sum(num_rows) FROM parquet_file_metadata(" + path
                                + ")) FROM parquet_kv_metadata(" + path + ") WHERE decode(key) = '" + KEY + "'")) {
            if (!found.next()) {
                throw new ImportException(
                        file.toString(),
                        0,
                        0,
                        "is a Parquet file but not a stored recording",
                        "a recording that was loaded into a study");
            }
            Beside beside = MAPPER.readValue(found.getString(1), Beside.class);
            if (beside.sampleCount() != found.getLong(2)) {
                throw new ImportException(
                        file.toString(),
                        0,
                        0,
                        "holds " + found.getLong(2) + " of the " + beside.sampleCount() + " samples it should hold",
                        "an undamaged recording; load the raw file again");
            }
            return beside;
        } catch (SQLException | JsonProcessingException problem) {
            throw new ImportException(
                    file.toString(),
                    0,
                    0,
                    "is not a readable recording (" + firstLine(problem) + ")",
                    "an undamaged recording; load the raw file again");
        }
    }

    static String firstLine(Exception problem) {
        String message = String.valueOf(problem.getMessage());
        int end = message.indexOf('\n');
        return end < 0 ? message : message.substring(0, end);
    }
}
