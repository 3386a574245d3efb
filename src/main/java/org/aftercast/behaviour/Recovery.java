package org.aftercast.behaviour;

import java.util.Map;

/**
 * How one measure returned to the animal's own normal. Hours count from the release.
 *
 * @param measure what was followed
 * @param status what can be said
 * @param curve the curve that fits best by the corrected Akaike criterion
 * @param recoveredH hours to {@code recoveredShare} of the way back (mean over the interval's weight); {@code NaN} unless
 *     {@code RECOVERED}
 * @param lowH lower limit of the interval, or the lower bound when censored; {@code NaN} when there is none
 * @param highH upper limit; infinite when censored
 * @param startValue value at the release by the curve, unit of the measure
 * @param normalValue the animal's own normal by the curve
 * @param binMin length of the means, minutes
 * @param bins number of means
 * @param lagOne autocorrelation of the residuals from one mean to the next
 * @param logOdds natural logarithm of the odds of a departure and return against none, daily rhythm or not, both taken as
 *     equally likely beforehand; {@code NaN} with too little data
 * @param akaike corrected Akaike criterion of each curve that was fitted
 * @param timesH middle of each mean
 * @param values the means
 * @param fitted the best curve there
 * @param ownMeanH second published definition, hours to the first five-minute mean that begins a stretch not above the
 *     animal's own later mean; {@code NaN} where it does not apply
 * @param sentence for people, with numbers
 */
public record Recovery(
        RecoveryMeasure measure,
        Status status,
        RecoveryCurve curve,
        double recoveredH,
        double lowH,
        double highH,
        double startValue,
        double normalValue,
        double binMin,
        int bins,
        double lagOne,
        double logOdds,
        Map<RecoveryCurve, Double> akaike,
        double[] timesH,
        double[] values,
        double[] fitted,
        double ownMeanH,
        String sentence) {

    /** What can be said. */
    public enum Status {
        /** It returned within the record. */
        RECOVERED,
        /** No departure from its own normal beyond noise and daily rhythm. */
        NEVER_DISTURBED,
        /** Still on its way at the end, or the record is too short to see where it leads: a lower bound only. */
        NOT_WITHIN_RECORD,
        /** Too few means with swimming. */
        NOT_ENOUGH_DATA
    }

    public Recovery {
        akaike = Map.copyOf(akaike);
    }
}
