package org.aftercast.estimate;

import java.util.List;
import org.aftercast.stats.MixtureSurvival;
import org.aftercast.stats.SurvivalTimes;

/** The mixture curve, where there are deaths enough. */
final class LongTermAnalysis {

    /** Two or three parameters from fewer deaths are noise; common practice, no source. */
    private static final int FEWEST_DEATHS = 5;

    private static final int DEATHS_FOR_SHAPE = 15;
    private static final String NAME = "Mixture of hurt and unhurt animals, maximum likelihood";

    private LongTermAnalysis() {}

    static LongTerm of(List<AnimalOutcome> animals, EstimateSettings settings) {
        SurvivalTimes times = HeadlineAnalysis.primaryOnly(animals, settings.deaths());
        int deaths = 0;
        double lastDeath = 0;
        double longest = 0;
        double[] exit = times.exit();
        int[] event = times.event();
        for (int i = 0; i < exit.length; i++) {
            longest = Math.max(longest, exit[i]);
            if (event[i] == 1) {
                deaths++;
                lastDeath = Math.max(lastDeath, exit[i]);
            }
        }
        if (deaths < FEWEST_DEATHS || longest == 0) {
            return new LongTerm(
                    Method.refused(
                            NAME,
                            "There are " + deaths + " deaths; with fewer than " + FEWEST_DEATHS
                                    + " the share that is hurt and the pace of dying cannot be told apart."),
                    null,
                    null,
                    null,
                    settings.naturalPerH(),
                    null);
        }
        MixtureSurvival.Form form =
                deaths >= DEATHS_FOR_SHAPE ? MixtureSurvival.Form.WEIBULL : MixtureSurvival.Form.EXPONENTIAL;
        MixtureSurvival model =
                MixtureSurvival.fit(times, settings.naturalPerH(), form).model();
        double halfTime = Math.pow(Math.log(2), 1 / model.shape()) / model.rate();
        boolean plateau = lastDeath < longest / 2;
        return new LongTerm(
                Method.used(
                        NAME,
                        List.of(
                                "Every animal is either hurt or not; those hurt die at a pace of one form.",
                                settings.naturalPerH() == 0
                                        ? "No natural deaths were counted on while watched (their rate was not given)."
                                        : "The natural death rate is " + settings.naturalPerH()
                                                + " per hour, as given.",
                                "Animals that left our sight would have fared like those still watched.")),
                model.hurt(),
                Double.isFinite(halfTime) ? halfTime : null,
                model.shape(),
                settings.naturalPerH(),
                plateau
                        ? "The last death came at " + Text.number(lastDeath) + " h, well before the longest record ("
                                + Text.number(longest) + " h): the curve rests on a plateau."
                        : "Deaths came up to " + Text.number(lastDeath) + " h of " + Text.number(longest)
                                + " h: there is no plateau, and the share hurt is weakly known.");
    }
}
