package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.stats.CorrelatedMean;

/**
 * What a stretch of a recording amounts to: means by measure with intervals that respect autocorrelation, how long the
 * animal lay on its side or back, how pitch goes with vertical speed, and what activity shows while nothing moves.
 *
 * @param lines one line a measure
 * @param postureS seconds with posture
 * @param rolledOverS seconds with the body rolled by {@value #ROLLED_DEG}° to {@value #UPSIDE_DOWN_DEG}°
 * @param upsideDownS seconds with the body rolled by more than {@value #UPSIDE_DOWN_DEG}°
 * @param pitchSpeed pitch against vertical speed
 * @param stillS seconds without beats in which the sway does not stand above the noise
 * @param stillL1G median of the first dynamic measure over those seconds, g; NaN below {@value #LEAST_STILL_S} of them
 * @param stillL2G the same of the second
 * @param stillJerkGps the same of jerk, g/s
 */
public record MotionSummary(
        List<Line> lines,
        double postureS,
        double rolledOverS,
        double upsideDownS,
        PitchSpeed pitchSpeed,
        double stillS,
        double stillL1G,
        double stillL2G,
        double stillJerkGps) {

    /** Roll beyond which an animal counts as rolled over, degrees. */
    public static final double ROLLED_DEG = 60;

    /** Roll beyond which an animal counts as upside down, degrees. */
    public static final double UPSIDE_DOWN_DEG = 120;

    static final int LEAST_STILL_S = 60;
    private static final int MINUTE_S = 60;
    private static final double LEVEL = 0.95;

    public MotionSummary {
        lines = List.copyOf(lines);
    }

    /**
     * One measure over the stretch, from means of minutes (those at least half of whose seconds have it).
     *
     * @param measure name with unit, as in the one-per-second table
     * @param seconds seconds that have it
     * @param median median of those seconds
     * @param mean mean of the minutes, with its 95 % interval and the number of independent minutes they are worth
     */
    public record Line(String measure, int seconds, double median, CorrelatedMean mean) {}

    /**
     * Pitch against vertical speed while swimming, least squares over means of minutes.
     *
     * @param minutes minutes used
     * @param levelDeg pitch at no vertical speed (a mount that was levelled well gives 0), degrees
     * @param degPerMps change of pitch for each m/s downwards; negative for an animal that points where it goes
     * @param correlation of the two
     */
    public record PitchSpeed(int minutes, double levelDeg, double degPerMps, double correlation) {}

    /**
     * Sums up seconds [from, to).
     *
     * @param reading the motion
     * @param fromS first second, ≥ 0
     * @param toS end; clamped to the reading
     */
    public static MotionSummary of(MotionReading reading, int fromS, int toS) {
        SecondTable t = reading.seconds();
        int from = Math.max(0, fromS);
        int to = Math.max(from, Math.min(toS, t.seconds()));
        List<Line> lines = new ArrayList<>();
        add(lines, "beatHz", t.beatHz(), from, to);
        add(lines, "beatAmplitudeG", t.beatAmplitudeG(), from, to);
        add(lines, "dynamicL1G", t.dynamicL1G(), from, to);
        add(lines, "dynamicL2G", t.dynamicL2G(), from, to);
        add(lines, "jerkGps", t.jerkGps(), from, to);
        add(lines, "pitchDeg", t.pitchDeg(), from, to);
        add(lines, "rollRateDegPs", rollRate(t.rollDeg()), from, to);
        add(lines, "depthM", t.depthM(), from, to);
        add(lines, "tempC", t.tempC(), from, to);
        int posture = 0;
        int rolled = 0;
        int upsideDown = 0;
        for (int k = from; k < to; k++) {
            float roll = Math.abs(t.rollDeg()[k]);
            posture += Float.isNaN(roll) ? 0 : 1;
            rolled += roll >= ROLLED_DEG && roll <= UPSIDE_DOWN_DEG ? 1 : 0;
            upsideDown += roll > UPSIDE_DOWN_DEG ? 1 : 0;
        }
        int[] still = still(reading, from, to);
        return new MotionSummary(
                lines,
                posture,
                rolled,
                upsideDown,
                pitchSpeed(t, from, to),
                still.length,
                medianAt(t.dynamicL1G(), still),
                medianAt(t.dynamicL2G(), still),
                medianAt(t.jerkGps(), still));
    }

    /** Change of roll between neighbouring seconds the short way round, °/s, without its sign. */
    static float[] rollRate(float[] rollDeg) {
        float[] rate = new float[rollDeg.length];
        Arrays.fill(rate, Float.NaN);
        for (int k = 1; k < rate.length; k++) {
            double step = rollDeg[k] - rollDeg[k - 1];
            rate[k] = (float) Math.abs(step - 360 * Math.rint(step / 360));
        }
        return rate;
    }

    private static void add(List<Line> lines, String measure, float[] values, int from, int to) {
        double[] all = present(values, from, to);
        double[] minutes = minutes(values, from, to);
        if (minutes.length > 0) {
            Arrays.sort(all);
            lines.add(new Line(measure, all.length, all[all.length / 2], CorrelatedMean.of(minutes, LEVEL)));
        }
    }

    private static double[] present(float[] values, int from, int to) {
        double[] all = new double[to - from];
        int n = 0;
        for (int k = from; k < to; k++) {
            if (!Float.isNaN(values[k])) {
                all[n++] = values[k];
            }
        }
        return Arrays.copyOf(all, n);
    }

    private static double[] minutes(float[] values, int from, int to) {
        double[] means = new double[(to - from) / MINUTE_S + 1];
        int n = 0;
        for (int at = from; at + MINUTE_S <= to; at += MINUTE_S) {
            double mean = mean(values, at);
            if (!Double.isNaN(mean)) {
                means[n++] = mean;
            }
        }
        return Arrays.copyOf(means, n);
    }

    private static double mean(float[] values, int at) {
        double sum = 0;
        int n = 0;
        for (int k = at; k < at + MINUTE_S; k++) {
            if (!Float.isNaN(values[k])) {
                sum += values[k];
                n++;
            }
        }
        return 2 * n >= MINUTE_S ? sum / n : Double.NaN;
    }

    private static PitchSpeed pitchSpeed(SecondTable t, int from, int to) {
        int n = 0;
        double sx = 0;
        double sy = 0;
        double sxx = 0;
        double sxy = 0;
        double syy = 0;
        for (int at = from; at + MINUTE_S <= to; at += MINUTE_S) {
            double speed = mean(t.verticalSpeedMps(), at);
            double pitch = mean(t.pitchDeg(), at);
            if (Double.isNaN(speed) || Double.isNaN(pitch) || Double.isNaN(mean(t.beatHz(), at))) {
                continue;
            }
            n++;
            sx += speed;
            sy += pitch;
            sxx += speed * speed;
            sxy += speed * pitch;
            syy += pitch * pitch;
        }
        double xx = n * sxx - sx * sx;
        double yy = n * syy - sy * sy;
        double xy = n * sxy - sx * sy;
        if (n < 10 || !(xx > 0)) {
            return new PitchSpeed(n, Double.NaN, Double.NaN, Double.NaN);
        }
        double slope = xy / xx;
        return new PitchSpeed(n, (sy - slope * sx) / n, slope, yy > 0 ? xy / Math.sqrt(xx * yy) : Double.NaN);
    }

    /** Seconds without beats whose sway is no more than one and a half times the noise. */
    private static int[] still(MotionReading reading, int from, int to) {
        SecondTable t = reading.seconds();
        double most = 1.5 * reading.noiseG();
        int[] found = new int[to - from];
        int n = 0;
        for (int k = from; k < to; k++) {
            if (Float.isNaN(t.beatHz()[k]) && t.swayRmsG()[k] <= most) {
                found[n++] = k;
            }
        }
        return Arrays.copyOf(found, n);
    }

    private static double medianAt(float[] values, int[] seconds) {
        if (seconds.length < LEAST_STILL_S) {
            return Double.NaN;
        }
        double[] sorted =
                Arrays.stream(seconds).mapToDouble(k -> values[k]).sorted().toArray();
        return sorted[sorted.length / 2];
    }
}
