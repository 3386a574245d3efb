package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.aftercast.stats.AkaikeAverage;
import org.aftercast.stats.LogisticRegression;
import org.aftercast.stats.Penalty;
import org.aftercast.stats.RegressionFit;
import org.aftercast.stats.RegressionFit.NotFitted;

/** AICc over the declared set, with ordinary likelihoods: penalised ones cannot be compared. */
final class AveragingAnalysis {

    private static final String NAME = "AICc over the declared models, ordinary logistic likelihood, averaged";

    private AveragingAnalysis() {}

    static RiskFactors.Averaging of(List<AnimalOutcome> animals, EstimateSettings settings) {
        List<List<String>> models = new ArrayList<>();
        models.add(List.of());
        settings.riskModels().stream().filter(m -> !models.contains(m)).forEach(models::add);
        Set<String> all = new LinkedHashSet<>();
        models.forEach(all::addAll);
        List<AnimalOutcome> usable = RiskAnalysis.usable(animals, List.copyOf(all), settings);
        int[] died = RiskAnalysis.diedByHorizon(usable, settings);
        int deaths = Arrays.stream(died).sum();
        int n = usable.size();
        int rarer = Math.min(deaths, n - deaths);
        if (rarer == 0) {
            return refused(
                    n,
                    n == 0
                            ? "No animal has a known fate and every column of every model."
                            : "Every animal with all columns had the same fate.");
        }
        List<RegressionFit> fits = new ArrayList<>();
        List<List<String>> names = new ArrayList<>();
        Set<String> terms = new LinkedHashSet<>();
        for (List<String> model : models) {
            try {
                Design design = Design.of(usable, model);
                if (design.terms() > 0 && rarer < RiskAnalysis.FEWEST_EVENTS_PER_TERM * design.terms()) {
                    return refused(
                            n,
                            "With " + rarer + " of the rarer fate, models of " + design.terms()
                                    + " terms cannot be compared; at least " + (int) RiskAnalysis.FEWEST_EVENTS_PER_TERM
                                    + " a term are needed.");
                }
                double[][] x = design.terms() == 0 ? new double[n][0] : design.rows();
                fits.add(LogisticRegression.fit(x, died, Penalty.NONE, 0));
                List<String> own = new ArrayList<>();
                for (int j = 0; j < design.terms(); j++) {
                    own.add(design.name(j));
                }
                names.add(own);
                terms.addAll(own);
            } catch (NotFitted failure) {
                return refused(
                        n,
                        "The model " + String.join(" + ", model) + " has no ordinary fit: " + failure.getMessage()
                                + ".");
            } catch (IllegalArgumentException bad) {
                return refused(n, String.valueOf(bad.getMessage()));
            }
        }
        int[] parameters = names.stream().mapToInt(list -> list.size() + 1).toArray();
        if (n <= Arrays.stream(parameters).max().orElse(0) + 1) {
            return refused(n, "There are too few animals for the number of terms.");
        }
        AkaikeAverage average = AkaikeAverage.of(
                fits.stream().mapToDouble(RegressionFit::logLikelihood).toArray(), parameters, n);
        List<RiskFactors.Row> rows = new ArrayList<>();
        for (int m = 0; m < models.size(); m++) {
            rows.add(new RiskFactors.Row(
                    models.get(m),
                    parameters[m],
                    fits.get(m).logLikelihood(),
                    average.aicc()[m],
                    average.weights()[m]));
        }
        return new RiskFactors.Averaging(
                Method.used(
                        NAME,
                        List.of(
                                "The set was declared before looking at the fates; nothing was selected step by step.",
                                "All models were fitted to the same animals.")),
                n,
                rows,
                terms.stream().map(term -> average(term, names, fits, average)).toList());
    }

    private static RiskFactors.AveragedTerm average(
            String term, List<List<String>> names, List<RegressionFit> fits, AkaikeAverage average) {
        double[] value = new double[fits.size()];
        double[] se = new double[fits.size()];
        boolean[] holds = new boolean[fits.size()];
        for (int m = 0; m < fits.size(); m++) {
            int at = names.get(m).indexOf(term);
            if (at >= 0) {
                holds[m] = true;
                value[m] = fits.get(m).coefficients()[at + 1];
                se[m] = fits.get(m).se()[at + 1];
            }
        }
        AkaikeAverage.Averaged full = average.full(value, se, holds);
        AkaikeAverage.Averaged conditional = average.conditional(value, se, holds);
        return new RiskFactors.AveragedTerm(
                term, full.value(), full.se(), conditional.value(), conditional.se(), full.importance());
    }

    private static RiskFactors.Averaging refused(int n, String reason) {
        return new RiskFactors.Averaging(Method.refused(NAME, reason), n, List.of(), List.of());
    }
}
