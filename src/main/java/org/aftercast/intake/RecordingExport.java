package org.aftercast.intake;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/** A recording as CSV (RFC 4180, UTF-8, decimal point), and the data dictionary that goes with every export. */
public final class RecordingExport {

    private static final int BLOCK = 1 << 15;

    private static final JsonMapper MAPPER = JsonMapper.builder()
            .addModule(new JavaTimeModule())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .enable(SerializationFeature.INDENT_OUTPUT)
            .build();

    private RecordingExport() {}

    /**
     * Writes one row per sample: seconds from the first sample, then the channels; a missing sample is an empty field.
     * Numbers are the shortest decimals that read back to the same float.
     *
     * @param out not closed
     */
    public static void csv(Recording recording, OutputStream out) throws IOException {
        List<Channel> channels = new ArrayList<>(recording.samples().channels());
        StringBuilder text = new StringBuilder("time_s");
        for (Channel channel : channels) {
            text.append(',').append(channel.columnName());
        }
        text.append('\n');
        float[][] block = new float[channels.size()][BLOCK];
        long n = recording.samples().sampleCount();
        for (long from = 0; from < n; from += BLOCK) {
            int count = (int) Math.min(BLOCK, n - from);
            for (int c = 0; c < block.length; c++) {
                recording.samples().read(channels.get(c), from, count, block[c], 0);
            }
            for (int i = 0; i < count; i++) {
                text.append(seconds(recording.clock().secondsAt(from + i)));
                for (float[] column : block) {
                    text.append(',');
                    if (!Float.isNaN(column[i])) {
                        text.append(column[i]);
                    }
                }
                text.append('\n');
            }
            out.write(text.toString().getBytes(StandardCharsets.UTF_8));
            text.setLength(0);
        }
    }

    /** Microseconds are finer than any logger's clock. */
    private static String seconds(double seconds) {
        long micros = Math.round(seconds * 1e6);
        String fraction = Long.toString(1_000_000 + micros % 1_000_000).substring(1);
        int end = fraction.length();
        while (end > 1 && fraction.charAt(end - 1) == '0') {
            end--;
        }
        return micros / 1_000_000 + "." + fraction.substring(0, end);
    }

    /** The file a dictionary describes. */
    public enum Form {
        /** As {@link #csv} writes it. */
        CSV,
        /** As {@link ColumnStore} writes it. */
        PARQUET
    }

    /** What the dictionary says of the whole table. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    private record Dictionary(
            String animal,
            Form form,
            String rows,
            String missing,
            double sampleRateHz,
            long sampleCount,
            @Nullable Instant firstSampleUtc,
            String rawSha256,
            List<ParquetStore.ColumnText> columns,
            List<SampleRange> gaps,
            List<Flag> flags) {}

    /**
     * The data dictionary as JSON: every column with unit and meaning, the clock, the gaps (from inclusive, to exclusive, in
     * rows from 0) and the flags. A recording without time of day has no {@code firstSampleUtc}.
     */
    public static String dictionary(Recording recording, String animal, Form form) throws IOException {
        List<ParquetStore.ColumnText> columns = new ArrayList<>();
        if (form == Form.CSV) {
            columns.add(new ParquetStore.ColumnText("time_s", "s", "Seconds from the first sample"));
        }
        for (Channel channel : recording.samples().channels()) {
            columns.add(
                    new ParquetStore.ColumnText(channel.columnName(), channel.unit(), DataDictionary.meaning(channel)));
        }
        Dictionary dictionary = new Dictionary(
                animal,
                form,
                form == Form.CSV
                        ? "One row per sample, in order of time"
                        : "One row per sample, in order of time; row i, from 0, was sampled i / sampleRateHz seconds after"
                                + " the first",
                form == Form.CSV ? "empty field" : "null",
                recording.clock().sampleRateHz(),
                recording.samples().sampleCount(),
                recording.clock().startUtc(),
                recording.sourceSha256(),
                columns,
                recording.gaps(),
                recording.flags());
        return MAPPER.writeValueAsString(dictionary) + "\n";
    }
}
