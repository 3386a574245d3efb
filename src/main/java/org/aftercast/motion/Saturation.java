package org.aftercast.motion;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Locale;

/**
 * Where an axis stood at its full scale: true acceleration was at least that large there.
 *
 * <p>The full scale is not known; it shows itself as the largest value of an axis, beyond {@value #LEAST_G} g, reached by
 * neighbouring samples at least twice. One sample at the top, or a sensor lying still, is no saturation.
 *
 * @param seconds seconds with a saturated sample
 * @param notes one sentence for each axis and side
 */
record Saturation(BitSet seconds, List<String> notes) {

    private static final float LEAST_G = 1.5f;
    private static final int LEAST_RUNS = 2;
    private static final float SAME = 1e-4f;

    /** The outermost value of one axis on one side within a frame, and where it stands. */
    static final class Side {
        /** Outermost value times the sign of the side; 0 when below the least. */
        float most;

        int samples;
        int runs;
        final BitSet seconds = new BitSet();
    }

    /** Both sides of one axis over a frame: sides[0] upwards, sides[1] downwards. */
    static Side[] sides(float[] x, Frames frames, int frame) {
        float high = LEAST_G;
        float low = -LEAST_G;
        for (float v : x) {
            high = v > high ? v : high;
            low = v < low ? v : low;
        }
        return new Side[] {side(x, 1, high, frames, frame), side(x, -1, -low, frames, frame)};
    }

    private static Side side(float[] x, int sign, float most, Frames frames, int frame) {
        Side side = new Side();
        if (!(most > LEAST_G) || most > Float.MAX_VALUE) {
            return side;
        }
        side.most = most;
        float least = most * (1 - SAME);
        long base = frames.firstSample(frame);
        int run = 0;
        for (int i = 0; i < x.length; i++) {
            if (sign * x[i] >= least) {
                run++;
                side.samples++;
                side.runs += run == 2 ? 1 : 0;
                side.seconds.set(frames.secondOfSample(base + i));
            } else {
                run = 0;
            }
        }
        return side;
    }

    /** Joins the frames of a recording: {@code sides.get(frame)[axis][side]}. */
    static Saturation of(List<Side[][]> sides) {
        BitSet seconds = new BitSet();
        List<String> notes = new ArrayList<>();
        for (int axis = 0; axis < 3; axis++) {
            for (int s = 0; s < 2; s++) {
                float most = 0;
                for (Side[][] frame : sides) {
                    most = Math.max(most, frame[axis][s].most);
                }
                int samples = 0;
                int runs = 0;
                BitSet at = new BitSet();
                for (Side[][] frame : sides) {
                    Side side = frame[axis][s];
                    if (most > 0 && side.most >= most * (1 - SAME)) {
                        samples += side.samples;
                        runs += side.runs;
                        at.or(side.seconds);
                    }
                }
                if (runs >= LEAST_RUNS) {
                    seconds.or(at);
                    notes.add(String.format(
                            Locale.ROOT,
                            "The %s axis of the sensor stands at its full scale of %.3g g for %d samples in %d s: true"
                                    + " acceleration was at least that large there, and activity and jerk are too low.",
                            axis == 0 ? "x" : axis == 1 ? "y" : "z",
                            s == 0 ? most : -most,
                            samples,
                            at.cardinality()));
                }
            }
        }
        return new Saturation(seconds, notes);
    }
}
