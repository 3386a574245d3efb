package org.aftercast.evaluation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import org.aftercast.evaluation.Generator.Purpose;
import org.aftercast.motion.FrameBlock;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.MotionSettings;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.sim.TrueKind;
import org.aftercast.sim.Truth;

/** Beats, posture and mount against the truth. */
final class MotionParts {

    private MotionParts() {}

    /** One recording's scores, small enough to keep. */
    record BeatCase(
            String name,
            double cruiseHz,
            double samplesPerBeat,
            double signalToNoise,
            boolean refused,
            String refusal,
            BeatScore score,
            double pitchRmsDeg,
            double rollRmsDeg) {}

    static List<BeatCase> beatCases(Generator generator, Purpose purpose, int count) {
        return IntStream.range(0, count)
                .parallel()
                .mapToObj(i -> beatCase(generator.make(purpose, i)))
                .toList();
    }

    private static BeatCase beatCase(SimulatedRecording made) {
        Truth truth = made.truth();
        MotionReading reading = MotionReader.read(made.recording(), MotionSettings.defaults());
        return beatCase(truth, reading);
    }

    static BeatCase beatCase(Truth truth, MotionReading reading) {
        double hz = truth.scenario().body().cruiseHz();
        double[] posture = posture(truth, reading);
        String refusal = reading.beatRefusal();
        return new BeatCase(
                truth.scenario().name(),
                hz,
                truth.scenario().logger().sampleRateHz() / hz,
                truth.scenario().body().cruiseSwayG() / truth.inBandNoiseG(),
                refusal != null,
                refusal == null ? "" : refusal,
                BeatScore.of(truth, reading.beats()),
                posture[0],
                posture[1]);
    }

    /** Root mean square of pitch and roll error over seconds of swimming in good quality, degrees. */
    private static double[] posture(Truth truth, MotionReading reading) {
        double pitch = 0;
        double roll = 0;
        int n = 0;
        int seconds = Math.min(truth.kindBySecond().length, reading.seconds().seconds());
        for (int s = 2; s < seconds - 2; s++) {
            if (truth.kindAt(s) != TrueKind.SWIMMING || reading.seconds().quality()[s] < 0.9) {
                continue;
            }
            double p = reading.seconds().pitchDeg()[s] - truth.pitchDegBySecond()[s];
            double r = Math.IEEEremainder(reading.seconds().rollDeg()[s] - truth.rollDegBySecond()[s], 360);
            if (Double.isNaN(p) || Double.isNaN(r)) {
                continue;
            }
            pitch += p * p;
            roll += r * r;
            n++;
        }
        return new double[] {Math.sqrt(pitch / n), Math.sqrt(roll / n)};
    }

    /** The tables of beats and posture. */
    static String beats(Generator generator, int count) {
        List<BeatCase> all = beatCases(generator, Purpose.BEATS, count);
        Table table = new Table(
                "samples a beat",
                "sway over noise",
                "recordings",
                "refused",
                "F1 (all beats)",
                "F1 (lowest tenth)",
                "frequency bias",
                "amplitude bias",
                "worst amplitude bias",
                "pitch RMS °",
                "roll RMS °");
        double[][] perBeat = {{0, 4}, {4, 10}, {10, 1e9}};
        double[][] ratios = {{3, 6}, {6, 12}, {12, 1e9}};
        String[] perBeatWords = {"under 4", "4–10", "10 and more"};
        String[] ratioWords = {"3–6", "6–12", "12 and more"};
        for (int a = 0; a < perBeat.length; a++) {
            for (int b = 0; b < ratios.length; b++) {
                double[] p = perBeat[a];
                double[] r = ratios[b];
                List<BeatCase> cases = pick(
                        all,
                        c -> c.samplesPerBeat() >= p[0]
                                && c.samplesPerBeat() < p[1]
                                && c.signalToNoise() >= r[0]
                                && c.signalToNoise() < r[1]);
                table.row(cells(perBeatWords[a], ratioWords[b], cases));
            }
        }
        StringBuilder text = new StringBuilder(table.markdown());
        text.append("\nThe weakest recordings that were not refused, sampled at least four times a beat:\n\n");
        Table worst = new Table("recording", "cruise Hz", "samples a beat", "sway over noise", "F1", "frequency bias");
        pick(all, c -> !c.refused() && c.samplesPerBeat() >= 4).stream()
                .sorted((x, y) -> Double.compare(x.score().f1(), y.score().f1()))
                .limit(12)
                .forEach(c -> worst.row(
                        c.name(),
                        Table.number(c.cruiseHz(), 2),
                        Table.number(c.samplesPerBeat(), 1),
                        Table.number(c.signalToNoise(), 1),
                        Table.number(c.score().f1(), 3),
                        Table.percent(c.score().frequencyBias(), 2)));
        return text.append(worst.markdown()).toString();
    }

