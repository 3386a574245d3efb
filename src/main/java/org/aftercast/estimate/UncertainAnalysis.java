package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.stats.Interval;
import org.aftercast.stats.PoissonBinomial;
import org.aftercast.stats.RandomDraws;
import org.jspecify.annotations.Nullable;

/**
 * Carries fate probabilities through: a Poisson-binomial mixture of Jeffreys posteriors, and multiple imputation with a
 * draw from the beta posterior of each completed study.
 */
final class UncertainAnalysis {

    private static final double DECIDED = 0.99;
    private static final String NAME =
            "Fate probabilities carried through: Poisson-binomial mixture of Jeffreys intervals, multiple imputation";

    private UncertainAnalysis() {}

    static UncertainFates of(List<AnimalOutcome> animals, EstimateSettings settings) {
        int with = 0;
        int doubt = 0;
        for (AnimalOutcome animal : animals) {
            FateProbabilities p = animal.probabilities();
            if (p != null) {
                with++;
                doubt += isInDoubt(p) ? 1 : 0;
            }
        }
        String calibration = settings.calibration() == EstimateSettings.Calibration.CALIBRATED
                ? "The probabilities were checked against known fates."
                : "Nobody has checked whether the probabilities are right as often as they say; the interval holds only"
                        + " if they are.";
        if (with == 0) {
            return new UncertainFates(
                    Method.refused(NAME, "No animal carries fate probabilities: every fate is taken as certain."),
                    0,
                    0,
                    calibration,
                    null,
                    null,
                    null,
                    null,
                    null);
        }
        Draws draws = new Draws(animals, settings);
        Share imputed = draws.share();
        return new UncertainFates(
                Method.used(
                        NAME,
                        List.of(
                                "The doubts about different animals are independent.",
                                "\"Survived\" means alive to the planned detachment and so to the horizon; \"shed\" means"
                                        + " alive at the last certain sign of life and unknown after it.",
                                calibration)),
                with,
                doubt,
                calibration,
                draws.expectedDeaths(),
                mixture(animals, settings),
                imputed,
                extreme(animals, settings, AnimalFate.ALIVE_AT_END),
                extreme(animals, settings, AnimalFate.DIED));
    }

    private static boolean isInDoubt(FateProbabilities p) {
        return Math.max(Math.max(p.survived(), p.died()), Math.max(p.eaten(), p.shed())) < DECIDED;
    }

    /** Probability of a death that counts by the horizon, given that it died at its time at risk. */
    private static double dies(AnimalOutcome animal, EstimateSettings settings) {
        FateProbabilities p = animal.probabilities();
        if (p == null) {
            return settings.deaths().code(animal) == 1 && animal.atRiskH() <= settings.horizonH() ? 1 : 0;
        }
        if (animal.atRiskH() > settings.horizonH()) {
            return 0;
        }
        return (settings.deaths().code(animal.with(AnimalFate.DIED)) == 1 ? p.died() : 0)
                + (settings.deaths().code(animal.with(AnimalFate.EATEN)) == 1 ? p.eaten() : 0);
    }

    /** Null when an animal may be unknown at the horizon: then only imputation can say. */
    private static @Nullable Share mixture(List<AnimalOutcome> animals, EstimateSettings settings) {
        double[] q = new double[animals.size()];
        for (int i = 0; i < q.length; i++) {
            AnimalOutcome animal = animals.get(i);
            FateProbabilities p = animal.probabilities();
            boolean beyond = animal.atRiskH() >= settings.horizonH();
            boolean unknown = p == null ? !animal.dead() : p.shed() > 1e-12;
            if (unknown && !beyond) {
                return null;
            }
            q[i] = Math.max(0, Math.min(1, dies(animal, settings)));
        }
        PoissonBinomial deaths = PoissonBinomial.of(q);
        Interval limits = deaths.mixture(0.5, settings.level());
        double mean = deaths.mean() / q.length;
        return Share.of(
                mean,
                new Interval(Math.min(limits.low(), mean), Math.max(limits.high(), mean)),
                settings.level(),
                "Poisson-binomial mixture of Jeffreys");
    }

