package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.Binomial;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.stats.Interval;

/**
 * How often the intervals hold the truth. The page {@code coverage} of {@code ./evaluate}; about a minute.
 */
public final class CoverageTables {

    private static final int STUDIES = 2000;

    private CoverageTables() {}

    /** The page. */
    public static String text() {
        StringBuilder out = new StringBuilder();
        out.append("# How often the intervals hold the truth\n\n")
                .append("Written by `./evaluate coverage`. All intervals are 95 %.\n\n")
                .append("## Every fate known: exact enumeration\n\n")
                .append("True share p = 0.02, 0.03 … 0.50, animals n = 5, 6 … 100: every possible number of deaths is")
                .append(" added up, nothing is simulated.\n\n")
                .append(
                        "| interval | mean | least | at p | at n | cells below 95 % |\n| --- | --- | --- | --- | --- | --- |\n");
        for (BinomialInterval kind : BinomialInterval.values()) {
            Grid grid = grid(kind);
            out.append(String.format(
                    Locale.ROOT,
                    "| %s | %.2f %% | %.2f %% | %.2f | %d | %.1f %% |%n",
                    kind.shownName(),
                    100 * grid.mean,
                    100 * grid.least,
                    grid.p,
                    grid.n,
                    100 * grid.below));
        }
        out.append("\n## Animals lost from sight, uncertain fates, loss that depends on the fate: simulation\n\n")
                .append(STUDIES)
                .append(" invented studies a line (seeded); the standard error of a coverage near 95 % is")
                .append(" 0.5 points. Deaths come exponentially with a half-time of 4 h, cut at the 24 h horizon.\n\n")
                .append("| case | animals | true share | holds the truth | mean width | mean estimate | no answer |\n")
                .append("| --- | --- | --- | --- | --- | --- | --- |\n");
        for (int n : new int[] {15, 30, 60}) {
            for (double p : new double[] {0.05, 0.2}) {
                line(out, "30 % shed at random times, beta product interval", n, p, Case.SHED_AT_RANDOM);
            }
        }
        for (int n : new int[] {15, 30, 60}) {
            for (double p : new double[] {0.05, 0.2}) {
                line(out, "fates with calibrated probabilities, mixture", n, p, Case.MIXTURE);
                line(out, "fates with calibrated probabilities, imputation", n, p, Case.IMPUTED);
            }
        }
        for (double p : new double[] {0.05, 0.2}) {
            line(out, "dying animals shed the package three times as often", 30, p, Case.SHED_WHEN_DYING);
            line(out, "packages of dead animals lost three times as often", 30, p, Case.LOST_WHEN_DEAD);
        }
        out.append("\nThe last four lines show what no interval can repair: loss that depends on the fate. The bounds")
                .append(" beside the headline (all unknown alive, all unknown dead) are there for that reason.\n");
        return out.toString().replace("\r\n", "\n");
    }

    record Grid(double mean, double least, double p, int n, double below) {}

    static Grid grid(BinomialInterval kind) {
        double sum = 0;
        int cells = 0;
        int below = 0;
        double least = 2;
        double atP = 0;
        int atN = 0;
        for (int n = 5; n <= 100; n++) {
            Interval[] limits = new Interval[n + 1];
            for (int x = 0; x <= n; x++) {
                limits[x] = kind.of(x, n, 0.95);
            }
            for (int hundredths = 2; hundredths <= 50; hundredths++) {
                double p = hundredths / 100.0;
                double[] probability = Binomial.probabilities(n, p);
                double coverage = 0;
                for (int x = 0; x <= n; x++) {
                    coverage += limits[x].holds(p) ? probability[x] : 0;
                }
                sum += coverage;
                cells++;
                below += coverage < 0.95 ? 1 : 0;
                if (coverage < least) {
                    least = coverage;
                    atP = p;
                    atN = n;
                }
            }
        }
        return new Grid(sum / cells, least, atP, atN, (double) below / cells);
    }

    /** What is simulated. */
    enum Case {
        SHED_AT_RANDOM,
        MIXTURE,
        IMPUTED,
        SHED_WHEN_DYING,
        LOST_WHEN_DEAD
    }