    private static Object[] cells(String perBeat, String ratio, List<BeatCase> cases) {
        List<BeatCase> read = pick(cases, c -> !c.refused());
        int matched = read.stream().mapToInt(c -> c.score().matched()).sum();
        int missed = read.stream().mapToInt(c -> c.score().missed()).sum();
        int wrong = read.stream().mapToInt(c -> c.score().wrong()).sum();
        double[] f1 = read.stream().mapToDouble(c -> c.score().f1()).sorted().toArray();
        double[] amplitude = read.stream()
                .mapToDouble(c -> c.score().amplitudeBias())
                .filter(v -> !Double.isNaN(v))
                .toArray();
        double worst = Arrays.stream(amplitude).map(Math::abs).max().orElse(Double.NaN);
        double frequency = read.stream()
                        .filter(c -> c.score().matched() > 0)
                        .mapToDouble(c -> c.score().frequencyBias() * c.score().matched())
                        .sum()
                / matched;
        return new Object[] {
            perBeat,
            ratio,
            cases.size(),
            cases.size() - read.size(),
            Table.number(matched == 0 ? Double.NaN : 2.0 * matched / (2.0 * matched + missed + wrong), 3),
            Table.number(f1.length == 0 ? Double.NaN : f1[f1.length / 10], 3),
            Table.percent(frequency, 2),
            Table.percent(BeatScore.median(amplitude, amplitude.length), 1),
            Table.percent(worst, 1),
            rms(read.stream().mapToDouble(BeatCase::pitchRmsDeg).toArray()),
            rms(read.stream().mapToDouble(BeatCase::rollRmsDeg).toArray())
        };
    }

    static String rms(double[] values) {
        double sum = 0;
        int n = 0;
        for (double v : values) {
            if (!Double.isNaN(v)) {
                sum += v * v;
                n++;
            }
        }
        return Table.number(Math.sqrt(sum / n), 2);
    }

    /** A 20° step of the mount after two hours, and mounts that never move. */
    static String mount(Generator generator, int shifting, int still) {
        record Found(boolean hit, int others, double offS, double days, boolean swam) {}
        List<Found> found = IntStream.range(0, shifting + still)
                .parallel()
                .mapToObj(i -> {
                    SimulatedRecording made = i < shifting
                            ? generator.make(Purpose.MOUNT_SHIFT, i)
                            : generator.make(Purpose.MOUNT_STILL, i - shifting);
                    MotionReading reading = MotionReader.read(made.recording(), MotionSettings.defaults());
                    List<Double> steps = steps(reading);
                    Truth truth = made.truth();
                    double days = (truth.aliveUntilS() - truth.releaseS()) / 86_400;
                    Double shift = truth.mountShiftS();
                    if (shift == null) {
                        return new Found(false, steps.size(), Double.NaN, days, true);
                    }
                    double best = steps.stream()
                            .mapToDouble(s -> Math.abs(s - shift))
                            .min()
                            .orElse(Double.POSITIVE_INFINITY);
                    boolean hit = best <= 1800;
                    return new Found(hit, steps.size() - (hit ? 1 : 0), best, days, swamBothSides(truth, shift));
                })
                .toList();
        List<Found> all = found.subList(0, shifting);
        List<Found> shifted = all.stream().filter(Found::swam).toList();
        List<Found> unmoved = found.subList(shifting, found.size());
        int hits = (int) shifted.stream().filter(Found::hit).count();
        double[] off =
                shifted.stream().filter(Found::hit).mapToDouble(Found::offS).toArray();
        int wrong = unmoved.stream().mapToInt(Found::others).sum();
        double days = unmoved.stream().mapToDouble(Found::days).sum();
        return new Table("what", "figure")
                .row("20° steps", shifting)
                .row(
                        "of those with less than 10 min of swimming on a side (not asked of it)",
                        shifting - shifted.size())
                .row("others found within 30 min", Table.of(hits, shifted.size()))
                .row("median distance in time of those, min", Table.number(BeatScore.median(off, off.length) / 60, 1))
                .row(
                        "false steps beside them",
                        shifted.stream().mapToInt(Found::others).sum())
                .row("false steps in mounts that never moved", wrong)
                .row("days of such mounts", Table.number(days, 1))
                .row("false steps in 10 days", Table.number(wrong / days * 10, 2))
                .markdown();
    }

    /** Whether the animal swam for at least ten minutes on each side of a shift. */
    private static boolean swamBothSides(Truth truth, double shiftS) {
        int before = 0;
        int after = 0;
        for (int s = 0; s < truth.kindBySecond().length; s++) {
            if (truth.kindAt(s) == TrueKind.SWIMMING) {
                before += s < shiftS ? 1 : 0;
                after += s < shiftS ? 0 : 1;
            }
        }
        return before >= 600 && after >= 600;
    }

    /** Times at which the body frame's tilt changes by 8° or more between neighbouring blocks, s. */
    static List<Double> steps(MotionReading reading) {
        List<Double> steps = new ArrayList<>();
        List<FrameBlock> frames = reading.frames();
        for (int i = 1; i < frames.size(); i++) {
            double[] a = frames.get(i - 1).rotation();
            double[] b = frames.get(i).rotation();
            // The dorsal axis in sensor coordinates is the last row.
            double dot = a[6] * b[6] + a[7] * b[7] + a[8] * b[8];
            if (Math.toDegrees(Math.acos(Math.max(-1, Math.min(1, dot)))) >= 8) {
                steps.add(frames.get(i).fromS());
            }
        }
        return steps;
    }

    static <T> List<T> pick(List<T> all, Predicate<T> wanted) {
        return all.stream().filter(wanted).toList();
    }
}
