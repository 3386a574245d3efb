package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.behaviour.Sign.What;
import org.jspecify.annotations.Nullable;

/**
 * Does the movement from some moment on belong to another body? The best single split of the minutes' pose, beat
 * frequency and amplitude is sought by least squares; then the two sides are compared sign by sign, with temperature
 * against depth beside them. A mount that slipped turns the pose but leaves beat and temperature as they were.
 */
final class OtherBody {

    /** Shortest stretch on either side, minutes. */
    private static final int LEAST = 8;

    /** What follows the stretch that is searched. */
    enum Followed {
        BY_STILLNESS,
        BY_THE_END
    }

    private OtherBody() {}

    /**
     * Looks for it.
     *
     * @param m minutes
     * @param fromMin first minute after the release
     * @param toMin one past the last minute before the detachment
     * @param lengthM body length, m, or null
     * @param bursts events so far
     * @param end what follows the last minute: before a stillness, weaker and slower beats are what dying looks like too
     * @return the best candidate, however weak; null when the stretch is too short
     */
    static @Nullable Turning find(
            MinuteTable m, int fromMin, int toMin, @Nullable Double lengthM, List<Event> bursts, Followed end) {
        int to = Math.min(toMin, m.minutes());
        int n = to - fromMin;
        if (n < 2 * LEAST + 4) {
            return null;
        }
        Turning best = null;
        for (int[] part : parts(m, fromMin, to)) {
            Turning one = within(m, fromMin, part[0], part[1], part[2], part[3], part[4], lengthM, bursts, end);
            best = best == null || one.logOdds() > best.logOdds() ? one : best;
        }
        return best;
    }

    /** Best split of the whole, and of either side of it: {@code {from, change, to, low, high}}. */
    private static List<int[]> parts(MinuteTable m, int from, int to) {
        List<int[]> found = new ArrayList<>();
        int[] whole = best(m, from, to);
        if (whole != null) {
            found.add(whole);
            int[] left = best(m, from, whole[1]);
            int[] right = best(m, whole[1], to);
            if (left != null) {
                found.add(left);
                int[] first = best(m, from, left[1]);
                if (first != null) {
                    found.add(first);
                }
            }
            if (right != null) {
                found.add(new int[] {from, right[1], to, right[3], right[4]});
            }
        }
        return found;
    }

    private static int @Nullable [] best(MinuteTable m, int from, int to) {
        int n = to - from;
        if (n < 2 * LEAST + 4) {
            return null;
        }
        double[][] gain = new double[1][n];
        int at = split(features(m, from, to), gain);
        if (at < 0) {
            return null;
        }
        int low = at;
        int high = at;
        for (int k = LEAST; k < n - LEAST; k++) {
            if (gain[0][k] > gain[0][at] - 6) {
                low = Math.min(low, k);
                high = Math.max(high, k);
            }
        }
        return new int[] {from, from + at, to, from + low, from + high};
    }

    private static Turning within(
            MinuteTable m,
            int start,
            int from,
            int change,
            int to,
            int low,
            int high,
            @Nullable Double lengthM,
            List<Event> bursts,
            Followed end) {
        List<Sign> signs = compare(m, Math.min(start, from), change, to, lengthM, bursts, end);
        double atS = attackNear(bursts, change * 60.0, low * 60.0 - 180, high * 60.0 + 180);
        return new Turning(
                Turning.Kind.OTHER_BODY,
                atS,
                Math.min(atS, low * 60.0 - 60),
                Math.max(atS, high * 60.0 + 60),
                to * 60.0,
                signs);
    }

    private static double[][] features(MinuteTable m, int from, int to) {
        int n = to - from;
        double[][] y = new double[5][n];
        for (int i = 0; i < n; i++) {
            int k = from + i;
            y[0][i] = m.gravityX()[k] / 0.25;
            y[1][i] = m.gravityY()[k] / 0.25;
            y[2][i] = m.gravityZ()[k] / 0.25;
            boolean moves = m.beatShare()[k] >= 0.3;
            y[3][i] = moves ? Math.log(m.beatHz()[k]) / 0.12 : Double.NaN;
            y[4][i] = moves ? Math.log(m.beatAmplitudeG()[k]) / 0.4 : Double.NaN;
        }
        return y;
    }

