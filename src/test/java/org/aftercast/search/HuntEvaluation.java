package org.aftercast.search;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;

/**
 * Prints the tables of docs/evaluation/search.md. Arguments: number of simulated hunts (default 500), particles (3000), part
 * (all, hunts or rest), what is told wrongly (all without it).
 */
public final class HuntEvaluation {

    private HuntEvaluation() {}

    public static void main(String[] args) throws IOException {
        String part = args.length > 2 ? args[2] : "all";
        boolean all = part.equals("all") || part.equals("rest");
        if (all || part.equals("drifters")) {
            drifters();
        }
        if (all || part.equals("tide")) {
            tide();
        }
        if (all || part.equals("sound")) {
            sound();
        }
        if (all || part.equals("speed")) {
            speed();
        }
        if (part.equals("all") || part.equals("hunts")) {
            hunts(args);
        }
    }

    private static void drifters() throws IOException {
        if (!Files.isRegularFile(DrifterForecasts.file())) {
            System.out.println("Real drifters: ../shared/data/baltic_surface_drifters is not here; skipped.\n");
            return;
        }
        System.out.println(
                "## Forecasts of real drifters (real data, growth of error learnt from the other drifters)\n");
        System.out.println("| drifter | hours ahead | n | in 50 % | in 95 % | median error m | 90th pct m |");
        System.out.println("|---|---|---|---|---|---|---|");
        Map<String, List<DrifterForecasts.Start>> starts = new TreeMap<>();
        DrifterForecasts.read(DrifterForecasts.file())
                .forEach((name, fixes) -> starts.put(name, DrifterForecasts.starts(name, fixes, Duration.ofHours(2))));
        int[][] pooled = new int[3][3];
        StringBuilder learnt = new StringBuilder();
        for (Map.Entry<String, List<DrifterForecasts.Start>> own : starts.entrySet()) {
            List<DrifterForecasts.Start> others = new ArrayList<>();
            starts.forEach((name, list) -> {
                if (!name.equals(own.getKey())) {
                    others.addAll(list);
                }
            });
            DrifterForecasts.Growth growth = DrifterForecasts.learn(others);
            learnt.append(String.format(
                    Locale.ROOT,
                    "| without %s | %.3f | %.0f | %.3f | %.1f |%n",
                    own.getKey(),
                    growth.currentSdMps(),
                    growth.correlationH(),
                    growth.measuredSdMps(),
                    growth.tail()));
            List<DrifterForecasts.Row> rows = DrifterForecasts.evaluate(own.getValue(), growth, 2000);
            for (int h = 0; h < 3; h++) {
                add(rows.get(h), pooled[h], own.getKey());
            }
        }
        pooled(pooled);
        System.out.println("Learnt from the others:\n");
        System.out.println("| | σ m/s | T h | error of the last hour's drift m/s | ν |");
        System.out.println("|---|---|---|---|---|");
        System.out.println(learnt);
        System.out.println("The same with the default settings of `aftercast seek`, which were not fitted to them:\n");
        System.out.println("| drifter | hours ahead | n | in 50 % | in 95 % | median error m | 90th pct m |");
        System.out.println("|---|---|---|---|---|---|---|");
        pooled = new int[3][3];
        SearchSettings defaults = SearchSettings.defaults().with(2000, 1);
        for (Map.Entry<String, List<DrifterForecasts.Start>> own : starts.entrySet()) {
            List<DrifterForecasts.Row> rows = DrifterForecasts.evaluate(own.getValue(), defaults);
            for (int h = 0; h < 3; h++) {
                add(rows.get(h), pooled[h], own.getKey());
            }
        }
        pooled(pooled);
    }

    private static void add(DrifterForecasts.Row row, int[] pooled, String name) {
        System.out.printf(
                Locale.ROOT,
                "| %s | %d | %d | %.1f %% | %.1f %% | %.0f | %.0f |%n",
                name,
                row.hours(),
                row.n(),
                100.0 * row.in50() / row.n(),
                100.0 * row.in95() / row.n(),
                row.medianM(),
                row.p90M());
        pooled[0] += row.n();
        pooled[1] += row.in50();
        pooled[2] += row.in95();
    }

