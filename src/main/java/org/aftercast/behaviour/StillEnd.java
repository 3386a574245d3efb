package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.behaviour.Sign.What;
import org.aftercast.signal.RobustZ;
import org.jspecify.annotations.Nullable;

/**
 * A stillness that lasts to the end (or to the detachment): death or rest? Every sign is measured against the record
 * itself. For an animal that can rest immobility alone never decides: its weight is bounded below the prior.
 *
 * <ul>
 *   <li>Length. Must swim: ten to fifteen minutes without a beat are strong evidence (our default; no published figure).
 *       Can rest: −ln P(a rest lasts as long), from a Lomax predictive that starts at one and a half rests of two hours and
 *       learns from the animal's own rests; at most 1.5.
 *   <li>Breathing. White sensor noise has a jerk of √2 · rate · its size; a smooth movement such as gill pumping or
 *       swell lowers the ratio. The ratio is 1 for a package on which nothing moves.
 *   <li>Pose fixed, pose turned from the swimming pose, sinking without a beat right before, depth steady once the tide
 *       is taken out.
 * </ul>
 */
final class StillEnd {

    private StillEnd() {}

    /** Longest movement after death that scavengers may cause, s. */
    private static final double SCAVENGED_S = 5400;

    /**
     * Looks for it. Each stillness is tried as the beginning of death, earliest first; one that movement follows counts
     * only when that movement is short and not in the animal's own swimming pose.
     *
     * @param path most probable living states, see {@link StateModel#alive()}
     * @param prior prior log-odds of being dead
     * @return null when the animal moves at the end as its own
     */
    static @Nullable Turning find(
            StateModel model,
            int[] path,
            MinuteTable m,
            OwnNormal normal,
            double endS,
            BehaviourInputs in,
            List<Event> bursts,
            double prior) {
        List<int[]> swims = StateModel.runs(path, StateModel.SWIM);
        int from = 0;
        Turning earliest = null;
        Turning strongest = null;
        for (int i = 0; i <= swims.size(); i++) {
            int to = i < swims.size() ? swims.get(i)[0] : path.length;
            double laterS = 0;
            for (int[] swim : swims.subList(i, swims.size())) {
                laterS += model.startS(swim[1]) - model.startS(swim[0]);
            }
            double stillS = model.startS(to) - model.startS(from);
            boolean last = i == swims.size();
            if (stillS >= 600 && laterS <= Math.min(SCAVENGED_S, 0.6 * (endS - model.startS(from)))) {
                List<int[]> later = last ? null : swims.subList(i, swims.size());
                Turning found = weigh(model, path, m, normal, from, to, endS, in, bursts, later);
                int rolled = rollOver(model, m, normal, path, from, to);
                if (rolled > from && model.startS(to) - model.startS(rolled) >= 600) {
                    Turning then = weigh(model, path, m, normal, rolled, to, endS, in, bursts, later);
                    if (then.logOdds() > found.logOdds()) {
                        found = then;
                    }
                }
                if (last || found.logOdds() + prior > 0) {
                    earliest = earliest == null ? found : earliest;
                    strongest = strongest == null || found.logOdds() > strongest.logOdds() ? found : strongest;
                }
            }
            from = last ? from : swims.get(i)[1];
        }
        return earliest == null || strongest == null ? null : together(earliest, strongest);
    }

    /** Dead from the earliest stillness that counts as death; the signs are those of the one that shows it best. */
    private static Turning together(Turning earliest, Turning strongest) {
        List<Sign> signs = new ArrayList<>(strongest.signs());
        if (earliest.atS() < strongest.atS()) {
            signs.removeIf(sign -> sign.what() == What.MOVED_LATER || sign.what() == What.ATTACK);
            for (Sign sign : earliest.signs()) {
                if (sign.what() == What.MOVED_LATER || sign.what() == What.ATTACK) {
                    signs.add(sign);
                }
            }
        }
        return new Turning(earliest.kind(), earliest.atS(), earliest.lowS(), earliest.highS(), earliest.toS(), signs);
    }

