package org.aftercast.recording;

import java.util.Set;

/**
 * Where the samples of a recording can be read from, range by range.
 *
 * <p>Implementations: {@link MemorySamples} (arrays) and the stored recording in {@code intake}. A source is safe for use
 * by several threads at once; reading the same range always gives the same bits.
 */
public interface SampleSource {

    /** Number of samples on the grid, the same for every channel. */
    long sampleCount();

    /** The channels that this source carries. */
    Set<Channel> channels();

    /**
     * Reads samples {@code fromSample} (inclusive) to {@code fromSample + count} (exclusive) of one channel. Missing
     * samples are {@code NaN}.
     *
     * @param channel a channel of {@link #channels()}
     * @param fromSample first sample, 0 ≤ fromSample
     * @param count number of samples; fromSample + count ≤ {@link #sampleCount()}
     * @param into destination
     * @param at first index written in {@code into}
     * @throws IllegalArgumentException if the channel is not carried or the range lies outside the recording
     */
    void read(Channel channel, long fromSample, int count, float[] into, int at);
}