    private static void pooled(int[][] pooled) {
        for (int h = 0; h < 3; h++) {
            System.out.printf(
                    Locale.ROOT,
                    "| all | %d | %d | %.1f %% | %.1f %% | | |%n",
                    DrifterForecasts.HOURS[h],
                    pooled[h][0],
                    100.0 * pooled[h][1] / pooled[h][0],
                    100.0 * pooled[h][2] / pooled[h][0]);
        }
        System.out.println();
    }

    /** A reversing tide the crew knows to about a fifth in strength and a quarter of an hour in time. */
    private static void tide() {
        System.out.println("## Forecasts in a reversing tide (invented, truth known)\n");
        System.out.println("| hours ahead | n | in 50 % | in 95 % | in 95 % without the tide row |");
        System.out.println("|---|---|---|---|---|");
        SearchSettings settings = SearchSettings.defaults().with(2000, 1);
        int runs = 120;
        int[][] in = new int[2][3];
        Land land = Land.none(new Position(52, -12), 200_000);
        Instant begin = Instant.parse("2026-06-15T07:00:00Z");
        for (int k = 0; k < runs; k++) {
            SplittableRandom random = new SplittableRandom(9000 + k);
            double strength = 0.5 + 0.5 * random.nextDouble();
            double to = 2 * Math.PI * random.nextDouble();
            double strongest = 12.42 * random.nextDouble();
            double trueStrength = strength * (1 + 0.15 * random.nextGaussian());
            double trueStrongest = strongest + 0.25 * random.nextGaussian();
            double east = 0.1 * random.nextGaussian();
            double north = 0.1 * random.nextGaussian();
            double restE = 0;
            double restN = 0;
            double x = 200 * random.nextGaussian();
            double y = 200 * random.nextGaussian();
            Sea.Tide told = new Sea.Tide(
                    begin.plusSeconds(Math.round(strongest * 3600)),
                    strength * Math.sin(to),
                    strength * Math.cos(to),
                    12.42,
                    0.2);
            for (int minute = 0; minute <= 720; minute++) {
                if (minute == 360 || minute == 720) {
                    int which = minute == 360 ? 0 : 1;
                    for (int with = 0; with < 2; with++) {
                        Hunt hunt = Hunt.open(
                                new HuntStart(
                                        new HuntStart.Contact(
                                                begin, land.plane().origin(), 200),
                                        with == 0 ? new Sea(List.of(), List.of(), told) : Sea.UNKNOWN,
                                        null,
                                        land,
                                        null),
                                settings,
                                new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), null));
                        Fix fix = hunt.fixAt(begin.plusSeconds(minute * 60L));
                        Position truth = land.plane().toEarth(x, y);
                        if (with == 0) {
                            in[which][0] += fix.region50().contains(truth) ? 1 : 0;
                            in[which][1] += fix.region95().contains(truth) ? 1 : 0;
                        } else {
                            in[which][2] += fix.region95().contains(truth) ? 1 : 0;
                        }
                    }
                }
                double stream = trueStrength * Math.cos(2 * Math.PI * (minute / 60.0 - trueStrongest) / 12.42);
                restE += 0.004 * random.nextGaussian() - restE / 600;
                restN += 0.004 * random.nextGaussian() - restN / 600;
                x += 60 * (stream * Math.sin(to) + east + restE);
                y += 60 * (stream * Math.cos(to) + north + restN);
            }
        }
        for (int which = 0; which < 2; which++) {
            System.out.printf(
                    Locale.ROOT,
                    "| %d | %d | %.1f %% | %.1f %% | %.1f %% |%n",
                    which == 0 ? 6 : 12,
                    runs,
                    100.0 * in[which][0] / runs,
                    100.0 * in[which][1] / runs,
                    100.0 * in[which][2] / runs);
        }
        System.out.println();
    }

    private static void sound() {
        System.out.println("## Ping meter (invented sound, 20 s, engine noise; ping over noise in the 20 ms block)\n");
        System.out.println("| sound | n | found | pitch and rate right | level error mean dB | SD dB | refused |");
        System.out.println("|---|---|---|---|---|---|---|");
        PingMeter.Settings settings = PingMeter.Settings.defaults();
        for (double db : new double[] {Double.NEGATIVE_INFINITY, -3, 0, 6, 12}) {
            soundRow(
                    Double.isInfinite(db) ? "no ping" : String.format(Locale.ROOT, "%+.0f dB", db),
                    db,
                    PingSound.Receiver.PLAIN,
                    settings);
        }
        soundRow("+38 dB, automatic gain", 38, PingSound.Receiver.AUTOMATIC_GAIN, settings);
        soundRow("+38 dB, noise gate", 38, PingSound.Receiver.NOISE_GATE, settings);
        System.out.println();
    }

    private static void soundRow(String name, double db, PingSound.Receiver receiver, PingMeter.Settings settings) {
        int runs = 15;
        int found = 0;
        int right = 0;
        int refused = 0;
        double sum = 0;
        double squares = 0;
        for (int k = 0; k < runs; k++) {
            double pitch = 600 + 100 * k;
            double rate = 40 + 4 * k;
            PingMeter.Reading r = PingMeter.measure(
                    PingSound.make(500 + k, 20, db, pitch, rate, receiver), PingSound.RATE_HZ, settings);
            refused += r.verdict() == PingMeter.Verdict.AUTOMATIC_GAIN ? 1 : 0;
            if (r.verdict() == PingMeter.Verdict.PINGS) {
                found++;
                if (Math.abs(r.pitchHz() - pitch) <= 60 && Math.abs(r.perMinute() - rate) < 0.02 * rate) {
                    right++;
                    double error = r.aboveNoiseDb() - db;
                    sum += error;
                    squares += error * error;
                }
            }
        }
        double mean = right == 0 ? 0 : sum / right;
        System.out.printf(
                Locale.ROOT,
                "| %s | %d | %d | %d | %s | %s | %d |%n",
                name,
                runs,
                found,
                right,
                right == 0 ? "–" : String.format(Locale.ROOT, "%+.1f", mean),
                right < 2
                        ? "–"
                        : String.format(Locale.ROOT, "%.1f", Math.sqrt(Math.max(0, squares / right - mean * mean))),
                refused);
    }

    /** CPU time of a hunt of 60 observations with 20 000 particles, after a warm-up. */
    private static void speed() {
        double[] best = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
        for (int round = 0; round < 4; round++) {
            double[] ms = oneHunt();
            best[0] = Math.min(best[0], ms[0]);
            best[1] = Math.min(best[1], ms[1]);
        }
        System.out.println("## Speed (one thread, CPU time, best of four)\n");
        System.out.println("| 60 observations, 20 000 particles, with fix | one more with fix |");
        System.out.println("|---|---|");
        System.out.printf(Locale.ROOT, "| %.0f ms | %.0f ms |%n%n", best[0], best[1]);
    }

    /** CPU milliseconds of 60 observations and a fix, and of one more observation and a fix. */
    static double[] oneHunt() {
        ThreadMXBean cpu = ManagementFactory.getThreadMXBean();
        SearchSettings settings = SearchSettings.defaults();
        Position datum = new Position(52.0, -12.0);
        Instant begin = Instant.parse("2026-06-15T07:00:00Z");
        Land land = Land.none(datum, 100_000);
        HuntStart start = new HuntStart(
                new HuntStart.Contact(begin, datum, 3000),
                new Sea(List.of(Sea.Flow.windFrom(begin, 6, 240)), List.of(), null),
                null,
                land,
                null);
        BearingCorrection correction = new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), null);
        long from = cpu.getCurrentThreadCpuTime();
        Hunt hunt = Hunt.open(start, settings, correction);
        for (int k = 0; k < 60; k++) {
            hunt.add(observation(k, datum, begin));
        }
        hunt.fixAt(hunt.time());
        long middle = cpu.getCurrentThreadCpuTime();
        hunt.add(observation(60, datum, begin));
        hunt.fixAt(hunt.time());
        long end = cpu.getCurrentThreadCpuTime();
        return new double[] {(middle - from) / 1e6, (end - middle) / 1e6};
    }

    private static Observation observation(int k, Position datum, Instant begin) {
        Position own = Geodesics.from(datum, 37.0 * k, 3000 + 100 * (k % 20));
        Instant time = begin.plusSeconds(240L * (k + 1));
        double off = 11 * Math.sin(2.3 * k);
        return k % 3 == 2
                ? new Observation.Listen(
                        time, own, 3, Observation.Listen.Heard.HEARD, Antenna.THREE_ELEMENTS, null, null, 60)
                : new Observation.Bearing(
                        time,
                        own,
                        Geodesics.between(own, datum).bearingDeg() + off,
                        BearingSource.TRUE,
                        null,
                        null,
                        Antenna.THREE_ELEMENTS,
                        1);
    }

    private static void hunts(String[] args) {
        int hunts = args.length > 0 ? Integer.parseInt(args[0]) : 500;
        int particles = args.length > 1 ? Integer.parseInt(args[1]) : 3000;
        SearchSettings settings = SearchSettings.defaults().with(particles, 1);
        System.out.println("## Simulated hunts (invented, truth known)\n");
        System.out.println("| told wrongly | hunts | way | found by sunset | median h | 90th pct h | median NM |"
                + " in 95 % | in 50 % |");
        System.out.println("|---|---|---|---|---|---|---|---|---|");
        // Open water, and Cardigan Bay with its coast every third hunt.
        Land open = Land.none(new Position(52.0, -12.0), 150_000);
        Land bay = Coast.shipped().landAround(new Position(52.35, -4.75), 100_000);
        List<HuntSimulation.Wrong> wanted = args.length > 3
                ? List.of(HuntSimulation.Wrong.valueOf(args[3].toUpperCase(Locale.ROOT)))
                : List.of(HuntSimulation.Wrong.values());
        for (HuntSimulation.Wrong wrong : wanted) {
            int count = wrong == HuntSimulation.Wrong.NOTHING ? hunts : Math.max(1, hunts / 5);
            List<HuntSimulation.Outcome> base = new ArrayList<>();
            List<HuntSimulation.Outcome> ours = new ArrayList<>();
            for (int k = 0; k < count; k++) {
                List<HuntSimulation.Outcome> pair =
                        HuntSimulation.both(1000 + k, wrong, k % 3 == 2 ? bay : open, settings);
                base.add(pair.get(0));
                ours.add(pair.get(1));
                if ((k + 1) % 50 == 0 && k + 1 < count) {
                    System.err.println("after " + (k + 1) + " of " + count + ":");
                    System.err.println(row(wrong, "scripted", base) + row(wrong, "advised", ours));
                }
            }
            System.out.print(row(wrong, "scripted", base) + row(wrong, "advised", ours));
            System.out.printf(Locale.ROOT, "<!-- ratio of medians %.2f -->%n", median(ours) / median(base));
        }
    }

    private static double median(List<HuntSimulation.Outcome> outcomes) {
        return quantile(
                outcomes.stream().mapToDouble(o -> o.found() ? o.hours() : 99).toArray(), 0.5);
    }

    private static String row(HuntSimulation.Wrong wrong, String way, List<HuntSimulation.Outcome> outcomes) {
        double[] hours =
                outcomes.stream().mapToDouble(o -> o.found() ? o.hours() : 99).toArray();
        double[] miles =
                outcomes.stream().mapToDouble(HuntSimulation.Outcome::miles).toArray();
        long found = outcomes.stream().filter(HuntSimulation.Outcome::found).count();
        int fixes = outcomes.stream().mapToInt(HuntSimulation.Outcome::fixes).sum();
        int in95 = outcomes.stream().mapToInt(HuntSimulation.Outcome::in95).sum();
        int in50 = outcomes.stream().mapToInt(HuntSimulation.Outcome::in50).sum();
        double p90 = quantile(hours, 0.9);
        return String.format(
                Locale.ROOT,
                "| %s | %d | %s | %.1f %% | %.2f | %s | %.1f | %s | %s |%n",
                wrong.name().toLowerCase(Locale.ROOT).replace('_', ' '),
                outcomes.size(),
                way,
                100.0 * found / outcomes.size(),
                quantile(hours, 0.5),
                p90 > 90 ? "not found" : String.format(Locale.ROOT, "%.2f", p90),
                quantile(miles, 0.5),
                fixes == 0 ? "–" : String.format(Locale.ROOT, "%.1f %%", 100.0 * in95 / fixes),
                fixes == 0 ? "–" : String.format(Locale.ROOT, "%.1f %%", 100.0 * in50 / fixes));
    }

    private static double quantile(double[] values, double share) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[(int) Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
    }
}
