package org.aftercast.recording;

import java.util.List;

/**
 * A loaded download: channels on a checked clock, with gaps and flags.
 *
 * @param sourceSha256 SHA-256 of the raw download in lower-case hexadecimal; it identifies the recording
 * @param clock start and rate
 * @param samples where to read the samples from
 * @param gaps runs in which no acceleration was recorded, in order; nothing is ever interpolated across them
 * @param flags what else must be known, in order of occurrence
 */
public record Recording(
        String sourceSha256, SampleClock clock, SampleSource samples, List<SampleRange> gaps, List<Flag> flags) {

    public Recording {
        gaps = List.copyOf(gaps);
        flags = List.copyOf(flags);
    }

    /** Whether the recording carries this channel. */
    public boolean has(Channel channel) {
        return samples.channels().contains(channel);
    }

    /** Length in seconds: sample count over rate. */
    public double durationS() {
        return samples.sampleCount() / clock.sampleRateHz();
    }
}
