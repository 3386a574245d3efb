package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.motion.SecondTable;
import org.jspecify.annotations.Nullable;

/**
 * Bouts by a hidden Markov model with explicit durations over steps of a few seconds.
 *
 * <p>Features of a step, each relative to the record itself: movement u = ln(level/still)/ln(swimming/still), 0 when
 * nothing moves and 1 at the animal's own swimming, from sway and dynamic acceleration; share of seconds with a beat;
 * depth below the surface; vertical speed. A missing feature says nothing. Excluded by construction: from lying
 * motionless or from inside a predator back to swimming or resting; sinking to the surface. Weak-at-surface and sinking
 * cannot be seen without depth.
 *
 * <p>Resting and motionless look alike in a single step. What tells them apart (breathing, pose, length) is weighed once
 * for the whole stretch, see {@link StillEnd}; likewise for inside-predator, see {@link OtherBody}. The verdict opens or
 * closes those states from its moment on, and its probability is carried by the bout.
 */
final class StateModel {

    private static final BoutKind[] KINDS = {
        BoutKind.WEAK_AT_SURFACE,
        BoutKind.DESCENDING,
        BoutKind.RESTING,
        BoutKind.SWIMMING,
        BoutKind.MOTIONLESS,
        BoutKind.INSIDE_PREDATOR
    };

    static final int WEAK = 0;
    static final int SINK = 1;
    static final int REST = 2;
    static final int SWIM = 3;
    static final int DEAD = 4;
    static final int PREY = 5;
    static final int STATES = 6; // afloat is not decoded: the limits fix it

    private static final double NEVER = -1e6;
    private static final double MEAN_STILL_S = 3600;
    private static final double MEAN_PAUSE_S = 600;
    private static final double MEAN_SWIM_S = 3600;
    private static final double MEAN_SHORT_S = 120;

    /** A rest lies at most this far above the deepest the animal was within the hour, m, or this share of it. */
    private static final double OFF_BOTTOM_M = 4;

    private static final double OFF_BOTTOM_SHARE = 0.15;

    private final BehaviourSettings set;
    private final Moving.Source seenBy;
    private final RestsOnBottom rests;
    private final int from;
    private final int bins;
    private final double binS;
    private final double[][] emission;

    /**
     * Prepares the steps between two times.
     *
     * @param s per-second table
     * @param moving seconds with a beat
     * @param depth depth below the surface with short holes bridged, m
     * @param normal the animal's own yardsticks
     * @param fromS first second
     * @param toS one past the last second
     * @param in whether it can rest (priors of the transitions), depth of the site (where the bottom is at first)
     * @param set settings
     */
    StateModel(
            SecondTable s,
            Moving moving,
            double[] depth,
            OwnNormal normal,
            double fromS,
            double toS,
            BehaviourInputs in,
            BehaviourSettings set) {
        this.set = set;
        this.seenBy = moving.source();
        this.rests = in.restsOnBottom();
        this.from = (int) Math.ceil(fromS);
        this.binS = Math.max(1, Math.round(set.binS()));
        this.bins = Math.max(0, (int) ((Math.min(toS, s.seconds()) - from) / binS));
        this.emission = new double[bins][];
        int step = (int) binS;
        double lnSway = Math.log(normal.swayG() / Math.max(1e-9, normal.stillSwayG()));
        double lnDynamic = Math.log(normal.dynamicG() / Math.max(1e-9, normal.stillDynamicG()));
        for (int b = 0; b < bins; b++) {
            int at = from + b * step;
            double u = 0.5
                    * (level(s.swayRmsG(), at, step, normal.stillSwayG(), lnSway)
                            + level(s.dynamicL2G(), at, step, normal.stillDynamicG(), lnDynamic));
            double beats = moving.share(s, at, at + step);
            double z = mean(depth, at, at + step);
            int reach = 2 * step;
            double speed = slope(depth, Math.max(from, at - reach), Math.min(depth.length, at + step + reach));
            emission[b] = emissions(u, beats, z, speed);
        }
        offBottom(depth, in.siteDepthM());
    }

