package org.aftercast.behaviour;

import java.util.Arrays;
import java.util.List;
import org.aftercast.motion.FrameBlock;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.SecondTable;

/** Condenses the one-per-second table to minutes and turns posture back to the sensor's axes. */
final class MinuteMaker {

    static final int MINUTE = 60;

    /** Likewise where the pose does not waver at all: breathing may be in it, but no tailbeat. */
    private static final double NOISE_MOSTLY = 0.7;

    /** Noise must be rougher than a clean beat of the frequency found by this much: with few samples a beat both are alike. */
    private static final double ROUGHER = 0.08;

    /** A pose that varies more than this within a minute, going down, is a tumbling carcass, not a swimming animal. */
    private static final double TUMBLES_DEG = 20;

    /** Smoothness from which a minute may hold nothing but noise; a coarse converter lowers it to 0.9. */
    private static final double NOISE_ALONE = 0.88;

    private MinuteMaker() {}

    /**
     * Direction of gravity on the sensor's axes, second by second: the body frame is undone, since a frame found again
     * inside a predator, or on a mount that slipped, would hide the very change that matters.
     *
     * @return {@code [axis][second]}; {@code NaN} where posture is missing
     */
    static float[][] gravity(MotionReading motion) {
        SecondTable s = motion.seconds();
        int n = s.seconds();
        float[][] g = new float[3][n];
        List<FrameBlock> frames = motion.frames();
        int block = 0;
        for (int i = 0; i < n; i++) {
            while (block + 1 < frames.size() && frames.get(block).toS() <= i + 0.5) {
                block++;
            }
            double pitch = Math.toRadians(s.pitchDeg()[i]);
            double roll = Math.toRadians(s.rollDeg()[i]);
            double bx = Math.sin(pitch);
            double by = Math.sin(roll) * Math.cos(pitch);
            double bz = Math.cos(roll) * Math.cos(pitch);
            if (frames.isEmpty()) {
                g[0][i] = (float) bx;
                g[1][i] = (float) by;
                g[2][i] = (float) bz;
            } else {
                double[] r = frames.get(block).rotation(); // body = R · sensor, so sensor = Rᵀ · body
                for (int axis = 0; axis < 3; axis++) {
                    g[axis][i] = (float) (r[axis] * bx + r[3 + axis] * by + r[6 + axis] * bz);
                }
            }
        }
        return g;
    }

    /**
     * Condenses.
     *
     * @param moving seconds with a beat
     * @param cutoffHz cut-off of the low-pass that parts static from dynamic acceleration: it takes its share of white noise
     *     out of the dynamic part, which the smoothness is corrected for
     */
    static MinuteTable minutes(SecondTable s, Moving moving, float[][] gravity, double sampleRateHz, double cutoffHz) {
        double kept = kept(sampleRateHz, cutoffHz);
        int m = s.seconds() / MINUTE;
        double[][] out = new double[17][m];
        double[] work = new double[MINUTE];
        for (int k = 0; k < m; k++) {
            int from = k * MINUTE;
            int good = 0;
            double quality = 0;
            for (int i = from; i < from + MINUTE; i++) {
                quality += Float.isNaN(s.quality()[i]) ? 0 : s.quality()[i];
                good += Float.isNaN(s.dynamicL2G()[i]) ? 0 : 1;
            }
            out[0][k] = quality / MINUTE;
            out[1][k] = good >= 10 ? moving.share(s, from, from + MINUTE) : Double.NaN;
            out[2][k] = median(s.beatHz(), from, work, 5);
            out[3][k] = median(s.beatAmplitudeG(), from, work, 5);
            out[4][k] = median(s.swayRmsG(), from, work, 10);
            out[5][k] = median(s.dynamicL2G(), from, work, 10);
            out[6][k] = median(s.surfaceBandRmsG(), from, work, 10);
            double jerk = median(s.jerkGps(), from, work, 10);
            out[7][k] = out[5][k] > 0 ? kept * jerk / (Math.sqrt(2) * sampleRateHz * out[5][k]) : Double.NaN;
            posture(s, gravity, from, out, k);
            double[] depth = moments(s.depthM(), from);
            out[13][k] = depth[0];
            out[14][k] = depth[1];
            out[15][k] = moments(s.verticalSpeedMps(), from)[0];
            out[16][k] = moments(s.tempC(), from)[0];
        }
        return new MinuteTable(
                out[0], out[1], out[2], out[3], out[4], out[5], out[6], out[7], out[8], out[9], out[10], out[11],
                out[12], out[13], out[14], out[15], out[16]);
    }

    /** Share of the size of white noise that is left when the static part is taken out. */
    private static double kept(double sampleRateHz, double cutoffHz) {
        return Math.sqrt(Math.max(0.2, 1 - 2 * cutoffHz / sampleRateHz));
    }

    /** Smoothness of a clean beat: √2 · sin(π f/rate), the size of its differences over √2 of its own; 0 without one. */
    private static double clean(double beatHz, double sampleRateHz) {
        return Double.isNaN(beatHz) ? 0 : Math.sqrt(2) * Math.sin(Math.PI * Math.min(0.5, beatHz / sampleRateHz));
    }

