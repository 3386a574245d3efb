package org.aftercast.estimate;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;

/** Times whole estimates on invented animals; run by hand, figures in docs/benchmarks-estimate.md. */
public final class EstimateBenchmark {

    private EstimateBenchmark() {}

    public static void main(String[] args) {
        EstimateSettings all = EstimateSettings.defaults()
                .change()
                .clusterBy("trip")
                .groupBy(List.of("hook"))
                .riskModels(List.of(List.of("fightMin"), List.of("fightMin", "hook")))
                .done();
        for (int round = 0; round < 3; round++) {
            time("100 animals, everything, 10 000 replicates", animals(100, true), all);
            time("10 000 animals, survival only", animals(10_000, false), plain());
            time(
                    "10 000 animals, survival and Firth fits (odds and hazards, two terms)",
                    animals(10_000, false),
                    plain().change()
                            .riskModels(List.of(List.of("fightMin", "hook")))
                            .done());
            time(
                    "10 000 animals, everything, 1000 replicates",
                    animals(10_000, true),
                    all.change().replicates(1000).done());
        }
    }

    private static EstimateSettings plain() {
        return EstimateSettings.defaults();
    }

    private static void time(String what, List<AnimalOutcome> animals, EstimateSettings settings) {
        ThreadMXBean threads = ManagementFactory.getThreadMXBean();
        long start = System.nanoTime();
        long cpuStart = threads.getCurrentThreadCpuTime();
        EstimateResult result = Estimate.of(animals, null, settings);
        double seconds = (System.nanoTime() - start) / 1e9;
        double cpu = (threads.getCurrentThreadCpuTime() - cpuStart) / 1e9;
        System.out.printf(
                Locale.ROOT,
                "%-75s %.2f s, processor %.2f s (%s)%n",
                what,
                seconds,
                cpu,
                result.headline().kind());
    }

    private static List<AnimalOutcome> animals(int n, boolean probabilities) {
        SplittableRandom random = new SplittableRandom(5);
        List<AnimalOutcome> animals = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            double fight = 2 + 30 * random.nextDouble();
            boolean gut = random.nextInt(5) == 0;
            boolean dies = random.nextDouble() < 0.05 + 0.005 * fight + (gut ? 0.2 : 0);
            boolean shed = random.nextInt(6) == 0;
            double hours = dies ? 24 * random.nextDouble() : shed ? 24 * random.nextDouble() : 24 + random.nextDouble();
            animals.add(new AnimalOutcome(
                    "a" + i,
                    Map.of("hook", gut ? "gut" : "lip", "trip", "t" + i / 5),
                    Map.of("fightMin", fight),
                    dies ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                    shed && !dies ? RecordEnd.SHED_EARLY : RecordEnd.PLANNED_DETACHMENT,
                    hours,
                    probabilities && i % 5 == 0 ? new FateProbabilities(.6, .3, .05, .05) : null));
        }
        return animals;
    }
}
