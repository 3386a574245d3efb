package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.stats.Interval;
import org.aftercast.stats.RandomDraws;

/** Stratum posteriors (Jeffreys) times weights, the weights drawn when they rest on a sample. */
final class ScalingAnalysis {

    private static final String NAME = "Groups weighted by their share of the fishery, Jeffreys posteriors";
    private static final String CONTROLS = "Share above that of control animals (Abbott)";

    private static final ScaledUp.InNumbers NUMBERS_LATER =
            new ScaledUp.InNumbers(Method.refused("", "Not counted yet."), null, List.of());

    private ScalingAnalysis() {}

    static ScaledUp of(List<AnimalOutcome> animals, EstimateSettings settings, Headline headline) {
        ScaledUp scaled = shares(animals, settings, headline);
        return new ScaledUp(
                scaled.method(),
                scaled.strata(),
                scaled.fishery(),
                scaled.weightedShare(),
                scaled.seFixedWeights(),
                scaled.seAllWeights(),
                scaled.controls(),
                ReleasedAnalysis.of(
                        settings, headline, scaled.fishery(), scaled.controls().adjusted()));
    }

    private static ScaledUp shares(List<AnimalOutcome> animals, EstimateSettings settings, Headline headline) {
        ScaledUp.ControlAdjusted controls = controls(settings, headline);
        EstimateSettings.ScaleUp scale = settings.scaleUp();
        if (scale == null) {
            return refused("No weights of groups in the fishery were given.", List.of(), controls);
        }
        double total = scale.weights().stream()
                .mapToDouble(EstimateSettings.Weight::share)
                .sum();
        List<ScaledUp.Stratum> strata = new ArrayList<>();
        List<String> without = new ArrayList<>();
        int used = 0;
        for (EstimateSettings.Weight weight : scale.weights()) {
            List<AnimalOutcome> members = animals.stream()
                    .filter(a -> weight.group().equals(a.groups().get(scale.column())))
                    .toList();
            used += members.size();
            Headline.Counts counts = HeadlineAnalysis.counts(members, settings.horizonH(), settings.deaths());
            int known = counts.animals() - counts.unknown();
            double share = weight.share() / total;
            Share posterior = null;
            if (known > 0) {
                Interval limits = BinomialInterval.JEFFREYS.of(counts.died(), known, settings.level());
                double mean = (counts.died() + 0.5) / (known + 1);
                posterior = Share.of(
                        mean,
                        new Interval(Math.min(mean, limits.low()), Math.max(mean, limits.high())),
                        settings.level(),
                        "Jeffreys");
            } else if (share > 0) {
                without.add(weight.group());
            }
            strata.add(new ScaledUp.Stratum(weight.group(), share, counts.died(), known, posterior));
        }
        if (!without.isEmpty()) {
            return refused(
                    "No animal with a known fate in " + String.join(", ", without)
                            + ": nothing is known of that part of" + " the fishery.",
                    strata,
                    controls);
        }
        return scaled(strata, scale.weightsFrom(), animals.size() - used, settings, controls);
    }

    private static ScaledUp scaled(
            List<ScaledUp.Stratum> strata,
            int weightsFrom,
            int leftOut,
            EstimateSettings settings,
            ScaledUp.ControlAdjusted controls) {
        double plain = 0;
        double variance = 0;
        double squares = 0;
        double mean = 0;
        List<ScaledUp.Stratum> present =
                strata.stream().filter(s -> s.weight() > 0).toList();
        for (ScaledUp.Stratum s : present) {
            double p = (double) s.died() / s.animals();
            plain += s.weight() * p;
            variance += s.weight() * s.weight() * p * (1 - p) / s.animals();
            squares += s.weight() * p * p;
            mean += s.weight() * (s.died() + 0.5) / (s.animals() + 1);
        }
        double ofWeights = weightsFrom > 0 ? Math.max(0, squares - plain * plain) / weightsFrom : 0;
        double[] drawn = draws(present, weightsFrom, settings);
        double tail = (1 - settings.level()) / 2;
        double low = drawn[(int) Math.floor(tail * (drawn.length - 1))];
        double high = drawn[(int) Math.ceil((1 - tail) * (drawn.length - 1))];
        List<String> assumptions = new ArrayList<>(List.of(
                "Within each group the tagged animals stand for the fishery's.",
                "Only animals whose fate is known at the horizon were used.",
                weightsFrom > 0
                        ? "The weights come from " + weightsFrom + " animals and are uncertain accordingly."
                        : "The weights are taken as known without error."));
        if (leftOut > 0) {
            assumptions.add(Text.animals(leftOut) + " in no weighted group left out.");
        }
        return new ScaledUp(
                Method.used(NAME, assumptions),
                strata,
                Share.of(
                        mean,
                        new Interval(Math.min(low, mean), Math.max(high, mean)),
                        settings.level(),
                        "posterior draws"),
                plain,
                Math.sqrt(variance),
                Math.sqrt(variance + ofWeights),
                controls,
                NUMBERS_LATER);
    }