    /**
     * Takes out beats that the motion room found in sensor noise: minutes whose movement is as rough as white noise (see
     * {@link MinuteTable#smoothness}; and rougher than a clean beat is at this sampling rate) and whose pose wavers no more than that noise makes it hold no tailbeat; neither do
     * minutes whose sway is below twice the sway of such minutes (a tumbling carcass). That happens when the animal never
     * swam, so that nothing told noise and beats apart.
     */
    static SecondTable withoutNoiseBeats(
            SecondTable s, Moving moving, float[][] gravity, double sampleRateHz, double cutoffHz, double sinkMps) {
        MinuteTable m = minutes(s, moving, gravity, sampleRateHz, cutoffHz);
        float[] hz = s.beatHz().clone();
        float[] amplitude = s.beatAmplitudeG().clone();
        double kept = kept(sampleRateHz, cutoffHz);
        boolean[] rough = new boolean[m.minutes()];
        boolean[] noise = new boolean[m.minutes()];
        double[] floors = new double[m.minutes()];
        int quiet = 0;
        for (int k = 0; k < m.minutes(); k++) {
            double perSampleG = m.dynamicG()[k] / 1.6; // mean length of a normal vector in three dimensions: 1.596 σ
            double wavers = Math.toDegrees(perSampleG * Math.sqrt(2 * cutoffHz / sampleRateHz) * Math.sqrt(2));
            rough[k] = m.smoothness()[k] > kept * clean(m.beatHz()[k], sampleRateHz) + ROUGHER;
            noise[k] = rough[k]
                    && ((m.smoothness()[k] > NOISE_ALONE && m.poseSpreadDeg()[k] < 2 * wavers)
                            || (m.smoothness()[k] > NOISE_MOSTLY && m.poseSpreadDeg()[k] < 0.3));
            if (noise[k] && m.swayG()[k] > 0) {
                floors[quiet++] = m.swayG()[k];
            }
        }
        Arrays.sort(floors, 0, quiet);
        double floor = quiet >= 10 ? floors[quiet / 2] : 0;
        for (int k = 0; k < m.minutes(); k++) {
            boolean tumbles = m.poseSpreadDeg()[k] > TUMBLES_DEG && m.verticalMps()[k] > sinkMps;
            if (noise[k] || tumbles || (rough[k] && m.swayG()[k] < 2 * floor)) {
                int to = k == m.minutes() - 1 ? hz.length : (k + 1) * MINUTE;
                Arrays.fill(hz, k * MINUTE, to, Float.NaN);
                Arrays.fill(amplitude, k * MINUTE, to, Float.NaN);
            }
        }
        return new SecondTable(
                s.depthM(),
                s.verticalSpeedMps(),
                s.tempC(),
                s.pitchDeg(),
                s.rollDeg(),
                s.dynamicL1G(),
                s.dynamicL2G(),
                s.jerkGps(),
                hz,
                amplitude,
                s.swayRmsG(),
                s.surfaceBandRmsG(),
                s.quality());
    }

    private static void posture(SecondTable s, float[][] gravity, int from, double[][] out, int k) {
        double[] sum = new double[3];
        double rollC = 0;
        double rollS = 0;
        int n = 0;
        for (int i = from; i < from + MINUTE; i++) {
            if (Float.isNaN(gravity[0][i])) {
                continue;
            }
            n++;
            for (int a = 0; a < 3; a++) {
                sum[a] += gravity[a][i];
            }
            rollC += Math.cos(Math.toRadians(s.rollDeg()[i]));
            rollS += Math.sin(Math.toRadians(s.rollDeg()[i]));
        }
        double length = Math.sqrt(sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]);
        boolean had = n >= 10 && length > 0;
        for (int a = 0; a < 3; a++) {
            out[8 + a][k] = had ? sum[a] / length : Double.NaN;
        }
        out[11][k] = had ? spreadDeg(length / n) : Double.NaN;
        out[12][k] = had ? spreadDeg(Math.hypot(rollC, rollS) / n) : Double.NaN;
    }

    /** Circular standard deviation √(−2 ln R) in degrees; R the length of the mean direction. */
    static double spreadDeg(double meanLength) {
        return Math.toDegrees(Math.sqrt(Math.max(0, -2 * Math.log(Math.min(1, Math.max(1e-9, meanLength))))));
    }

    /** Angle between two unit vectors, degrees. */
    static double angleDeg(double[] a, double[] b) {
        double dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        double cx = a[1] * b[2] - a[2] * b[1];
        double cy = a[2] * b[0] - a[0] * b[2];
        double cz = a[0] * b[1] - a[1] * b[0];
        return Math.toDegrees(Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), dot));
    }

    private static double median(float[] x, int from, double[] work, int least) {
        int n = 0;
        for (int i = from; i < from + MINUTE; i++) {
            if (!Float.isNaN(x[i])) {
                work[n++] = x[i];
            }
        }
        if (n < least) {
            return Double.NaN;
        }
        Arrays.sort(work, 0, n);
        return n % 2 == 1 ? work[n / 2] : 0.5 * (work[n / 2 - 1] + work[n / 2]);
    }

    private static double[] moments(float[] x, int from) {
        double sum = 0;
        double squares = 0;
        int n = 0;
        for (int i = from; i < from + MINUTE; i++) {
            if (!Float.isNaN(x[i])) {
                n++;
                double d = x[i];
                sum += d;
                squares += d * d;
            }
        }
        if (n == 0) {
            return new double[] {Double.NaN, Double.NaN};
        }
        double mean = sum / n;
        return new double[] {mean, Math.sqrt(Math.max(0, squares / n - mean * mean))};
    }
}
