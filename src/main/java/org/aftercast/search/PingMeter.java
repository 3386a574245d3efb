package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Finds a beacon's pings in sound from the receiver: their pitch, rate and level above the noise.
 *
 * <p>Power by Goertzel's recursion in Hann-windowed blocks of 20 ms, half overlapping, at pitches 50 Hz apart; each pitch
 * divided by its own noise (median/ln 2, as noise power is exponential); blocks loud at all pitches at once (engine,
 * knocks) are turned down; folded at every period from 0.5 to 2 s; the loudest fold is a detection when noise alone
 * would reach it once in a thousand recordings (gamma distribution, all pitches, periods and phases counted).
 *
 * <p>Automatic gain control and noise suppression make levels meaningless. They show as noise that changes with the time
 * since the ping: such a recording is refused. At low levels they cannot be told; compare only at equal settings.
 */
public final class PingMeter {

    private static final double BLOCK_S = 0.02;
    private static final double PITCH_STEP_HZ = 50;
    private static final double FALSE_ALARM = 1e-3;
    private static final double GAIN_CHANGE_DB = 1.5;

    private PingMeter() {}

    /**
     * What to listen for.
     *
     * @param lowHz lowest pitch in Hz
     * @param highHz highest pitch in Hz
     * @param leastPerMinute slowest ping rate, 20 or more
     * @param mostPerMinute fastest ping rate, 200 at most
     * @param longestS only the last so many seconds are used
     */
    public record Settings(double lowHz, double highHz, double leastPerMinute, double mostPerMinute, double longestS) {
        public Settings {
            if (!(lowHz >= 100 && highHz > lowHz && highHz <= 8000)) {
                throw new IllegalArgumentException(
                        "lowHz, highHz: " + lowHz + ", " + highHz + " is not within 100–8000");
            }
            if (!(leastPerMinute >= 20 && mostPerMinute > leastPerMinute && mostPerMinute <= 200)) {
                throw new IllegalArgumentException("leastPerMinute, mostPerMinute: " + leastPerMinute + ", "
                        + mostPerMinute + " is not within 20–200");
            }
            if (!(longestS >= 5 && longestS <= 120)) {
                throw new IllegalArgumentException("longestS: " + longestS + " is outside 5–120 s");
            }
        }

        /** 300–3000 Hz, 30–120 pings a minute, the last 20 s. */
        public static Settings defaults() {
            return new Settings(300, 3000, 30, 120, 20);
        }
    }

    /** What was found. */
    public enum Verdict {
        /** Pings, with a level that can be compared at the same gain. */
        PINGS,
        /** Pings, but so loud that the sound is cut: turn the gain down. */
        SATURATED,
        /** Pings, but the receiver changes its gain by itself: no level is given. */
        AUTOMATIC_GAIN,
        /** No pings above the noise. */
        NO_PINGS,
        /** Too little sound: six periods at least are needed. */
        TOO_SHORT
    }

    /**
     * Result.
     *
     * @param pitchHz pitch, or NaN
     * @param perMinute ping rate, or NaN
     * @param levelDb level of the ping in dB of a full-scale tone, or NaN when refused
     * @param aboveNoiseDb 10 log((P − N)/N) in the 20 ms block, or NaN when refused
     * @param firstPingS time of the first ping in the part used, or NaN
     * @param pings number of periods folded
     * @param note in words
     */
    public record Reading(
            Verdict verdict,
            double pitchHz,
            double perMinute,
            double levelDb,
            double aboveNoiseDb,
            double firstPingS,
            int pings,
            String note) {}

