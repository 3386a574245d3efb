package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Finds how the package sits on the animal.
 *
 * <p>From blocks of level swimming: mean gravity gives the dorsal axis, the principal axis of the band-passed acceleration
 * across it gives the sway axis, and head is told from tail because an animal that swims upwards points upwards. A shift
 * of the mount turns gravity and sway axis together; an animal that changes its habitual roll turns gravity but not the
 * sway axis in the sensor, and is not taken for a shift.
 */
final class BodyFrame {

    /** Swimming on each side before a shift is believed, minutes. */
    private static final int LEAST_MINUTES = 10;
    /** Smallest shift that is looked for, degrees. */
    private static final double LEAST_STEP_DEG = 8;

    private static final double SURFACE_M = 0.7;
    /** Share of the band-passed movement of a stretch that lies along its principal axis when it is swimming. */
    private static final double LEAST_ON_ONE_AXIS = 0.7;

    /** Movement along an axis so far from the one before is not the same tail in the same mount, degrees. */
    private static final double OTHER_AXIS_DEG = 35;
    /** And the package lies at least so far from where it lay before, degrees. */
    private static final double FOREIGN_DEG = 20;

    private final Blocks blocks;
    private final float[] depthM;
    private final List<String> notes;
    private int leastBins = LEAST_MINUTES;
    /** One-minute bin of level swimming from which on another body seems to carry the package. */
    private int foreignFrom = Integer.MAX_VALUE;

    BodyFrame(Blocks blocks, float[] depthM, List<String> notes) {
        this.blocks = blocks;
        this.depthM = depthM;
        this.notes = notes;
    }

    List<FrameBlock> find(double durationS) {
        int[] swim = swimmingBlocks();
        if (swim.length < 3) {
            notes.add(
                    "No steady swimming was found, so the body frame could not be estimated; posture is in the sensor's"
                            + " own axes.");
            return List.of(new FrameBlock(
                    0, durationS, new double[] {1, 0, 0, 0, 1, 0, 0, 0, 1}, 180, 180, FrameBlock.Status.SENSOR_AXES));
        }
        List<int[]> stretches = stretches(swim);
        List<Pose> poses = new ArrayList<>();
        for (int[] stretch : stretches) {
            poses.add(pose(Arrays.copyOfRange(swim, stretch[0], stretch[1])));
        }
        settleHeads(poses);
        List<FrameBlock> frames = new ArrayList<>();
        double from = 0;
        for (int i = 0; i < poses.size(); i++) {
            double to = i + 1 < poses.size() ? (double) swim[stretches.get(i + 1)[0]] * blocks.lengthS() : durationS;
            Pose pose = poses.get(i);
            frames.add(new FrameBlock(
                    from,
                    to,
                    pose.rotation(),
                    pose.tiltSeDeg,
                    pose.headKnown ? pose.yawSeDeg : 180,
                    pose.headKnown ? FrameBlock.Status.FROM_SWIMMING : FrameBlock.Status.HEAD_UNCERTAIN));
            if (i > 0) {
                notes.add(String.format(
                        Locale.ROOT,
                        "The package shifted on its mount by %.0f degrees about %.1f h into the recording; the body frame was estimated"
                                + " anew from there.",
                        angleDeg(poses.get(i - 1).gravity, pose.gravity),
                        from / 3600));
            }
            from = to;
        }
        if (poses.stream().anyMatch(p -> !p.headKnown)) {
            notes.add(
                    "Head and tail could not be told apart from pitch during climbs, so the sign of pitch is uncertain.");
        }
        return frames;
    }

    /** Blocks with tailbeats: energy well above the quietest, mostly along one axis across gravity, off the surface. */
    private int[] swimmingBlocks() {
        List<Integer> likely = blocks.where(b -> acrossGravity(b) && offSurface(b));
        double[] energies = likely.stream().mapToDouble(blocks::energy).sorted().toArray();
        if (energies.length == 0) {
            return new int[0];
        }
        double strong = energies[(int) (0.9 * (energies.length - 1))];
        double least = Math.max(1e-9, 0.08 * strong);
        return likely.stream()
                .mapToInt(Integer::intValue)
                .filter(b -> blocks.energy(b) > least)
                .toArray();
    }

