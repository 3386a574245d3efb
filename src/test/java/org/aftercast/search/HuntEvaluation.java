package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Land;
import org.aftercast.geo.Position;

/**
 * Simulated hunts against the scripted way. Arguments: hunts (500), particles (5000), what is told wrongly (all without it).
 */
public final class HuntEvaluation {

    private HuntEvaluation() {}

    public static void main(String[] args) {
        int hunts = args.length > 0 ? Integer.parseInt(args[0]) : 500;
        int particles = args.length > 1 ? Integer.parseInt(args[1]) : 5000;
        System.out.print(page(
                hunts,
                particles,
                args.length > 2
                        ? List.of(HuntSimulation.Wrong.valueOf(args[2].toUpperCase(Locale.ROOT)))
                        : List.of(HuntSimulation.Wrong.values())));
    }

    /** All tables: so many hunts told nothing wrong, a fifth as many told something wrong. */
    public static String page(int hunts, int particles) {
        return page(hunts, particles, List.of(HuntSimulation.Wrong.values()));
    }

    private static String page(int hunts, int particles, List<HuntSimulation.Wrong> wanted) {
        StringBuilder out = new StringBuilder();
        SearchSettings settings = SearchSettings.defaults().with(particles, 1);
        out.append(particles)
                .append(" particles.\n\n| told wrongly | hunts | way | found by sunset | median h | 90th pct h")
                .append(" | median NM | in 95 % | in 50 % | legs | over land | too late home |\n")
                .append("|---|---|---|---|---|---|---|---|---|---|---|---|\n");
        StringBuilder ratios = new StringBuilder();
        // Open water, and Cardigan Bay with its coast every third hunt.
        Land open = Land.none(new Position(52.0, -12.0), 150_000);
        Land bay = Coast.shipped().landAround(new Position(52.35, -4.75), 100_000);
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
            out.append(row(wrong, "scripted", base)).append(row(wrong, "advised", ours));
            ratios.append(String.format(Locale.ROOT, "| %s | %.2f |%n", word(wrong), median(ours) / median(base)));
        }
        return out
                + "\nMedian time, advised over scripted (not found counts as after sunset):\n\n| told wrongly | ratio |\n"
                + "|---|---|\n" + ratios;
    }

    private static String word(HuntSimulation.Wrong wrong) {
        return wrong.name().toLowerCase(Locale.ROOT).replace('_', ' ');
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
                "| %s | %d | %s | %.1f %% | %s | %s | %.1f | %s | %s | %d | %d | %d |%n",
                word(wrong),
                outcomes.size(),
                way,
                100.0 * found / outcomes.size(),
                quantile(hours, 0.5) > 90 ? "not found" : String.format(Locale.ROOT, "%.2f", quantile(hours, 0.5)),
                p90 > 90 ? "not found" : String.format(Locale.ROOT, "%.2f", p90),
                quantile(miles, 0.5),
                fixes == 0 ? "–" : String.format(Locale.ROOT, "%.1f %%", 100.0 * in95 / fixes),
                fixes == 0 ? "–" : String.format(Locale.ROOT, "%.1f %%", 100.0 * in50 / fixes),
                outcomes.stream().mapToInt(HuntSimulation.Outcome::legs).sum(),
                outcomes.stream().mapToInt(HuntSimulation.Outcome::overLand).sum(),
                outcomes.stream().mapToInt(HuntSimulation.Outcome::tooLate).sum());
    }

    private static double quantile(double[] values, double share) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[(int) Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
    }
}
