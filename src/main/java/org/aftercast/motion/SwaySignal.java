package org.aftercast.motion;

import java.util.Arrays;
import java.util.List;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleSource;
import org.aftercast.signal.Butterworth;
import org.aftercast.signal.Sections;
import org.aftercast.signal.ZeroPhase;

/**
 * The sway as it is looked at: acceleration along the body's left axis less its slow part, sample by sample, in g.
 *
 * <p>sway = y − L(y) with y the second row of the body frame's rotation times the sensor's acceleration and L the same
 * zero-phase low-pass (second-order Butterworth at the reading's posture cut-off) that separates posture from movement.
 * Samples that are missing stay {@code NaN}; nothing is bridged. The beats themselves are found in {@link MotionReader}
 * on a band-passed form of the same axis.
 */
public final class SwaySignal {

    /** Shortest run of samples that is filtered; in shorter ones the run's mean is taken off. */
    private static final int SHORTEST_RUN = 16;

    private final SampleSource samples;
    private final double rateHz;
    private final List<FrameBlock> frames;
    private final Sections slow;
    private final int settle;

    /**
     * The sway of one recording.
     *
     * @param recording must carry the three acceleration axes
     * @param frames body frame by stretch ({@link MotionReading#frames()}), at least one
     * @param postureCutoffHz cut-off in Hz, 0 &lt; cut-off &lt; half the sample rate
     * @throws IllegalArgumentException if an axis or the frames are missing
     */
    public SwaySignal(Recording recording, List<FrameBlock> frames, double postureCutoffHz) {
        if (frames.isEmpty()) {
            throw new IllegalArgumentException("frames: none given, at least one is needed");
        }
        for (Channel axis : List.of(Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z)) {
            if (!recording.has(axis)) {
                throw new IllegalArgumentException("recording: carries no " + axis.columnName());
            }
        }
        this.samples = recording.samples();
        this.rateHz = recording.clock().sampleRateHz();
        this.frames = List.copyOf(frames);
        this.slow = Butterworth.lowPass(2, postureCutoffHz, rateHz);
        this.settle = (int) Math.ceil(3 / postureCutoffHz * rateHz);
    }

    /**
     * Reads samples {@code fromSample} (inclusive) to {@code fromSample + count} (exclusive).
     *
     * @param fromSample first sample
     * @param count number of samples; the range lies within the recording
     * @param into destination, filled from index 0
     */
    public void read(long fromSample, int count, float[] into) {
        long from = Math.max(0, fromSample - settle);
        long to = Math.min(samples.sampleCount(), fromSample + count + settle);
        int n = (int) (to - from);
        float[] left = turned(from, n);
        int at = (int) (fromSample - from);
        Arrays.fill(into, 0, count, Float.NaN);
        for (int start = 0; start < n; start++) {
            if (Float.isNaN(left[start])) {
                continue;
            }
            int end = start;
            while (end < n && !Float.isNaN(left[end])) {
                end++;
            }
            subtractSlow(left, start, end, at, count, into);
            start = end;
        }
    }

    private void subtractSlow(float[] left, int start, int end, int at, int count, float[] into) {
        int lo = Math.max(start, at);
        int hi = Math.min(end, at + count);
        if (lo >= hi) {
            return;
        }
        float[] run = Arrays.copyOfRange(left, start, end);
        float[] still;
        if (run.length < SHORTEST_RUN) {
            double sum = 0;
            for (float v : run) {
                sum += v;
            }
            still = new float[run.length];
            Arrays.fill(still, (float) (sum / run.length));
        } else {
            still = ZeroPhase.filter(run, slow, Math.min(settle, run.length - 1));
        }
        for (int i = lo; i < hi; i++) {
            into[i - at] = left[i] - still[i - start];
        }
    }

    private float[] turned(long from, int n) {
        float[] x = new float[n];
        float[] y = new float[n];
        float[] z = new float[n];
        samples.read(Channel.ACCELERATION_X, from, n, x, 0);
        samples.read(Channel.ACCELERATION_Y, from, n, y, 0);
        samples.read(Channel.ACCELERATION_Z, from, n, z, 0);
        int frame = 0;
        for (int i = 0; i < n; i++) {
            double seconds = (from + i) / rateHz;
            while (frame + 1 < frames.size() && seconds >= frames.get(frame).toS()) {
                frame++;
            }
            double[] r = frames.get(frame).rotation();
            x[i] = (float) (r[3] * x[i] + r[4] * y[i] + r[5] * z[i]);
        }
        return x;
    }
}