    private static Turning weigh(
            StateModel model,
            int[] path,
            MinuteTable m,
            OwnNormal normal,
            int first,
            int past,
            double endS,
            BehaviourInputs in,
            List<Event> bursts,
            @Nullable List<int[]> later) {
        double onset = model.startS(first);
        double untilS = later == null ? endS : model.startS(past);
        int lying = first;
        while (lying < past && path[lying] != StateModel.REST) {
            lying++;
        }
        lying = lying == past ? first : lying;
        double lyingS = model.startS(Math.min(lying, model.bins()));
        int fromMin = (int) Math.ceil(lyingS / 60) + 1;
        int toMin = (int) Math.floor(untilS / 60);
        if (toMin - fromMin < 5) {
            fromMin = (int) Math.ceil(onset / 60);
        }
        List<double[]> rests = new ArrayList<>();
        for (int[] run : StateModel.runs(path, StateModel.REST)) {
            if (run[1] <= first) {
                rests.add(new double[] {model.startS(run[0]), model.startS(run[1])});
            }
        }
        List<Sign> signs = new ArrayList<>();
        signs.add(length(onset, untilS, rests, in.restsOnBottom(), model.seenBy()));
        if (model.seenBy() == Moving.Source.BEATS) { // else sampling is too slow to tell noise from movement
            breathing(m, fromMin, toMin, rests, signs);
        }
        quieter(m, fromMin, toMin, rests, signs);
        double[] up = upBefore(model, m, normal, path, first);
        pose(m, fromMin, toMin, rests, up, signs);
        sank(m, path, model, first, lying, in.siteDepthM(), signs);
        depth(m, fromMin, toMin, onset, signs);
        if (later != null) {
            movedLater(model, m, up, later, signs);
        }
        attack(onset, bursts, signs);
        return new Turning(
                Turning.Kind.STILL, onset, Math.max(0, onset - 60), Math.max(onset + 60, lyingS), endS, signs);
    }

    /**
     * Step at which the pose turns within a stillness, from within 45° of the swimming pose to more than 60° from it: an
     * animal that dies at rest rolls over. −1 when there is none.
     */
    private static int rollOver(StateModel model, MinuteTable m, OwnNormal normal, int[] path, int from, int to) {
        double[] up = upBefore(model, m, normal, path, from);
        int a = (int) Math.ceil(model.startS(from) / 60);
        int b = (int) Math.min(m.minutes(), model.startS(to) / 60);
        int found = -1;
        boolean upright = false;
        for (int k = a; k < b; k++) {
            if (Double.isNaN(m.gravityX()[k])) {
                continue;
            }
            double angle = MinuteMaker.angleDeg(up, new double[] {m.gravityX()[k], m.gravityY()[k], m.gravityZ()[k]});
            if (angle < 45) {
                upright = true;
                found = -1;
            } else if (upright && found < 0 && angle > 60) {
                found = k;
            }
        }
        return found < 0 ? -1 : model.binAt(found * 60.0 - 30);
    }

    /** Swimming pose of the minutes before a step; of the whole record when there are fewer than three. */
    private static double[] upBefore(StateModel model, MinuteTable m, OwnNormal normal, int[] path, int from) {
        int[] which = new int[m.minutes()];
        int n = 0;
        int last = -1;
        for (int b = 0; b < from; b++) {
            int minute = (int) (model.startS(b) / 60);
            if (path[b] == StateModel.SWIM && minute != last && minute < m.minutes()) {
                which[n++] = minute;
                last = minute;
            }
        }
        double[] up = OwnNormal.meanPose(m, java.util.Arrays.copyOf(which, n));
        return Double.isNaN(up[0])
                ? new double[] {normal.upX(), normal.upY(), normal.upZ(), normal.poseSpreadDeg()}
                : up;
    }

