package org.aftercast.estimate;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
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

    /**
     * Times.
     *
     * @param args a folder for tables and the class path for the command; or nothing, and only this process is timed
     */
    public static void main(String[] args) throws IOException, InterruptedException {
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
        if (args.length == 2) {
            command("100 animals, 10 000 replicates, the whole command", 100, args);
            command("10 000 animals, survival and Firth fits, the whole command", 10_000, args);
        }
    }

    /** The command from a cold start: the table is read, everything printed and written as JSON. */
    private static void command(String what, int n, String[] args) throws IOException, InterruptedException {
        Path table = Path.of(args[0], "fates-" + n + ".csv");
        StringBuilder text = new StringBuilder("animal,fate,recordEnd,atRiskH,hook,trip,fightMin\n");
        for (AnimalOutcome a : animals(n, false)) {
            text.append(String.format(
                    Locale.ROOT,
                    "%s,%s,%s,%.4f,%s,%s,%.3f%n",
                    a.animal(),
                    a.fate() == AnimalFate.DIED ? "died" : "alive-at-end",
                    a.end() == RecordEnd.SHED_EARLY ? "shed-early" : "planned-detachment",
                    a.atRiskH(),
                    a.groups().get("hook"),
                    a.groups().get("trip"),
                    a.covariates().get("fightMin")));
        }
        Files.writeString(table, text);
        List<String> line = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                args[1],
                "org.aftercast.cli.Aftercast",
                "estimate",
                table.toString(),
                "--risk",
                "fightMin,hook",
                "--json",
                table + ".json"));
        if (n <= 100) {
            line.addAll(List.of("--cluster", "trip", "--by", "hook"));
        }
        double best = Double.POSITIVE_INFINITY;
        for (int round = 0; round < 3; round++) {
            long start = System.nanoTime();
            Process process = new ProcessBuilder(line)
                    .redirectErrorStream(true)
                    .redirectOutput(Path.of(args[0], "estimate.out").toFile())
                    .start();
            if (process.waitFor() != 0) {
                throw new IOException("the command failed; see " + Path.of(args[0], "estimate.out"));
            }
            best = Math.min(best, (System.nanoTime() - start) / 1e9);
        }
        System.out.printf(Locale.ROOT, "%-75s %.2f s (best of three)%n", what, best);
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
