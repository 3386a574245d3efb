package org.aftercast.evaluation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.aftercast.evaluation.Generator.Purpose;

/** The whole path against the truth: bouts, bursts, fate, time of change, the share that died. */
final class FateParts {

    private static final String[] CALLS = FateCase.CALLS;

    /** A root mean square error of posture beyond this means a wrong body frame, degrees. */
    private static final double WRONG_FRAME_DEG = 5;

    private FateParts() {}

    static List<FateCase> cases(Generator generator, Purpose purpose, int count, FateCase.Known known) {
        return IntStream.range(0, count)
                .parallel()
                .mapToObj(i -> FateCase.of(generator.make(purpose, i), known))
                .toList();
    }

    /** A page and the figure that goes with it. */
    record Page(String text, String diagram) {}

    static Page whole(Generator generator, Purpose purpose, int count, String diagramName) {
        return page(cases(generator, purpose, count, FateCase.Known.AS_IN_A_STUDY), diagramName);
    }

    static Page page(List<FateCase> all, String diagramName) {
        StringBuilder text = new StringBuilder();
        text.append("## Figures\n\n").append(figures(all).markdown());
        text.append("\n## Fate: called (across) against true (down), all recordings\n\n")
                .append(confusion(all).markdown());
        text.append("\n## Fate, only recordings that can be told\n\n")
                .append(confusion(MotionParts.pick(all, FateCase::decidable)).markdown());
        text.append("\n## By story\n\n").append(courses(all).markdown());
        text.append("\n## Reliability of the probabilities\n\n![Stated probability against how often it came true](")
                .append(diagramName)
                .append(")\n\n")
                .append(reliability(all).markdown());
        text.append("\n## The share that died, in studies of 200 put together from these recordings\n\n")
                .append(mortality(all));
        text.append("\n## Bouts: seconds called (across) against true (down), per mille of the true\n\n")
                .append(kinds(all).markdown());
        text.append("\n## Wrong calls among those that can be told\n\n")
                .append(wrong(all).markdown());
        return new Page(text.toString(), diagram(all, "simulated, " + all.size() + " recordings"));
    }

