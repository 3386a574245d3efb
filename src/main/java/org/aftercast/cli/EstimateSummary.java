package org.aftercast.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.Method;
import org.aftercast.estimate.Robustness;
import org.aftercast.estimate.Share;
import org.aftercast.estimate.TimeToDeath;
import org.aftercast.estimate.WhoWasTagged;
import org.aftercast.report.EstimateSection;
import org.jspecify.annotations.Nullable;

/** An estimate as lines of plain text. */
final class EstimateSummary {

    private EstimateSummary() {}

    /**
     * The whole estimate.
     *
     * @param ofStudy parts that only a study has: its plan, how its readers agree
     */
    static List<String> lines(EstimateResult result, List<EstimateSection.Block> ofStudy) {
        List<String> out = new ArrayList<>();
        headline(result.headline(), out);
        tagged(result.whoWasTagged(), out);
        survival(result.timeToDeath(), out);
        EstimateSummaryMore.competing(result.competing(), out);
        EstimateSummaryMore.groups(result, out);
        EstimateSummaryMore.risk(result.riskFactors(), out);
        EstimateSummaryMore.uncertain(result.uncertainFates(), out);
        EstimateSummaryMore.clusters(result.clusters(), out);
        EstimateSummaryMore.scaled(result.scaledUp(), out);
        EstimateSummaryMore.controls(result, out);
        EstimateSummaryMore.inNumbers(result, out);
        EstimateSummaryMore.recovery(result.recovery(), out);
        EstimateSummaryMore.longTerm(result.longTerm(), out);
        ofStudy.forEach(block -> EstimateSummaryMore.block(block, out));
        sensitivity(result, out);
        out.add("");
        out.add("What must hold for the headline to be right");
        assumptions(result.headline().method(), out);
        EstimateSummaryAssumptions.lines(result, out);
        out.add("");
        out.add("What this cannot say");
        result.limits().forEach(limit -> out.add("  - " + limit));
        return out;
    }

    private static void headline(Headline headline, List<String> out) {
        out.add("Share that died within " + number(headline.horizonH()) + " h of release");
        Share died = headline.died();
        if (died == null) {
            out.add("  No answer. " + headline.method().refusal());
        } else {
            out.add("  " + share(died));
            out.add("  how: " + headline.method().name());
        }
        out.add("  counted: " + headline.rule());
        Headline.Counts counts = headline.counts();
        out.add(String.format(
                Locale.ROOT,
                "  at %s h: %d of %d dead, %d alive, %d unknown%s",
                number(headline.horizonH()),
                counts.died(),
                counts.animals(),
                counts.alive(),
                counts.unknown(),
                counts.otherEnd() > 0 ? ", " + counts.otherEnd() + " met an end that does not count" : ""));
        Headline.NoDeaths none = headline.noDeaths();
        if (none != null) {
            out.add(String.format(
                    Locale.ROOT,
                    "  None of %d died. That leaves a share up to %s possible (one-sided, %.0f %%).",
                    none.animals(),
                    percent(none.upperOneSided()),
                    100 * none.level()));
        }
        Headline.VesselDeaths vessel = headline.vessel();
        if (vessel != null) {
            out.add("  dead before release: " + share(vessel.atVessel()));
            out.add("  in all (before + after): " + share(vessel.total()));
        }
    }

    private static void tagged(WhoWasTagged flow, List<String> out) {
        out.add("");
        out.add("Who was tagged");
        for (WhoWasTagged.Stage stage : flow.stages()) {
            out.add(String.format(Locale.ROOT, "  %5d  %s", stage.animals(), stage.name()));
        }
    }

    private static void survival(TimeToDeath survival, List<String> out) {
        out.add("");
        out.add("Share alive over time (those lost from sight counted only while they were seen)");
        if (survival.method().withoutAnswer()) {
            out.add("  No answer. " + survival.method().refusal());
            return;
        }
        out.add("   hours  watched  dead so far  share alive");
        for (TimeToDeath.AtHorizon row : survival.horizons()) {
            Share alive = row.survival();
            out.add(String.format(
                    Locale.ROOT,
                    "  %6s  %7d  %11d  %s",
                    number(row.hours()),
                    row.stillWatched(),
                    row.diedBefore(),
                    alive == null ? "no answer: " + row.remark() : shortShare(alive)));
        }
        if (survival.restrictedMean() != null) {
            out.add(String.format(
                    Locale.ROOT,
                    "  within the first %s h an animal was alive for %.1f h on average (standard error %.1f h)",
                    number(survival.restrictedMean().until()),
                    survival.restrictedMean().mean(),
                    survival.restrictedMean().se()));
        }
        out.add("");
        out.add("How watching ended for animals that were not seen to die");
        if (survival.censored().isEmpty()) {
            out.add("  every animal was watched until it died");
        }
        for (TimeToDeath.Censored row : survival.censored()) {
            out.add(String.format(
                    Locale.ROOT,
                    "  %5d  %s, after %s to %s h",
                    row.animals(),
                    row.reason(),
                    number(row.earliestH()),
                    number(row.latestH())));
        }
    }

    private static void sensitivity(EstimateResult result, List<String> out) {
        out.add("");
        out.add("How far the headline could move");
        row("if every unknown animal is alive", result.headline().best(), out);
        row("if every unknown animal died", result.headline().worst(), out);
        for (Robustness.Row change : result.robustness().rows()) {
            row(change.what(), change.died(), out);
        }
    }

    private static void row(String what, @Nullable Share share, List<String> out) {
        out.add(String.format(Locale.ROOT, "  %-58s %s", what, share == null ? "no answer" : shortShare(share)));
    }

    private static void assumptions(Method method, List<String> out) {
        if (method.withoutAnswer()) {
            out.add("  (no headline)");
        }
        for (String assumption : method.assumptions()) {
            out.add("  - " + assumption);
        }
    }

    static String share(Share share) {
        return String.format(
                Locale.ROOT,
                "%s, %.0f %% interval %s to %s (%s)",
                percent(share.value()),
                100 * share.level(),
                percent(share.low()),
                percent(share.high()),
                share.interval());
    }

    static String shortShare(Share share) {
        return percent(share.value()) + "  (" + percent(share.low()) + " to " + percent(share.high()) + ")";
    }

    static String percent(double share) {
        return String.format(Locale.ROOT, "%.1f %%", 100 * share);
    }

    static String number(double value) {
        String text = String.format(Locale.ROOT, "%.2f", value);
        return text.replaceAll("0+$", "").replaceAll("\\.$", "");
    }
}
