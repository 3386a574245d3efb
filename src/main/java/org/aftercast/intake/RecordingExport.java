package org.aftercast.intake;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;

/** A recording as CSV (RFC 4180, UTF-8, decimal point), and the data dictionary that goes with every export. */
public final class RecordingExport {

    private static final int BLOCK = 1 << 15;

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

    /** The data dictionary as a Markdown table: column, unit, meaning, and what holds for the whole recording. */
    public static String dictionary(Recording recording) {
        StringBuilder text = new StringBuilder("# Data dictionary\n\n");
        Instant start = recording.clock().startUtc();
        text.append("One row per sample at ")
                .append(recording.clock().sampleRateHz())
                .append(" Hz; ")
                .append(recording.samples().sampleCount())
                .append(" samples; first sample at ")
                .append(start == null ? "an unknown time of day" : start.toString())
                .append(". Raw download: SHA-256 ")
                .append(recording.sourceSha256())
                .append(
                        ". A missing sample is empty (CSV) or null (Parquet); gaps and flags stand in the Parquet file's"
                                + " metadata under ")
                .append(ParquetStore.KEY)
                .append(".\n\n")
                .append("| column | unit | meaning |\n| --- | --- | --- |\n")
                .append("| time_s | s | Seconds from the first sample (CSV only; row number over rate in Parquet) |\n");
        for (Channel channel : recording.samples().channels()) {
            text.append("| ")
                    .append(channel.columnName())
                    .append(" | ")
                    .append(channel.unit())
                    .append(" | ")
                    .append(DataDictionary.meaning(channel))
                    .append(" |\n");
        }
        return text.toString();
    }
}
