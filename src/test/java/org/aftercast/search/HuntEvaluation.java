package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Coast;
import org.aftercast.geo.Land;
import org.aftercast.geo.Position;

/** Prints the tables of docs/evaluation/search.md. Arguments: number of simulated hunts (default 500), particles (4000). */
public final class HuntEvaluation {

    private HuntEvaluation() {}

    public static void main(String[] args) {
        int hunts = args.length > 0 ? Integer.parseInt(args[0]) : 500;
        int particles = args.length > 1 ? Integer.parseInt(args[1]) : 4000;
        SearchSettings settings = SearchSettings.defaults().with(particles, 1);
        System.out.println("## Simulated hunts (invented, truth known)\n");
        System.out.println("| told wrongly | hunts | way | found by sunset | median h | 90th pct h | median NM |"
                + " in 95 % | in 50 % |");
        System.out.println("|---|---|---|---|---|---|---|---|---|");
        // Open water, and Cardigan Bay with its coast every third hunt.
        Land open = Land.none(new Position(52.0, -12.0), 150_000);
        Land bay = Coast.shipped().landAround(new Position(52.35, -4.75), 100_000);
        for (HuntSimulation.Wrong wrong : HuntSimulation.Wrong.values()) {
            int count = wrong == HuntSimulation.Wrong.NOTHING ? hunts : Math.max(1, hunts / 5);
            List<HuntSimulation.Outcome> base = new ArrayList<>();
            List<HuntSimulation.Outcome> ours = new ArrayList<>();
            for (int k = 0; k < count; k++) {
                List<HuntSimulation.Outcome> pair =
                        HuntSimulation.both(1000 + k, wrong, k % 3 == 2 ? bay : open, settings);
                base.add(pair.get(0));
                ours.add(pair.get(1));
            }
            row(wrong, "scripted", base);
            row(wrong, "advised", ours);
            System.out.printf(Locale.ROOT, "<!-- ratio of medians %.2f -->%n", median(ours) / median(base));
        }
    }

    private static double median(List<HuntSimulation.Outcome> outcomes) {
        return quantile(
                outcomes.stream().mapToDouble(o -> o.found() ? o.hours() : 99).toArray(), 0.5);
    }

    private static void row(HuntSimulation.Wrong wrong, String way, List<HuntSimulation.Outcome> outcomes) {
        double[] hours =
                outcomes.stream().mapToDouble(o -> o.found() ? o.hours() : 99).toArray();
        double[] miles =
                outcomes.stream().mapToDouble(HuntSimulation.Outcome::miles).toArray();
        long found = outcomes.stream().filter(HuntSimulation.Outcome::found).count();
        int fixes = outcomes.stream().mapToInt(HuntSimulation.Outcome::fixes).sum();
        int in95 = outcomes.stream().mapToInt(HuntSimulation.Outcome::in95).sum();
        int in50 = outcomes.stream().mapToInt(HuntSimulation.Outcome::in50).sum();
        double p90 = quantile(hours, 0.9);
        System.out.printf(
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