    private boolean offSurface(int b) {
        double depth = depthAt(blocks.middleS(b));
        return Double.isNaN(depth) || depth > SURFACE_M;
    }

    private boolean acrossGravity(int b) {
        double[] axis = principal(covariance(b));
        double[] g = unit(gravity(b));
        double vertical = Math.abs(dot(axis, g));
        return quadratic(covariance(b), axis) > 0.5 * blocks.energy(b) && vertical < 0.6;
    }

    private double depthAt(double seconds) {
        int k = (int) Math.max(0, Math.min(depthM.length - 1, Math.round(seconds)));
        return depthM[k];
    }

    /** Climb rate over a block in m/s, positive up; NaN without depth. */
    private double climbMps(int b) {
        double start = depthAt((double) b * blocks.lengthS());
        double end = depthAt((b + 1.0) * blocks.lengthS());
        return (start - end) / blocks.lengthS();
    }

    /**
     * Splits the swimming blocks where the mount shifted; returns [from, to) into {@code swim}. Looked for among level
     * blocks only, because an animal that dives or climbs tips the package as a shift would.
     */
    private List<int[]> stretches(int[] swim) {
        int[] level = levelOf(swim);
        int perBin = Math.max(1, 60 / blocks.lengthS());
        int bins = level.length / perBin;
        double[][] g = new double[bins][];
        for (int i = 0; i < bins; i++) {
            double[][] members = new double[perBin][];
            for (int k = 0; k < perBin; k++) {
                members[k] = unit(gravity(level[i * perBin + k]));
            }
            g[i] = unit(componentMedian(members));
        }
        leastBins = Math.max(5, (int) Math.round(LEAST_MINUTES * (double) level.length / swim.length));
        List<Integer> cuts = new ArrayList<>();
        split(g, 0, bins, cuts, level, perBin);
        cuts.removeIf(cut -> cut >= foreignFrom);
        cuts.sort(Integer::compare);
        List<int[]> stretches = new ArrayList<>();
        int from = 0;
        int levelFrom = 0;
        for (int cut : cuts) {
            int at = refine(level, levelFrom, cut * perBin, level.length, perBin);
            levelFrom = at;
            int to = widestGap(swim, level[at - 1], level[at]);
            stretches.add(new int[] {from, to});
            from = to;
        }
        int end = swim.length;
        if (foreignFrom < bins) {
            int first = level[Math.min(level.length - 1, foreignFrom * perBin)];
            end = Math.max(from + 3, Arrays.binarySearch(swim, first));
            notes.add(String.format(
                    Locale.ROOT,
                    "From about %.0f s on the package lies otherwise and is swung along another axis, as inside another"
                            + " body: the body frame is that of the swimming before.",
                    (double) first * blocks.lengthS()));
        }
        stretches.add(new int[] {from, Math.min(end, swim.length)});
        return stretches;
    }

    /** Index of the swimming block after the longest pause between two blocks: a shift in a pause shows only after it. */
    private static int widestGap(int[] swim, int before, int after) {
        int at = Arrays.binarySearch(swim, after);
        int best = at;
        int widest = 0;
        for (int i = at; i > 0 && swim[i] > before; i--) {
            if (swim[i] - swim[i - 1] > widest) {
                widest = swim[i] - swim[i - 1];
                best = i;
            }
        }
        return best;
    }

