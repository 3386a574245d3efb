package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.RandomEffects;
import org.aftercast.stats.RandomEffects.Between;
import org.aftercast.stats.RandomEffects.Errors;
import org.aftercast.stats.SurvivalCurve;
import org.aftercast.stats.SurvivalTimes;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.jspecify.annotations.Nullable;

/** Kaplan–Meier of recovery with those not seen to recover censored; two-stage pooling of log-times. */
final class RecoveryAnalysis {

    private static final int FEWEST = 3;

    private RecoveryAnalysis() {}

    static List<RecoveryAcross> of(
            List<AnimalRecovery> recoveries, List<AnimalOutcome> animals, EstimateSettings settings) {
        Set<String> dead = animals.stream()
                .filter(AnimalOutcome::dead)
                .map(AnimalOutcome::animal)
                .collect(Collectors.toSet());
        Map<String, List<AnimalRecovery>> byMeasure = new LinkedHashMap<>();
        for (AnimalRecovery recovery : recoveries) {
            if (dead.contains(recovery.animal())) {
                continue;
            }
            byMeasure
                    .computeIfAbsent(recovery.measure(), m -> new ArrayList<>())
                    .add(recovery);
        }
        List<RecoveryAcross> all = new ArrayList<>();
        byMeasure.forEach((measure, list) -> all.add(across(measure, list, settings)));
        return all;
    }

    private static RecoveryAcross across(String measure, List<AnimalRecovery> list, EstimateSettings settings) {
        double[] exit = list.stream().mapToDouble(AnimalRecovery::hours).toArray();
        int[] event = list.stream()
                .mapToInt(r -> r.seen() == AnimalRecovery.Seen.RECOVERED ? 1 : 0)
                .toArray();
        SurvivalCurve curve = KaplanMeier.of(SurvivalTimes.fromZero(exit, event), settings.level());
        return new RecoveryAcross(
                Method.used(
                        "Kaplan–Meier of the time to recovery; animals not seen to recover count as later than watched."
                                + " Typical time: random effects on the log of the hours (restricted maximum"
                                + " likelihood, Knapp–Hartung)",
                        List.of(
                                "Animals not seen to recover would recover like the others, only later.",
                                "The typical time rests on animals that recovered while watched; slow ones are missing"
                                        + " from it, so it tends to be too short. The curve does not have this fault.",
                                "Animals that died or were eaten while watched are in neither.")),
                measure,
                list.size(),
                (int) list.stream()
                        .filter(r -> r.seen() == AnimalRecovery.Seen.LATER_THAN)
                        .count(),
                curve,
                curve.median(),
                pooled(list, settings));
    }

    private static RecoveryAcross.@Nullable Pooled pooled(List<AnimalRecovery> list, EstimateSettings settings) {
        double z = new NormalDistribution().inverseCumulativeProbability(1 - (1 - settings.level()) / 2);
        List<Double> logs = new ArrayList<>();
        List<Double> variances = new ArrayList<>();
        for (AnimalRecovery r : list) {
            Double low = r.lowH();
            Double high = r.highH();
            if (r.seen() == AnimalRecovery.Seen.RECOVERED
                    && low != null
                    && high != null
                    && low > 0
                    && high > low
                    && Double.isFinite(high)
                    && r.hours() > 0) {
                double se = Math.log(high / low) / (2 * z);
                logs.add(Math.log(r.hours()));
                variances.add(se * se);
            }
        }
        if (logs.size() < FEWEST) {
            return null;
        }
        RandomEffects effects = RandomEffects.of(
                logs.stream().mapToDouble(v -> v).toArray(),
                variances.stream().mapToDouble(v -> v).toArray(),
                Between.REML,
                Errors.KNAPP_HARTUNG,
                settings.level());
        return new RecoveryAcross.Pooled(
                logs.size(),
                Math.exp(effects.mean()),
                Math.exp(effects.limits().low()),
                finite(Math.exp(effects.limits().high())),
                Math.exp(effects.prediction().low()),
                finite(Math.exp(effects.prediction().high())),
                Math.sqrt(effects.tauSquared()),
                effects.iSquared());
    }

    private static double finite(double value) {
        return Math.min(Double.MAX_VALUE, value);
    }
}