    /** Index of the best split by gain in the sum of squares, over the values that are known; −1 when there is none. */
    private static int split(double[][] y, double[][] gainOut) {
        int n = y[0].length;
        double[] gain = gainOut[0];
        for (double[] one : y) {
            double total = 0;
            int count = 0;
            for (double v : one) {
                if (!Double.isNaN(v)) {
                    total += v;
                    count++;
                }
            }
            double left = 0;
            int leftCount = 0;
            for (int k = 0; k < n; k++) {
                if (leftCount >= 5 && count - leftCount >= 5) {
                    double d = left / leftCount - (total - left) / (count - leftCount);
                    gain[k] += d * d * leftCount * (count - leftCount) / (double) count;
                }
                if (!Double.isNaN(one[k])) {
                    left += one[k];
                    leftCount++;
                }
            }
        }
        int best = -1;
        for (int k = LEAST; k < n - LEAST; k++) {
            best = best < 0 || gain[k] > gain[best] ? k : best;
        }
        return best;
    }

    private static List<Sign> compare(
            MinuteTable m, int from, int change, int to, @Nullable Double lengthM, List<Event> bursts, Followed end) {
        List<Sign> signs = new ArrayList<>();
        double fromS = change * 60.0;
        double toS = to * 60.0;
        Sign attack = attack(fromS, bursts);
        boolean attacked = attack != null && attack.logOdds() >= 1;
        double[] before = OwnNormal.meanPose(m, range(from, change));
        double[] after = OwnNormal.meanPose(m, range(change + 1, to));
        if (!Double.isNaN(before[0]) && !Double.isNaN(after[0])) {
            double angle = MinuteMaker.angleDeg(before, after);
            double weight = poseWeight(angle, before[3]);
            if (end == Followed.BY_STILLNESS && to - change < 60 && !attacked) {
                weight = Math.min(-1.5, weight); // a dying animal loses its balance too
            }
            signs.add(new Sign(What.POSE_STEP, angle, before[3], weight, fromS, toS));
        }
        int[] swimBefore = OwnNormal.swimming(m, Math.max(from, change - 180), change - 1);
        int[] swimAfter = OwnNormal.swimming(m, change + 1, Math.min(to, change + 180));
        step(m.beatHz(), swimBefore, swimAfter, What.BEAT_STEP, fromS, toS, end, signs);
        step(m.beatAmplitudeG(), swimBefore, swimAfter, What.AMPLITUDE_STEP, fromS, toS, end, signs);
        forLength(m, swimAfter, lengthM, fromS, toS, end, signs);
        temperature(m, from, change, to, signs);
        if (attack != null) {
            signs.add(attack);
        }
        return signs;
    }

    /**
     * Whoever swallowed it is longer, and longer bodies beat more slowly: f ≈ 1 Hz·m / length for animals above about half a
     * metre (∝ 1/L: {@code sanchezrodriguez2023}; the factor is our own reading of the plausible ranges). A frequency
     * well above that of its length speaks against a larger body.
     */
    private static void forLength(
            MinuteTable m,
            int[] swimAfter,
            @Nullable Double lengthM,
            double fromS,
            double toS,
            Followed end,
            List<Sign> signs) {
        double hz = OwnNormal.median(m.beatHz(), swimAfter);
        if (lengthM == null || lengthM < 0.5 || swimAfter.length < 5 || !(hz > 0) || end == Followed.BY_STILLNESS) {
            return;
        }
        double usual = 1 / lengthM;
        double weight = Curve.at(Math.log(hz / usual), -1.2, 0.5, -0.5, 0.2, 0.1, 0, 0.6, -0.8);
        signs.add(new Sign(What.BEAT_FOR_LENGTH, hz, usual, weight, fromS, toS));
    }

