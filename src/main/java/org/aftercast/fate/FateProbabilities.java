package org.aftercast.fate;

/**
 * Probabilities of the four fates; they sum to 1 within 1e−9.
 *
 * @param survived alive to the planned detachment (or the logger's stop)
 * @param died died, whether scavenged later or not
 * @param eaten taken alive by a larger animal
 * @param shed alive when the package came off early: censored there
 */
public record FateProbabilities(double survived, double died, double eaten, double shed) {

    public FateProbabilities {
        for (double p : new double[] {survived, died, eaten, shed}) {
            if (!(p >= 0 && p <= 1)) {
                throw new IllegalArgumentException("probabilities: " + p + " is outside 0–1");
            }
        }
        if (Math.abs(survived + died + eaten + shed - 1) > 1e-9) {
            throw new IllegalArgumentException(
                    "probabilities: they sum to " + (survived + died + eaten + shed) + ", not to 1");
        }
    }
}
