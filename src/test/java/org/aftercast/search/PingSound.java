package org.aftercast.search;

import java.util.SplittableRandom;

/** Invented sound of a beacon with noise and an engine, for tests and evaluation; truth known. */
public final class PingSound {

    public static final double RATE_HZ = 8000;

    private PingSound() {}

    /** What the receiver does to the sound. */
    public enum Receiver {
        PLAIN,
        AUTOMATIC_GAIN,
        NOISE_GATE,
        SATURATED
    }

    /** What the level of the ping is told against. */
    enum Against {
        /** Noise power in one Hann block of 20 ms at the ping's pitch. */
        BLOCK,
        /** All of noise and engine, 0–4 kHz, while the ping lasts. */
        ALL_SOUND
    }

    /**
     * What is made.
     *
     * @param db level of the ping, −∞ for none
     * @param pingS length of a ping
     */
    record Wanted(
            double seconds,
            double db,
            Against against,
            double pitchHz,
            double perMinute,
            double pingS,
            Receiver receiver) {}

    /** A 30 ms ping, its level told in one Hann block of 20 ms at its pitch. */
    public static float[] make(
            long seed, double seconds, double blockDb, double pitchHz, double perMinute, Receiver receiver) {
        return make(seed, new Wanted(seconds, blockDb, Against.BLOCK, pitchHz, perMinute, 0.03, receiver));
    }

    /**
     * White noise; an engine of 20–30 turns a second: twelve tones, a hiss that swells with every second turn, and a knock
     * every three seconds on average; pings.
     */
    static float[] make(long seed, Wanted wanted) {
        SplittableRandom random = new SplittableRandom(seed);
        int n = (int) (wanted.seconds * RATE_HZ);
        double noiseSd = 0.02;
        double hissSd = 0.008;
        double engineHz = 20 + 10 * random.nextDouble();
        double[] phases = new double[12];
        double tones = 0;
        for (int h = 0; h < phases.length; h++) {
            phases[h] = 2 * Math.PI * random.nextDouble();
            tones += 0.03 * 0.03 / ((h + 1) * (h + 1)) / 2;
        }
        double start = random.nextDouble();
        double period = 60 / wanted.perMinute;
        double white = noiseSd * noiseSd + hissSd * hissSd / 2;
        int size = 160;
        // Noise power in a Hann block: σ² Σ w² = σ² 3N/8; a tone of amplitude A fills (A N/4)².
        double amplitude = wanted.against == Against.BLOCK
                ? Math.sqrt(Math.pow(10, wanted.db / 10) * white * 3 * size / 8) * 4 / size
                : Math.sqrt(2 * Math.pow(10, wanted.db / 10) * (white + tones));
        double[] x = new double[n];
        double knock = 0;
        for (int i = 0; i < n; i++) {
            double t = i / RATE_HZ;
            double v = noiseSd * random.nextGaussian()
                    + hissSd * Math.abs(Math.sin(Math.PI * engineHz * t / 2)) * random.nextGaussian();
            for (int h = 0; h < phases.length; h++) {
                v += 0.03 / (h + 1) * Math.sin(2 * Math.PI * engineHz * (h + 1) * t + phases[h]);
            }
            knock = random.nextDouble() < 1 / (3 * RATE_HZ) ? 0.3 : knock * 0.99;
            v += knock * random.nextGaussian();
            double since = (t - start) % period;
            if (since >= 0 && since < wanted.pingS) {
                v += amplitude * Math.sin(2 * Math.PI * wanted.pitchHz * t);
            }
            x[i] = v;
        }
        return receive(x, wanted.receiver);
    }

    private static float[] receive(double[] x, Receiver receiver) {
        float[] out = new float[x.length];
        double level = 0.03;
        double gate = 0;
        int hold = 0;
        for (int i = 0; i < x.length; i++) {
            double v = x[i];
            switch (receiver) {
                case AUTOMATIC_GAIN -> {
                    // Fast down, 0.5 s up: a plain envelope follower.
                    double a = Math.abs(v);
                    level += (a - level) * (a > level ? 0.02 : 1 / (0.5 * RATE_HZ));
                    v *= 0.1 / Math.max(0.01, level);
                }
                case NOISE_GATE -> {
                    // Opens on loud sound, stays open for 0.3 s, then turns all down to a fifth.
                    gate += (Math.abs(v) - gate) * 0.01;
                    hold = gate > 0.08 ? (int) (0.3 * RATE_HZ) : hold - 1;
                    v *= hold > 0 ? 1 : 0.2;
                }
                case SATURATED -> v *= 30;
                default -> {
                    // plain
                }
            }
            out[i] = (float) Math.max(-1, Math.min(1, v));
        }
        return out;
    }
}
