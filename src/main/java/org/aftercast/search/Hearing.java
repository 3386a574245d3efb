package org.aftercast.search;

import java.util.ArrayList;
import java.util.List;

/**
 * Whether a beacon is heard: margin M = M₀ − (L(d) − L(reference)) − attenuation + G(off the beam), p = Φ(M/σ), and P =
 * false + (best − false)·p. M₀ is how much better (dB) this beacon and receiver are than supposed.
 *
 * <p>L is {@link Radio#overSeaDb}, tabulated on log distance. Accuracy of the model: a loudness must never be turned into a
 * range without the wide error it carries here.
 */
public final class Hearing {

    private static final int TABLE = 512;
    private static final double NEAREST_M = 5;
    private static final double FARTHEST_M = 400_000;

    private final SearchSettings.Hearing settings;
    private final double[] lossDb = new double[TABLE + 1];
    private final double logStep = Math.log(FARTHEST_M / NEAREST_M) / TABLE;

    public Hearing(SearchSettings.Hearing settings) {
        this.settings = settings;
        double reference = loss(settings.referenceDistanceM());
        for (int i = 0; i <= TABLE; i++) {
            lossDb[i] = loss(NEAREST_M * Math.exp(i * logStep)) - reference;
        }
        // Loss rises with distance; the blend between two formulas must not make it fall anywhere.
        for (int i = 1; i <= TABLE; i++) {
            lossDb[i] = Math.max(lossDb[i], lossDb[i - 1]);
        }
    }

    private double loss(double distanceM) {
        return Radio.overSeaDb(settings.frequencyMHz(), distanceM, settings.beaconHeightM(), settings.antennaHeightM());
    }

    /** Number of gain steps. */
    public int steps() {
        return settings.gainStepsDb().size();
    }

    /** Loss in dB relative to the reference distance. */
    public double relativeLossDb(double distanceM) {
        double at = Math.log(Math.max(NEAREST_M, distanceM) / NEAREST_M) / logStep;
        int i = Math.min(TABLE - 1, (int) at);
        double share = Math.min(1, at - i);
        return lossDb[i] + share * (lossDb[i + 1] - lossDb[i]);
    }

    /**
     * Chance that the beacon is noted heard in one look.
     *
     * @param distanceM distance in metres
     * @param gainStep from 1; beyond the last step the last is taken and {@link #attenuationDb} refuses it
     * @param marginDb M₀ in dB
     * @param offBeamDb antenna gain relative to its beam in dB, at most 0
     */
    public double chance(double distanceM, int gainStep, double marginDb, double offBeamDb) {
        double margin = marginDb - relativeLossDb(distanceM) - attenuationDb(gainStep) + offBeamDb;
        double p = normal(margin / settings.fadingSdDb());
        return settings.falseChance() + (settings.bestChance() - settings.falseChance()) * p;
    }

    /** Attenuation of a gain step in dB. */
    public double attenuationDb(int gainStep) {
        if (gainStep < 1 || gainStep > settings.gainStepsDb().size()) {
            throw new IllegalArgumentException("gainStep: " + gainStep + " is not one of the receiver's steps 1 to "
                    + settings.gainStepsDb().size());
        }
        return settings.gainStepsDb().get(gainStep - 1);
    }

    /**
     * How far a gain step reaches, as known before hearing anything.
     *
     * @param gainStep the step, 1 the highest gain
     * @param surelyM nine in ten beacons are heard half the time at this distance or farther
     * @param halfM heard half the time
     * @param hardlyM one in ten reaches farther
     */
    public record Range(int gainStep, double surelyM, double halfM, double hardlyM) {}

    /** Ranges of all steps; {@code marginDb} and its standard deviation from the settings, or as learnt in a search. */
    public List<Range> ranges(double marginDb, double marginSdDb) {
        List<Range> ranges = new ArrayList<>();
        for (int step = 1; step <= steps(); step++) {
            double middle = marginDb - attenuationDb(step);
            ranges.add(new Range(
                    step,
                    distanceOfLoss(middle - 1.2816 * marginSdDb),
                    distanceOfLoss(middle),
                    distanceOfLoss(middle + 1.2816 * marginSdDb)));
        }
        return ranges;
    }

    /** Distance in metres at which the relative loss reaches a value. */
    public double distanceOfLoss(double relativeDb) {
        int low = 0;
        int high = TABLE;
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (lossDb[middle] < relativeDb) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double rise = lossDb[high] - lossDb[low];
        double share = rise <= 0 ? 0 : Math.max(0, Math.min(1, (relativeDb - lossDb[low]) / rise));
        return NEAREST_M * Math.exp((low + share) * logStep);
    }

    /** Standard normal distribution function, absolute error below 7.5e-8 (Abramowitz and Stegun 26.2.17). */
    static double normal(double z) {
        if (z < -8) {
            return 0;
        }
        if (z > 8) {
            return 1;
        }
        double t = 1 / (1 + 0.2316419 * Math.abs(z));
        double tail = 0.3989422804014327
                * Math.exp(-z * z / 2)
                * t
                * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
        return z >= 0 ? 1 - tail : tail;
    }
}
