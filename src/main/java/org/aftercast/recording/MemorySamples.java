package org.aftercast.recording;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Set;

/** Samples held in arrays, one array per channel, all of the same length. */
public final class MemorySamples implements SampleSource {

    private final Map<Channel, float[]> columns;
    private final int sampleCount;

    /**
     * Keeps the arrays (no copy): the caller hands them over.
     *
     * @param columns one array per channel, all of one length
     * @throws IllegalArgumentException if there is no channel or the lengths differ
     */
    public MemorySamples(Map<Channel, float[]> columns) {
        if (columns.isEmpty()) {
            throw new IllegalArgumentException("columns: no channel given, at least one is needed");
        }
        this.columns = new EnumMap<>(columns);
        int length = -1;
        for (Map.Entry<Channel, float[]> column : this.columns.entrySet()) {
            if (length >= 0 && column.getValue().length != length) {
                throw new IllegalArgumentException("columns: " + column.getKey() + " has " + column.getValue().length
                        + " samples where the others have " + length);
            }
            length = column.getValue().length;
        }
        this.sampleCount = length;
    }

    @Override
    public long sampleCount() {
        return sampleCount;
    }

    @Override
    public Set<Channel> channels() {
        return Collections.unmodifiableSet(columns.keySet());
    }

    @Override
    public void read(Channel channel, long fromSample, int count, float[] into, int at) {
        float[] column = columns.get(channel);
        if (column == null) {
            throw new IllegalArgumentException("channel: " + channel + " is not carried, only " + columns.keySet());
        }
        if (fromSample < 0 || count < 0 || fromSample + count > sampleCount) {
            throw new IllegalArgumentException("fromSample, count: " + fromSample + ", " + count
                    + " reaches outside the recording of " + sampleCount + " samples");
        }
        System.arraycopy(column, (int) fromSample, into, at, count);
    }
}
