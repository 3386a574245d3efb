package org.aftercast.recording;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The clock of a recording: when the first sample was taken and how many samples a second follow.
 *
 * @param startUtc instant of sample 0, or null when the download carries no time of day
 * @param sampleRateHz samples per second, finite and positive (at most 10 000)
 */
public record SampleClock(@Nullable Instant startUtc, double sampleRateHz) {

    private static final double HIGHEST_RATE_HZ = 10_000;

    public SampleClock {
        if (!(sampleRateHz > 0) || sampleRateHz > HIGHEST_RATE_HZ) {
            throw new IllegalArgumentException(
                    "sampleRateHz: " + sampleRateHz + " is outside (0, " + HIGHEST_RATE_HZ + "] Hz");
        }
    }

    /** Seconds from the first sample to sample {@code sample}. */
    public double secondsAt(long sample) {
        return sample / sampleRateHz;
    }

    /** The instant that lies {@code seconds} after the first sample, or null when there is no time of day. */
    public @Nullable Instant instantAt(double seconds) {
        return startUtc == null ? null : startUtc.plusNanos(Math.round(seconds * 1e9));
    }
}
