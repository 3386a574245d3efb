package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.aftercast.stats.CoxRegression;
import org.aftercast.stats.CoxRegression.Ties;
import org.aftercast.stats.Interval;
import org.aftercast.stats.LogisticRegression;
import org.aftercast.stats.Penalty;
import org.aftercast.stats.RegressionFit;
import org.aftercast.stats.RegressionFit.NotFitted;
import org.aftercast.stats.SurvivalTimes;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;

/** Firth logistic and proportional hazards fits of each declared model. */
final class RiskAnalysis {

    /** Below so many events a term, say that the data cannot tell; common practice, no single source. */
    static final double FEWEST_EVENTS_PER_TERM = 5;

    private static final String NAME =
            "Firth-penalised logistic and proportional hazards regression, profile limits, Efron's ties";

    private RiskAnalysis() {}

    static RiskFactors of(List<AnimalOutcome> animals, EstimateSettings settings) {
        if (settings.riskModels().isEmpty()) {
            Method none = Method.refused(NAME, "No risk factors were declared; name the columns to be looked at.");
            return new RiskFactors(none, List.of(), new RiskFactors.Averaging(none, 0, List.of(), List.of()));
        }
        List<RiskFactors.Model> models = settings.riskModels().stream()
                .map(columns -> model(columns, animals, settings))
                .toList();
        return new RiskFactors(
                Method.used(
                        NAME,
                        List.of(
                                "The models were declared before looking at the fates, and none was dropped after.",
                                "Fates were judged without looking at these columns; otherwise they prove themselves.",
                                "Each animal died independently of the others.",
                                "An association need not be a cause.")),
                models,
                AveragingAnalysis.of(animals, settings));
    }

    /** Animals with a known fate at the horizon and every column. */
    static List<AnimalOutcome> usable(List<AnimalOutcome> animals, List<String> columns, EstimateSettings settings) {
        return animals.stream()
                .filter(a -> columns.stream()
                        .allMatch(
                                c -> a.groups().containsKey(c) || a.covariates().containsKey(c)))
                .filter(a -> (settings.deaths().code(a) > 0 && a.atRiskH() <= settings.horizonH())
                        || a.atRiskH() >= settings.horizonH())
                .toList();
    }

    static int[] diedByHorizon(List<AnimalOutcome> animals, EstimateSettings settings) {
        return animals.stream()
                .mapToInt(a -> settings.deaths().code(a) == 1 && a.atRiskH() <= settings.horizonH() ? 1 : 0)
                .toArray();
    }

    private static RiskFactors.Model model(
            List<String> columns, List<AnimalOutcome> animals, EstimateSettings settings) {
        List<AnimalOutcome> usable = usable(animals, columns, settings);
        int[] died = diedByHorizon(usable, settings);
        int deaths = Arrays.stream(died).sum();
        int n = usable.size();
        int leftOut = animals.size() - n;
        if (deaths == 0 || deaths == n) {
            return refused(
                    columns,
                    n,
                    deaths,
                    leftOut,
                    n == 0
                            ? "No animal has a known fate and all of these columns."
                            : (deaths == 0 ? "No animal died" : "Every animal died")
                                    + " by the horizon: there is nothing that could be worse or better.");
        }
        Design design;
        try {
            design = Design.of(usable, columns);
        } catch (IllegalArgumentException bad) {
            return refused(columns, n, deaths, leftOut, String.valueOf(bad.getMessage()));
        }
        int rarer = Math.min(deaths, n - deaths);
        double perTerm = (double) rarer / design.terms();
        if (perTerm < 1) {
            return refused(
                    columns,
                    n,
                    deaths,
                    leftOut,
                    "There are " + design.terms() + " terms for " + rarer
                            + (deaths <= n - deaths ? " deaths" : " survivors")
                            + ": fewer than one a term says nothing.");
        }
        double[][] x = design.rows();
        try {
            RegressionFit fit = LogisticRegression.fit(x, died, Penalty.FIRTH, settings.level());
            List<RiskFactors.Term> terms = new ArrayList<>();
            for (int j = 0; j < design.terms(); j++) {
                terms.add(
                        term(design, j, fit, j + 1, LogisticRegression.likelihoodRatio(x, died, Penalty.FIRTH, j + 1)));
            }
            return new RiskFactors.Model(
                    columns,
                    Method.used(
                            "Firth-penalised logistic regression of death by the horizon; over time"
                                    + " Firth-penalised proportional hazards",
                            List.of(
                                    "The log odds change in a straight line with each measure.",
                                    "Over time: the ratio of hazards stays the same.",
                                    "Animals whose fate at the horizon is unknown were left out of the odds; over time"
                                            + " they count as long as they were seen.")),
                    n,
                    deaths,
                    leftOut,
                    perTerm,
                    perTerm < FEWEST_EVENTS_PER_TERM
                            ? "With " + rarer + (deaths <= n - deaths ? " deaths" : " survivors") + " for "
                                    + design.terms() + (design.terms() == 1 ? " term" : " terms")
                                    + " the data cannot tell: the limits, not the ratio, are the result."
                            : null,
                    terms,
                    hazards(columns, animals, settings),
                    predictions(design, x, died, fit, settings.level()));
        } catch (NotFitted failure) {
            return refused(columns, n, deaths, leftOut, "No fit: " + failure.getMessage() + ".");
        }
    }

