package org.aftercast.search;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.aftercast.geo.Land;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;

/** Forecasts of real drifters, and of invented packages in a reversing tide, against where they really were. */
public final class DriftEvaluation {

    private DriftEvaluation() {}

    public static void main(String[] args) {
        System.out.print(page(120));
    }

    /** All tables; {@code tides} invented packages in the tide. */
    public static String page(int tides) {
        StringWriter text = new StringWriter();
        PrintWriter out = new PrintWriter(text);
        try {
            drifters(out);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        tide(out, tides);
        out.flush();
        return text.toString();
    }

    private static void drifters(PrintWriter out) throws IOException {
        if (!Files.isRegularFile(DrifterForecasts.file())) {
            out.println("Real drifters: ../shared/data/baltic_surface_drifters is not here; skipped.\n");
            return;
        }
        out.println("## Forecasts of real drifters (real data, growth of error learnt from the other drifters)\n");
        out.println("| drifter | hours ahead | n | in 50 % | in 95 % | median error m | 90th pct m |");
        out.println("|---|---|---|---|---|---|---|");
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
                add(out, rows.get(h), pooled[h], own.getKey());
            }
        }
        pooled(out, pooled);
        out.println("Learnt from the others:\n");
        out.println("| | σ m/s | T h | error of the last hour's drift m/s | ν |");
        out.println("|---|---|---|---|---|");
        out.println(learnt);
        out.println("The same with the default settings of `aftercast seek`, which were not fitted to them:\n");
        out.println("| drifter | hours ahead | n | in 50 % | in 95 % | median error m | 90th pct m |");
        out.println("|---|---|---|---|---|---|---|");
        pooled = new int[3][3];
        SearchSettings defaults = SearchSettings.defaults().with(2000, 1);
        for (Map.Entry<String, List<DrifterForecasts.Start>> own : starts.entrySet()) {
            List<DrifterForecasts.Row> rows = DrifterForecasts.evaluate(own.getValue(), defaults);
            for (int h = 0; h < 3; h++) {
                add(out, rows.get(h), pooled[h], own.getKey());
            }
        }
        pooled(out, pooled);
    }

    private static void add(PrintWriter out, DrifterForecasts.Row row, int[] pooled, String name) {
        out.printf(
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

    private static void pooled(PrintWriter out, int[][] pooled) {
        for (int h = 0; h < 3; h++) {
            out.printf(
                    Locale.ROOT,
                    "| all | %d | %d | %.1f %% | %.1f %% | | |%n",
                    DrifterForecasts.HOURS[h],
                    pooled[h][0],
                    100.0 * pooled[h][1] / pooled[h][0],
                    100.0 * pooled[h][2] / pooled[h][0]);
        }
        out.println();
    }

    /** A reversing tide the crew knows to about a fifth in strength and a quarter of an hour in time. */
    private static void tide(PrintWriter out, int runs) {
        out.println("## Forecasts in a reversing tide (invented, truth known)\n");
        out.println("| hours ahead | n | in 50 % | in 95 % | in 95 % without the tide row |");
        out.println("|---|---|---|---|---|");
        SearchSettings settings = SearchSettings.defaults().with(2000, 1);
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
            out.printf(
                    Locale.ROOT,
                    "| %d | %d | %.1f %% | %.1f %% | %.1f %% |%n",
                    which == 0 ? 6 : 12,
                    runs,
                    100.0 * in[which][0] / runs,
                    100.0 * in[which][1] / runs,
                    100.0 * in[which][2] / runs);
        }
        out.println();
    }
}