    private static double[] draws(List<ScaledUp.Stratum> strata, int weightsFrom, EstimateSettings settings) {
        RandomDraws random = new RandomDraws(settings.seed() + 3);
        double[] drawn = new double[settings.replicates()];
        for (int b = 0; b < drawn.length; b++) {
            double sum = 0;
            double weights = 0;
            for (ScaledUp.Stratum s : strata) {
                double weight = s.weight();
                if (weightsFrom > 0) {
                    weight = random.gamma(s.weight() * weightsFrom);
                }
                double p = random.beta(s.died() + 0.5, s.animals() - s.died() + 0.5);
                sum += weight * p;
                weights += weight;
            }
            drawn[b] = weights > 0 ? sum / weights : 0;
        }
        Arrays.sort(drawn);
        return drawn;
    }

    private static ScaledUp.ControlAdjusted controls(EstimateSettings settings, Headline headline) {
        EstimateSettings.Controls controls = settings.controls();
        Share died = headline.died();
        if (controls == null || died == null) {
            return new ScaledUp.ControlAdjusted(
                    Method.refused(
                            CONTROLS, controls == null ? "No control animals were given." : "There is no headline."),
                    null,
                    null);
        }
        Share control = HeadlineAnalysis.count(controls.died(), controls.animals(), settings);
        if (controls.died() == controls.animals()) {
            return new ScaledUp.ControlAdjusted(
                    Method.refused(CONTROLS, "Every control animal died: nothing can be told apart."), control, null);
        }
        // alive after the catch over alive among controls; limits by recovering variances on the log scale
        double ratio = (1 - died.value()) / (1 - control.value());
        double down = Math.hypot(log(1 - died.value(), 1 - died.high()), log(1 - control.low(), 1 - control.value()));
        double up = Math.hypot(log(1 - died.low(), 1 - died.value()), log(1 - control.value(), 1 - control.high()));
        double low = Math.max(0, 1 - Math.min(1, ratio > 0 ? ratio * Math.exp(up) : 1));
        double high = Math.max(0, 1 - ratio * Math.exp(-down));
        double value = Math.max(0, 1 - ratio);
        return new ScaledUp.ControlAdjusted(
                Method.used(
                        CONTROLS,
                        List.of(
                                "Control animals were handled, tagged and watched alike, but not caught by the gear.",
                                "The catch and everything else kill independently.",
                                "A difference below 0 is shown as 0.")),
                control,
                Share.of(
                        value,
                        new Interval(Math.min(low, value), Math.max(high, value)),
                        settings.level(),
                        "combined from the two intervals"));
    }

    private static double log(double larger, double smaller) {
        if (larger == smaller) {
            return 0;
        }
        return smaller <= 0 ? Double.POSITIVE_INFINITY : Math.log(larger / smaller);
    }

    private static ScaledUp refused(String reason, List<ScaledUp.Stratum> strata, ScaledUp.ControlAdjusted controls) {
        return new ScaledUp(Method.refused(NAME, reason), strata, null, null, null, null, controls, NUMBERS_LATER);
    }
}
