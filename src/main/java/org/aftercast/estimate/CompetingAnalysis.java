package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.fate.AnimalFate;
import org.aftercast.stats.CumulativeIncidence;
import org.aftercast.stats.Interval;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.SurvivalCurve;
import org.aftercast.stats.SurvivalTimes;

/** Aalen–Johansen for died and eaten. */
final class CompetingAnalysis {

    private static final String NAME =
            "Cumulative incidence (Aalen–Johansen), standard errors from the counting process (Gray 1988)";

    private CompetingAnalysis() {}

    static CompetingEnds of(List<AnimalOutcome> animals, EstimateSettings settings) {
        int n = animals.size();
        double[] exit = new double[n];
        int[] event = new int[n];
        int[] count = new int[3];
        for (int i = 0; i < n; i++) {
            AnimalOutcome animal = animals.get(i);
            exit[i] = animal.atRiskH();
            event[i] = !animal.dead() ? 0 : animal.fate() == AnimalFate.EATEN ? 2 : 1;
            count[event[i]]++;
        }
        if (count[1] == 0 || count[2] == 0) {
            return new CompetingEnds(
                    Method.refused(
                            NAME,
                            count[2] == 0
                                    ? "No animal was eaten: there is only one kind of end, and the survival curve says"
                                            + " all."
                                    : "No animal died otherwise than by being eaten: there is only one kind of end."),
                    List.of());
        }
        SurvivalTimes times = SurvivalTimes.fromZero(exit, event);
        SurvivalCurve all = KaplanMeier.of(times, settings.level());
        List<CompetingEnds.End> ends = new ArrayList<>();
        for (int kind = 1; kind <= 2; kind++) {
            CumulativeIncidence incidence = CumulativeIncidence.of(times, kind, settings.level());
            int[] only = new int[n];
            for (int i = 0; i < n; i++) {
                only[i] = event[i] == kind ? 1 : 0;
            }
            SurvivalCurve naive = KaplanMeier.of(SurvivalTimes.fromZero(exit, only), settings.level());
            boolean reached = all.reaches(settings.horizonH());
            ends.add(new CompetingEnds.End(
                    kind == 1 ? "died" : "eaten by a larger animal",
                    count[kind],
                    incidence,
                    reached ? share(incidence, settings) : null,
                    reached && naive.reaches(settings.horizonH()) ? 1 - naive.survivalAt(settings.horizonH()) : null));
        }
        return new CompetingEnds(
                Method.used(
                        NAME,
                        List.of(
                                "An animal that was eaten can no longer die from the catch; it is not treated as if it"
                                        + " still could.",
                                "Animals that left our sight would have fared like those still watched.",
                                "The record tells death from being eaten.")),
                ends);
    }

    private static Share share(CumulativeIncidence incidence, EstimateSettings settings) {
        CumulativeIncidence.Step step = incidence.stepAt(settings.horizonH());
        if (step == null) {
            return Share.of(0, new Interval(0, 1), settings.level(), "none");
        }
        Double low = step.low();
        Double high = step.high();
        return Share.of(
                step.share(),
                low == null || high == null ? new Interval(0, 1) : new Interval(low, high),
                settings.level(),
                low == null ? "none" : "log-log");
    }
}
