package org.aftercast.search;

import java.util.function.DoubleUnaryOperator;
import org.hipparchus.special.Erf;

/**
 * Search theory (Koopman; source key koopman1956): how likely a search is to find what is there.
 *
 * <p>Coverage C = W·L/A, W the sweep width, L the track length, A the area. Keep separate widths for ears and eyes.
 */
public final class DetectionOdds {

    private DetectionOdds() {}

    /** Coverage of an area. */
    public static double coverage(double sweepWidthM, double trackM, double areaM2) {
        if (!(areaM2 > 0)) {
            throw new IllegalArgumentException("areaM2: " + areaM2 + " must be above 0");
        }
        return sweepWidthM * trackM / areaM2;
    }

    /** Chance of detection of a random search, 1 − e^(−C): the cautious figure. */
    public static double random(double coverage) {
        return -Math.expm1(-coverage);
    }

    /** Chance of detection of parallel sweeps with an inverse-cube law, erf(√π C/2). */
    public static double inverseCube(double coverage) {
        return Erf.erf(Math.sqrt(Math.PI) * coverage / 2);
    }

    /** Sweep width: the area under the curve of detection chance by distance abeam, both sides, to {@code farM}. */
    public static double sweepWidthM(DoubleUnaryOperator chanceAtM, double farM) {
        int steps = 2000;
        double sum = 0;
        for (int i = 0; i < steps; i++) {
            sum += chanceAtM.applyAsDouble((i + 0.5) * farM / steps);
        }
        return 2 * sum * farM / steps;
    }

    /** Probability that it is still in an area that was searched in vain, p(1−d)/(1−p·d). */
    public static double stillThere(double probability, double detection) {
        return probability * (1 - detection) / (1 - probability * detection);
    }

    /** Probability of success, probability of being there times chance of detection. */
    public static double success(double probability, double detection) {
        return probability * detection;
    }
}
