package org.aftercast.intake;

import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleSource;
import org.duckdb.DuckDBColumnType;
import org.duckdb.DuckDBDataChunkWriter;
import org.duckdb.DuckDBTableFunction;
import org.duckdb.DuckDBTableFunctionBindInfo;
import org.duckdb.DuckDBTableFunctionCallInfo;
import org.duckdb.DuckDBTableFunctionInitInfo;
import org.duckdb.DuckDBWritableVector;

/** Hands the samples of a source to DuckDB as the table {@code aftercast_feed(key)}, chunk by chunk and in order. */
final class SampleFeed implements AutoCloseable {

    static final String FUNCTION = "aftercast_feed";

    private static final int BUFFER = 1 << 16;
    private static final Map<Long, SampleFeed> OPEN = new ConcurrentHashMap<>();
    private static final AtomicLong KEYS = new AtomicLong();

    private final long key = KEYS.incrementAndGet();
    private final SampleSource source;
    private final List<Channel> channels;
    private final float[][] buffer;
    private long bufferFrom;
    private int buffered;
    private long next;

    SampleFeed(SampleSource source, List<Channel> channels) {
        this.source = source;
        this.channels = List.copyOf(channels);
        this.buffer = new float[channels.size()][BUFFER];
        OPEN.put(key, this);
    }

    long key() {
        return key;
    }

    @Override
    public void close() {
        OPEN.remove(key);
    }

    private long write(DuckDBDataChunkWriter chunk) {
        if (next >= bufferFrom + buffered) {
            bufferFrom = next;
            buffered = (int) Math.min(BUFFER, source.sampleCount() - next);
            for (int c = 0; c < buffer.length && buffered > 0; c++) {
                source.read(channels.get(c), bufferFrom, buffered, buffer[c], 0);
            }
        }
        int from = (int) (next - bufferFrom);
        int n = (int) Math.min(chunk.capacity(), buffered - from);
        for (int c = 0; c < buffer.length; c++) {
            DuckDBWritableVector vector = chunk.vector(c);
            float[] values = buffer[c];
            for (int i = 0; i < n; i++) {
                float v = values[from + i];
                if (Float.isNaN(v)) {
                    vector.setNull(i);
                } else {
                    vector.setFloat(i, v);
                }
            }
        }
        next += n;
        return n;
    }

    /** The table function itself. */
    static final class Function implements DuckDBTableFunction<SampleFeed, SampleFeed, Object> {
        @Override
        public SampleFeed bind(DuckDBTableFunctionBindInfo info) {
            SampleFeed feed = OPEN.get(info.getParameter(0).getLong());
            if (feed == null) {
                throw new IllegalStateException("no such feed");
            }
            for (Channel channel : feed.channels) {
                info.addResultColumn(channel.columnName(), DuckDBColumnType.FLOAT);
            }
            info.setCardinality(feed.source.sampleCount(), true);
            return feed;
        }

        @Override
        public SampleFeed init(DuckDBTableFunctionInitInfo info) {
            info.setMaxThreads(1);
            return info.getBindData();
        }

        @Override
        public long apply(DuckDBTableFunctionCallInfo info, DuckDBDataChunkWriter chunk) {
            SampleFeed feed = info.getInitData();
            return feed.write(chunk);
        }
    }
}
