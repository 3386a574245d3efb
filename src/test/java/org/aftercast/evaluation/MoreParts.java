package org.aftercast.evaluation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.stream.IntStream;
import org.aftercast.behaviour.Recovery;
import org.aftercast.behaviour.RecoveryMeasure;
import org.aftercast.evaluation.Generator.Purpose;
import org.aftercast.recording.Channel;
import org.aftercast.sim.DifficultyRange;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.ScenarioDraw;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.sim.Truth;

/** Recovery, bursts and robustness. */
final class MoreParts {

    private static final double IDENTIFIED = 3;

    private MoreParts() {}

    /** One recovery: the truth and what was said. */
    private record Told(double t80H, double lengthH, Recovery said) {
        boolean covers() {
            return said.lowH() <= t80H && t80H <= said.highH();
        }
    }

    static String recovery(Generator generator, int count) {
        List<Told> all = IntStream.range(0, count)
                .parallel()
                .mapToObj(i -> {
                    SimulatedRecording made = generator.make(Purpose.RECOVERY, i);
                    Truth truth = made.truth();
                    Recovery said =
                            FateCase.reading(made, FateCase.Known.AS_IN_A_STUDY)
                                    .behaviour()
                                    .recovery()
                                    .measures()
                                    .stream()
                                    .filter(m -> m.measure() == RecoveryMeasure.BEAT_FREQUENCY)
                                    .findFirst()
                                    .orElseThrow();
                    Double t80 = truth.t80H();
                    return new Told(
                            t80 == null ? Double.NaN : t80, (truth.aliveUntilS() - truth.releaseS()) / 3600, said);
                })
                .toList();
        return table(all);
    }

    private static String table(List<Told> all) {
        Table table = new Table(
                "record, h",
                "record length over t80",
                "animals",
                "recovered",
                "never disturbed",
                "not within record",
                "not enough data",
                "mean bias of recovered",
                "median bias of recovered",
                "identified: interval within a factor of 3",
                "mean bias of identified",
                "interval of recovered holds the truth",
                "interval holds the truth, censored ones included");
        double[][] strata = {{0, 1}, {1, 2}, {2, 1e9}};
        String[] words = {"under 1", "1–2", "over 2"};
        double[][] lengths = {{0, 18}, {18, 1e9}, {0, 1e9}};
        String[] hours = {"under 18", "over 18", "all"};
        for (int h = 0; h < lengths.length; h++) {
            double[] length = lengths[h];
            List<Told> sameLength = MotionParts.pick(all, t -> t.lengthH() >= length[0] && t.lengthH() < length[1]);
            for (int k = 0; k < 3; k++) {
                double low = strata[k][0];
                double high = strata[k][1];
                table.row(row(
                        hours[h],
                        words[k],
                        MotionParts.pick(
                                sameLength, t -> t.lengthH() / t.t80H() >= low && t.lengthH() / t.t80H() < high)));
            }
            table.row(row(hours[h], "never disturbed", MotionParts.pick(sameLength, t -> Double.isNaN(t.t80H()))));
        }
        table.row(row("all", "all disturbed", MotionParts.pick(all, t -> !Double.isNaN(t.t80H()))));
        return table.markdown();
    }

    private static Object[] row(String hours, String word, List<Told> of) {
        List<Told> recovered = MotionParts.pick(of, t -> t.said().status() == Recovery.Status.RECOVERED);
        List<Told> withInterval = MotionParts.pick(
                of,
                t -> t.said().status() == Recovery.Status.RECOVERED
                        || t.said().status() == Recovery.Status.NOT_WITHIN_RECORD);
        double[] bias = recovered.stream()
                .mapToDouble(t -> t.said().recoveredH() / t.t80H() - 1)
                .toArray();
        double[] identified = recovered.stream()
                .filter(t -> t.said().highH() < IDENTIFIED * t.said().lowH())
                .mapToDouble(t -> t.said().recoveredH() / t.t80H() - 1)
                .toArray();
        boolean never = !of.isEmpty() && Double.isNaN(of.get(0).t80H());
        int covered = (int) withInterval.stream().filter(Told::covers).count();
        return new Object[] {
            hours,
            word,
            of.size(),
            recovered.size(),
            status(of, Recovery.Status.NEVER_DISTURBED),
            status(of, Recovery.Status.NOT_WITHIN_RECORD),
            status(of, Recovery.Status.NOT_ENOUGH_DATA),
            never ? "-" : Table.percent(Arrays.stream(bias).average().orElse(Double.NaN), 1),
            never ? "-" : Table.percent(BeatScore.median(bias, bias.length), 1),
            never ? "-" : identified.length,
            never ? "-" : Table.percent(Arrays.stream(identified).average().orElse(Double.NaN), 1),
            never ? "-" : Table.of((int) recovered.stream().filter(Told::covers).count(), recovered.size()),
            never ? "-" : Table.of(covered, withInterval.size())
        };
    }