    private static void line(StringBuilder out, String words, int n, double p, Case what) {
        SplittableRandom random = new SplittableRandom(1000L * what.ordinal() + n + (long) (1000 * p));
        int held = 0;
        int silent = 0;
        double width = 0;
        double value = 0;
        int studies = what == Case.IMPUTED ? STUDIES / 2 : STUDIES;
        EstimateSettings settings =
                EstimateSettings.defaults().change().replicates(1000).done();
        for (int s = 0; s < studies; s++) {
            List<AnimalOutcome> animals = new ArrayList<>();
            for (int i = 0; i < n; i++) {
                animals.add(animal(i, p, what, random));
            }
            Share share = what == Case.MIXTURE || what == Case.IMPUTED
                    ? uncertain(animals, settings, what)
                    : HeadlineAnalysis.answer(animals, settings, settings.deaths())
                            .died();
            if (share == null) {
                silent++;
                continue;
            }
            held += share.low() <= p && p <= share.high() ? 1 : 0;
            width += share.high() - share.low();
            value += share.value();
        }
        int spoke = studies - silent;
        out.append(String.format(
                Locale.ROOT,
                "| %s | %d | %.0f %% | %.1f %% | %.3f | %.1f %% | %.1f %% |%n",
                words,
                n,
                100 * p,
                100.0 * held / spoke,
                width / spoke,
                100 * value / spoke,
                100.0 * silent / studies));
    }

    private static Share uncertain(List<AnimalOutcome> animals, EstimateSettings settings, Case what) {
        UncertainFates fates = UncertainAnalysis.of(animals, settings);
        return what == Case.MIXTURE ? fates.mixture() : fates.imputed();
    }

    private static AnimalOutcome animal(int i, double p, Case what, SplittableRandom random) {
        boolean dies = random.nextDouble() < p;
        // exponential with a half-time of 4 h, given that it comes within 24 h
        double u = random.nextDouble() * (1 - Math.pow(0.5, 6));
        double death = -4 * Math.log(1 - u) / Math.log(2);
        double shed = random.nextDouble() * 24;
        return switch (what) {
            case SHED_AT_RANDOM -> watched(i, dies, death, random.nextDouble() < 0.3 ? shed : 99);
            case SHED_WHEN_DYING ->
                watched(i, dies, death, random.nextDouble() < (dies ? 0.6 : 0.2) ? (dies ? death / 2 : shed) : 99);
            case LOST_WHEN_DEAD ->
                random.nextDouble() < (dies ? 0.3 : 0.1)
                        ? outcome(i, AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0, null)
                        : watched(i, dies, death, 99);
            case MIXTURE, IMPUTED -> {
                // one animal in three is in doubt: evidence whose odds are exactly right
                if (random.nextDouble() < 2.0 / 3) {
                    FateProbabilities sure =
                            dies ? new FateProbabilities(0, 1, 0, 0) : new FateProbabilities(1, 0, 0, 0);
                    yield outcome(
                            i,
                            dies ? AnimalFate.DIED : AnimalFate.ALIVE_AT_END,
                            RecordEnd.PLANNED_DETACHMENT,
                            dies ? death : 24,
                            sure);
                }
                boolean sign = random.nextDouble() < (dies ? 0.8 : 0.2);
                double odds = p / (1 - p) * (sign ? 4 : 0.25);
                double q = odds / (1 + odds);
                yield outcome(
                        i,
                        AnimalFate.UNDECIDED,
                        RecordEnd.PLANNED_DETACHMENT,
                        12,
                        new FateProbabilities(1 - q, q, 0, 0));
            }
        };
    }

    private static AnimalOutcome watched(int i, boolean dies, double death, double shed) {
        if (dies && death <= shed) {
            return outcome(i, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, death, null);
        }
        if (shed < 24) {
            return outcome(i, AnimalFate.ALIVE_AT_END, RecordEnd.SHED_EARLY, shed, null);
        }
        return outcome(i, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, 24, null);
    }

    private static AnimalOutcome outcome(
            int i, AnimalFate fate, RecordEnd end, double hours, FateProbabilities probabilities) {
        return new AnimalOutcome("a" + i, Map.of(), Map.of(), fate, end, hours, probabilities);
    }
}
