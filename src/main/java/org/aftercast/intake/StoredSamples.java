package org.aftercast.intake;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleSource;
import org.duckdb.DuckDBChunkedResult;
import org.duckdb.DuckDBDataChunkReader;
import org.duckdb.DuckDBPreparedStatement;
import org.duckdb.DuckDBReadableVector;
import org.jspecify.annotations.Nullable;

/**
 * Samples of a stored recording. Long ranges come straight from the file; short ones from windows of
 * {@value #WINDOW} samples of all channels, of which the latest are kept up to {@value #KEPT_BYTES} bytes, so that reading
 * block by block costs one query per window, and a second pass over a day at 100 Hz none.
 */
public final class StoredSamples implements SampleSource {

    private static final int WINDOW = 4 * ParquetStore.GROUP_ROWS;
    private static final int KEPT_BYTES = 200_000_000;

    private final Path file;
    private final List<Channel> channels;
    private final Set<Channel> channelSet;
    private final long sampleCount;
    private final int mostWindows;
    private final Map<Long, Window> windows = new LinkedHashMap<>(16, 0.75f, true);

    /** Filled by the first thread that wants it; others wait for that one window only. */
    private static final class Window {
        private float @Nullable [][] columns;
    }

    StoredSamples(Path file, Set<Channel> channels, long sampleCount) {
        this.file = file;
        this.channels = List.copyOf(channels);
        this.channelSet = Collections.unmodifiableSet(channels);
        this.sampleCount = sampleCount;
        this.mostWindows = Math.max(4, KEPT_BYTES / (WINDOW * Float.BYTES * Math.max(1, channels.size())));
    }

    @Override
    public long sampleCount() {
        return sampleCount;
    }

    @Override
    public Set<Channel> channels() {
        return channelSet;
    }

    @Override
    public void read(Channel channel, long fromSample, int count, float[] into, int at) {
        int column = channels.indexOf(channel);
        if (column < 0) {
            throw new IllegalArgumentException("channel: " + channel + " is not carried, only " + channels);
        }
        if (fromSample < 0 || count < 0 || fromSample + count > sampleCount) {
            throw new IllegalArgumentException("fromSample, count: " + fromSample + ", " + count
                    + " reaches outside the recording of " + sampleCount + " samples");
        }
        if (count >= WINDOW) {
            query(List.of(channel), fromSample, count, new float[][] {into}, at);
            return;
        }
        long sample = fromSample;
        int left = count;
        int to = at;
        while (left > 0) {
            long number = sample / WINDOW;
            int within = (int) (sample % WINDOW);
            int n = Math.min(left, WINDOW - within);
            System.arraycopy(window(number)[column], within, into, to, n);
            sample += n;
            to += n;
            left -= n;
        }
    }

    private float[][] window(long number) {
        Window window;
        synchronized (windows) {
            window = windows.computeIfAbsent(number, fresh -> new Window());
            if (windows.size() > mostWindows) {
                windows.remove(windows.keySet().iterator().next());
            }
        }
        synchronized (window) {
            float[][] columns = window.columns;
            if (columns == null) {
                long from = number * WINDOW;
                int count = (int) Math.min(WINDOW, sampleCount - from);
                columns = new float[channels.size()][count];
                query(channels, from, count, columns, 0);
                window.columns = columns;
            }
            return columns;
        }
    }

    private void query(List<Channel> wanted, long from, int count, float[][] into, int at) {
        StringBuilder sql = new StringBuilder("SELECT ");
        for (int c = 0; c < wanted.size(); c++) {
            sql.append(c == 0 ? "" : ", ").append(wanted.get(c).columnName());
        }
        sql.append(" FROM read_parquet(").append(Duck.literal(file.toString()));
        if (from > 0 || count < sampleCount) {
            sql.append(", file_row_number = true) WHERE file_row_number >= ")
                    .append(from)
                    .append(" AND file_row_number < ")
                    .append(from + count);
        } else {
            sql.append(")");
        }
        int filled = 0;
        try (DuckDBPreparedStatement statement = Duck.mine().prepare(sql.toString());
                DuckDBChunkedResult result = statement.query()) {
            while (result.nextChunk()) {
                DuckDBDataChunkReader chunk = result.chunk();
                int n = (int) chunk.rowCount();
                if (filled + n > count) {
                    throw damaged("more rows than it should", null);
                }
                for (int c = 0; c < into.length; c++) {
                    copy(chunk.vector(c), n, into[c], at + filled);
                }
                filled += n;
            }
        } catch (SQLException problem) {
            throw damaged(ParquetStore.firstLine(problem), problem);
        }
        if (filled != count) {
            throw damaged("only " + filled + " of " + count + " rows", null);
        }
    }

    private static void copy(DuckDBReadableVector vector, int n, float[] into, int at) {
        for (int i = 0; i < n; i++) {
            into[at + i] = vector.getFloat(i, Float.NaN);
        }
    }

    private UncheckedIOException damaged(String what, @Nullable Exception cause) {
        return new UncheckedIOException(
                new IOException(file + ": the stored recording cannot be read: " + what, cause));
    }
}
