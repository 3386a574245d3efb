package org.aftercast.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.junit.jupiter.api.Test;

/** The sway of a sensor in a known pose that moves by a known sine. */
class SwaySignalTest {

    private static final int RATE = 50;
    private static final int N = 200 * RATE;

    /** Sensor's x axis is the body's left; 0.3 g of it is gravity of a steady roll. */
    private static Recording recording() {
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        float[] x = new float[N];
        float[] y = new float[N];
        float[] z = new float[N];
        for (int i = 0; i < N; i++) {
            x[i] = (float) (0.3 + 0.2 * Math.sin(2 * Math.PI * 1.5 * i / RATE));
            y[i] = 0.1f;
            z[i] = 0.9f;
        }
        for (int i = 4000; i < 4100; i++) {
            x[i] = Float.NaN;
            y[i] = Float.NaN;
            z[i] = Float.NaN;
        }
        columns.put(Channel.ACCELERATION_X, x);
        columns.put(Channel.ACCELERATION_Y, y);
        columns.put(Channel.ACCELERATION_Z, z);
        return new Recording(
                "0".repeat(64), new SampleClock(null, RATE), new MemorySamples(columns), List.of(), List.of());
    }

    private static final FrameBlock LEFT_IS_X =
            new FrameBlock(0, 200, new double[] {0, 1, 0, 1, 0, 0, 0, 0, 1}, 1, 1, FrameBlock.Status.FROM_SWIMMING);

    private final SwaySignal sway = new SwaySignal(recording(), List.of(LEFT_IS_X), 0.2);

    @Test
    void theSineRemainsAndTheSteadyRollIsGone() {
        float[] out = new float[500];
        sway.read(2000, 500, out);
        for (int i = 0; i < out.length; i++) {
            double truth = 0.2 * Math.sin(2 * Math.PI * 1.5 * (2000 + i) / RATE);
            // The slow part's low-pass lets 1/(1 + (1.5/0.2)^4) = 0.03 % of the sine through each way.
            assertThat((double) out[i]).isCloseTo(truth, within(0.001));
        }
    }

    @Test
    void whatIsMissingStaysMissing() {
        float[] out = new float[300];
        sway.read(3900, 300, out);
        assertThat(out[99]).isNotNaN();
        assertThat(out[100]).isNaN();
        assertThat(out[199]).isNaN();
        assertThat(out[200]).isNotNaN();
    }

    @Test
    void rangesReadInPiecesAgreeWithOneReadAtOnce() {
        float[] whole = new float[1000];
        sway.read(6000, 1000, whole);
        float[] piece = new float[100];
        for (int k = 0; k < 10; k++) {
            sway.read(6000 + 100 * k, 100, piece);
            for (int i = 0; i < 100; i++) {
                assertThat((double) piece[i]).isCloseTo(whole[100 * k + i], within(2e-3));
            }
        }
    }
}