    /**
     * A rest lies on the bottom: what is far above the deepest of the hour around it (and, in the first hour, above the
     * depth of the site) counts less as one. A mild term, since the sea-bed slopes.
     */
    private void offBottom(double[] depth, @Nullable Double siteDepthM) {
        int minutes = (int) Math.ceil(depth.length / 60.0);
        double[] deepest = new double[minutes];
        for (int k = 0; k < minutes; k++) {
            deepest[k] = mean(depth, k * 60, (k + 1) * 60);
        }
        for (int b = 0; b < bins; b++) {
            int at = (int) (startS(b) / 60);
            double z = mean(depth, (int) startS(b), (int) (startS(b) + binS));
            double bottom = b * binS < 3600 && siteDepthM != null ? siteDepthM : Double.NaN;
            for (int k = Math.max(0, at - 30); k < Math.min(minutes, at + 30); k++) {
                bottom = Double.isNaN(bottom) || deepest[k] > bottom ? deepest[k] : bottom;
            }
            double off = (bottom - z) / Math.max(OFF_BOTTOM_M, OFF_BOTTOM_SHARE * bottom);
            emission[b][REST] += set.evidencePerStep() * Curve.at(off, 1, 0, 3, -1);
        }
    }

    /** Whether beats were seen or movement stands in for them. */
    Moving.Source seenBy() {
        return seenBy;
    }

    int bins() {
        return bins;
    }

    double startS(int bin) {
        return from + bin * binS;
    }

    int binAt(double atS) {
        return (int) Math.max(0, Math.min(bins, Math.floor((atS - from) / binS)));
    }

    private double[] emissions(double u, double beats, double z, double speed) {
        double moves = Double.isNaN(u) ? 0 : near(u, 1, 0.25, 0, 1e9);
        double still = Double.isNaN(u) ? 0 : near(u, 0.15, 0.2, 1e9, 0);
        if (!Double.isNaN(beats)) {
            moves += Math.log(0.12 + 0.76 * beats);
            still += Math.log(0.88 - 0.76 * beats);
        }
        boolean deepKnown = !Double.isNaN(z);
        boolean atSurface = deepKnown && z < set.surfaceM();
        double level = Double.isNaN(speed) ? 0 : near(speed, 0, 0.05, 0, 0);
        double sinks = Double.isNaN(speed) ? -5 : speed >= set.sinkMps() ? 0 : near(speed, set.sinkMps(), 0.02, 0, 0);
        double quietBeats = Double.isNaN(beats) ? 0 : Math.log(0.88 - 0.76 * beats);
        double[] e = new double[STATES];
        double share = set.evidencePerStep();
        e[SWIM] = share * (moves + (atSurface ? -0.7 : 0));
        e[REST] = share * (still + level + (atSurface ? -2 : 0));
        double weak = Double.isNaN(u) ? 0 : near(u, 0.6, 0.25, 1e9, 0); // weak beats come and go
        e[WEAK] = share * (deepKnown ? (atSurface ? weak - 0.6 : -6) + Math.max(-2, level) : -6);
        e[SINK] = share * (quietBeats + sinks + 0.4 + (Double.isNaN(u) || u < 0.7 ? 0 : -1.5));
        e[DEAD] = share * (still + level);
        e[PREY] = Math.max(e[SWIM], e[REST]);
        return e;
    }

    /** Log of a bell about {@code centre}, never below −6; beyond {@code freeLow} or {@code freeHigh} costs nothing. */
    private static double near(double v, double centre, double sd, double freeLow, double freeHigh) {
        if ((v > centre && freeHigh > 0) || (v < centre && freeLow > 0)) {
            return 0;
        }
        double zScore = (v - centre) / sd;
        return Math.max(-6, -0.5 * zScore * zScore);
    }

    private static double level(float[] x, int at, int step, double still, double lnRange) {
        double sum = 0;
        int n = 0;
        for (int i = at; i < Math.min(at + step, x.length); i++) {
            if (!Float.isNaN(x[i])) {
                sum += x[i];
                n++;
            }
        }
        return n == 0 || !(lnRange > 0)
                ? Double.NaN
                : Math.log(Math.max(sum / n, 1e-9) / Math.max(still, 1e-9)) / lnRange;
    }

    static double mean(double[] x, int at, int to) {
        double sum = 0;
        int n = 0;
        for (int i = Math.max(0, at); i < Math.min(to, x.length); i++) {
            if (!Double.isNaN(x[i])) {
                sum += x[i];
                n++;
            }
        }
        return n == 0 ? Double.NaN : sum / n;
    }

    private static double slope(double[] x, int at, int to) {
        double sx = 0;
        double sy = 0;
        double sxx = 0;
        double sxy = 0;
        int n = 0;
        for (int i = at; i < to; i++) {
            if (!Double.isNaN(x[i])) {
                double t = i - at;
                sx += t;
                sy += x[i];
                sxx += t * t;
                sxy += t * x[i];
                n++;
            }
        }
        double below = n * sxx - sx * sx;
        return n < 3 || below <= 0 ? Double.NaN : (n * sxy - sx * sy) / below;
    }