    /** Binary segmentation on the one-minute gravity directions. */
    private void split(double[][] g, int from, int to, List<Integer> cuts, int[] swim, int perBin) {
        if (to - from < 2 * leastBins) {
            return;
        }
        double[][] sums = new double[to - from + 1][3];
        for (int i = from; i < to; i++) {
            for (int c = 0; c < 3; c++) {
                sums[i - from + 1][c] = sums[i - from][c] + g[i][c];
            }
        }
        int n = to - from;
        int best = -1;
        double bestGain = 0;
        for (int k = leastBins; k <= n - leastBins; k++) {
            double gain = 0;
            for (int c = 0; c < 3; c++) {
                double left = sums[k][c] / k;
                double right = (sums[n][c] - sums[k][c]) / (n - k);
                gain += (left - right) * (left - right) * k * (n - k) / n;
            }
            if (gain > bestGain) {
                bestGain = gain;
                best = from + k;
            }
        }
        if (best < 0) {
            return;
        }
        double[] before = unit(componentMedian(Arrays.copyOfRange(g, from, best)));
        double[] after = unit(componentMedian(Arrays.copyOfRange(g, best, to)));
        double[] justBefore = unit(componentMedian(Arrays.copyOfRange(g, Math.max(from, best - leastBins), best)));
        double[] justAfter = unit(componentMedian(Arrays.copyOfRange(g, best, Math.min(to, best + leastBins))));
        double spread = spreadDeg(g, from, best, before, after, to);
        double step = angleDeg(before, after);
        double local = angleDeg(justBefore, justAfter);
        boolean real = step > LEAST_STEP_DEG
                && local > Math.max(LEAST_STEP_DEG, 0.6 * step)
                && step > 2.5 * spread
                && alongOneAxis(swim, from * perBin, best * perBin)
                && alongOneAxis(swim, best * perBin, to * perBin)
                && movedWithSway(swim, perBin, from, best, to, before, after);
        if (!real && foreign(g, from, best, to, before) && otherAxis(swim, perBin, from, best, to)) {
            foreignFrom = Math.min(foreignFrom, best);
            split(g, from, best, cuts, swim, perBin);
            return;
        }
        if (real) {
            cuts.add(best);
            split(g, from, best, cuts, swim, perBin);
            split(g, best, to, cuts, swim, perBin);
        }
    }

    /** Whether the movement of a stretch keeps to one axis, as sway does; what shakes a carcass does not. */
    private boolean alongOneAxis(int[] swim, int from, int to) {
        double[] c = meanCovariance(swim, from, to);
        return quadratic(c, principal(c)) > LEAST_ON_ONE_AXIS * (c[0] + c[3] + c[5]);
    }

    /** Whether the minutes after a cut lie far from where those before lay, however they wander themselves. */
    private static boolean foreign(double[][] g, int from, int cut, int to, double[] before) {
        double[] own = new double[cut - from];
        double[] later = new double[to - cut];
        for (int i = from; i < to; i++) {
            if (i < cut) {
                own[i - from] = angleDeg(g[i], before);
            } else {
                later[i - cut] = angleDeg(g[i], before);
            }
        }
        Arrays.sort(own);
        Arrays.sort(later);
        double off = later[later.length / 4]; // three minutes in four lie farther
        return off > FOREIGN_DEG && off > 4 * own[own.length / 2];
    }

    /**
     * Whether the axis of the movement lies otherwise in the sensor on the two sides. An animal that changes its habitual
     * roll keeps it.
     */
    private boolean otherAxis(int[] swim, int perBin, int from, int cut, int to) {
        double[] before = principal(meanCovariance(swim, from * perBin, cut * perBin));
        double[] after = principal(meanCovariance(swim, cut * perBin, to * perBin));
        return Math.abs(dot(before, after)) < Math.cos(Math.toRadians(OTHER_AXIS_DEG));
    }

    /** Median angle of the one-minute directions to their own side's median, degrees. */
    private static double spreadDeg(double[][] g, int from, int cut, double[] before, double[] after, int to) {
        double[] angles = new double[to - from];
        for (int i = from; i < to; i++) {
            angles[i - from] = angleDeg(g[i], i < cut ? before : after);
        }
        Arrays.sort(angles);
        return angles[angles.length / 2];
    }

