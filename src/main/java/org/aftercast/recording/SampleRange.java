package org.aftercast.recording;

/**
 * A run of samples, {@code fromSample} included, {@code toSample} excluded.
 *
 * @param fromSample first sample, ≥ 0
 * @param toSample one past the last sample, &gt; fromSample
 */
public record SampleRange(long fromSample, long toSample) {

    public SampleRange {
        if (fromSample < 0 || toSample <= fromSample) {
            throw new IllegalArgumentException(
                    "fromSample, toSample: [" + fromSample + ", " + toSample + ") is not a run of samples");
        }
    }

    /** Number of samples in the run. */
    public long sampleCount() {
        return toSample - fromSample;
    }
}
