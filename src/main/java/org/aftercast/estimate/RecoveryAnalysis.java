package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.MixedAsymptoticFit;
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
    private static final double LARGEST_SPREAD = 100;
    private static final String COMMON =
            "One asymptotic curve for all animals with a random normal of each (mixed effects, maximum likelihood)";

    private RecoveryAnalysis() {}

    /** So few left under observation that one recovery halves the curve. */
    private static final int FEWEST_LEFT = 2;

    static List<RecoveryAcross> of(
            List<AnimalRecovery> recoveries,
            List<RecoveryTrack> tracks,
            List<AnimalOutcome> animals,
            EstimateSettings settings) {
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
        byMeasure.forEach((measure, list) -> all.add(across(measure, list, tracks, settings)));
        return all;
    }

    private static RecoveryAcross across(
            String measure, List<AnimalRecovery> list, List<RecoveryTrack> tracks, EstimateSettings settings) {
        double[] exit = list.stream().mapToDouble(AnimalRecovery::hours).toArray();
        int[] event = list.stream()
                .mapToInt(r -> r.seen() == AnimalRecovery.Seen.RECOVERED ? 1 : 0)
                .toArray();
        SurvivalCurve curve = KaplanMeier.of(SurvivalTimes.fromZero(exit, event), settings.level());
        return new RecoveryAcross(
                Method.used(
                        "Kaplan–Meier of the time to recovery; animals whose return could not be timed count as later than their lower"
                                + " limit."
                                + " Typical time: random effects on the log of the hours (restricted maximum"
                                + " likelihood, Knapp–Hartung)",
                        List.of(
                                "Animals that could not be timed would recover like the others, only later.",
                                "The typical time rests on animals that could be timed; slow ones are missing"
                                        + " from it, so it tends to be too short. The curve does not have this fault.",
                                "Animals that died or were eaten while watched are in neither.")),
                measure,
                list.size(),
                (int) list.stream()
                        .filter(r -> r.seen() == AnimalRecovery.Seen.LATER_THAN)
                        .count(),
                curve,
                median(curve, Arrays.stream(event).sum()),
                pooled(list, settings),
                common(measure, list, tracks, settings));
    }

    /** Not told from fewer than three recoveries, nor where only one or two animals still watched bring the curve to one half. */
    private static SurvivalCurve.@Nullable Quantile median(SurvivalCurve curve, int recovered) {
        if (recovered < FEWEST) {
            return null;
        }
        SurvivalCurve.Quantile median = curve.median();
        Double time = median.time();
        SurvivalCurve.Step step = time == null ? null : curve.stepAt(time);
        return step != null && step.atRisk() <= FEWEST_LEFT ? null : median;
    }

    /** One curve for all animals that had something to recover from, each with its own normal. */
    private static RecoveryAcross.@Nullable Common common(
            String measure, List<AnimalRecovery> list, List<RecoveryTrack> tracks, EstimateSettings settings) {
        Set<String> disturbed = list.stream().map(AnimalRecovery::animal).collect(Collectors.toSet());
        List<RecoveryTrack> own = tracks.stream()
                .filter(t -> t.measure().equals(measure) && disturbed.contains(t.animal()) && t.hours().length > 0)
                .toList();
        if (own.isEmpty()) {
            return null;
        }
        List<String> units = new ArrayList<>();
        List<Double> hours = new ArrayList<>();
        List<Double> values = new ArrayList<>();
        for (RecoveryTrack track : own) {
            for (int i = 0; i < track.hours().length; i++) {
                units.add(track.animal());
                hours.add(track.hours()[i]);
                values.add(track.values()[i]);
            }
        }
        String unit = own.get(0).unit();
        if (own.size() < FEWEST) {
            return refused(
                    own.size(),
                    hours.size(),
                    unit,
                    "There are values over time for " + own.size()
                            + (own.size() == 1 ? " animal" : " animals") + "; with fewer than " + FEWEST
                            + " nothing can be said of their spread.");
        }
        double[] x = hours.stream().mapToDouble(v -> v).toArray();
        double longest = Arrays.stream(x).max().orElse(0);
        MixedAsymptoticFit fit;
        try {
            fit = MixedAsymptoticFit.of(
                    units.toArray(String[]::new),
                    x,
                    values.stream().mapToDouble(v -> v).toArray());
        } catch (IllegalArgumentException noFit) {
            return refused(own.size(), x.length, unit, "No fit: " + noFit.getMessage() + ".");
        }
        double back = Math.log(5) / Math.exp(fit.logRate());
        double z = new NormalDistribution().inverseCumulativeProbability(1 - (1 - settings.level()) / 2);
        double spread = Math.exp(z * fit.seLogRate());
        if (!(back < longest) || !Double.isFinite(back * spread) || spread > LARGEST_SPREAD || back * 1000 < longest) {
            return refused(
                    own.size(),
                    x.length,
                    unit,
                    "The values do not bend toward a common normal within the records, so that the pace is not known.");
        }
        return new RecoveryAcross.Common(
                Method.used(
                        COMMON,
                        List.of(
                                "All animals start alike and return at one pace; only their normal differs.",
                                "Values follow an exponential approach; what is left over is independent.",
                                "Animals that could not be timed add what was seen of them.")),
                own.size(),
                x.length,
                unit,
                fit.start(),
                fit.asymptote(),
                fit.sdAsymptote(),
                fit.residualSd(),
                back,
                back / spread,
                back * spread);
    }

    private static RecoveryAcross.Common refused(int animals, int points, String unit, String reason) {
        return new RecoveryAcross.Common(
                Method.refused(COMMON, reason), animals, points, unit, null, null, null, null, null, null, null);
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