    /**
     * Whether the sway axis stayed across gravity on both sides. When only the animal's roll changed, the sway axis stays
     * in the sensor and comes to lie along gravity.
     */
    private boolean movedWithSway(int[] swim, int perBin, int from, int cut, int to, double[] before, double[] after) {
        double[] swayBefore = principal(meanCovariance(swim, from * perBin, cut * perBin));
        double[] swayAfter = principal(meanCovariance(swim, cut * perBin, to * perBin));
        // Part of the step that lies in the plane across the old head axis: a roll of mount or animal.
        double rollPart = Math.abs(dot(swayBefore, after));
        if (rollPart < Math.sin(Math.toRadians(LEAST_STEP_DEG))) {
            return true; // a pitch step: sway axis says nothing
        }
        return Math.abs(dot(swayAfter, after)) < 0.5 * rollPart
                || Math.abs(dot(swayBefore, before)) > Math.abs(dot(swayAfter, after));
    }

    /** Moves a cut to the block where the gravity goes over from one side's direction to the other's. */
    private int refine(int[] swim, int from, int cut, int end, int perBin) {
        int lo = Math.max(from + 1, cut - 2 * perBin);
        int hi = Math.min(end - 1, cut + 2 * perBin);
        double[] before = meanGravity(swim, Math.max(from, lo - 10 * perBin), lo);
        double[] after = meanGravity(swim, hi, Math.min(end, hi + 10 * perBin));
        int best = cut;
        double bestScore = Double.POSITIVE_INFINITY;
        for (int at = lo; at <= hi; at++) {
            double score = 0;
            for (int k = lo; k < hi; k++) {
                score += angleDeg(unit(gravity(swim[k])), k < at ? before : after);
            }
            if (score < bestScore) {
                bestScore = score;
                best = at;
            }
        }
        return best;
    }

    private static final class Pose {
        double[] gravity = new double[3];
        double[] sway = new double[3];
        double tiltSeDeg;
        double yawSeDeg;
        boolean headKnown;

        double[] rotation() {
            double[] x = cross(sway, gravity);
            return new double[] {x[0], x[1], x[2], sway[0], sway[1], sway[2], gravity[0], gravity[1], gravity[2]};
        }
    }

    private Pose pose(int[] swim) {
        int[] level = levelOf(swim);
        double[][] directions = new double[level.length][];
        for (int i = 0; i < level.length; i++) {
            directions[i] = unit(gravity(level[i]));
        }
        Pose pose = new Pose();
        pose.gravity = unit(componentMedian(directions));
        double[] angles = new double[level.length];
        for (int i = 0; i < level.length; i++) {
            angles[i] = angleDeg(directions[i], pose.gravity);
        }
        Arrays.sort(angles);
        // Neighbouring blocks are alike: count one independent block in six.
        pose.tiltSeDeg = 1.25 * angles[angles.length / 2] / Math.sqrt(Math.max(1, level.length / 6.0));
        double[] cov = meanCovariance(swim, 0, swim.length);
        pose.sway = principalAcross(cov, pose.gravity);
        pose.yawSeDeg = yawSpread(swim, pose);
        settleHead(swim, pose);
        return pose;
    }

    /** The flattest 60 % by climb rate when there is depth, else all. */
    private int[] levelOf(int[] swim) {
        double[] climbs = new double[swim.length];
        int known = 0;
        for (int b : swim) {
            double climb = climbMps(b);
            if (!Double.isNaN(climb)) {
                climbs[known++] = Math.abs(climb);
            }
        }
        if (known < 5) {
            return swim;
        }
        double[] sorted = Arrays.copyOf(climbs, known);
        Arrays.sort(sorted);
        double limit = Math.max(0.02, sorted[(int) (0.6 * (known - 1))]);
        int[] level =
                Arrays.stream(swim).filter(b -> Math.abs(climbMps(b)) <= limit).toArray();
        return level.length >= 3 ? level : swim;
    }