    /** First pass: only what a living animal does, resting standing for any stillness. */
    DwellModel.Decoded alive() {
        return decode(Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);
    }

    /**
     * With the turnings taken as certain.
     *
     * @param deadS it no longer swims, surfaces or rests from here on; infinite when it does not die
     * @param lyingS it lies motionless from here on, ≥ {@code deadS}
     * @param preyS it is inside a predator from here on (until {@code deadS}); infinite when it is not taken
     */
    DwellModel.Decoded decode(double deadS, double lyingS, double preyS) {
        double[][] e = new double[bins][];
        for (int b = 0; b < bins; b++) {
            e[b] = emission[b].clone();
            double at = startS(b) + 0.5 * binS;
            boolean dead = at >= deadS;
            boolean prey = !dead && at >= preyS;
            for (int k = 0; k < STATES; k++) {
                boolean open =
                        dead ? k == DEAD || (k == SINK && at < lyingS) : prey ? k == PREY : k != DEAD && k != PREY;
                e[b][k] = open ? e[b][k] : NEVER;
            }
        }
        double[][] goesTo = new double[STATES][STATES];
        boolean mustSwim = rests == RestsOnBottom.NO; // then stillness is rare and short
        goesTo[WEAK] = mustSwim ? row(0, 0.45, 0.02, 0.4, 0.08, 0.05) : row(0, 0.4, 0.1, 0.4, 0.05, 0.05);
        goesTo[SINK] = mustSwim ? row(0, 0, 0.1, 0.6, 0.25, 0.05) : row(0, 0, 0.4, 0.4, 0.15, 0.05);
        goesTo[REST] = row(0.05, 0.05, 0, 0.8, 0.05, 0.05);
        goesTo[SWIM] = mustSwim ? row(0.3, 0.3, 0.1, 0, 0.2, 0.1) : row(0.2, 0.2, 0.45, 0, 0.1, 0.05);
        goesTo[DEAD] = row(0, 0, 0, 0, 0, 0);
        goesTo[PREY] = row(0, 0, 0, 0, 1, 0);
        double[] start = {0.3, 0.3, 0.15, 0.22, 0.02, 0.01};
        int[] dwell = {
            steps(set.surfaceDwellS()),
            steps(set.descentDwellS()),
            steps(set.stillDwellS()),
            steps(set.swimDwellS()),
            1,
            1
        };
        double[] leave = {
            binS / MEAN_SHORT_S,
            binS / MEAN_SHORT_S,
            binS / (mustSwim ? MEAN_PAUSE_S : MEAN_STILL_S),
            binS / MEAN_SWIM_S,
            0,
            binS / MEAN_STILL_S
        };
        return new DwellModel(dwell, leave, goesTo, start).decode(e);
    }

    private static double[] row(double... weights) {
        return weights;
    }

    private int steps(double seconds) {
        return (int) Math.max(1, Math.round(seconds / binS));
    }

    /** Bouts of a path, with the mean posterior of each. */
    List<Bout> bouts(DwellModel.Decoded decoded, double endS) {
        List<Bout> found = new ArrayList<>();
        int begin = 0;
        int[] path = decoded.path();
        for (int b = 1; b <= path.length; b++) {
            if (b == path.length || path[b] != path[begin]) {
                double p = 0;
                for (int k = begin; k < b; k++) {
                    p += decoded.posterior()[k][path[begin]];
                }
                double to = b == path.length ? endS : startS(b);
                found.add(new Bout(KINDS[path[begin]], startS(begin), to, Math.min(1, p / (b - begin))));
                begin = b;
            }
        }
        return found;
    }

    /** Seconds that a path calls swimming. */
    boolean[] swimming(int[] path, int seconds) {
        boolean[] swims = new boolean[seconds];
        for (int b = 0; b < path.length; b++) {
            for (int i = (int) startS(b); path[b] == SWIM && i < Math.min(seconds, startS(b + 1)); i++) {
                swims[i] = true;
            }
        }
        return swims;
    }

    /** Runs of one state of a path: {@code {firstBin, pastLastBin}}. */
    static List<int[]> runs(int[] path, int state) {
        List<int[]> found = new ArrayList<>();
        int begin = -1;
        for (int b = 0; b <= path.length; b++) {
            boolean in = b < path.length && path[b] == state;
            if (in && begin < 0) {
                begin = b;
            } else if (!in && begin >= 0) {
                found.add(new int[] {begin, b});
                begin = -1;
            }
        }
        return found;
    }

    /** For tests: the emissions of a step. */
    double[] emissionAt(int bin) {
        return Arrays.copyOf(emission[bin], STATES);
    }
}
