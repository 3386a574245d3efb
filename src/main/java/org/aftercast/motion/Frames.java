package org.aftercast.motion;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.SampleRange;

/**
 * Fixed frames at absolute sample indices: the unit in which a recording is read and computed.
 *
 * <p>A frame holds whole seconds, so that no second straddles two frames; second k owns the samples
 * {@code ceil(k·fs) … ceil((k+1)·fs) − 1}. Because frames depend on nothing but the rate and the length, the result does
 * not depend on how the samples were delivered.
 */
final class Frames {

    /** Somewhat below a power of two, so that a frame and what its filters need beside it fit one transform. */
    private static final int TARGET_SAMPLES = 120_000;

    private final double sampleRateHz;
    private final long sampleCount;
    private final int secondsPerFrame;

    Frames(double sampleRateHz, long sampleCount) {
        this(sampleRateHz, sampleCount, (int) Math.max(60, Math.min(7200, TARGET_SAMPLES / sampleRateHz)));
    }

    Frames(double sampleRateHz, long sampleCount, int secondsPerFrame) {
        this.sampleRateHz = sampleRateHz;
        this.sampleCount = sampleCount;
        this.secondsPerFrame = secondsPerFrame;
    }

    int count() {
        return (seconds() + secondsPerFrame - 1) / secondsPerFrame;
    }

    /** Whole seconds of the recording; a last part of a second counts when it holds a sample. */
    int seconds() {
        long seconds = (long) Math.ceil(sampleCount / sampleRateHz - 1e-9);
        return (int) Math.max(1, seconds);
    }

    int firstSecond(int frame) {
        return frame * secondsPerFrame;
    }

    int endSecond(int frame) {
        return Math.min(seconds(), (frame + 1) * secondsPerFrame);
    }

    long firstSample(int frame) {
        return sampleOfSecond(firstSecond(frame));
    }

    long endSample(int frame) {
        return sampleOfSecond(endSecond(frame));
    }

    /** First sample that belongs to a second (or the sample count after the last). */
    long sampleOfSecond(long second) {
        return Math.min(sampleCount, (long) Math.ceil(second * sampleRateHz - 1e-9));
    }

    /** The second that owns a sample. */
    int secondOfSample(long sample) {
        int second = (int) Math.floor(sample / sampleRateHz);
        while (sampleOfSecond(second + 1L) <= sample) {
            second++;
        }
        while (second > 0 && sampleOfSecond(second) > sample) {
            second--;
        }
        return second;
    }

    /** The parts of {@code pieces} that fall within [from, to), in order. */
    static List<SampleRange> within(List<SampleRange> pieces, long from, long to) {
        List<SampleRange> parts = new ArrayList<>();
        int low = 0;
        int high = pieces.size();
        while (low < high) {
            int mid = (low + high) >>> 1;
            if (pieces.get(mid).toSample() <= from) {
                low = mid + 1;
            } else {
                high = mid;
            }
        }
        for (int i = low; i < pieces.size() && pieces.get(i).fromSample() < to; i++) {
            SampleRange piece = pieces.get(i);
            parts.add(new SampleRange(Math.max(from, piece.fromSample()), Math.min(to, piece.toSample())));
        }
        return parts;
    }
}