    private double yawSpread(int[] swim, Pose pose) {
        double[] x = cross(pose.sway, pose.gravity);
        double[] angles = new double[swim.length];
        for (int i = 0; i < swim.length; i++) {
            double[] axis = principalAcross(covariance(swim[i]), pose.gravity);
            angles[i] =
                    Math.toDegrees(Math.atan(Math.abs(dot(axis, x) / Math.max(1e-9, Math.abs(dot(axis, pose.sway))))));
        }
        Arrays.sort(angles);
        return 1.5 * angles[angles.length / 2] / Math.sqrt(Math.max(1, swim.length / 3.0));
    }

    /** Turns the frame so that pitch rises with climbing; known when the slope stands clear of its error. */
    private void settleHead(int[] swim, Pose pose) {
        double[] x = cross(pose.sway, pose.gravity);
        double[] climbs = new double[swim.length];
        double[] pitches = new double[swim.length];
        int n = 0;
        for (int b : swim) {
            double climb = climbMps(b);
            if (!Double.isNaN(climb)) {
                climbs[n] = climb;
                pitches[n++] = dot(unit(gravity(b)), x);
            }
        }
        if (n >= 12) {
            // Ranks, so that a package that shoots up after it came off counts for no more than any other climb.
            double r = correlation(ranks(climbs, n), ranks(pitches, n));
            // Neighbouring blocks are alike: count one independent block in four.
            double t = r * Math.sqrt((n / 4.0) / Math.max(1e-9, 1 - r * r));
            if (Math.abs(t) > 3) {
                pose.headKnown = true;
                if (r < 0) {
                    turn(pose);
                }
                return;
            }
        }
        if (x[0] < 0 || (x[0] == 0 && x[1] < 0)) {
            turn(pose); // by convention the head lies nearer the sensor's own first axis
        }
    }