    /**
     * Measures a recording.
     *
     * @param sound samples, −1 to 1
     * @param sampleRateHz above twice the highest pitch
     */
    public static Reading measure(float[] sound, double sampleRateHz, Settings settings) {
        if (!(sampleRateHz > 2.1 * settings.highHz())) {
            throw new IllegalArgumentException("sampleRateHz: " + sampleRateHz + " must be above 2.1 times "
                    + settings.highHz() + " Hz, the highest pitch listened for");
        }
        int used = (int) Math.min(sound.length, Math.round(settings.longestS() * sampleRateHz));
        float[] x = Arrays.copyOfRange(sound, sound.length - used, sound.length);
        int size = (int) Math.round(BLOCK_S * sampleRateHz);
        int hop = size / 2;
        int blocks = x.length < size ? 0 : (x.length - size) / hop + 1;
        double hopS = hop / sampleRateHz;
        double longestPeriodS = 60 / settings.leastPerMinute();
        if (blocks * hopS < 6 * longestPeriodS - 1e-9 && blocks * hopS < 6) {
            return nothing(Verdict.TOO_SHORT, "At least six seconds of sound are needed.");
        }
        int pitches = (int) Math.floor((settings.highHz() - settings.lowHz()) / PITCH_STEP_HZ) + 1;
        double[][] power = powers(x, sampleRateHz, settings.lowHz(), pitches, size, hop, blocks);
        double[] noise = new double[pitches];
        for (int f = 0; f < pitches; f++) {
            noise[f] = Math.max(1e-30, median(power[f]) / Math.log(2));
        }
        double[] allPitches = new double[blocks];
        double[] column = new double[pitches];
        for (int t = 0; t < blocks; t++) {
            for (int f = 0; f < pitches; f++) {
                column[f] = power[f][t] / noise[f];
            }
            allPitches[t] = median(column) / Math.log(2);
        }
        Fold best = search(power, noise, allPitches, hopS, settings);
        if (best == null) {
            return nothing(Verdict.NO_PINGS, "No pings above the noise in " + Math.round(blocks * hopS) + " s.");
        }
        return describe(best, power, noise, allPitches, x, size, hop, hopS, settings);
    }

    /** A fold that stands out. */
    private record Fold(int pitch, double periodHops, double phaseHops, double mean, int cycles) {}

    private static double[][] powers(float[] x, double rate, double lowHz, int pitches, int size, int hop, int blocks) {
        double[] window = new double[size];
        for (int i = 0; i < size; i++) {
            window[i] = 0.5 - 0.5 * Math.cos(2 * Math.PI * i / size);
        }
        double[][] power = new double[pitches][blocks];
        double[] block = new double[size];
        for (int t = 0; t < blocks; t++) {
            for (int i = 0; i < size; i++) {
                block[i] = x[t * hop + i] * window[i];
            }
            for (int f = 0; f < pitches; f++) {
                power[f][t] = goertzelPower(block, (lowHz + f * PITCH_STEP_HZ) / rate);
            }
        }
        return power;
    }

    /**
     * Goertzel's power at a frequency as a share of the sample rate: s = x + 2 cos(2π f) s₁ − s₂, P = s₁² + s₂² − 2 cos(2π f) s₁
     * s₂. A tone of amplitude A on a bin gives (A N/2)².
     */
    static double goertzelPower(double[] block, double cyclesPerSample) {
        double coefficient = goertzelCoefficient(cyclesPerSample);
        double s1 = 0;
        double s2 = 0;
        for (double v : block) {
            double s = v + coefficient * s1 - s2;
            s2 = s1;
            s1 = s;
        }
        return s1 * s1 + s2 * s2 - coefficient * s1 * s2;
    }

    static double goertzelCoefficient(double cyclesPerSample) {
        return 2 * Math.cos(2 * Math.PI * cyclesPerSample);
    }

