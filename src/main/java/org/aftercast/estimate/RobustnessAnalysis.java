package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Predicate;
import org.aftercast.estimate.Robustness.Question;
import org.aftercast.estimate.Robustness.Row;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.BetaLaw;
import org.aftercast.stats.Interval;
import org.jspecify.annotations.Nullable;

/** Recomputes the headline under other decisions. */
final class RobustnessAnalysis {

    private final List<AnimalOutcome> animals;
    private final EstimateSettings settings;
    private final @Nullable Share headline;
    private final List<Row> rows = new ArrayList<>();

    private RobustnessAnalysis(List<AnimalOutcome> animals, EstimateSettings settings, Headline headline) {
        this.animals = animals;
        this.settings = settings;
        this.headline = headline.died();
    }

    static Robustness of(List<AnimalOutcome> animals, EstimateSettings settings, Headline headline) {
        RobustnessAnalysis analysis = new RobustnessAnalysis(animals, settings, headline);
        if (!animals.isEmpty()) {
            analysis.bounds(
                    Question.UNDECIDED_FATES,
                    a -> a.fate() == AnimalFate.UNDECIDED && a.end() != RecordEnd.PACKAGE_LOST,
                    "undecided fates");
            analysis.bounds(
                    Question.LOST_PACKAGES, a -> a.end() == RecordEnd.PACKAGE_LOST && !a.dead(), "lost packages");
            analysis.bounds(
                    Question.EARLY_SHEDDING,
                    a -> a.end() == RecordEnd.SHED_EARLY && a.fate() == AnimalFate.ALIVE_AT_END,
                    "packages that came off early");
            analysis.rules();
            analysis.leaveOneOut();
            analysis.priors(headline.counts());
            headline.otherIntervals()
                    .forEach(share -> analysis.add(Question.INTERVAL, share.interval() + " interval", share));
        }
        return new Robustness(analysis.rows);
    }

    private void add(Question question, String what, @Nullable Share share) {
        rows.add(new Row(
                question, what, share, share == null || headline == null ? null : share.value() - headline.value()));
    }

    private void bounds(Question question, Predicate<AnimalOutcome> which, String what) {
        int n = (int) animals.stream()
                .filter(a -> which.test(a) && a.atRiskH() < settings.horizonH())
                .count();
        if (n == 0) {
            return;
        }
        add(question, what + " (" + n + "): all alive at the horizon", changed(which, AnimalFate.ALIVE_AT_END));
        add(question, what + " (" + n + "): all died when last seen", changed(which, AnimalFate.DIED));
        List<AnimalOutcome> without =
                animals.stream().filter(a -> !which.test(a)).toList();
        add(
                question,
                what + " (" + n + "): left out altogether",
                HeadlineAnalysis.answer(without, settings, settings.deaths()).died());
    }

    private @Nullable Share changed(Predicate<AnimalOutcome> which, AnimalFate fate) {
        List<AnimalOutcome> changed = new ArrayList<>();
        for (AnimalOutcome a : animals) {
            if (!which.test(a) || a.atRiskH() >= settings.horizonH()) {
                changed.add(a);
            } else {
                double hours = fate == AnimalFate.ALIVE_AT_END ? settings.horizonH() : a.atRiskH();
                changed.add(new AnimalOutcome(
                        a.animal(), a.groups(), a.covariates(), fate, a.end(), hours, a.probabilities()));
            }
        }
        return HeadlineAnalysis.answer(changed, settings, settings.deaths()).died();
    }

    private void rules() {
        DeathRule rule = settings.deaths();
        if (animals.stream().anyMatch(a -> a.fate() == AnimalFate.EATEN)) {
            DeathRule other = rule.withEatenOtherWay();
            add(
                    Question.DEATHS_THAT_COUNT,
                    "counting " + other.inWords(),
                    HeadlineAnalysis.answer(animals, settings, other).died());
        }
        if (rule.withinH() != null) {
            DeathRule all = new DeathRule(rule.eaten(), null);
            add(
                    Question.DEATHS_THAT_COUNT,
                    "counting " + all.inWords() + ", whenever",
                    HeadlineAnalysis.answer(animals, settings, all).died());
        }
    }

    private void leaveOneOut() {
        if (animals.size() < 2 || headline == null) {
            return;
        }
        HorizonShare share = new HorizonShare(animals, settings.horizonH(), settings.deaths());
        int[] weight = new int[animals.size()];
        Arrays.fill(weight, 1);
        int lowest = -1;
        int highest = -1;
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        // animals with the same fate and time give the same: beyond some thousands a sample of them is enough
        int stride = Math.max(1, animals.size() / 2000);
        for (int i = 0; i < animals.size(); i += stride) {
            weight[i] = 0;
            double value = share.of(weight);
            weight[i] = 1;
            if (value < low) {
                low = value;
                lowest = i;
            }
            if (value > high) {
                high = value;
                highest = i;
            }
        }
        if (lowest >= 0) {
            without("lowest", lowest);
            without("highest", highest);
        }
    }

    private void without(String which, int left) {
        List<AnimalOutcome> rest = new ArrayList<>(animals);
        rest.remove(left);
        add(
                Question.LEAVE_ONE_OUT,
                which + " with one animal left out (" + animals.get(left).animal() + ")",
                HeadlineAnalysis.answer(rest, settings, settings.deaths()).died());
    }

    /**
     * The posterior of the share under other priors. With every fate known it is that of a count; with animals lost from
     * sight the curve counts as a sample of as many animals as its variance is worth.
     */
    private void priors(Headline.Counts counts) {
        double animalsWorth = counts.animals();
        double deaths = counts.died();
        String worth = "";
        if (counts.unknown() > 0) {
            int[] one = new int[animals.size()];
            Arrays.fill(one, 1);
            HorizonShare.Moments moments =
                    new HorizonShare(animals, settings.horizonH(), settings.deaths()).moments(one);
            if (headline == null || Double.isNaN(moments.share())) {
                return;
            }
            double s = moments.share();
            animalsWorth = moments.variance() > 0 && s > 0 && s < 1
                    ? Math.min(counts.animals(), s * (1 - s) / moments.variance())
                    : counts.animals() - counts.unknown();
            deaths = s * animalsWorth;
            worth = ", the curve taken as worth " + Text.number(Math.round(animalsWorth * 10) / 10.0) + " animals";
        }
        prior("Jeffreys prior (½, ½)", 0.5, deaths, animalsWorth, worth);
        prior("even prior (1, 1)", 1, deaths, animalsWorth, worth);
        prior("neutral prior (⅓, ⅓)", 1.0 / 3, deaths, animalsWorth, worth);
    }

    private void prior(String name, double prior, double deaths, double animalsWorth, String worth) {
        double a = deaths + prior;
        double b = animalsWorth - deaths + prior;
        double tail = (1 - settings.level()) / 2;
        double median = BetaLaw.quantile(0.5, a, b);
        add(
                Question.PRIOR,
                name + ": middle of what is believable",
                Share.of(
                        median,
                        new Interval(BetaLaw.quantile(tail, a, b), BetaLaw.quantile(1 - tail, a, b)),
                        settings.level(),
                        "posterior" + worth));
    }
}
