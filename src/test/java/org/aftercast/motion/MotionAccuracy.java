package org.aftercast.motion;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.sim.Truth;

/** Scores beats against simulated truth over a grid of frequency, amplitude, sampling and noise. */
public final class MotionAccuracy {

    private MotionAccuracy() {}

    /**
     * @param f1 harmonic mean of recall and precision; a beat matches a true one that starts within 0.3 periods
     * @param frequencyBias median over matched beats of found over true frequency, less 1
     * @param amplitudeBias mean over matched beats of found over true amplitude, less 1
     */
    record Score(int trueBeats, int foundBeats, int hits, double f1, double frequencyBias, double amplitudeBias) {}

    static Score score(Beats found, double[] startS, float[] periodS, float[] amplitudeG) {
        boolean[] used = new boolean[found.count()];
        int hits = 0;
        List<Double> f = new ArrayList<>();
        double a = 0;
        int j = 0;
        for (int i = 0; i < startS.length; i++) {
            double tolerance = 0.3 * periodS[i];
            while (j < found.count() && found.startS()[j] < startS[i] - tolerance) {
                j++;
            }
            int best = -1;
            for (int k = j; k < found.count() && found.startS()[k] <= startS[i] + tolerance; k++) {
                if (!used[k]
                        && (best < 0
                                || Math.abs(found.startS()[k] - startS[i])
                                        < Math.abs(found.startS()[best] - startS[i]))) {
                    best = k;
                }
            }
            if (best >= 0) {
                used[best] = true;
                hits++;
                f.add((double) periodS[i] / found.periodS()[best] - 1);
                a += found.amplitudeG()[best] / amplitudeG[i] - 1;
            }
        }
        double[] sorted = f.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        return new Score(
                startS.length,
                found.count(),
                hits,
                2.0 * hits / Math.max(1, startS.length + found.count()),
                sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2],
                a / Math.max(1, hits));
    }

    public static void main(String[] args) {
        double[] hz = {0.2, 0.5, 1, 2, 4, 6};
        double[] rates = {5, 10, 25, 50, 100};
        double[] multiples = {3, 6, 20};
        for (double m : multiples) {
            for (double f : hz) {
                StringBuilder line = new StringBuilder(String.format(Locale.ROOT, "A/sd %4.0f  f %.1f :", m, f));
                for (double rate : rates) {
                    if (rate / f < 4) {
                        line.append("      -             ");
                        continue;
                    }
                    Scenario base = Scenario.swimmer();
                    double a = 0.2;
                    double band = Math.min(4.5 * f, 0.45 * rate) - 0.35 * f;
                    double noise = a / m / Math.sqrt(2 * band / rate);
                    Scenario s = base.withBody(base.body().withCruise(f, a))
                            .withLogger(base.logger().with(rate, 3).withNoiseG(noise))
                            .withEnding(base.ending().with(base.ending().course(), 2.9, 2.9))
                            .withRecovery(null);
                    SimulatedRecording r = RecordingSimulator.simulate(s, 7);
                    MotionReading reading = MotionReader.read(r.recording(), MotionSettings.defaults());
                    Truth t = r.truth();
                    Score q = score(reading.beats(), t.beatStartS(), t.beatPeriodS(), t.beatAmplitudeG());
                    line.append(String.format(
                            Locale.ROOT, " %.3f %+.3f %+.3f|", q.f1(), q.frequencyBias(), q.amplitudeBias()));
                    if (args.length > 0) {
                        System.out.println(reading.bandSource() + " hits " + q.hits() + " noise " + reading.noiseG()
                                + " true in-band " + a / m + " beats " + q.foundBeats() + "/" + q.trueBeats() + " "
                                + reading.notes());
                    }
                }
                System.out.println(line);
            }
        }
    }
}