    private static @Nullable Fold search(
            double[][] power, double[] noise, double[] allPitches, double hopS, Settings settings) {
        int blocks = allPitches.length;
        double shortest = 60 / settings.mostPerMinute() / hopS;
        double longest = 60 / settings.leastPerMinute() / hopS;
        double step = 0.7 / (blocks / longest);
        double trials = power.length * ((longest - shortest) / step) * (shortest + longest) / 2;
        Fold best = null;
        double bestScore = 0;
        double[] q = new double[blocks];
        double[] sum = new double[(int) Math.ceil(longest) + 1];
        int[] count = new int[sum.length];
        for (int f = 0; f < power.length; f++) {
            for (int t = 0; t < blocks; t++) {
                // One knock must not make a fold: a block counts at most 30 times the noise.
                q[t] = Math.min(30, power[f][t] / noise[f] / Math.max(1, allPitches[t]));
            }
            Fold ofPitch = null;
            double pitchScore = bestScore;
            for (double period = shortest; period <= longest; period += step) {
                int bins = fold(q, period, sum, count);
                for (int bin = 0; bin < bins; bin++) {
                    int n = count[bin];
                    double score = (sum[bin] / Math.max(1, n) - 1) * Math.sqrt(n);
                    if (n >= 4 && score > pitchScore) {
                        pitchScore = score;
                        ofPitch = new Fold(f, period, bin, sum[bin] / n, n);
                    }
                }
            }
            if (ofPitch != null && standsOut(ofPitch, q, sum, count, trials)) {
                best = ofPitch;
                bestScore = pitchScore;
            }
        }
        return best;
    }

    private static int fold(double[] q, double period, double[] sum, int[] count) {
        int bins = (int) Math.floor(period);
        Arrays.fill(sum, 0, bins + 1, 0);
        Arrays.fill(count, 0, bins + 1, 0);
        double phase = 0;
        for (double value : q) {
            int bin = (int) phase;
            sum[bin] += value;
            count[bin]++;
            phase += 1;
            if (phase >= period) {
                phase -= period;
            }
        }
        return bins;
    }

    /**
     * Above what noise alone would give, and above the other phases too: the beat of two engine tones swells and ebbs, so that
     * its loudest phase does not stand alone.
     */
    private static boolean standsOut(Fold fold, double[] q, double[] sum, int[] count, double trials) {
        double threshold = new GammaDistribution(fold.cycles, 1.0 / fold.cycles)
                .inverseCumulativeProbability(1 - FALSE_ALARM / trials);
        if (!(fold.mean > threshold)) {
            return false;
        }
        int bins = fold(q, fold.periodHops, sum, count);
        double[] means = new double[bins];
        for (int bin = 0; bin < bins; bin++) {
            means[bin] = sum[bin] / Math.max(1, count[bin]);
        }
        double middle = median(means);
        double[] off = new double[bins];
        for (int bin = 0; bin < bins; bin++) {
            off[bin] = Math.abs(means[bin] - middle);
        }
        return fold.mean - middle > 5.5 * 1.4826 * median(off);
    }

    private static Reading describe(
            Fold fold,
            double[][] power,
            double[] noise,
            double[] allPitches,
            float[] x,
            int size,
            int hop,
            double hopS,
            Settings settings) {
        int blocks = allPitches.length;
        double perMinute = 60 / (fold.periodHops * hopS);
        double pitch = settings.lowHz() + fold.pitch * PITCH_STEP_HZ;
        double sum = 0;
        double floor = 0;
        int count = 0;
        int cut = 0;
        int firstAt = -1;
        for (int t = 0; t < blocks; t++) {
            double phase = phase(t, fold);
            if (Math.min(phase, fold.periodHops - phase) < 1) {
                // The ping may lie between two blocks: the louder neighbour is the one it fills.
                double here = power[fold.pitch][t];
                double next = t + 1 < blocks ? power[fold.pitch][t + 1] : 0;
                double before = t > 0 ? power[fold.pitch][t - 1] : 0;
                sum += fold.mean < 4 ? here : Math.max(here, Math.max(next, before));
                floor += noise[fold.pitch];
                count++;
                firstAt = firstAt < 0 ? t : firstAt;
                for (int i = t * hop; i < t * hop + size; i++) {
                    if (Math.abs(x[i]) > 0.985) {
                        cut++;
                        break;
                    }
                }
            }
        }
        double mean = sum / count;
        double n = floor / count;
        double excess = Math.max(1e-3 * n, mean - n);
        double above = 10 * Math.log10(excess / n);
        double level = 10 * Math.log10(16 * excess / ((double) size * size));
        double change = gainChangeDb(fold, power, noise, allPitches.length);
        if (Math.abs(change) > GAIN_CHANGE_DB) {
            return new Reading(
                    Verdict.AUTOMATIC_GAIN,
                    pitch,
                    perMinute,
                    Double.NaN,
                    Double.NaN,
                    firstAt * hopS,
                    fold.cycles,
                    String.format(
                            Locale.ROOT,
                            "The noise changes by %.1f dB with the time since the ping: automatic gain or noise"
                                    + " suppression is on. Levels mean nothing; switch it off.",
                            change));
        }
        if (cut > count / 4) {
            return new Reading(
                    Verdict.SATURATED,
                    pitch,
                    perMinute,
                    level,
                    above,
                    firstAt * hopS,
                    fold.cycles,
                    "The sound is cut: turn the gain down. The true level is at least this.");
        }
        return new Reading(
                Verdict.PINGS,
                pitch,
                perMinute,
                level,
                above,
                firstAt * hopS,
                fold.cycles,
                String.format(
                        Locale.ROOT,
                        "%.0f pings a minute at %.0f Hz, %.1f dB above the noise.",
                        perMinute,
                        pitch,
                        above));
    }

