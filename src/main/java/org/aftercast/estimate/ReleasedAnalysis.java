package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Dead animals among those that a fishery released: share × number.
 *
 * <p>With the number known, the limits are the share's times the number. With limits of its own, both intervals are
 * combined by recovering variances on the log scale (Zou and Donner 2008): lower limit
 * {@code p·N·exp(−√(ln²(p/p_low) + ln²(N/N_low)))}, upper limit alike. A lower limit of 0 stays 0. At a share of 0 the
 * log scale fails, and the upper limit is the product of both upper limits, which is on the safe side.
 */
final class ReleasedAnalysis {

    private static final String NAME = "Share that died times the number released";

    private ReleasedAnalysis() {}

    static ScaledUp.InNumbers of(
            EstimateSettings settings, Headline headline, @Nullable Share fishery, @Nullable Share aboveControls) {
        EstimateSettings.ReleasedCatch released = settings.released();
        if (released == null) {
            return new ScaledUp.InNumbers(
                    Method.refused(NAME, "No number of released animals was given."), null, List.of());
        }
        List<ScaledUp.Dead> rows = new ArrayList<>();
        add("groups weighted by their share of the fishery", fishery, released, rows);
        if (settings.scaleUp() == null || fishery != null) {
            add(
                    fishery == null ? "the declared share" : "the declared share, groups not weighted",
                    headline.died(),
                    released,
                    rows);
        }
        if (rows.isEmpty()) {
            return new ScaledUp.InNumbers(
                    Method.refused(
                            NAME,
                            settings.scaleUp() == null
                                    ? "There is no share to multiply it by."
                                    : "The weighted share has no answer, and an unweighted one would not be what was"
                                            + " asked for."),
                    null,
                    List.of());
        }
        add("above the control animals", aboveControls, released, rows);
        if (headline.counts().unknown() > 0) {
            add("if every unknown animal is alive", headline.best(), released, rows);
            add("if every unknown animal died", headline.worst(), released, rows);
        }
        List<String> assumptions = new ArrayList<>(List.of(
                "The fishery's animals were caught, handled and released like the tagged ones, at the same place and"
                        + " season.",
                released.low() == null
                        ? "The number released is taken as known without error: the interval is that of the share only."
                        : "The limits of the number released hold as often as those of the share, and the two are"
                                + " independent.",
                "Animals dead before the release are not in it, nor deaths after " + Text.number(settings.horizonH())
                        + " h."));
        if (rows.get(0).dead() == 0 && released.low() != null) {
            assumptions.add("At a share of 0 the upper limit is the product of both upper limits, on the safe side.");
        }
        return new ScaledUp.InNumbers(Method.used(NAME, assumptions), rows.get(0), rows.subList(1, rows.size()));
    }

    private static void add(
            String what, @Nullable Share share, EstimateSettings.ReleasedCatch released, List<ScaledUp.Dead> rows) {
        if (share != null) {
            rows.add(dead(what, share, released));
        }
    }

    static ScaledUp.Dead dead(String what, Share share, EstimateSettings.ReleasedCatch released) {
        double n = released.animals();
        double p = share.value();
        Double least = released.low();
        Double most = released.high();
        double low = n * share.low();
        double high = n * share.high();
        if (least != null && most != null) {
            if (p > 0) {
                low = share.low() > 0
                        ? n * p * Math.exp(-Math.hypot(Math.log(p / share.low()), Math.log(n / least)))
                        : 0;
                high = n * p * Math.exp(Math.hypot(Math.log(share.high() / p), Math.log(most / n)));
            } else {
                high = share.high() * most;
            }
        }
        return new ScaledUp.Dead(what, n * p, Math.min(low, n * p), Math.max(high, n * p), share.level());
    }
}