    /** A few recordings with a wrong frame rule a root mean square: the median over recordings, and how many those are. */
    private static void posture(Table table, String which, double[] rmsDeg) {
        double[] sorted =
                Arrays.stream(rmsDeg).filter(v -> !Double.isNaN(v)).sorted().toArray();
        int over = (int) Arrays.stream(sorted).filter(v -> v > WRONG_FRAME_DEG).count();
        table.row(
                which + " error while swimming, RMS of a recording: median over recordings °",
                Table.number(sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2], 2));
        table.row(
                which + " error above " + (int) WRONG_FRAME_DEG + "° (of those that swam)",
                Table.of(over, sorted.length));
    }

    static Table figures(List<FateCase> all) {
        List<FateCase> told = MotionParts.pick(all, FateCase::decidable);
        List<FateCase> decided = MotionParts.pick(told, c -> !c.call().equals("undecided"));
        List<FateCase> survivors = MotionParts.pick(all, c -> c.trueCall().equals("survived"));
        int dead = (int) survivors.stream().filter(c -> c.call().equals("died")).count();
        int undecided = told.size() - decided.size();
        Table table = new Table("what", "figure");
        int matched = all.stream().mapToInt(c -> c.beats().score().matched()).sum();
        int missed = all.stream().mapToInt(c -> c.beats().score().missed()).sum();
        int wrong = all.stream().mapToInt(c -> c.beats().score().wrong()).sum();
        double[] error = all.stream()
                .filter(c -> c.beats().score().matched() > 100)
                .mapToDouble(c -> c.beats().score().medianFrequencyError())
                .sorted()
                .toArray();
        table.row("recordings", all.size());
        table.row("of those, can be told", told.size());
        table.row("tailbeat F1, all beats together", Table.number(2.0 * matched / (2.0 * matched + missed + wrong), 4));
        table.row("median frequency error, median over recordings", Table.percent(error[error.length / 2], 2));
        table.row("median frequency error, worst tenth", Table.percent(error[error.length * 9 / 10], 2));
        posture(
                table,
                "pitch",
                all.stream().mapToDouble(c -> c.beats().pitchRmsDeg()).toArray());
        posture(
                table,
                "roll",
                all.stream().mapToDouble(c -> c.beats().rollRmsDeg()).toArray());
        table.row("balanced accuracy of the call among decided", Table.number(balanced(decided), 3));
        table.row("undecided among those that can be told", Table.of(undecided, told.size()));
        table.row("survivors called dead", Table.of(dead, survivors.size()));
        table.row(
                "Brier score, 0 best to 2",
                Table.number(all.stream().mapToDouble(FateCase::brier).average().orElse(Double.NaN), 3));
        table.row(
                "Brier score among those that can be told",
                Table.number(
                        told.stream().mapToDouble(FateCase::brier).average().orElse(Double.NaN), 3));
        List<FateCase> swimmers = MotionParts.pick(
                told,
                c -> c.hasChange()
                        && c.call().equals(c.trueCall())
                        && (c.mustSwim()
                                || c.trueCall().equals("shed")
                                || c.trueCall().equals("eaten")));
        int near = (int)
                swimmers.stream().filter(c -> Math.abs(c.changeOffS()) <= 600).count();
        table.row("time of change within 10 min (swimmers, shed, eaten; call right)", Table.of(near, swimmers.size()));
        List<FateCase> resters = MotionParts.pick(
                told,
                c -> c.hasChange()
                        && !c.mustSwim()
                        && c.trueCall().equals("died")
                        && c.call().equals("died"));
        int covered = (int) resters.stream().filter(FateCase::changeCovered).count();
        table.row("interval of the time of death holds the truth (can rest)", Table.of(covered, resters.size()));
        long right = all.stream().mapToLong(FateCase::secondsRight).sum();
        long scored = all.stream().mapToLong(FateCase::secondsScored).sum();
        table.row("seconds with the right bout", Table.percent((double) right / scored, 2));
        int bursts = all.stream().mapToInt(FateCase::bursts).sum();
        int found = all.stream().mapToInt(FateCase::burstsFound).sum();
        int falseBursts = all.stream().mapToInt(FateCase::burstsWrong).sum();
        double days = all.stream().mapToDouble(FateCase::days).sum();
        table.row("bursts found", Table.of(found, bursts));
        table.row("false bursts a day", Table.number(falseBursts / days, 2));
        int ends = (int) all.stream().filter(c -> c.end().equals(c.trueEnd())).count();
        return table.row("record's end right", Table.of(ends, all.size()));
    }

    static double balanced(List<FateCase> cases) {
        double sum = 0;
        int classes = 0;
        for (int k = 0; k < 4; k++) {
            String call = CALLS[k];
            List<FateCase> of = MotionParts.pick(cases, c -> c.trueCall().equals(call));
            if (!of.isEmpty()) {
                sum += (double) of.stream().filter(c -> c.call().equals(call)).count() / of.size();
                classes++;
            }
        }
        return sum / classes;
    }

    private static Table confusion(List<FateCase> cases) {
        Table table =
                new Table("true", "survived", "died", "eaten", "shed", "undecided", "recall", "recall of decided");
        for (int k = 0; k < 4; k++) {
            String call = CALLS[k];
            List<FateCase> of = MotionParts.pick(cases, c -> c.trueCall().equals(call));
            Object[] row = new Object[8];
            row[0] = call;
            for (int j = 0; j < 5; j++) {
                String called = CALLS[j];
                row[j + 1] = of.stream().filter(c -> c.call().equals(called)).count();
            }
            long right = of.stream().filter(c -> c.call().equals(call)).count();
            long decided =
                    of.stream().filter(c -> !c.call().equals("undecided")).count();
            row[6] = Table.number((double) right / of.size(), 3);
            row[7] = Table.number((double) right / decided, 3);
            table.row(row);
        }
        return table;
    }

    private static Table courses(List<FateCase> cases) {
        Map<String, List<FateCase>> by = new TreeMap<>();
        cases.forEach(
                c -> by.computeIfAbsent(c.course(), k -> new ArrayList<>()).add(c));
        Table table = new Table("story", "recordings", "right", "undecided", "can be told", "right of those");
        by.forEach((course, of) -> {
            List<FateCase> told = MotionParts.pick(of, FateCase::decidable);
            table.row(
                    course,
                    of.size(),
                    of.stream().filter(c -> c.wrongCall() == null).count(),
                    of.stream().filter(c -> c.call().equals("undecided")).count(),
                    told.size(),
                    told.stream().filter(c -> c.wrongCall() == null).count());
        });
        return table;
    }

    /** Classes of stated probability: limits, mean stated, share that came true, number of statements. */
    private record Reliability(double[] edges, double[] stated, double[] happened, int[] n) {

        static Reliability of(List<FateCase> cases) {
            double[] edges = {0, 0.02, 0.1, 0.3, 0.7, 0.9, 0.98, 1.0000001};
            int classes = edges.length - 1;
            double[] stated = new double[classes];
            double[] happened = new double[classes];
            int[] n = new int[classes];
            for (FateCase c : cases) {
                for (int k = 0; k < 4; k++) {
                    double p = c.probabilities()[k];
                    int b = 0;
                    while (p >= edges[b + 1]) {
                        b++;
                    }
                    stated[b] += p;
                    happened[b] += CALLS[k].equals(c.trueCall()) ? 1 : 0;
                    n[b]++;
                }
            }
            for (int b = 0; b < classes; b++) {
                stated[b] /= Math.max(1, n[b]);
                happened[b] /= Math.max(1, n[b]);
            }
            return new Reliability(edges, stated, happened, n);
        }
    }

    private static Table reliability(List<FateCase> cases) {
        Table table = new Table("stated probability", "statements", "mean stated", "came true");
        Reliability r = Reliability.of(cases);
        for (int b = 0; b < r.n.length; b++) {
            table.row(
                    Table.number(r.edges[b], 2) + "–" + Table.number(Math.min(1, r.edges[b + 1]), 2),
                    r.n[b],
                    r.n[b] == 0 ? "-" : Table.number(r.stated[b], 3),
                    r.n[b] == 0 ? "-" : Table.number(r.happened[b], 3));
        }
        return table;
    }

    private static String diagram(List<FateCase> cases, String title) {
        Reliability r = Reliability.of(cases);
        return ReliabilityDiagram.svg(title, r.stated, r.happened, r.n);
    }

    /**
     * The share that died as called (undecided left out) and as the mean probability (undecided kept). Studies are put
     * together from the recordings; where there are too few of a kind, the shares among the dead and among the others
     * are weighted instead, which is the mean over all such studies.
     */
    private static String mortality(List<FateCase> all) {
        List<FateCase> dead = MotionParts.pick(all, c -> c.trueCall().equals("died"));
        List<FateCase> others = MotionParts.pick(all, c -> !c.trueCall().equals("died"));
        Table table = new Table("true share", "by calls", "difference, points", "by probability", "difference, points");
        for (double share : new double[] {0.05, 0.10, 0.20}) {
            double calledDead = share * rate(dead, "died") + (1 - share) * rate(others, "died");
            double left = share * rate(dead, "undecided") + (1 - share) * rate(others, "undecided");
            double calls = calledDead / (1 - left);
            double mean = share * meanDied(dead) + (1 - share) * meanDied(others);
            table.row(
                    Table.percent(share, 0),
                    Table.percent(calls, 1),
                    Table.number(100 * (calls - share), 1),
                    Table.percent(mean, 1),
                    Table.number(100 * (mean - share), 1));
        }
        return "From " + dead.size() + " dead and " + others.size()
                + " others, weighted to the true share (the mean over all studies that can be put together).\n\n"
                + table.markdown();
    }

    private static double rate(List<FateCase> cases, String call) {
        return cases.isEmpty()
                ? Double.NaN
                : (double) cases.stream().filter(c -> c.call().equals(call)).count() / cases.size();
    }

    private static double meanDied(List<FateCase> cases) {
        return cases.stream().mapToDouble(c -> c.probabilities()[1]).average().orElse(Double.NaN);
    }

    private static Table kinds(List<FateCase> all) {
        int n = FateCase.KINDS.length;
        long[][] sum = new long[n][n];
        for (FateCase c : all) {
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    sum[i][j] += c.kindPairs()[i][j];
                }
            }
        }
        String[] heads = new String[n + 2];
        heads[0] = "true";
        System.arraycopy(FateCase.KINDS, 0, heads, 1, n);
        heads[n + 1] = "hours";
        Table table = new Table(heads);
        for (int i = 0; i < n - 1; i++) {
            long total = Arrays.stream(sum[i]).sum();
            Object[] row = new Object[n + 2];
            row[0] = FateCase.KINDS[i];
            for (int j = 0; j < n; j++) {
                row[j + 1] = total == 0 ? "-" : Table.number(1000.0 * sum[i][j] / total, 0);
            }
            row[n + 1] = Table.number(total / 3600.0, 1);
            table.row(row);
        }
        return table;
    }

    private static Table wrong(List<FateCase> all) {
        Table table = new Table("recording", "story", "must swim", "called", "survived", "died", "eaten", "shed");
        MotionParts.pick(all, c -> c.decidable() && c.wrongCall() != null)
                .forEach(c -> table.row(
                        c.name(),
                        c.course(),
                        c.mustSwim() ? "yes" : "no",
                        c.call(),
                        Table.number(c.probabilities()[0], 2),
                        Table.number(c.probabilities()[1], 2),
                        Table.number(c.probabilities()[2], 2),
                        Table.number(c.probabilities()[3], 2)));
        return table;
    }
}