    /** Movement after the stillness began: the animal's own only if it swims in its own pose. */
    private static void movedLater(StateModel model, MinuteTable m, double[] up, List<int[]> later, List<Sign> signs) {
        double seconds = 0;
        double[] sum = new double[3];
        for (int[] run : later) {
            double a = model.startS(run[0]);
            double b = model.startS(run[1]);
            seconds += b - a;
            for (int k = (int) (a / 60); k <= b / 60 && k < m.minutes(); k++) {
                if (!Double.isNaN(m.gravityX()[k])) {
                    sum[0] += m.gravityX()[k];
                    sum[1] += m.gravityY()[k];
                    sum[2] += m.gravityZ()[k];
                }
            }
        }
        double angle = Double.isNaN(up[0]) ? Double.NaN : MinuteMaker.angleDeg(sum, up);
        double weight = Double.isNaN(angle) ? -2 : Curve.at(angle, 15, -8, 35, -4, 60, -0.5, 80, 0);
        signs.add(new Sign(
                What.MOVED_LATER,
                seconds / 60,
                angle,
                weight,
                model.startS(later.get(0)[0]),
                model.startS(later.get(later.size() - 1)[1])));
    }

    /**
     * A burst at the onset; weighed by {@code fate} for the predator, not for death. A carcass that rolls over makes a short
     * burst too, so that an attack must last; how long is our default.
     */
    private static void attack(double onset, List<Event> bursts, List<Sign> signs) {
        double near = 0;
        double lasted = 0;
        double elsewhere = 0;
        double atS = onset;
        for (Event e : bursts) {
            if (e.atS() + e.durationS() > onset - 90 && e.atS() < onset + 60) {
                if (e.size() > near) {
                    near = e.size();
                    atS = e.atS();
                    lasted = e.durationS();
                }
            } else if (e.atS() < onset) {
                elsewhere = Math.max(elsewhere, e.size());
            }
        }
        double weight = near == 0
                ? -2.5
                : Curve.at(lasted, 4, -1.5, 8, 1.5, 12, 3)
                        + Curve.at(near / Math.max(2, elsewhere), 0.7, -1.5, 1.3, 0.3);
        signs.add(new Sign(What.ATTACK, near, elsewhere, weight, atS, onset));
    }

    /**
     * Movement left against that of earlier rests, in which the animal breathed: the clearest of sway, dynamic acceleration
     * and wave-band acceleration, by the difference of medians over the minutes' own robust spread. As quiet as earlier
     * rests speaks for rest only where those rests showed more than noise.
     */
    private static void quieter(MinuteTable m, int from, int to, List<double[]> rests, List<Sign> signs) {
        double clearest = 0;
        double ratioThere = Double.NaN;
        double level = Double.NaN;
        for (double[] x : new double[][] {m.swayG(), m.dynamicG(), m.waveG()}) {
            double[] before = over(x, rests);
            double[] now = java.util.Arrays.stream(x, from, Math.min(to, x.length))
                    .filter(v -> !Double.isNaN(v))
                    .toArray();
            if (before.length < 5 || now.length < 5) {
                continue;
            }
            double a = RobustZ.median(before);
            double b = RobustZ.median(now);
            double spread = Math.max(
                    1.4826 * Math.max(RobustZ.medianAbsoluteDeviation(before), RobustZ.medianAbsoluteDeviation(now)),
                    0.01 * a);
            double clear = (a - b) / spread;
            if (Double.isNaN(ratioThere) || Math.abs(clear) > Math.abs(clearest)) {
                clearest = clear;
                ratioThere = b / a;
                level = a;
            }
        }
        if (Double.isNaN(ratioThere)) {
            return;
        }
        double[] smooth = over(m.smoothness(), rests);
        boolean breathed = smooth.length >= 5 && RobustZ.median(smooth) < 0.95;
        double same = breathed ? -2.5 : 0;
        double weight = clearest > 0
                ? Curve.at(clearest, 0.5, same, 1.5, Math.max(same, 0.3), 4, 2.5)
                : Curve.at(-clearest, 0.5, same, 3, -2);
        signs.add(new Sign(What.QUIETER_THAN_REST, ratioThere, level, weight, from * 60.0, to * 60.0));
    }

