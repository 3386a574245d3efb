package org.aftercast.behaviour;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Finds a package that floats to the end of a record without depth. A float stands in one pose from minute to minute, rides
 * every wave, and stands otherwise than the package did on the animal. Neither a carcass (does not ride the waves), nor an
 * animal (its pose follows its course), nor a package inside another body (its pose drifts) shows all three. Each sign is
 * measured against the record before it and adds a bounded log-odds; our own defaults, no published figures.
 *
 * @param atS the turn of the pose, seconds from the first sample; the end of the record when there is no steady stretch
 * @param lowS earliest
 * @param highS latest
 * @param angleDeg angle between the poses before and after, degrees
 * @param logOdds that the package floats from there on, natural logarithm
 * @param note what was seen, for people
 */
record FloatByWaves(double atS, double lowS, double highS, double angleDeg, double logOdds, String note) {

    /** A minute belongs to the float when its pose lies within this angle of the ten minutes after it, degrees. */
    private static final double STEADY_DEG = 8;

    /** Odds from which the package is taken to float. */
    static final double CALLED = 3;

    /** Odds below which it is taken to be under water to the end. */
    static final double RULED_OUT = -1;

    /**
     * Looks for it.
     *
     * @param gravity direction of gravity on the sensor's axes, {@code [axis][second]}
     * @param m minutes
     * @param releaseS release, s
     * @param set settings
     * @return null when the record is too short to compare before and after
     */
    static @Nullable FloatByWaves find(float[][] gravity, MinuteTable m, double releaseS, BehaviourSettings set) {
        int n = m.minutes();
        int release = (int) Math.ceil(releaseS / 60);
        int least = (int) Math.max(3, Math.ceil(set.afloatMin()));
        if (n - release < least + 6) {
            return null;
        }
        int first = firstSteady(m, release, n);
        if (n - first < least) {
            return new FloatByWaves(
                    n * 60.0, n * 60.0, n * 60.0, Double.NaN, -4, "The pose was not steady at the end.");
        }
        int from = Math.max(release, first - 180);
        if (first - 1 - from < 5) {
            return null;
        }
        double[] after = OwnNormal.meanPose(m, range(first + 1, n));
        double[] before = OwnNormal.meanPose(m, range(from, first - 1));
        double angle =
                Double.isNaN(after[0]) || Double.isNaN(before[0]) ? Double.NaN : MinuteMaker.angleDeg(before, after);
        double waves = OwnNormal.quantile(m.waveG(), first + 1, n, 0.5)
                / Math.max(1e-6, OwnNormal.quantile(m.waveG(), from, first - 1, 0.5));
        double smooth = OwnNormal.quantile(m.smoothness(), first + 1, n, 0.5);
        double odds = Curve.at(angle, 8, -3, 15, 0, 30, 3)
                + Curve.at(Math.log(waves), 0, -4, Math.log(1.5), 0, Math.log(2.5), 2.5, Math.log(5), 4)
                + Curve.at(after[3], 1, 2, 3, 1, 6, -2)
                + Curve.at(smooth, 0.75, 0, 0.9, -4)
                + Math.min(1, Math.log((n - first) / set.afloatMin()));
        double[] turn = turn(gravity, first, before, after);
        String note = String.format(
                Locale.ROOT,
                "From %.2f h after the first sample the pose stayed within %.1f° and the waves moved the package %.1f times"
                        + " as strongly as before; its pose turned by %.0f°.",
                turn[0] / 3600,
                Double.isNaN(after[3]) ? 0 : after[3],
                waves,
                Double.isNaN(angle) ? 0 : angle);
        return new FloatByWaves(turn[0], turn[1], turn[2], angle, odds, note);
    }

    /** First minute of the steady pose that lasts to the end; a lone minute off it does not break it. */
    private static int firstSteady(MinuteTable m, int release, int n) {
        double[] sum = new double[3];
        double[][] ring = new double[10][];
        int held = 0;
        int first = n;
        int off = 0;
        for (int k = n - 1; k >= release && off < 2; k--) {
            double[] pose = {m.gravityX()[k], m.gravityY()[k], m.gravityZ()[k]};
            if (Double.isNaN(pose[0])) {
                continue;
            }
            if (held > 0 && MinuteMaker.angleDeg(unit(sum), pose) > STEADY_DEG) {
                off++;
                continue;
            }
            off = 0;
            first = k;
            double[] old = ring[held % 10];
            for (int a = 0; a < 3; a++) {
                sum[a] += pose[a] - (old == null ? 0 : old[a]);
            }
            ring[held % 10] = pose;
            held++;
        }
        return first;
    }

    /** Second at which the pose leaves what it was before, with the limits of the minute it lies in. */
    private static double[] turn(float[][] gravity, int firstMin, double[] before, double[] after) {
        int high = Math.min(gravity[0].length - 1, firstMin * 60 + 60);
        int low = Math.max(0, firstMin * 60 - 120);
        double at = firstMin * 60.0;
        if (Double.isNaN(before[0]) || Double.isNaN(after[0])) {
            return new double[] {at, low, high};
        }
        for (int i = high; i > low; i--) {
            double[] pose = Limits.mean(gravity, i - 12, i);
            if (pose != null && MinuteMaker.angleDeg(pose, before) < MinuteMaker.angleDeg(pose, after)) {
                at = i - 6;
                break;
            }
        }
        return new double[] {at, at - 30, at + 60};
    }

    private static double[] unit(double[] v) {
        double length = Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
        return new double[] {v[0] / length, v[1] / length, v[2] / length};
    }

    private static int[] range(int from, int to) {
        return java.util.stream.IntStream.range(from, Math.max(from, to)).toArray();
    }
}