    private static @Nullable Share extreme(List<AnimalOutcome> animals, EstimateSettings settings, AnimalFate fate) {
        List<AnimalOutcome> changed = new ArrayList<>();
        for (AnimalOutcome animal : animals) {
            FateProbabilities p = animal.probabilities();
            if (p == null || !isInDoubt(p)) {
                changed.add(animal);
            } else if (fate == AnimalFate.DIED) {
                changed.add(animal.with(fate));
            } else {
                double hours = p.survived() > 0 ? Math.max(animal.atRiskH(), settings.horizonH()) : animal.atRiskH();
                changed.add(new AnimalOutcome(
                        animal.animal(), animal.groups(), animal.covariates(), fate, animal.end(), hours, null));
            }
        }
        return HeadlineAnalysis.answer(changed, settings, settings.deaths()).died();
    }

    /** Completed studies, and a posterior draw from each. */
    private static final class Draws {

        private final List<AnimalOutcome> animals;
        private final EstimateSettings settings;
        private final double[] values;
        private final double mean;

        Draws(List<AnimalOutcome> animals, EstimateSettings settings) {
            this.animals = animals;
            this.settings = settings;
            RandomDraws random = new RandomDraws(settings.seed() + 2);
            int n = animals.size();
            HorizonShare study = new HorizonShare(animals, settings.horizonH(), settings.deaths());
            int[] code = new int[n];
            int[] ifDied = new int[n];
            int[] ifEaten = new int[n];
            for (int i = 0; i < n; i++) {
                ifDied[i] = settings.deaths().code(animals.get(i).with(AnimalFate.DIED));
                ifEaten[i] = settings.deaths().code(animals.get(i).with(AnimalFate.EATEN));
            }
            int[] one = new int[n];
            Arrays.fill(one, 1);
            double[] drawn = new double[settings.replicates()];
            double sum = 0;
            int kept = 0;
            for (int b = 0; b < drawn.length; b++) {
                for (int i = 0; i < n; i++) {
                    FateProbabilities p = animals.get(i).probabilities();
                    code[i] = p == null
                            ? settings.deaths().code(animals.get(i))
                            : complete(p, random.uniform(), ifDied[i], ifEaten[i]);
                }
                HorizonShare.Moments moments = study.moments(one, code);
                if (Double.isNaN(moments.share())) {
                    continue;
                }
                drawn[kept++] = posterior(moments, random);
                sum += moments.share();
            }
            values = Arrays.copyOf(drawn, kept);
            Arrays.sort(values);
            mean = kept > 0 ? sum / kept : Double.NaN;
        }

        private static int complete(FateProbabilities p, double u, int ifDied, int ifEaten) {
            if (u < p.died()) {
                return ifDied;
            }
            if (u < p.died() + p.eaten()) {
                return ifEaten;
            }
            return u < 1 - p.shed() ? 3 : 0;
        }

        /** Beta posterior with as many animals as the variance of the share is worth, Jeffreys' prior. */
        private double posterior(HorizonShare.Moments moments, RandomDraws random) {
            double s = moments.share();
            double worth = moments.variance() > 0 && s > 0 && s < 1
                    ? s * (1 - s) / moments.variance()
                    : Math.max(moments.atRiskAfter(), s > 0 ? animals.size() : 0);
            worth = Math.min(worth, animals.size());
            return random.beta(s * worth + 0.5, (1 - s) * worth + 0.5);
        }

        double expectedDeaths() {
            return animals.stream().mapToDouble(a -> dies(a, settings)).sum();
        }

        @Nullable
        Share share() {
            int n = values.length;
            if (n < settings.replicates() / 2) {
                return null;
            }
            double tail = (1 - settings.level()) / 2;
            double low = values[(int) Math.floor(tail * (n - 1))];
            double high = values[(int) Math.ceil((1 - tail) * (n - 1))];
            return Share.of(
                    mean,
                    new Interval(Math.min(low, mean), Math.max(high, mean)),
                    settings.level(),
                    "multiple imputation with beta posteriors");
        }
    }
}