    private static double phase(int t, Fold fold) {
        double phase = (t - fold.phaseHops - 0.5) % fold.periodHops;
        return phase < 0 ? phase + fold.periodHops : phase;
    }

    /**
     * How much louder the noise, away from the pitch, is late in the period than soon after the ping, in dB; 0 when the
     * difference is within five standard errors.
     */
    private static double gainChangeDb(Fold fold, double[][] power, double[] noise, int blocks) {
        List<Double> soon = new ArrayList<>();
        List<Double> late = new ArrayList<>();
        for (int t = 0; t < blocks; t++) {
            double share = phase(t, fold) / fold.periodHops;
            double sum = 0;
            int count = 0;
            for (int f = 0; f < power.length; f++) {
                if (Math.abs(f - fold.pitch) * PITCH_STEP_HZ > 250) {
                    sum += power[f][t] / noise[f];
                    count++;
                }
            }
            double db = 10 * Math.log10(Math.max(1e-12, sum / count));
            double sincePing = phase(t, fold);
            if (sincePing > 5 && share < 0.3) {
                soon.add(db);
            } else if (share > 0.6 && fold.periodHops - sincePing > 4) {
                late.add(db);
            }
        }
        if (soon.size() < 8 || late.size() < 8) {
            return 0;
        }
        double difference = mean(late) - mean(soon);
        double error = Math.sqrt(variance(late) / late.size() + variance(soon) / soon.size());
        return Math.abs(difference) > 5 * error ? difference : 0;
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).average().orElse(0);
    }

    private static double variance(List<Double> values) {
        double mean = mean(values);
        return values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum() / (values.size() - 1);
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int n = sorted.length;
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }

    private static Reading nothing(Verdict verdict, String note) {
        return new Reading(verdict, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, 0, note);
    }

    /**
     * Signal-to-noise ratio in dB at which pings are detected with a given chance (Albersheim's approximation, ±0.2 dB; source
     * key albersheim1981): −5 log N + (6.2 + 4.54/√(N + 0.44)) log(A + 0.12 A B + 1.7 B), A = ln(0.62/Pfa), B = ln(Pd/(1 −
     * Pd)).
     *
     * @param detection chance of detection, 0.1–0.9
     * @param falseAlarm chance of a false alarm, 1e-7 to 1e-3
     * @param pings number of pings folded, 1–8096
     */
    public static double neededAboveNoiseDb(double detection, double falseAlarm, int pings) {
        double a = Math.log(0.62 / falseAlarm);
        double b = Math.log(detection / (1 - detection));
        return -5 * Math.log10(pings) + (6.2 + 4.54 / Math.sqrt(pings + 0.44)) * Math.log10(a + 0.12 * a * b + 1.7 * b);
    }
}