    private static Sign length(
            double onset, double endS, List<double[]> rests, RestsOnBottom can, Moving.Source seenBy) {
        double hours = (endS - onset) / 3600;
        double longest =
                rests.stream().mapToDouble(r -> (r[1] - r[0]) / 3600).max().orElse(0);
        double shape = 1.5;
        double scale = 3;
        for (double[] r : rests) {
            shape += 1;
            scale += (r[1] - r[0]) / 3600;
        }
        double ifRests = Math.min(1.5, shape * Math.log1p(hours / scale));
        double ifSwims = Curve.at(hours * 60, 5, -1, 15, 3, 60, 5, 180, 7);
        boolean hasRested = longest * 60 > 5;
        double logOdds = switch (can) {
            case NO -> hasRested ? 0.5 * (ifRests + ifSwims) : ifSwims;
            case YES -> ifRests;
            case UNKNOWN -> hasRested ? ifRests : Math.min(3, 0.5 * (ifRests + ifSwims));
        };
        What what = seenBy == Moving.Source.BEATS ? What.STILL_HOURS : What.MOTIONLESS_HOURS;
        return new Sign(what, hours, longest, logOdds, onset, endS);
    }

    private static void breathing(MinuteTable m, int from, int to, List<double[]> rests, List<Sign> signs) {
        double now = OwnNormal.quantile(m.smoothness(), from, to, 0.5);
        if (Double.isNaN(now)) {
            return;
        }
        double[] all = over(m.smoothness(), rests);
        double before = all.length < 3 ? Double.NaN : RobustZ.median(all);
        // Noise alone gives 1, down to 0.9 with a coarse converter; breathing as large as the noise gives 0.8.
        double logOdds = Curve.at(now, 0.6, -2.5, 0.8, -1.5, 0.89, 0, 0.97, 1.5);
        if (!Double.isNaN(before) && Math.abs(before - now) < 0.03) { // as in rests from which it woke again
            logOdds = Math.min(logOdds, -0.4) - (before < 0.9 ? 1 : 0);
        }
        signs.add(new Sign(What.BREATHING, now, before, logOdds, from * 60.0, to * 60.0));
    }

    /** Minutes well inside earlier rests. */
    private static double[] over(double[] x, List<double[]> rests) {
        double[] kept = new double[x.length];
        int n = 0;
        for (double[] r : rests) {
            for (int k = (int) Math.ceil(r[0] / 60) + 1; k < r[1] / 60 - 1 && k < x.length; k++) {
                if (!Double.isNaN(x[k])) {
                    kept[n++] = x[k];
                }
            }
        }
        return java.util.Arrays.copyOf(kept, n);
    }

    private static void pose(MinuteTable m, int from, int to, List<double[]> rests, double[] up, List<Sign> signs) {
        double[] mean = poseMean(m, from, to);
        if (Double.isNaN(mean[0])) {
            return;
        }
        double largest = largestShift(m, from, to);
        double before = Double.NaN;
        for (double[] r : rests) {
            int a = (int) Math.ceil(r[0] / 60) + 1;
            int b = (int) (r[1] / 60) - 1;
            if (b - a >= 10) {
                before = Double.isNaN(before) ? largestShift(m, a, b) : Math.max(before, largestShift(m, a, b));
            }
        }
        double hours = (to - from) / 60.0;
        double fixed = Curve.at(largest, 1, 1.5, 3, 0.5, 8, -0.5) * Math.min(1, hours);
        if (!Double.isNaN(before) && before <= largest * 1.5 && fixed > 0) {
            fixed *= 0.3; // its rests were as still
        }
        signs.add(new Sign(What.POSE_FIXED, largest, before, fixed, from * 60.0, to * 60.0));
        double[] shifts = shifts(m, from, to);
        double wanders = shifts.length < 5 ? 0 : RobustZ.median(shifts);
        if (wanders > 3) { // what lies dead does not keep turning; what is carried about does
            double weight = Curve.at(wanders, 3, 0, 8, -3);
            signs.add(new Sign(What.POSE_WANDERS, wanders, before, weight, from * 60.0, to * 60.0));
        }
        if (!Double.isNaN(up[0])) {
            double angle = MinuteMaker.angleDeg(mean, up);
            // An upright pose speaks for rest: of carcasses, perhaps one in ten comes to lie so (our estimate).
            double weight = Curve.at(angle, 15, -1.5, 35, 0, 60, 2, 100, 3.5);
            signs.add(new Sign(What.POSE_TURNED, angle, up[3], weight, from * 60.0, to * 60.0));
        }
    }