    private static List<RiskFactors.Term> hazards(
            List<String> columns, List<AnimalOutcome> animals, EstimateSettings settings) throws NotFitted {
        List<AnimalOutcome> known = animals.stream()
                .filter(a -> columns.stream()
                        .allMatch(
                                c -> a.groups().containsKey(c) || a.covariates().containsKey(c)))
                .toList();
        Design design;
        try {
            design = Design.of(known, columns);
        } catch (IllegalArgumentException bad) {
            return List.of();
        }
        SurvivalTimes times = HeadlineAnalysis.primaryOnly(known, settings.deaths());
        double[][] x = design.rows();
        RegressionFit fit = CoxRegression.fit(times, x, Ties.EFRON, Penalty.FIRTH, settings.level());
        List<RiskFactors.Term> terms = new ArrayList<>();
        for (int j = 0; j < design.terms(); j++) {
            terms.add(term(design, j, fit, j, CoxRegression.likelihoodRatio(times, x, Ties.EFRON, Penalty.FIRTH, j)));
        }
        return terms;
    }

    private static RiskFactors.Term term(Design design, int j, RegressionFit fit, int at, double likelihoodRatio) {
        Interval[] limits = fit.limits();
        double low = limits == null ? Double.NEGATIVE_INFINITY : limits[at].low();
        double high = limits == null ? Double.POSITIVE_INFINITY : limits[at].high();
        double highRatio = Math.exp(high);
        return new RiskFactors.Term(
                design.name(j),
                design.against(j),
                Math.min(Double.MAX_VALUE, Math.exp(fit.coefficients()[at])),
                Math.exp(low),
                Double.isInfinite(highRatio) ? null : highRatio,
                fit.coefficients()[at],
                fit.se()[at],
                1 - new ChiSquaredDistribution(1).cumulativeProbability(Math.max(0, likelihoodRatio)));
    }

    /** Risk at the least, middle and largest of each measure and at each group, all else at its mean. */
    private static List<RiskFactors.Prediction> predictions(
            Design design, double[][] x, int[] died, RegressionFit fit, double level) {
        double z = new NormalDistribution().inverseCumulativeProbability(1 - (1 - level) / 2);
        double intercept = LogisticRegression.correctedIntercept(x, died, fit.coefficients());
        double base = intercept;
        double[] mean = new double[design.terms()];
        for (double[] row : x) {
            for (int j = 0; j < mean.length; j++) {
                mean[j] += row[j] / x.length;
            }
        }
        for (int j = 0; j < mean.length; j++) {
            base += fit.coefficients()[j + 1] * mean[j];
        }
        List<RiskFactors.Prediction> predictions = new ArrayList<>();
        for (int j = 0; j < mean.length; j++) {
            double slope = fit.coefficients()[j + 1];
            double[] sorted = design.sorted(j);
            double[] at = design.isMeasure(j)
                    ? new double[] {sorted[0], sorted[sorted.length / 2], sorted[sorted.length - 1]}
                    : new double[] {1};
            for (double value : at) {
                String words = design.isMeasure(j) ? design.name(j) + " = " + Text.number(value) : design.name(j);
                double eta = base + slope * (value - mean[j]);
                double spread = z * logitSe(fit.covariance(), mean, j, value);
                predictions.add(new RiskFactors.Prediction(
                        mean.length == 1 ? words : words + ", all else average",
                        LogisticRegression.risk(eta),
                        LogisticRegression.risk(eta - spread),
                        LogisticRegression.risk(eta + spread)));
            }
        }
        return predictions;
    }

    /** Standard error of the linear predictor, √(vᵀ·C·v), with one term at a value and the others at their means. */
    private static double logitSe(double[][] covariance, double[] mean, int term, double value) {
        double[] v = new double[mean.length + 1];
        v[0] = 1;
        for (int j = 0; j < mean.length; j++) {
            v[j + 1] = j == term ? value : mean[j];
        }
        double sum = 0;
        for (int a = 0; a < v.length; a++) {
            for (int b = 0; b < v.length; b++) {
                sum += v[a] * covariance[a][b] * v[b];
            }
        }
        return Math.sqrt(Math.max(0, sum));
    }

    private static RiskFactors.Model refused(
            List<String> columns, int animals, int deaths, int leftOut, String reason) {
        return new RiskFactors.Model(
                columns,
                Method.refused("Firth-penalised logistic regression", reason),
                animals,
                deaths,
                leftOut,
                0,
                null,
                List.of(),
                List.of(),
                List.of());
    }
}
