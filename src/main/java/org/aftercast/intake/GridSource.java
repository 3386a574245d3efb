package org.aftercast.intake;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleSource;

/** Rows that were kept, seen as samples on the grid: runs where the clock check placed them, NaN between. */
final class GridSource implements SampleSource {

    private final RowStore store;
    private final Placement placement;
    private final Map<Channel, Integer> columnOf = new EnumMap<>(Channel.class);
    private final Map<Channel, Float> subtract = new EnumMap<>(Channel.class);

    /**
     * A view.
     *
     * @param subtract taken from every value of a channel, to bring it to zero at the surface
     */
    GridSource(RowStore store, Placement placement, Channel[] channels, Map<Channel, Float> subtract) {
        this.store = store;
        this.placement = placement;
        for (int c = 0; c < channels.length; c++) {
            columnOf.put(channels[c], c);
        }
        this.subtract.putAll(subtract);
    }

    @Override
    public long sampleCount() {
        return placement.sampleCount();
    }

    @Override
    public Set<Channel> channels() {
        return Collections.unmodifiableSet(columnOf.keySet());
    }

    @Override
    public void read(Channel channel, long fromSample, int count, float[] into, int at) {
        Integer column = columnOf.get(channel);
        if (column == null) {
            throw new IllegalArgumentException("channel: " + channel + " is not carried, only " + columnOf.keySet());
        }
        if (fromSample < 0 || count < 0 || fromSample + count > sampleCount()) {
            throw new IllegalArgumentException("fromSample, count: " + fromSample + ", " + count
                    + " reaches outside the recording of " + sampleCount() + " samples");
        }
        Arrays.fill(into, at, at + count, Float.NaN);
        List<Placement.Run> runs = placement.runs();
        long end = fromSample + count;
        try {
            for (int r = placement.firstRunReaching(fromSample); r < runs.size(); r++) {
                Placement.Run run = runs.get(r);
                long from = Math.max(fromSample, run.firstSample());
                long to = Math.min(end, run.firstSample() + run.rows());
                if (run.firstSample() >= end) {
                    break;
                }
                store.read(
                        column,
                        run.firstRow() + (from - run.firstSample()),
                        (int) (to - from),
                        into,
                        at + (int) (from - fromSample));
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        Float zero = subtract.get(channel);
        if (zero != null) {
            for (int i = at; i < at + count; i++) {
                into[i] -= zero;
            }
        }
    }
}
