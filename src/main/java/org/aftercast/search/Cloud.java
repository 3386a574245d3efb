package org.aftercast.search;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.aftercast.geo.Land;

/**
 * Particles: each a guess at where the package is and how it drifts, hears and is heard.
 *
 * <p>How they drift is {@link CloudDrift}'s, how they are drawn anew {@link CloudRenewal}'s. A sharp likelihood is applied in
 * stages ({@link Weighing}).
 */
final class Cloud {

    private static final double NEAREST_M = 30;
    private static final double UNDER_WATER_DB = -1000;

    /** Positions on the plane and traits, one entry a particle. */
    final double[] x;

    final double[] y;
    final double[] currentEast;
    final double[] currentNorth;
    final double[] windFactor;
    final double[] leewayRad;
    final double[] marginDb;
    final double[] lastLogM;
    final double[] logSdDeg;
    final double[] compassRad;
    final double[] tideScale;
    final double[] restless;

    /** When each came off the animal, in seconds after the start; −∞: before, +∞: never. */
    final double[] offAtS;

    final boolean[] ashore;
    final double[] weight;

    /** For each bearing, the angle from each particle to the bearing at its time, in radians; follows the particles. */
    final List<float[]> residuals = new ArrayList<>();

    private final SearchSettings settings;
    private final Sea sea;
    private final Land land;
    private final SplittableRandom random;
    private final Instant began;
    private final CloudDrift drifting;
    private Instant time;
    private double nowS;

    private Cloud(SearchSettings settings, Sea sea, Land land, Instant began, Instant time, SplittableRandom random) {
        int n = settings.particles();
        this.settings = settings;
        this.sea = sea;
        this.land = land;
        this.began = began;
        this.time = time;
        this.nowS = Sea.seconds(began, time);
        this.random = random;
        x = new double[n];
        y = new double[n];
        currentEast = new double[n];
        currentNorth = new double[n];
        windFactor = new double[n];
        leewayRad = new double[n];
        marginDb = new double[n];
        lastLogM = new double[n];
        Arrays.fill(lastLogM, Double.NaN);
        logSdDeg = new double[n];
        compassRad = new double[n];
        tideScale = new double[n];
        restless = new double[n];
        offAtS = new double[n];
        ashore = new boolean[n];
        weight = new double[n];
        drifting = new CloudDrift(this, settings, sea, land, began, random);
    }

    /** A cloud where the package came off, before anything was heard. */
    static Cloud around(HuntStart start, SearchSettings settings) {
        Cloud cloud = new Cloud(
                settings,
                start.sea(),
                start.land(),
                start.contact().time(),
                start.contact().time(),
                new SplittableRandom(settings.seed()));
        CloudStart.fill(cloud, start, settings, cloud.random);
        return cloud;
    }

    /** Whether a particle is still on the animal: under water, mute, and not drifting. */
    boolean attached(int i) {
        return offAtS[i] > nowS;
    }

    /** How much better than supposed a particle is heard, in dB; nothing is heard from under water. */
    double marginOf(int i) {
        return attached(i) ? UNDER_WATER_DB : marginDb[i];
    }

    double attachedShare() {
        double sum = 0;
        for (int i = 0; i < offAtS.length; i++) {
            sum += offAtS[i] > nowS ? weight[i] : 0;
        }
        return sum;
    }

    /** Share that had come off by a time, in seconds after the start. */
    double offBefore(double seconds) {
        double sum = 0;
        for (int i = 0; i < offAtS.length; i++) {
            sum += offAtS[i] < seconds ? weight[i] : 0;
        }
        return sum;
    }

    /** A copy that goes its own way; {@code salt} sets its randomness apart. */
    Cloud copy(long salt) {
        Cloud copy = new Cloud(settings, sea, land, began, time, new SplittableRandom(settings.seed() * 31 + salt));
        double[][] from = arrays();
        double[][] to = copy.arrays();
        for (int k = 0; k < from.length; k++) {
            System.arraycopy(from[k], 0, to[k], 0, from[k].length);
        }
        System.arraycopy(ashore, 0, copy.ashore, 0, ashore.length);
        return copy;
    }

    /** Fewer particles, drawn by weight. */
    Cloud thinned(SearchSettings fewer) {
        Cloud out = new Cloud(fewer, sea, land, began, time, new SplittableRandom(fewer.seed() * 31 + 17));
        int[] drawn = draw(out.size(), 19);
        double[][] from = arrays();
        double[][] to = out.arrays();
        for (int k = 0; k < from.length; k++) {
            for (int i = 0; i < drawn.length; i++) {
                to[k][i] = from[k][drawn[i]];
            }
        }
        for (int i = 0; i < drawn.length; i++) {
            out.ashore[i] = ashore[drawn[i]];
            out.weight[i] = 1.0 / drawn.length;
        }
        for (float[] residual : residuals) {
            float[] moved = new float[drawn.length];
            for (int i = 0; i < drawn.length; i++) {
                moved[i] = residual[drawn[i]];
            }
            out.residuals.add(moved);
        }
        return out;
    }

    double[][] arrays() {
        return new double[][] {
            x,
            y,
            currentEast,
            currentNorth,
            windFactor,
            leewayRad,
            marginDb,
            lastLogM,
            logSdDeg,
            compassRad,
            tideScale,
            restless,
            offAtS,
            weight
        };
    }

    Instant time() {
        return time;
    }

    int size() {
        return x.length;
    }

    Land land() {
        return land;
    }

    private double gauss() {
        return random.nextGaussian();
    }

