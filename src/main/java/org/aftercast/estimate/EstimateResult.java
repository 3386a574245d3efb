package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What all animals together say.
 *
 * @param settings the choices behind it
 * @param animals number of tagged animals
 * @param whoWasTagged from the landing to the fate
 * @param headline share that died by the horizon
 * @param clusters the headline when animals of one trip, vessel or angler are not independent; null when not asked for
 * @param timeToDeath survival over time
 * @param competing death from the catch beside death from being eaten
 * @param groups groups compared, one per column asked for
 * @param riskFactors what makes it worse
 * @param uncertainFates the headline when each animal carries probabilities
 * @param recovery recovery times across animals
 * @param robustness how the headline moves with what was decided
 * @param scaledUp from groups to the fishery, and above control animals
 * @param longTerm a curve for the long run
 * @param limits what the whole estimate cannot say, one sentence each
 */
public record EstimateResult(
        EstimateSettings settings,
        int animals,
        WhoWasTagged whoWasTagged,
        Headline headline,
        @Nullable ClusterCheck clusters,
        TimeToDeath timeToDeath,
        CompetingEnds competing,
        List<GroupComparison> groups,
        RiskFactors riskFactors,
        UncertainFates uncertainFates,
        List<RecoveryAcross> recovery,
        Robustness robustness,
        ScaledUp scaledUp,
        LongTerm longTerm,
        List<String> limits) {

    public EstimateResult {
        groups = List.copyOf(groups);
        recovery = List.copyOf(recovery);
        limits = List.copyOf(limits);
    }

    /** The same with one more sentence on what it cannot say. */
    public EstimateResult withLimit(String sentence) {
        List<String> more = new ArrayList<>(limits);
        more.add(sentence);
        return with(headline, robustness, more);
    }

    /** The same without the names of animals, for somebody who is still to judge some of them. */
    public EstimateResult withoutNames() {
        return with(headline.withoutNames(), robustness.withoutNames(), limits);
    }

    private EstimateResult with(Headline itsHeadline, Robustness itsRobustness, List<String> itsLimits) {
        return new EstimateResult(
                settings,
                animals,
                whoWasTagged,
                itsHeadline,
                clusters,
                timeToDeath,
                competing,
                groups,
                riskFactors,
                uncertainFates,
                recovery,
                itsRobustness,
                scaledUp,
                longTerm,
                itsLimits);
    }
}