    /** The largest burst within four minutes; null when there is none. */
    private static @Nullable Sign attack(double atS, List<Event> bursts) {
        Event largest = null;
        double elsewhere = 0;
        for (Event e : bursts) {
            if (Math.abs(e.atS() - atS) < 240) {
                largest = largest == null || e.size() > largest.size() ? e : largest;
            } else if (e.atS() < atS) {
                elsewhere = Math.max(elsewhere, e.size());
            }
        }
        if (largest == null) {
            return null;
        }
        double weight = Curve.at(largest.durationS(), 4, 0, 8, 1.2, 12, 2)
                + Curve.at(largest.size() / Math.max(2, elsewhere), 0.7, -0.5, 1.3, 0.5);
        return new Sign(
                What.ATTACK, largest.size(), elsewhere, weight, largest.atS(), largest.atS() + largest.durationS());
    }

    private static void step(
            double[] x,
            int[] before,
            int[] after,
            What what,
            double fromS,
            double toS,
            Followed end,
            List<Sign> signs) {
        double a = OwnNormal.median(x, before);
        double b = OwnNormal.median(x, after);
        if (before.length < 5 || after.length < 5 || !(a > 0) || !(b > 0)) {
            return;
        }
        double ratio = Math.log(b / a);
        double spread = Math.max(0.02, 0.5 * (logSpread(x, before, a) + logSpread(x, after, b)));
        double clear = Math.abs(ratio) / spread;
        double weight = what == What.BEAT_STEP
                ? Curve.at(Math.abs(ratio), 0.05, -2.2, 0.12, -1.2, 0.22, 0.8, 0.4, 2.5)
                : Curve.at(Math.abs(ratio), 0.15, -0.8, 0.4, 0, 0.8, 1, 1.4, 2.5);
        if (weight > 0 && clear < 2.5) {
            weight *= clear / 2.5;
        }
        if (end == Followed.BY_STILLNESS && ratio < 0) {
            weight = Math.min(0, weight);
        }
        signs.add(new Sign(what, ratio, spread, weight, fromS, toS));
    }

    /**
     * ln of the chance density of this angle for a package that turned any way (sin θ/2) over that of the animal's own:
     * 93 % a Rayleigh of half the spread of its minutes (their mean wanders less), 7 % a mount that slipped by some 20°.
     */
    static double poseWeight(double angleDeg, double spreadDeg) {
        double theta = Math.toRadians(angleDeg);
        double own = Math.toRadians(Math.max(4, 0.5 * spreadDeg));
        double slip = Math.toRadians(20);
        double density = 0.93 * theta / (own * own) * Math.exp(-0.5 * theta * theta / (own * own))
                + 0.07 * theta / (slip * slip) * Math.exp(-0.5 * theta * theta / (slip * slip));
        return Math.max(-4.5, Math.min(3.5, Math.log(Math.max(1e-9, Math.sin(theta) / 2) / Math.max(1e-12, density))));
    }

    private static double logSpread(double[] x, int[] which, double centre) {
        double[] d = Arrays.stream(which)
                .mapToDouble(k -> Math.abs(Math.log(x[k] / centre)))
                .filter(v -> !Double.isNaN(v))
                .sorted()
                .toArray();
        return d.length == 0 ? 0.1 : 1.4826 * d[d.length / 2];
    }

