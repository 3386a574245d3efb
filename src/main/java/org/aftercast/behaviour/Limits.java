package org.aftercast.behaviour;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.aftercast.motion.SecondTable;
import org.aftercast.signal.RobustZ;
import org.jspecify.annotations.Nullable;

/**
 * The two limits of the time at risk: when the animal was let go and when the package came off it.
 *
 * <p>Release: depth stays at its zero on deck; the last such moment before the first sustained descent, moved back to the
 * first wetting where the depth begins to waver at the surface. Detachment: depth stays at the surface to the end of the
 * record; the moment is the start of the rise that leads there, or the step of the pose.
 *
 * @param release when let go
 * @param detachment when the package came off; {@code NOT_SEEN} at the end of the record when it never did
 * @param afloatFromS when the package reached the surface, or the end of the record
 * @param poseStepDeg angle between the pose afloat and the pose of the hours before, degrees; {@code NaN} when not seen
 * @param riseMps mean speed of the rise, m/s; {@code NaN} when none was seen
 * @param mayFloatFromS a package afloat may hide, unseen, in what is read as the animal's own from here on; infinite when it
 *     cannot
 * @param mayLieOnDeckToS likewise time on deck up to here; 0 when it cannot
 */
record Limits(
        Moment release,
        Moment detachment,
        double afloatFromS,
        double poseStepDeg,
        double riseMps,
        double mayFloatFromS,
        double mayLieOnDeckToS) {

    private static final double NEVER = Double.POSITIVE_INFINITY;

    /** Longest hole in depth that is bridged to find the limits, s. */
    private static final int BRIDGE_S = 150;

    static Limits find(
            SecondTable s,
            Moving moving,
            float[][] gravity,
            MinuteTable minutes,
            BehaviourInputs in,
            BehaviourSettings set,
            List<String> notes) {
        double[] depth = filled(s.depthM());
        double zero = surfaceLevel(depth);
        for (int i = 0; i < depth.length; i++) {
            depth[i] -= zero;
        }
        boolean hasDepth = share(depth) > 0.3;
        if (!hasDepth) {
            notes.add("There is no depth: release and detachment can only be seen from posture and waves.");
        }
        Moment release = release(depth, hasDepth, in, set);
        if (!hasDepth && in.detachS() == null) {
            return byWaves(gravity, minutes, release, in, set);
        }
        return detachment(s, moving, gravity, depth, hasDepth, release, in, set);
    }

    /** Depth with holes up to {@link #BRIDGE_S} bridged by straight lines. */
    static double[] filled(float[] depth) {
        double[] out = new double[depth.length];
        int last = -1;
        for (int i = 0; i < depth.length; i++) {
            out[i] = depth[i];
            if (!Float.isNaN(depth[i])) {
                if (last >= 0 && i - last > 1 && i - last <= BRIDGE_S) {
                    for (int k = last + 1; k < i; k++) {
                        out[k] = depth[last] + (depth[i] - depth[last]) * (double) (k - last) / (i - last);
                    }
                }
                last = i;
            }
        }
        return out;
    }

    /** What the sensor reads at the surface: its 1 % point when that is between −1.5 and 0.5 m, else 0. */
    static double surfaceLevel(double[] depth) {
        double[] sorted =
                Arrays.stream(depth).filter(d -> !Double.isNaN(d)).sorted().toArray();
        if (sorted.length < 60) {
            return 0;
        }
        double level = sorted[sorted.length / 100];
        return level >= -1.5 && level < 0.5 ? level : 0;
    }

    private static double share(double[] x) {
        return x.length == 0
                ? 0
                : (double) Arrays.stream(x).filter(v -> !Double.isNaN(v)).count() / x.length;
    }

    private static Moment release(double[] depth, boolean hasDepth, BehaviourInputs in, BehaviourSettings set) {
        if (in.releaseS() != null) {
            double at = in.releaseS();
            return new Moment(at, at, at, Moment.How.GIVEN, "The release was given.");
        }
        if (!hasDepth) {
            return new Moment(
                    0,
                    0,
                    0,
                    Moment.How.NOT_SEEN,
                    "The release cannot be seen without depth; taken as the first sample.");
        }
        int deep = firstSustained(depth, set.sustainedDescentM());
        if (deep < 0) {
            return new Moment(
                    0, 0, 0, Moment.How.NOT_SEEN, "There is no descent; the release is taken as the first sample.");
        }
        int start = deep;
        while (start > 0 && !(depth[start] < 0.5)) {
            start--;
        }
        if (start < 10) {
            return new Moment(
                    0, 0, start, Moment.How.NOT_SEEN, "The record begins under water or less than 10 s before.");
        }
        int wet = firstWaver(depth, start);
        double at = wet >= 0 ? wet : start;
        String note = wet >= 0
                ? String.format(
                        Locale.ROOT,
                        "Depth lay at its zero for %.1f min, wavered at the surface from then on, and the first descent"
                                + " below %.0f m began %.1f min later.",
                        at / 60,
                        set.sustainedDescentM(),
                        (start - at) / 60)
                : String.format(
                        Locale.ROOT,
                        "Depth lay near its zero for %.1f min, up to the first descent below %.0f m.",
                        at / 60,
                        set.sustainedDescentM());
        return new Moment(at, Math.max(0, at - 20), Math.max(at, start), Moment.How.FOUND, note);
    }

    /** First second from which depth stays below {@code limit} for most of the next minute. */
    private static int firstSustained(double[] depth, double limit) {
        int deep = 0;
        int n = depth.length;
        for (int i = 0; i < n; i++) {
            deep += depth[i] > limit ? 1 : 0;
            if (i >= 60) {
                deep -= depth[i - 60] > limit ? 1 : 0;
                if (deep >= 50) {
                    int from = i - 59;
                    while (from < i && !(depth[from] > limit)) {
                        from++;
                    }
                    return from;
                }
            }
        }
        return -1;
    }

    /** First second before {@code until} where depth leaves the level it had on deck, for half of the next 20 s; or −1. */
    private static int firstWaver(double[] depth, int until) {
        int calm = Math.min(30, until / 3);
        if (calm < 10) {
            return -1;
        }
        double[] first = Arrays.copyOf(depth, calm);
        if (Arrays.stream(first).allMatch(Double::isNaN)) {
            return -1;
        }
        double level = RobustZ.median(first);
        double noise = 1.4826 * RobustZ.medianAbsoluteDeviation(first);
        double limit = Math.max(0.08, 4 * noise);
        for (int i = calm; i < until - 20; i++) {
            int off = 0;
            for (int k = i; k < i + 20; k++) {
                off += Math.abs(depth[k] - level) > limit ? 1 : 0;
            }
            if (off >= 10) {
                int wet = i;
                while (Math.abs(depth[wet] - level) <= limit) {
                    wet++;
                }
                return wet;
            }
        }
        return -1;
    }

    private static Limits detachment(
            SecondTable s,
            Moving moving,
            float[][] gravity,
            double[] depth,
            boolean hasDepth,
            Moment release,
            BehaviourInputs in,
            BehaviourSettings set) {
        int n = s.seconds();
        int surfaced = n;
        if (hasDepth) {
            int deepRun = 0;
            while (surfaced > 0 && deepRun < 5) { // a lone wave or spike does not count as going down again
                surfaced--;
                deepRun = depth[surfaced] > set.surfaceM() ? deepRun + 1 : 0;
            }
            surfaced = deepRun >= 5 ? surfaced + 5 : n;
            while (surfaced < n && Double.isNaN(depth[surfaced])) {
                surfaced++;
            }
        }
        Double given = in.detachS();
        if (given != null) {
            double at = Math.min(given, in.durationS());
            double top = hasDepth && surfaced < n && surfaced >= at - 600 ? Math.max(at, surfaced) : at;
            return new Limits(
                    release,
                    new Moment(at, at, at, Moment.How.GIVEN, "The detachment was given."),
                    top,
                    poseStep(gravity, (int) at, (int) top),
                    Double.NaN,
                    NEVER,
                    hidden(release, hasDepth));
        }
        double end = in.durationS();
        Limits never = new Limits(
                release,
                new Moment(end, end, end, Moment.How.NOT_SEEN, "The package stayed on to the end of the record."),
                end,
                Double.NaN,
                Double.NaN,
                NEVER,
                hidden(release, hasDepth));
        if (!hasDepth || n - surfaced < set.afloatMin() * 60) {
            return never;
        }
        int rise = riseStart(depth, s.depthM(), surfaced, set.riseMps());
        double angle = poseStep(gravity, rise, surfaced);
        double beats = moving.share(s, surfaced, n);
        double before = moving.share(s, Math.max((int) release.atS(), rise - 3600), rise);
        double fromM = depth[rise];
        double speed = surfaced > rise ? (fromM - depth[Math.min(n - 1, surfaced)]) / (surfaced - rise) : Double.NaN;
        double logOdds = (angle > 25 ? 3 : angle < 12 ? -2 : 0)
                + (fromM > 3 && speed > set.riseMps() ? 2 : -1)
                + (beats < 0.3 ? 1 : beats > 0.7 * before ? -1 : 0)
                + Math.min(3, Math.log((n - surfaced) / 60.0 / set.afloatMin()));
        if (logOdds < 0.5) {
            return never;
        }
        String note = String.format(
                Locale.ROOT,
                "From %.2f h after the first sample the package stayed within %.1f m of the surface; it rose from %.1f m at"
                        + " %.2f m/s and its pose turned by %.0f°.",
                surfaced / 3600.0,
                set.surfaceM(),
                fromM,
                Double.isNaN(speed) ? 0 : speed,
                Double.isNaN(angle) ? 0 : angle);
        return new Limits(
                release,
                new Moment(rise, Math.max(release.atS(), rise - 30.0), surfaced, Moment.How.FOUND, note),
                surfaced,
                angle,
                speed,
                NEVER,
                0);
    }

    /** Without depth: {@link FloatByWaves}. */
    private static Limits byWaves(
            float[][] gravity, MinuteTable minutes, Moment release, BehaviourInputs in, BehaviourSettings set) {
        double end = in.durationS();
        FloatByWaves seen = FloatByWaves.find(gravity, minutes, release.atS(), set);
        double deck = hidden(release, false);
        if (seen != null && seen.logOdds() >= FloatByWaves.CALLED) {
            double at = Math.max(release.atS() + 1, seen.atS());
            return new Limits(
                    release,
                    new Moment(
                            at, Math.min(at, seen.lowS()), Math.max(at, seen.highS()), Moment.How.FOUND, seen.note()),
                    Math.min(end, at + 1),
                    seen.angleDeg(),
                    Double.NaN,
                    NEVER,
                    deck);
        }
        double floatsFrom =
                seen == null ? release.atS() : seen.logOdds() <= FloatByWaves.RULED_OUT ? NEVER : seen.lowS();
        return new Limits(
                release,
                new Moment(end, end, end, Moment.How.NOT_SEEN, "No float was seen in pose and waves by the end."),
                end,
                Double.NaN,
                Double.NaN,
                floatsFrom,
                deck);
    }

    /** Without depth and without a given release, any part of the record may be time on deck. */
    private static double hidden(Moment release, boolean hasDepth) {
        return hasDepth || release.how() != Moment.How.NOT_SEEN ? 0 : NEVER;
    }

    /** Second at which the last steady rise before {@code surfaced} begins; seconds in a hole of the depth do not count. */
    private static int riseStart(double[] depth, float[] seen, int surfaced, double riseMps) {
        int at = Math.min(surfaced, depth.length - 1);
        int best = at;
        int since = 0;
        double least = depth[at];
        while (at >= 10 && since < 15) {
            at--;
            if (Float.isNaN(seen[at])) {
                continue;
            }
            since++;
            if (depth[at] > least + riseMps * (best - at)) {
                least = depth[at];
                best = at;
                since = 0;
            }
        }
        return best;
    }

    /** Angle between the mean pose of up to an hour before and after, degrees. */
    private static double poseStep(float[][] gravity, int before, int after) {
        double[] a = mean(gravity, Math.max(0, before - 3600), before - 5);
        double[] b = mean(gravity, after + 5, Math.min(gravity[0].length, after + 3600));
        return a == null || b == null ? Double.NaN : MinuteMaker.angleDeg(a, b);
    }

    static double @Nullable [] mean(float[][] gravity, int from, int to) {
        double[] m = new double[3];
        int n = 0;
        for (int i = Math.max(0, from); i < Math.min(to, gravity[0].length); i++) {
            if (!Float.isNaN(gravity[0][i])) {
                n++;
                for (int a = 0; a < 3; a++) {
                    m[a] += gravity[a][i];
                }
            }
        }
        double length = Math.sqrt(m[0] * m[0] + m[1] * m[1] + m[2] * m[2]);
        if (n < 10 || length < 1e-6) {
            return null;
        }
        for (int a = 0; a < 3; a++) {
            m[a] /= length;
        }
        return m;
    }
}