    /**
     * Draws each particle's restlessness anew, given the velocity it has (a Gibbs move: r² is inverse gamma with ν + 2 degrees
     * of freedom and scale ν − 2 + |v/σ|²). A sharp measurement of the drift leaves few ancestors, and with them few
     * values of a trait that decides how wide the forecast grows.
     */
    void redrawRestless() {
        double sd = settings.drift().currentSdMps();
        double tail = settings.drift().volatilityTail();
        if (sd > 0) {
            for (int i = 0; i < x.length; i++) {
                double speed = Math.hypot(currentEast[i], currentNorth[i]) / sd;
                restless[i] = Resampling.heavyTail(random, tail + 2, tail - 2 + speed * speed);
            }
        }
    }

    /** Drifts all particles to a later time, in steps of the settings' length. */
    void advance(Instant to) {
        double total = Sea.seconds(time, to);
        if (total < 0) {
            throw new IllegalArgumentException("to: " + to + " is before the cloud's time " + time);
        }
        // Days without a word are run in longer steps, at most twelve times as long: still short against a tide.
        double longest = settings.drift().stepS() * Math.max(1, Math.min(12, total / (2 * 86_400)));
        int steps = (int) Math.ceil(total / longest);
        Instant from = time;
        for (int s = 0; s < steps; s++) {
            double stepS = total / steps;
            drifting.step(from.plusNanos((long) ((s + 0.5) * stepS * 1e9)), stepS);
        }
        time = to;
        nowS = Sea.seconds(began, to);
    }

    /**
     * The law of loss over distance is not exactly known: between two distances the margin wanders, its variance growing with the
     * logarithm of their ratio. Without this a boat that comes near would trust its first, far readings too much.
     */
    void wanderMargin(double ownX, double ownY) {
        double sdDb = settings.hearing().lossErrorDb();
        if (sdDb == 0) {
            return;
        }
        for (int i = 0; i < x.length; i++) {
            double logM = Math.log(Math.max(NEAREST_M, Math.hypot(x[i] - ownX, y[i] - ownY)));
            if (!Double.isNaN(lastLogM[i])) {
                marginDb[i] += sdDb * Math.sqrt(Math.abs(logM - lastLogM[i])) * gauss();
            }
            lastLogM[i] = logM;
        }
    }

    /** Wind, current and tide at one time. */
    record Flows(double[] wind, double[] current, double[] tide) {}

    /** What drives the particles at the cloud's time. */
    Flows flows() {
        return new Flows(sea.windAt(time), sea.currentAt(time), sea.tideAt(time));
    }

    /** East velocity of a particle over the ground in m/s, with a share of its wind drift. */
    double eastMps(Flows flows, int i, double windShare) {
        return flows.current[0]
                + currentEast[i]
                + flows.tide[0] * tideScale[i]
                + windShare
                        * windFactor[i]
                        * (flows.wind[0] * Math.cos(leewayRad[i]) + flows.wind[1] * Math.sin(leewayRad[i]));
    }

    /** North velocity of a particle over the ground in m/s, with a share of its wind drift. */
    double northMps(Flows flows, int i, double windShare) {
        return flows.current[1]
                + currentNorth[i]
                + flows.tide[1] * tideScale[i]
                + windShare
                        * windFactor[i]
                        * (flows.wind[1] * Math.cos(leewayRad[i]) - flows.wind[0] * Math.sin(leewayRad[i]));
    }

    /** Likelihood of one observation for each particle; may leave residuals for the bearing it is about. */
    interface Likelihood {
        /** Fills {@code logLikelihood} for all particles. */
        void fill(Cloud cloud, double[] logLikelihood);
    }

    /**
     * Weighs all particles by a likelihood; see {@link Weighing}.
     *
     * @return the log of the mean likelihood: how well the cloud foresaw the observation
     */
    double weigh(Likelihood likelihood) {
        return Weighing.weigh(this, likelihood);
    }

    /** Draws the particles anew by weight and jitters them; see {@link CloudRenewal}. */
    void resample() {
        CloudRenewal.resample(this, random);
    }

    /** Puts all particles around a place that was seen, keeping the traits of those that were near it. */
    void gatherAt(double centreX, double centreY, double sdM) {
        double wide = Math.max(sdM, 0.3 * Math.hypot(sd(x, mean(x)), sd(y, mean(y))));
        weigh((cloud, log) -> {
            for (int i = 0; i < log.length; i++) {
                double dx = x[i] - centreX;
                double dy = y[i] - centreY;
                log[i] = -(dx * dx + dy * dy) / (2 * wide * wide);
            }
        });
        resample();
        for (int i = 0; i < x.length; i++) {
            x[i] = centreX + sdM * gauss();
            y[i] = centreY + sdM * gauss();
            ashore[i] = land.isLand(x[i], y[i]);
            offAtS[i] = Math.min(offAtS[i], nowS);
        }
    }

    double mean(double[] values) {
        double sum = 0;
        for (int i = 0; i < values.length; i++) {
            sum += weight[i] * values[i];
        }
        return sum;
    }

    double sd(double[] values, double mean) {
        double sum = 0;
        for (int i = 0; i < values.length; i++) {
            sum += weight[i] * (values[i] - mean) * (values[i] - mean);
        }
        return Math.sqrt(sum);
    }

    double ashoreShare() {
        double sum = 0;
        for (int i = 0; i < ashore.length; i++) {
            sum += ashore[i] ? weight[i] : 0;
        }
        return sum;
    }

    /** Indices of {@code count} particles drawn by weight. */
    int[] draw(int count, long salt) {
        double start = new SplittableRandom(settings.seed() + salt).nextDouble();
        int[] times = Resampling.systematic(weight, count, start);
        int[] out = new int[count];
        int at = 0;
        for (int i = 0; i < times.length; i++) {
            for (int k = 0; k < times[i]; k++) {
                out[at++] = i;
            }
        }
        return out;
    }
}
