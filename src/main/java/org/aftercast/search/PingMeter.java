package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Finds a beacon's pings in sound from the receiver: their pitch, rate and level above the noise.
 *
 * <p>How they are found: {@link PingFold}. How loud they are: mean power of Hann blocks of 20 ms laid on the pings, pitch,
 * period and place refined first, less the noise at that pitch.
 *
 * <p>How weak pings may be is set by how many there are: {@link #neededAboveNoiseDb}; a longer recording finds weaker ones.
 *
 * <p>Automatic gain control and noise suppression make levels meaningless. They show as noise that changes with the time
 * since the ping ({@link GainWatch}): such a recording is refused. At low levels they cannot be told; compare only at equal
 * settings.
 */
public final class PingMeter {

    private static final double BLOCK_S = 0.02;
    private static final double LEAST_SOUND_S = 6;
    private static final double KNOCK = 2.5;

    private PingMeter() {}

    /**
     * What to listen for.
     *
     * @param lowHz lowest pitch in Hz
     * @param highHz highest pitch in Hz
     * @param leastPerMinute slowest ping rate, 20 or more
     * @param mostPerMinute fastest ping rate, 200 at most
     * @param longestS only the last so many seconds are used, 5–120
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

        /** 300–3000 Hz, 30–120 pings a minute, the last 60 s. */
        public static Settings defaults() {
            return new Settings(300, 3000, 30, 120, 60);
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
     * @param aboveNoiseDb 10 log((P − N)/N) in the 20 ms block at the pitch, or NaN when refused
     * @param aboveBandDb power of the ping over that of all noise between the lowest and highest pitch, in dB: the
     *     signal-to-noise ratio as heard; or NaN when refused
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
            double aboveBandDb,
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
        float[] last = Arrays.copyOfRange(sound, sound.length - used, sound.length);
        int fewer = Math.max(1, (int) Math.floor(sampleRateHz / (2.6 * settings.highHz())));
        float[] x = fewer == 1 ? last : decimate(last, fewer);
        double rate = sampleRateHz / fewer;
        if (x.length / rate < LEAST_SOUND_S - 0.05) {
            return nothing(Verdict.TOO_SHORT, "At least six seconds of sound are needed.");
        }
        PingFold.Powers[] powers = new PingFold.Powers[PingFold.WINDOWS_S.length];
        for (int w = 0; w < powers.length; w++) {
            powers[w] = PingFold.powers(x, rate, settings, PingFold.WINDOWS_S[w]);
        }
        PingFold.Found found = PingFold.search(powers, settings);
        if (found == null) {
            return nothing(Verdict.NO_PINGS, "No pings above the noise in " + Math.round(x.length / rate) + " s.");
        }
        PingFold.Found fine = slowest(x, rate, powers[0], refined(x, rate, powers[0], found), settings);
        return describe(fine, powers[0], x, rate, cutShare(last, sampleRateHz, fine));
    }

    /** Fewer samples: a windowed sinc lets through 0.45 of the new rate, eight of its samples long. */
    static float[] decimate(float[] x, int by) {
        int half = 8 * by;
        double[] weight = new double[2 * half + 1];
        double sum = 0;
        for (int i = -half; i <= half; i++) {
            double t = 0.9 * i / by;
            double sinc = i == 0 ? 1 : Math.sin(Math.PI * t) / (Math.PI * t);
            weight[i + half] = sinc * (0.5 + 0.5 * Math.cos(Math.PI * i / (half + 1)));
            sum += weight[i + half];
        }
        float[] out = new float[x.length / by];
        for (int k = 0; k < out.length; k++) {
            double value = 0;
            for (int i = Math.max(-half, -k * by); i <= half && k * by + i < x.length; i++) {
                value += weight[i + half] * x[k * by + i];
            }
            out[k] = (float) (value / sum);
        }
        return out;
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

    /** Mean power of Hann blocks of 20 ms laid on the pings, those that fall together with a knock left out. */
    private static double onPings(
            float[] x, double rate, PingFold.Powers powers, double pitchHz, double periodS, double centreS) {
        int size = (int) Math.round(BLOCK_S * rate);
        double[] hann = PingFold.hann(size);
        double[] block = new double[size];
        double sum = 0;
        int n = 0;
        for (double at = centreS; at < x.length / rate; at += periodS) {
            int from = (int) Math.round(at * rate) - size / 2;
            int window = (int) Math.round((at * rate - powers.size() / 2.0) / powers.hop());
            boolean knock = window >= 0 && window < powers.windows() && powers.all()[window] > KNOCK;
            if (from < 0 || from + size > x.length || knock) {
                continue;
            }
            for (int i = 0; i < size; i++) {
                block[i] = x[from + i] * hann[i];
            }
            sum += goertzelPower(block, pitchHz / rate);
            n++;
        }
        return n == 0 ? 0 : sum / n;
    }

    /** Pitch, place and period where the pings are loudest, near what the search found. */
    private static PingFold.Found refined(float[] x, double rate, PingFold.Powers powers, PingFold.Found found) {
        double pitch = found.pitchHz();
        double best = 0;
        for (int k = -6; k <= 6; k++) {
            double tried = found.pitchHz() + 4 * k;
            double power = onPings(x, rate, powers, tried, found.periodS(), found.centreS());
            if (power > best) {
                best = power;
                pitch = tried;
            }
        }
        double centre = found.centreS();
        best = 0;
        for (int k = -8; k <= 8; k++) {
            double tried = found.centreS() + 0.002 * k;
            double power = onPings(x, rate, powers, pitch, found.periodS(), tried);
            if (power > best) {
                best = power;
                centre = tried;
            }
        }
        // The middle ping stays where it is while the period is tried.
        double period = found.periodS();
        int middle = found.pings() / 2;
        double held = centre + middle * period;
        best = 0;
        for (int k = -6; k <= 6; k++) {
            double tried = found.periodS() + 0.002 * k / Math.max(1, middle);
            double power = onPings(x, rate, powers, pitch, tried, held - middle * tried);
            if (power > best) {
                best = power;
                period = tried;
            }
        }
        double first = held - middle * period;
        return new PingFold.Found(pitch, period, first < 0 ? first + period : first, found.pings());
    }

    /**
     * Loud pings stand out at twice or three times their rate as well. If of every second, third or fourth fold only one
     * place holds pings, they come that much more slowly.
     */
    private static PingFold.Found slowest(
            float[] x, double rate, PingFold.Powers powers, PingFold.Found found, Settings settings) {
        double noise = noiseBetween(x, rate, found);
        for (int times = 4; times >= 2; times--) {
            double period = times * found.periodS();
            if (period > 60 / settings.leastPerMinute() * 1.01) {
                continue;
            }
            double most = 0;
            double others = 0;
            double at = found.centreS();
            for (int k = 0; k < times; k++) {
                double centre = found.centreS() + k * found.periodS();
                double excess = onPings(x, rate, powers, found.pitchHz(), period, centre) - noise;
                if (excess > most) {
                    others = Math.max(others, most);
                    most = excess;
                    at = centre;
                } else {
                    others = Math.max(others, excess);
                }
            }
            if (others < 0.2 * most) {
                return refined(x, rate, powers, new PingFold.Found(found.pitchHz(), period, at, (int)
                        Math.max(1, (x.length / rate - at) / period)));
            }
        }
        return found;
    }

    /** Share of the pings that are cut at full scale. */
    private static double cutShare(float[] sound, double rate, PingFold.Found found) {
        int cut = 0;
        int n = 0;
        for (double at = found.centreS(); at < sound.length / rate; at += found.periodS()) {
            n++;
            int from = Math.max(0, (int) ((at - 0.015) * rate));
            int to = Math.min(sound.length, (int) ((at + 0.015) * rate));
            for (int i = from; i < to; i++) {
                if (Math.abs(sound[i]) > 0.985) {
                    cut++;
                    break;
                }
            }
        }
        return n == 0 ? 0 : (double) cut / n;
    }

    private static Reading describe(
            PingFold.Found found, PingFold.Powers powers, float[] x, double rate, double cutShare) {
        int size = (int) Math.round(BLOCK_S * rate);
        double mean = onPings(x, rate, powers, found.pitchHz(), found.periodS(), found.centreS());
        double n = noiseBetween(x, rate, found);
        double excess = Math.max(1e-3 * n, mean - n);
        double above = 10 * Math.log10(excess / n);
        double level = 10 * Math.log10(16 * excess / ((double) size * size));
        double bandNoise = 0;
        for (double noise : powers.noise()) {
            // A Hann window of N samples gathers 3N/8 of the variance; noise per hertz is twice that over the rate.
            bandNoise += noise * 16 / (3.0 * powers.size() * rate) * powers.stepHz();
        }
        double aboveBand = 10 * Math.log10(8 * excess / ((double) size * size) / Math.max(1e-30, bandNoise));
        double perMinute = 60 / found.periodS();
        double change = GainWatch.changeDb(found, powers);
        if (change != 0) {
            return new Reading(
                    Verdict.AUTOMATIC_GAIN,
                    found.pitchHz(),
                    perMinute,
                    Double.NaN,
                    Double.NaN,
                    Double.NaN,
                    found.centreS(),
                    found.pings(),
                    String.format(
                            Locale.ROOT,
                            "The noise changes by %.1f dB with the time since the ping: automatic gain or noise"
                                    + " suppression is on. Levels mean nothing; switch it off.",
                            change));
        }
        boolean saturated = cutShare > 0.25;
        return new Reading(
                saturated ? Verdict.SATURATED : Verdict.PINGS,
                found.pitchHz(),
                perMinute,
                level,
                above,
                aboveBand,
                found.centreS(),
                found.pings(),
                saturated
                        ? "The sound is cut: turn the gain down. The true level is at least this."
                        : String.format(
                                Locale.ROOT,
                                "%.0f pings a minute at %.0f Hz, %.1f dB above the noise.",
                                perMinute,
                                found.pitchHz(),
                                above));
    }

    /** Noise power of a 20 ms Hann block at the pings' pitch, between the pings: median/ln 2. */
    private static double noiseBetween(float[] x, double rate, PingFold.Found found) {
        int size = (int) Math.round(BLOCK_S * rate);
        double[] hann = PingFold.hann(size);
        double[] block = new double[size];
        List<Double> powers = new ArrayList<>();
        for (int from = 0; from + size <= x.length; from += size) {
            double since = ((from + size / 2.0) / rate - found.centreS()) % found.periodS();
            since = since < 0 ? since + found.periodS() : since;
            if (Math.min(since, found.periodS() - since) > 0.05) {
                for (int i = 0; i < size; i++) {
                    block[i] = x[from + i] * hann[i];
                }
                powers.add(goertzelPower(block, found.pitchHz() / rate));
            }
        }
        return Math.max(
                1e-30,
                PingFold.median(powers.stream().mapToDouble(Double::doubleValue).toArray()) / Math.log(2));
    }

    private static Reading nothing(Verdict verdict, String note) {
        return new Reading(verdict, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, 0, note);
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
