package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.Interval;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.SurvivalCurve;
import org.jspecify.annotations.Nullable;

/** Kaplan–Meier on hours at risk. */
final class TimeToDeathAnalysis {

    private TimeToDeathAnalysis() {}

    static TimeToDeath of(List<AnimalOutcome> animals, EstimateSettings settings) {
        String name = "Survival curve (Kaplan–Meier), Greenwood standard errors, log-log limits";
        if (animals.isEmpty()) {
            return new TimeToDeath(Method.refused(name, "There is no animal."), null, List.of(), List.of(), null, null);
        }
        SurvivalCurve curve =
                KaplanMeier.of(HeadlineAnalysis.primaryOnly(animals, settings.deaths()), settings.level());
        List<String> assumptions = new ArrayList<>(List.of(
                "The clock starts at each animal's release.",
                "Animals that left our sight would have fared like those still watched.",
                "Deaths that do not count under the declared rule are treated as leaving our sight; see the ends"
                        + " that compete."));
        SurvivalCurve.Step zero = curve.falseZero();
        if (zero != null) {
            assumptions.add("From " + Text.number(zero.time()) + " h on the curve is not to be read: only "
                    + Text.animals(zero.atRisk()) + " was still watched then.");
        }
        TreeSet<Double> hours = new TreeSet<>(settings.furtherHorizonsH());
        hours.add(settings.horizonH());
        List<TimeToDeath.AtHorizon> horizons = new ArrayList<>();
        for (double hour : hours) {
            horizons.add(at(hour, animals, curve, zero, settings));
        }
        boolean meanIsReached =
                curve.reaches(settings.horizonH()) && (zero == null || zero.time() > settings.horizonH());
        return new TimeToDeath(
                Method.used(name, assumptions),
                curve,
                horizons,
                censored(animals),
                curve.median(),
                meanIsReached ? curve.restrictedMean(settings.horizonH()) : null);
    }

    private static TimeToDeath.AtHorizon at(
            double hour,
            List<AnimalOutcome> animals,
            SurvivalCurve curve,
            SurvivalCurve.@Nullable Step zero,
            EstimateSettings settings) {
        int watched = 0;
        int died = 0;
        for (AnimalOutcome animal : animals) {
            watched += animal.atRiskH() >= hour ? 1 : 0;
            died += settings.deaths().code(animal) == 1 && animal.atRiskH() <= hour ? 1 : 0;
        }
        if (!curve.reaches(hour)) {
            return new TimeToDeath.AtHorizon(hour, watched, died, null, "no animal was watched so long");
        }
        if (zero != null && zero.time() <= hour) {
            return new TimeToDeath.AtHorizon(hour, watched, died, null, "too few were still watched");
        }
        // the limits come from the same small-sample interval as the headline, under the rule's deaths alone
        EstimateSettings there = settings.change().horizonH(hour).done();
        HeadlineAnalysis.Answer answer = HeadlineAnalysis.curveOnly(animals, there);
        Share dead = answer.died();
        if (dead == null) {
            return new TimeToDeath.AtHorizon(
                    hour, watched, died, null, answer.method().refusal());
        }
        Share survival = Share.of(
                1 - dead.value(), new Interval(1 - dead.high(), 1 - dead.low()), dead.level(), dead.interval());
        return new TimeToDeath.AtHorizon(hour, watched, died, survival, null);
    }

    private static List<TimeToDeath.Censored> censored(List<AnimalOutcome> animals) {
        Map<String, List<Double>> hours = new LinkedHashMap<>();
        for (RecordEnd end : RecordEnd.values()) {
            for (AnimalOutcome animal : animals) {
                if (animal.end() == end && !animal.dead()) {
                    String reason = animal.fate() == AnimalFate.UNDECIDED && end != RecordEnd.PACKAGE_LOST
                            ? "fate undecided (" + words(end) + ")"
                            : words(end);
                    hours.computeIfAbsent(reason, r -> new ArrayList<>()).add(animal.atRiskH());
                }
            }
        }
        List<TimeToDeath.Censored> rows = new ArrayList<>();
        hours.forEach((reason, times) -> rows.add(new TimeToDeath.Censored(
                reason,
                times.size(),
                times.stream().mapToDouble(t -> t).min().orElse(0),
                times.stream().mapToDouble(t -> t).max().orElse(0))));
        return rows;
    }

    static String words(RecordEnd end) {
        return switch (end) {
            case PLANNED_DETACHMENT -> "package came off as planned";
            case SHED_EARLY -> "package came off early";
            case LOGGER_STOPPED -> "logger stopped while on the animal";
            case FLOODED -> "water in the package";
            case PACKAGE_LOST -> "package not retrieved";
        };
    }
}
