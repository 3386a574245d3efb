package org.aftercast.behaviour;

import java.util.Arrays;

/**
 * The animal's own yardsticks: what it reads when swimming and what the sensor reads when nothing moves.
 *
 * @param swims whether there were at least five minutes with tailbeats
 * @param beatHz median beat frequency while swimming, Hz; {@code NaN} when it never swam
 * @param beatHzSpread robust standard deviation of ln(beat frequency) from minute to minute
 * @param beatAmplitudeG median amplitude, g
 * @param swayG median sway while swimming, g
 * @param dynamicG median dynamic acceleration while swimming, g
 * @param stillSwayG sway when nothing moves, g
 * @param stillDynamicG dynamic acceleration when nothing moves, g
 * @param everStill whether the record holds still minutes, so that the two floors were seen and not assumed
 * @param upX mean direction of gravity while swimming, sensor axes
 * @param upY second axis
 * @param upZ third axis
 * @param poseSpreadDeg root mean square angle of the swimming minutes' pose about that direction, degrees
 */
public record OwnNormal(
        boolean swims,
        double beatHz,
        double beatHzSpread,
        double beatAmplitudeG,
        double swayG,
        double dynamicG,
        double stillSwayG,
        double stillDynamicG,
        boolean everStill,
        double upX,
        double upY,
        double upZ,
        double poseSpreadDeg) {

    /** Swimming and still levels must differ by this factor to be told apart. */
    private static final double CLEAR = 3;

    /**
     * From the minutes between two times.
     *
     * @param m minutes
     * @param fromMin first minute
     * @param toMin one past the last minute
     * @param noiseG in-band noise of the sway if known, else NaN
     */
    static OwnNormal of(MinuteTable m, int fromMin, int toMin, double noiseG) {
        int[] swim = swimming(m, fromMin, toMin);
        boolean swims = swim.length >= 5;
        double sway = median(m.swayG(), swim);
        double dynamic = median(m.dynamicG(), swim);
        double lowSway = quantile(m.swayG(), fromMin, toMin, 0.02);
        double lowDynamic = quantile(m.dynamicG(), fromMin, toMin, 0.02);
        boolean still = !swims || lowSway * CLEAR < sway || lowDynamic * CLEAR < dynamic;
        if (!still) {
            lowSway = noiseG > 0 ? Math.min(noiseG, lowSway) : sway / 10;
            lowDynamic = Math.min(lowDynamic, dynamic / 10);
        }
        if (!swims) {
            sway = Math.max(lowSway, 1e-6) * 10;
            dynamic = Math.max(lowDynamic, 1e-6) * 10;
        }
        double[] logs = Arrays.stream(swim)
                .mapToDouble(k -> Math.log(m.beatHz()[k]))
                .filter(v -> !Double.isNaN(v))
                .toArray();
        double spread =
                logs.length < 5 ? Double.NaN : 1.4826 * org.aftercast.signal.RobustZ.medianAbsoluteDeviation(logs);
        double[] up = meanPose(m, swim);
        return new OwnNormal(
                swims,
                median(m.beatHz(), swim),
                spread,
                median(m.beatAmplitudeG(), swim),
                sway,
                dynamic,
                lowSway,
                lowDynamic,
                still,
                up[0],
                up[1],
                up[2],
                up[3]);
    }

    /** Minutes in which at least half of the seconds carry beats. */
    static int[] swimming(MinuteTable m, int fromMin, int toMin) {
        int[] found = new int[Math.max(0, toMin - fromMin)];
        int n = 0;
        for (int k = Math.max(0, fromMin); k < Math.min(toMin, m.minutes()); k++) {
            if (m.beatShare()[k] >= 0.5) {
                found[n++] = k;
            }
        }
        return Arrays.copyOf(found, n);
    }

    /** Mean direction and root mean square angle about it in degrees; {@code NaN}s when there are fewer than 3 minutes. */
    static double[] meanPose(MinuteTable m, int[] which) {
        double[] sum = new double[4];
        int n = 0;
        for (int k : which) {
            if (!Double.isNaN(m.gravityX()[k])) {
                n++;
                sum[0] += m.gravityX()[k];
                sum[1] += m.gravityY()[k];
                sum[2] += m.gravityZ()[k];
            }
        }
        double length = Math.sqrt(sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]);
        if (n < 3 || length < 1e-9) {
            return new double[] {Double.NaN, Double.NaN, Double.NaN, Double.NaN};
        }
        for (int a = 0; a < 3; a++) {
            sum[a] /= length;
        }
        double squares = 0;
        for (int k : which) {
            if (!Double.isNaN(m.gravityX()[k])) {
                double angle =
                        MinuteMaker.angleDeg(sum, new double[] {m.gravityX()[k], m.gravityY()[k], m.gravityZ()[k]});
                squares += angle * angle;
            }
        }
        sum[3] = Math.sqrt(squares / n);
        return sum;
    }

    static double median(double[] x, int[] which) {
        double[] v = Arrays.stream(which)
                .mapToDouble(k -> x[k])
                .filter(d -> !Double.isNaN(d))
                .sorted()
                .toArray();
        return v.length == 0
                ? Double.NaN
                : v.length % 2 == 1 ? v[v.length / 2] : 0.5 * (v[v.length / 2] + v[v.length / 2 - 1]);
    }

    static double quantile(double[] x, int from, int to, double q) {
        if (to <= from) {
            return Double.NaN;
        }
        double[] v = Arrays.stream(x, Math.max(0, Math.min(from, x.length)), Math.max(0, Math.min(to, x.length)))
                .filter(d -> !Double.isNaN(d))
                .sorted()
                .toArray();
        return v.length == 0 ? Double.NaN : v[(int) Math.min(v.length - 1, Math.floor(q * v.length))];
    }
}