    /** Ranks 0 … n−1 of the first n values; ties in order of time. */
    private static double[] ranks(double[] values, int n) {
        Integer[] order = new Integer[n];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (i, j) -> Double.compare(values[i], values[j]));
        double[] ranks = new double[n];
        for (int k = 0; k < n; k++) {
            ranks[order[k]] = k;
        }
        return ranks;
    }

    private static double correlation(double[] a, double[] b) {
        double mean = (a.length - 1) / 2.0;
        double ab = 0;
        double aa = 0;
        for (int i = 0; i < a.length; i++) {
            ab += (a[i] - mean) * (b[i] - mean);
            aa += (a[i] - mean) * (a[i] - mean);
        }
        return aa > 0 ? ab / aa : 0; // ranks: both have the same spread
    }

    /** A stretch whose head is unknown takes the turn nearest to its known neighbour. */
    private static void settleHeads(List<Pose> poses) {
        for (int pass = 0; pass < 2; pass++) {
            for (int k = 0; k < poses.size(); k++) {
                int i = pass == 0 ? k : poses.size() - 1 - k;
                int neighbour = pass == 0 ? i - 1 : i + 1;
                if (poses.get(i).headKnown || neighbour < 0 || neighbour >= poses.size()) {
                    continue;
                }
                Pose known = poses.get(neighbour);
                if (!known.headKnown) {
                    continue;
                }
                Pose pose = poses.get(i);
                double same = trace(pose.rotation(), known.rotation());
                turn(pose);
                double turned = trace(pose.rotation(), known.rotation());
                if (same > turned) {
                    turn(pose);
                }
                pose.headKnown = Math.abs(same - turned) > 0.5;
            }
        }
    }

    private static double trace(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < 9; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    private static void turn(Pose pose) {
        for (int c = 0; c < 3; c++) {
            pose.sway[c] = -pose.sway[c];
        }
    }

    private double[] gravity(int b) {
        return Arrays.copyOfRange(blocks.gravity(), 3 * b, 3 * b + 3);
    }

    private double[] covariance(int b) {
        return Arrays.copyOfRange(blocks.covariance(), 6 * b, 6 * b + 6);
    }

    private double[] meanGravity(int[] swim, int from, int to) {
        double[][] members = new double[Math.max(1, to - from)][];
        for (int i = 0; i < members.length; i++) {
            members[i] = unit(gravity(swim[Math.min(swim.length - 1, from + i)]));
        }
        return unit(componentMedian(members));
    }

    /** Mean of the covariances, each divided by its trace so that bursts do not rule. */
    private double[] meanCovariance(int[] swim, int from, int to) {
        double[] mean = new double[6];
        for (int i = from; i < Math.min(to, swim.length); i++) {
            double[] c = covariance(swim[i]);
            double trace = Math.max(1e-12, blocks.energy(swim[i]));
            for (int k = 0; k < 6; k++) {
                mean[k] += c[k] / trace;
            }
        }
        return mean;
    }

    private static double[] componentMedian(double[][] vectors) {
        double[] median = new double[3];
        double[] part = new double[vectors.length];
        for (int c = 0; c < 3; c++) {
            for (int i = 0; i < vectors.length; i++) {
                part[i] = vectors[i][c];
            }
            Arrays.sort(part);
            int n = part.length;
            median[c] = n % 2 == 1 ? part[n / 2] : (part[n / 2 - 1] + part[n / 2]) / 2;
        }
        return median;
    }

    /** Principal axis of a covariance (xx, xy, xz, yy, yz, zz) by repeated squaring of the matrix. */
    static double[] principal(double[] c) {
        double[] m = {c[0], c[1], c[2], c[1], c[3], c[4], c[2], c[4], c[5]};
        for (int pass = 0; pass < 24; pass++) {
            double[] sq = new double[9];
            double norm = 0;
            for (int i = 0; i < 3; i++) {
                for (int j = 0; j < 3; j++) {
                    double v = m[3 * i] * m[j] + m[3 * i + 1] * m[3 + j] + m[3 * i + 2] * m[6 + j];
                    sq[3 * i + j] = v;
                    norm = Math.max(norm, Math.abs(v));
                }
            }
            if (!(norm > 0)) {
                return new double[] {0, 1, 0};
            }
            for (int i = 0; i < 9; i++) {
                m[i] = sq[i] / norm;
            }
        }
        int column = 0;
        for (int j = 1; j < 3; j++) {
            if (m[4 * j] > m[4 * column]) {
                column = j;
            }
        }
        return unit(new double[] {m[column], m[3 + column], m[6 + column]});
    }

    /** Principal axis of the covariance projected on the plane across a unit vector. */
    private static double[] principalAcross(double[] c, double[] normal) {
        double[] helper = Math.abs(normal[0]) < 0.8 ? new double[] {1, 0, 0} : new double[] {0, 1, 0};
        double[] u = unit(cross(normal, helper));
        double[] v = cross(normal, u);
        double uu = quadratic(c, u);
        double vv = quadratic(c, v);
        double uv = bilinear(c, u, v);
        double angle = 0.5 * Math.atan2(2 * uv, uu - vv);
        double cos = Math.cos(angle);
        double sin = Math.sin(angle);
        return unit(new double[] {cos * u[0] + sin * v[0], cos * u[1] + sin * v[1], cos * u[2] + sin * v[2]});
    }

    private static double quadratic(double[] c, double[] a) {
        return bilinear(c, a, a);
    }

    private static double bilinear(double[] c, double[] a, double[] b) {
        return a[0] * (c[0] * b[0] + c[1] * b[1] + c[2] * b[2])
                + a[1] * (c[1] * b[0] + c[3] * b[1] + c[4] * b[2])
                + a[2] * (c[2] * b[0] + c[4] * b[1] + c[5] * b[2]);
    }

    private static double[] unit(double[] v) {
        double n = Math.sqrt(dot(v, v));
        return n > 0 ? new double[] {v[0] / n, v[1] / n, v[2] / n} : new double[] {0, 0, 1};
    }

    private static double dot(double[] a, double[] b) {
        return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    }

    private static double[] cross(double[] a, double[] b) {
        return new double[] {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
    }

    private static double angleDeg(double[] a, double[] b) {
        return Math.toDegrees(Math.acos(Math.max(-1, Math.min(1, dot(a, b)))));
    }
}