    private static long status(List<Told> of, Recovery.Status status) {
        return of.stream().filter(t -> t.said().status() == status).count();
    }

    static String bursts(Generator generator, int count) {
        Table table = new Table("true bursts a day", "recordings", "days", "true bursts", "found", "false a day");
        Purpose[] purposes = {Purpose.BURSTS_2, Purpose.BURSTS_10, Purpose.BURSTS_50};
        String[] words = {"2", "10", "50"};
        for (int k = 0; k < 3; k++) {
            List<FateCase> all = FateParts.cases(generator, purposes[k], count, FateCase.Known.AS_IN_A_STUDY);
            int real = all.stream().mapToInt(FateCase::bursts).sum();
            int found = all.stream().mapToInt(FateCase::burstsFound).sum();
            int wrong = all.stream().mapToInt(FateCase::burstsWrong).sum();
            double days = all.stream().mapToDouble(FateCase::days).sum();
            table.row(
                    words[k],
                    all.size(),
                    Table.number(days, 1),
                    real,
                    Table.of(found, real),
                    Table.number(wrong / days, 2));
        }
        return table.markdown();
    }

    /** The same stories, seen worse. */
    static String robust(ScenarioDraw.Use use, int count) {
        Table table = new Table(
                "seen how",
                "recordings",
                "can be told",
                "balanced accuracy among decided",
                "undecided of those that can be told",
                "Brier",
                "bout seconds right",
                "tailbeat F1");
        for (double rateHz : new double[] {5, 10, 25, 50, 100}) {
            robust(
                    table,
                    Table.number(rateHz, 0) + " Hz",
                    use,
                    count,
                    rateHz,
                    View.WHOLE,
                    FateCase.Known.AS_IN_A_STUDY);
        }
        for (View view : new View[] {View.NO_TEMPERATURE, View.NO_DEPTH, View.GAPS}) {
            robust(table, view.words, use, count, 20, view, FateCase.Known.AS_IN_A_STUDY);
        }
        robust(table, "length 30 % too large", use, count, 20, View.WHOLE, FateCase.Known.LENGTH_TOO_LARGE);
        robust(table, "length 30 % too small", use, count, 20, View.WHOLE, FateCase.Known.LENGTH_TOO_SMALL);
        robust(table, "nothing known but the file", use, count, 20, View.WHOLE, FateCase.Known.NOTHING);
        return table.markdown();
    }

    private enum View {
        WHOLE("whole"),
        NO_TEMPERATURE("without temperature"),
        NO_DEPTH("without depth"),
        GAPS("10 % missing");

        private final String words;

        View(String words) {
            this.words = words;
        }

        Scenario of(Scenario s) {
            return switch (this) {
                case WHOLE -> s;
                case NO_TEMPERATURE -> s.withLogger(s.logger().withChannels(EnumSet.of(Channel.DEPTH)));
                case NO_DEPTH -> s.withLogger(s.logger().withChannels(EnumSet.of(Channel.TEMPERATURE)));
                case GAPS -> s.withLogger(s.logger().withFaults(0, 0.1, 120));
            };
        }
    }

    private static void robust(
            Table table,
            String words,
            ScenarioDraw.Use use,
            int count,
            double rateHz,
            View view,
            FateCase.Known known) {
        List<FateCase> all = new ArrayList<>(IntStream.range(0, count)
                .parallel()
                .mapToObj(i -> {
                    ScenarioDraw.Drawn drawn =
                            ScenarioDraw.draw(DifficultyRange.plain().with(rateHz, 10), use, 100_000L + i);
                    return FateCase.of(
                            new ScenarioDraw.Drawn(view.of(drawn.scenario()), drawn.seed()).simulate(), known);
                })
                .toList());
        List<FateCase> told = MotionParts.pick(all, FateCase::decidable);
        List<FateCase> decided = MotionParts.pick(told, c -> !c.call().equals("undecided"));
        long right = all.stream().mapToLong(FateCase::secondsRight).sum();
        long scored = all.stream().mapToLong(FateCase::secondsScored).sum();
        int matched = all.stream().mapToInt(c -> c.beats().score().matched()).sum();
        int missed = all.stream().mapToInt(c -> c.beats().score().missed()).sum();
        int wrong = all.stream().mapToInt(c -> c.beats().score().wrong()).sum();
        table.row(
                words,
                all.size(),
                told.size(),
                Table.number(FateParts.balanced(decided), 3),
                Table.of(told.size() - decided.size(), told.size()),
                Table.number(all.stream().mapToDouble(FateCase::brier).average().orElse(Double.NaN), 3),
                Table.percent((double) right / scored, 1),
                Table.number(2.0 * matched / (2.0 * matched + missed + wrong), 3));
    }
}