    private static double[] poseMean(MinuteTable m, int from, int to) {
        int[] which = new int[Math.max(0, Math.min(to, m.minutes()) - from)];
        for (int i = 0; i < which.length; i++) {
            which[i] = from + i;
        }
        return OwnNormal.meanPose(m, which);
    }

    /** Largest angle between the poses of successive ten-minute pieces, degrees; NaN when there is only one. */
    private static double largestShift(MinuteTable m, int from, int to) {
        return java.util.Arrays.stream(shifts(m, from, to)).max().orElse(Double.NaN);
    }

    /** Angles between the poses of successive ten-minute pieces (five-minute ones in less than half an hour), degrees. */
    private static double[] shifts(MinuteTable m, int from, int to) {
        int step = to - from >= 30 ? 10 : 5;
        double[] found = new double[Math.max(0, (to - from) / step)];
        int n = 0;
        double[] last = null;
        for (int k = from; k + step <= Math.min(to, m.minutes()); k += step) {
            double[] pose = poseMean(m, k, k + step);
            if (Double.isNaN(pose[0])) {
                continue;
            }
            if (last != null) {
                found[n++] = MinuteMaker.angleDeg(last, pose);
            }
            last = pose;
        }
        return java.util.Arrays.copyOf(found, n);
    }

    private static void sank(
            MinuteTable m,
            int[] path,
            StateModel model,
            int first,
            int lying,
            @Nullable Double siteDepthM,
            List<Sign> signs) {
        double seconds = model.startS(lying) - model.startS(first);
        int a = (int) (model.startS(first) / 60);
        int b = (int) Math.min(m.minutes() - 1, Math.ceil(model.startS(Math.min(lying, path.length)) / 60));
        if (seconds < 20 || b < 0 || a >= m.minutes()) {
            return;
        }
        double drop = m.depthM()[b] - m.depthM()[a];
        if (drop > 2) {
            signs.add(new Sign(
                    What.SANK,
                    drop,
                    drop / seconds,
                    Curve.at(drop, 2, 0.3, 10, 1.5),
                    model.startS(first),
                    model.startS(lying)));
            double depthM = m.depthM()[b];
            if (siteDepthM != null && first == 0) {
                // Straight from the release to the bottom: a swimming animal would level off before. Tide and a sloping
                // sea-bed leave some metres open; coming to lie far off says nothing, the sea-bed may lie elsewhere.
                double off = Math.abs(depthM - siteDepthM) / Math.max(3, 0.1 * siteDepthM);
                signs.add(new Sign(
                        What.CAME_TO_SITE_DEPTH,
                        depthM,
                        siteDepthM,
                        Curve.at(off, 0.5, 0.7, 1.5, 0),
                        model.startS(first),
                        model.startS(lying)));
            }
        }
    }

    private static void depth(MinuteTable m, int from, int to, double onset, List<Sign> signs) {
        int end = Math.min(to, m.minutes());
        if (end - from < 8) {
            return;
        }
        double[] z = java.util.Arrays.copyOfRange(m.depthM(), from, end);
        double spread = Tide.residualSpreadM(z, 60);
        if (!Double.isNaN(spread)) {
            double weight = Curve.at(spread, 0.2, 0.3, 0.5, 0, 1.5, -2, 4, -4);
            signs.add(new Sign(What.DEPTH_STEADY, spread, Double.NaN, weight, Math.max(onset, from * 60.0), to * 60.0));
        }
    }
}
