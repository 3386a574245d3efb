package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What makes it worse.
 *
 * @param method how it was obtained
 * @param models each declared model
 * @param averaging the declared set compared and averaged
 */
public record RiskFactors(Method method, List<Model> models, Averaging averaging) {

    public RiskFactors {
        models = List.copyOf(models);
    }

    /**
     * One model.
     *
     * @param columns its columns
     * @param method how it was fitted; refused when the data cannot carry it
     * @param animals with a known fate at the horizon and all columns
     * @param deaths that count among them
     * @param leftOut animals without a known fate or with a blank column
     * @param eventsPerTerm the smaller of deaths and survivors, per term
     * @param caution that the data cannot tell, and why; null when there is enough
     * @param terms odds ratios of dying by the horizon (Firth logistic)
     * @param hazards hazard ratios over time (Firth proportional hazards)
     * @param predictions risks for given animals, intercept corrected
     */
    public record Model(
            List<String> columns,
            Method method,
            int animals,
            int deaths,
            int leftOut,
            double eventsPerTerm,
            @Nullable String caution,
            List<Term> terms,
            List<Term> hazards,
            List<Prediction> predictions) {

        public Model {
            columns = List.copyOf(columns);
            terms = List.copyOf(terms);
            hazards = List.copyOf(hazards);
            predictions = List.copyOf(predictions);
        }
    }

    /**
     * The effect of one term.
     *
     * @param name column, or column and group
     * @param against what it is compared with: one unit less, or the reference group
     * @param ratio odds or hazard ratio
     * @param low lower profile limit; 0 when the likelihood does not fall off
     * @param high upper profile limit; null when the likelihood does not fall off
     * @param logRatio natural log of the ratio
     * @param logSe standard error of the log
     * @param p penalised likelihood ratio test of no effect
     */
    public record Term(
            String name,
            String against,
            double ratio,
            double low,
            @Nullable Double high,
            double logRatio,
            double logSe,
            double p) {}

    /**
     * A predicted risk.
     *
     * @param animal what it is like, in words
     * @param risk of dying by the horizon, 0–1
     * @param low lower limit: normal on the logit scale, from the inverse information
     * @param high upper limit
     */
    public record Prediction(String animal, double risk, double low, double high) {}

    /**
     * The declared set compared.
     *
     * @param method how; refused when the ordinary likelihood cannot carry it
     * @param animals with a known fate and every column of every model
     * @param rows one per model, the one without any column first
     * @param terms averaged log odds ratios
     */
    public record Averaging(Method method, int animals, List<Row> rows, List<AveragedTerm> terms) {

        public Averaging {
            rows = List.copyOf(rows);
            terms = List.copyOf(terms);
        }
    }

    /**
     * One model of the set.
     *
     * @param columns its columns
     * @param parameters number, intercept included
     * @param logLikelihood ordinary
     * @param aicc small-sample Akaike criterion
     * @param weight its Akaike weight
     */
    public record Row(List<String> columns, int parameters, double logLikelihood, double aicc, double weight) {}

    /**
     * A term averaged over models.
     *
     * @param name term
     * @param full log odds ratio averaged over all models, 0 where it is absent
     * @param fullSe its unconditional standard error
     * @param conditional averaged over the models that hold it
     * @param conditionalSe its unconditional standard error
     * @param importance sum of the weights of the models that hold it
     */
    public record AveragedTerm(
            String name, double full, double fullSe, double conditional, double conditionalSe, double importance) {}
}
