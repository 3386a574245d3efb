package org.aftercast.behaviour;

/**
 * What can be adjusted. All defaults are our own choice unless a source is named.
 *
 * @param shareDying prior share of animals that die, 0–1; near what field studies of released sharks report (roughly one in
 *     ten, {@code whitney2017}); {@code fate} uses the same
 * @param shareEaten prior share eaten, 0–1
 * @param surfaceM at or near the surface: depth above this, m; a bobbing float and a depth offset stay within it
 * @param sustainedDescentM a first descent counts as the release when it goes deeper than this, m
 * @param afloatMin shortest stretch at the surface to the end of the record that counts as afloat, minutes
 * @param riseMps a rise to the surface belongs to the detachment when it is at least this fast, m/s
 * @param binS length of a step of the state model, s
 * @param swimDwellS shortest bout of swimming, s
 * @param stillDwellS shortest bout of resting or of lying motionless, s
 * @param surfaceDwellS shortest bout weak at the surface, s
 * @param descentDwellS shortest bout of sinking, s
 * @param sinkMps least downward speed that counts as sinking, m/s
 * @param evidencePerStep share of a step's log-likelihood that counts, 0–1: neighbouring seconds repeat each other
 * @param burstSway the least burst: sway over the animal's own swimming …
 * @param burstRate … and beat frequency over its own, both at once
 * @param burstOff and ends when it falls below this multiple
 * @param burstScore a burst must also be this robust score above the animal's own seconds of swimming (logarithm)
 * @param burstLongS length of the yardstick before a burst, s
 * @param burstLongestS what lasts longer is vigorous swimming, not a burst, s
 * @param burstMergeS bursts closer than this are one, s
 * @param recoveryBinMin length of the means that recovery is fitted to, minutes; shortened in short records
 * @param recoveredShare share of the way back that counts as recovered (0.8: published for sharks, {@code grainger2022})
 * @param dielShare standard deviation of each of the two terms of a daily rhythm of beat frequency, share of its level: a
 *     recovery must stand out against a rhythm of this size
 * @param departureShare standard deviation of the departure of beat frequency at the release, share of its level
 * @param disturbanceLogOdds natural logarithm of the odds of a departure and return against none above which it is said (0:
 *     more likely than not)
 * @param shareBeyondRecord when more than this share of the weight lies beyond the end of the record, or the mean beyond half of it,
 *     recovery is censored, 0–1
 * @param confidence of intervals, 0–1
 * @param ownMeanAfterH the second published definition: the animal's own mean after this many hours …
 * @param ownMeanBelowMin … above which the five-minute means must not come for this many minutes
 * @param seed for resampling
 */
public record BehaviourSettings(
        double shareDying,
        double shareEaten,
        double surfaceM,
        double sustainedDescentM,
        double afloatMin,
        double riseMps,
        double binS,
        double swimDwellS,
        double stillDwellS,
        double surfaceDwellS,
        double descentDwellS,
        double sinkMps,
        double evidencePerStep,
        double burstSway,
        double burstRate,
        double burstOff,
        double burstScore,
        double burstLongS,
        double burstLongestS,
        double burstMergeS,
        double recoveryBinMin,
        double recoveredShare,
        double dielShare,
        double departureShare,
        double disturbanceLogOdds,
        double shareBeyondRecord,
        double confidence,
        double ownMeanAfterH,
        double ownMeanBelowMin,
        long seed) {

    public BehaviourSettings {
        share("shareDying", shareDying);
        share("shareEaten", shareEaten);
        if (!(shareDying + shareEaten < 1)) {
            throw new IllegalArgumentException("shareDying, shareEaten: together " + (shareDying + shareEaten)
                    + ", must leave room for the living");
        }
        above("surfaceM", surfaceM, 0);
        above("sustainedDescentM", sustainedDescentM, 0);
        above("afloatMin", afloatMin, 0);
        above("riseMps", riseMps, 0);
        above("binS", binS, 0.99);
        above("swimDwellS", swimDwellS, 0);
        above("stillDwellS", stillDwellS, 0);
        above("surfaceDwellS", surfaceDwellS, 0);
        above("descentDwellS", descentDwellS, 0);
        above("sinkMps", sinkMps, 0);
        above("evidencePerStep", evidencePerStep, 0);
        above("burstOff", burstOff, 0);
        above("burstSway", burstSway, 1);
        above("burstRate", burstRate, 1);
        above("burstLongS", burstLongS, 2);
        above("recoveryBinMin", recoveryBinMin, 0);
        above("dielShare", dielShare, 0);
        above("departureShare", departureShare, 0);
        if (!(recoveredShare > 0 && recoveredShare < 1)) {
            throw new IllegalArgumentException("recoveredShare: " + recoveredShare + " is outside 0–1");
        }
        if (!(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("confidence: " + confidence + " is outside 0–1");
        }
    }

    /** Prior log-odds of having died against living. */
    public double deadPrior() {
        return Math.log(shareDying / (1 - shareDying - shareEaten));
    }

    /** Prior log-odds of having been eaten against living. */
    public double eatenPrior() {
        return Math.log(shareEaten / (1 - shareDying - shareEaten));
    }

    private static void share(String name, double value) {
        if (!(value > 0 && value < 1)) {
            throw new IllegalArgumentException(name + ": " + value + " is outside 0–1, both excluded");
        }
    }

    private static void above(String name, double value, double limit) {
        if (!(value > limit) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(name + ": " + value + " must be above " + limit);
        }
    }

    /** The defaults. */
    public static BehaviourSettings defaults() {
        return new BehaviourSettings(
                0.12, 0.05, 1.5, 2, 5, 0.1, 5, 20, 60, 15, 15, 0.08, 0.5, 2.5, 1.7, 1.4, 4, 120, 120, 5, 15, 0.8, 0.05,
                0.5, 0, 0.025, 0.95, 6, 20, 1);
    }
}
