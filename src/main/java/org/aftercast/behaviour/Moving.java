package org.aftercast.behaviour;

import org.aftercast.motion.MotionReading;
import org.aftercast.motion.SecondTable;

/**
 * In which seconds the animal beats its tail. Where sampling is too slow for beats, motion refuses them and that says
 * nothing about the animal: then seconds count in which the body moves clearly more than in the stillest part of the
 * record, or in whose minute the pose wavers; where the whole record is on one level, depth decides whether that level is
 * movement.
 *
 * @param bySecond true where it beats (or, without beats, moves)
 * @param source whether beats were seen or movement stands in for them
 */
record Moving(boolean[] bySecond, Source source) {

    /** Where it comes from. */
    enum Source {
        BEATS,
        MOVEMENT
    }

    /** Two levels are told apart from this ratio of dynamic acceleration on. */
    private static final double CLEAR = 3;

    /** A minute is movement when its pitch wavers so much, degrees. */
    private static final double POSE_DEG = 2;

    /** A record on one level is movement when its depth changes so much in ten minutes, m. */
    private static final double DEPTH_M = 1;

    static Moving of(MotionReading motion, SecondTable s) {
        boolean[] found = new boolean[s.seconds()];
        if (motion.beatRefusal() == null) {
            for (int i = 0; i < found.length; i++) {
                found[i] = !Float.isNaN(s.beatHz()[i]);
            }
            return new Moving(found, Source.BEATS);
        }
        double[] level = new double[s.seconds() / 60];
        double[] poses = new double[level.length];
        for (int k = 0; k < level.length; k++) {
            level[k] = mean(s.dynamicL2G(), k * 60);
            poses[k] = spread(s.pitchDeg(), k * 60);
        }
        double low = OwnNormal.quantile(level, 0, level.length, 0.02);
        double high = OwnNormal.quantile(level, 0, level.length, 0.9);
        boolean twoLevels = high > CLEAR * low;
        boolean all = depthRange(s.depthM()) > DEPTH_M;
        double limit = Math.sqrt(low * high);
        for (int i = 0; i < found.length; i++) {
            float d = s.dynamicL2G()[i];
            boolean wavers = poses.length > 0 && poses[Math.min(poses.length - 1, i / 60)] > POSE_DEG;
            found[i] = !Float.isNaN(d) && (wavers || (twoLevels ? d > limit : all));
        }
        return new Moving(found, Source.MOVEMENT);
    }

    /** Share of the good seconds that count; NaN when none is good. */
    double share(SecondTable s, int from, int to) {
        int good = 0;
        int moving = 0;
        for (int i = Math.max(0, from); i < Math.min(to, bySecond.length); i++) {
            if (!Float.isNaN(s.dynamicL2G()[i])) {
                good++;
                moving += bySecond[i] ? 1 : 0;
            }
        }
        return good == 0 ? Double.NaN : (double) moving / good;
    }

    private static double mean(float[] x, int from) {
        double sum = 0;
        int n = 0;
        for (int i = from; i < from + 60; i++) {
            if (!Float.isNaN(x[i])) {
                sum += x[i];
                n++;
            }
        }
        return n < 10 ? Double.NaN : sum / n;
    }

    private static double spread(float[] x, int from) {
        double mean = mean(x, from);
        double squares = 0;
        int n = 0;
        for (int i = from; i < from + 60; i++) {
            if (!Float.isNaN(x[i])) {
                squares += (x[i] - mean) * (x[i] - mean);
                n++;
            }
        }
        return n < 10 ? Double.NaN : Math.sqrt(squares / n);
    }

    /** Median over ten-minute pieces of the range of their minutes' depths, m; 0 when there is no depth. */
    private static double depthRange(float[] depthM) {
        int pieces = depthM.length / 600;
        double[] range = new double[pieces];
        for (int p = 0; p < pieces; p++) {
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int k = 0; k < 10; k++) {
                double z = mean(depthM, p * 600 + k * 60);
                low = Double.isNaN(z) ? low : Math.min(low, z);
                high = Double.isNaN(z) ? high : Math.max(high, z);
            }
            range[p] = high >= low ? high - low : Double.NaN;
        }
        double middle = OwnNormal.quantile(range, 0, pieces, 0.5);
        return Double.isNaN(middle) ? 0 : middle;
    }
}
