package org.aftercast.cli;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.Method;
import org.aftercast.estimate.RecoveryAcross;
import org.jspecify.annotations.Nullable;

/** What must hold for each part of an estimate besides the headline, and why a part has no answer. */
final class EstimateSummaryAssumptions {

    private EstimateSummaryAssumptions() {}

    static void lines(EstimateResult result, List<String> out) {
        Set<String> lines = new LinkedHashSet<>();
        Headline.VesselDeaths vessel = result.headline().vessel();
        add("deaths before and after release", vessel == null ? null : vessel.method(), lines);
        add("share alive over time", result.timeToDeath().method(), lines);
        add("how they ended", result.competing().method(), lines);
        result.groups().forEach(group -> add("by " + group.column(), group.method(), lines));
        if (!result.riskFactors().models().isEmpty()) {
            add("what makes it worse", result.riskFactors().method(), lines);
            result.riskFactors().models().stream()
                    .filter(model -> !model.method().withoutAnswer())
                    .findFirst()
                    .ifPresent(model -> add("each model", model.method(), lines));
        }
        add("doubtful fates", result.uncertainFates().method(), lines);
        ClusterCheck clusters = result.clusters();
        add("groups of animals", clusters == null ? null : clusters.method(), lines);
        for (RecoveryAcross across : result.recovery()) {
            add("recovery", across.method(), lines);
            RecoveryAcross.Common common = across.common();
            add("recovery, one curve for all", common == null ? null : common.method(), lines);
        }
        if (!result.scaledUp().strata().isEmpty()) {
            add("the fishery", result.scaledUp().method(), lines);
        }
        if (result.settings().controls() != null) {
            add("control animals", result.scaledUp().controls().method(), lines);
        }
        if (result.settings().released() != null) {
            add("numbers of animals", result.scaledUp().inNumbers().method(), lines);
        }
        add("the long run", result.longTerm().method(), lines);
        if (!lines.isEmpty()) {
            out.add("");
            out.add("What must hold for the other parts");
            out.addAll(lines);
        }
    }

    private static void add(String part, @Nullable Method method, Set<String> lines) {
        if (method == null) {
            return;
        }
        if (method.refusal() != null) {
            lines.add("  " + part + ": no answer. " + method.refusal());
        }
        method.assumptions().forEach(assumption -> lines.add("  " + part + ": " + assumption));
    }
}