    /** Temperature against the animal's own temperature–depth curve (medians by depth class) from before the change. */
    private static void temperature(MinuteTable m, int from, int change, int to, List<Sign> signs) {
        if (known(m.depthM(), from, to) < 10) {
            warmerThanBefore(m, from, change, to, signs);
            return;
        }
        double deepest = 1;
        for (int k = from; k < to; k++) {
            deepest = Double.isNaN(m.depthM()[k]) ? deepest : Math.max(deepest, m.depthM()[k]);
        }
        int classes = 25;
        double width = deepest / classes * 1.0001;
        double[][] byClass = new double[classes][];
        for (int c = 0; c < classes; c++) {
            double low = c * width;
            byClass[c] = java.util.stream.IntStream.range(from, change)
                    .filter(k -> m.depthM()[k] >= low && m.depthM()[k] < low + width && !Double.isNaN(m.tempC()[k]))
                    .mapToDouble(k -> m.tempC()[k])
                    .sorted()
                    .toArray();
        }
        double sum = 0;
        double squares = 0;
        double own = 0;
        double ambientLow = Double.POSITIVE_INFINITY;
        double ambientHigh = Double.NEGATIVE_INFINITY;
        int after = 0;
        int before = 0;
        for (int k = from; k < to; k++) {
            int c = (int) (Math.max(0, m.depthM()[k]) / width);
            if (Double.isNaN(m.depthM()[k]) || Double.isNaN(m.tempC()[k]) || c >= classes || byClass[c].length < 3) {
                continue;
            }
            double expected = byClass[c][byClass[c].length / 2];
            double d = m.tempC()[k] - expected;
            if (k < change) {
                own += d * d;
                before++;
            } else if (k > change + 5) {
                sum += d;
                squares += d * d;
                after++;
                ambientLow = Math.min(ambientLow, expected);
                ambientHigh = Math.max(ambientHigh, expected);
            }
        }
        if (before < 10 || after < 10) {
            return;
        }
        double spread = Math.max(0.05, Math.sqrt(own / before));
        double excess = sum / after;
        double rms = Math.sqrt(squares / after);
        double fromS = change * 60.0;
        double toS = to * 60.0;
        double warm = excess > 2 && excess > 4 * spread ? Curve.at(excess, 2, 2, 4, 4, 10, 6) : excess > 1 ? 0 : -0.2;
        signs.add(new Sign(What.WARM, excess, spread, warm, fromS, toS));
        // A package in open water follows the water; only a change of ambient temperature can show that.
        double range = ambientHigh - ambientLow;
        if (range > 6 * spread && range > 0.8) {
            double ratio = rms / spread;
            signs.add(new Sign(
                    What.TEMPERATURE_FOLLOWS, ratio, range, Curve.at(ratio, 1.2, -2, 2, -0.5, 3, 1, 6, 2), fromS, toS));
        }
    }

    /**
     * Without depth only a temperature that the water never had before can tell. Water warmer than any since the release
     * is met seldom, since the release passes the surface; it is weighed less than {@link What#WARM}.
     */
    private static void warmerThanBefore(MinuteTable m, int from, int change, int to, List<Sign> signs) {
        if (known(m.tempC(), from, change) < 10 || known(m.tempC(), change + 5, to) < 10) {
            return;
        }
        double warmest = OwnNormal.quantile(m.tempC(), from, change, 1);
        double excess = OwnNormal.quantile(m.tempC(), change + 5, to, 0.5) - warmest;
        double weight = Curve.at(excess, 0, -0.2, 1, 0, 2, 1.2, 4, 3, 10, 5);
        signs.add(new Sign(What.WARMER_THAN_BEFORE, excess, warmest, weight, change * 60.0, to * 60.0));
    }

    private static int known(double[] x, int from, int to) {
        int n = 0;
        for (int k = Math.max(0, from); k < Math.min(to, x.length); k++) {
            n += Double.isNaN(x[k]) ? 0 : 1;
        }
        return n;
    }

    private static double attackNear(List<Event> bursts, double otherwiseS, double lowS, double highS) {
        double at = otherwiseS;
        double size = 0;
        for (Event e : bursts) {
            if (e.atS() >= lowS && e.atS() <= highS && e.size() > size) {
                size = e.size();
                at = e.atS();
            }
        }
        return at;
    }

    private static int[] range(int from, int to) {
        return java.util.stream.IntStream.range(from, Math.max(from, to)).toArray();
    }
}
