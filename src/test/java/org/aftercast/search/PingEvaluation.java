package org.aftercast.search;

import java.util.Locale;

/** Tables of the ping meter: how many are found and how wrong levels are, by level, length and receiver. Invented sound. */
public final class PingEvaluation {

    private PingEvaluation() {}

    public static void main(String[] args) {
        System.out.print(page(
                args.length > 0 ? Integer.parseInt(args[0]) : 20, args.length > 1 ? Integer.parseInt(args[1]) : 120));
    }

    /** All tables with so many recordings a row, none longer than so many seconds. */
    public static String page(int runs, int longestS) {
        StringBuilder out = new StringBuilder();
        out.append(
                "## Ping over all sound while it lasts (noise and engine, 0–4 kHz), pings of 18 and 30 ms, 20 s\n\n");
        head(out);
        for (double db : new double[] {Double.NEGATIVE_INFINITY, -12, -9, -6, -3, 0, 6, 12}) {
            row(out, runs, db, PingSound.Against.ALL_SOUND, 20, PingSound.Receiver.PLAIN);
        }
        out.append(
                "\n## Ping over the noise in one 20 ms block at its pitch (a far harder figure: 16–19 dB above the one"
                        + " before)\n\n");
        head(out);
        for (int seconds : new int[] {20, 60, 120}) {
            if (seconds > longestS) {
                continue;
            }
            for (double db : new double[] {-3, 0, 3, 6, 12}) {
                row(out, runs, db, PingSound.Against.BLOCK, seconds, PingSound.Receiver.PLAIN);
            }
        }
        out.append(
                "\nAn ideal detector that knows the ping's length needs, for 0.9 at 10⁻⁷ false alarms (the least that"
                        + " Albersheim's formula is good for; the meter asks for less): ");
        for (int pings : new int[] {25, 75, 150}) {
            double needed = PingMeter.neededAboveNoiseDb(0.9, 1e-7, pings);
            out.append(String.format(Locale.ROOT, "%.1f dB with %d pings; ", needed, pings));
        }
        out.append("a ping that fills 30 ms has 1.8 dB more than in 20 ms.\n");
        out.append("\n## Automatic gain and noise suppression (ping over all sound, 20 s)\n\n");
        head(out);
        for (double db : new double[] {6, 12, 18, 24}) {
            row(out, runs, db, PingSound.Against.ALL_SOUND, 20, PingSound.Receiver.AUTOMATIC_GAIN);
        }
        row(out, runs, 24, PingSound.Against.ALL_SOUND, 20, PingSound.Receiver.NOISE_GATE);
        return out.toString();
    }

    private static void head(StringBuilder out) {
        out.append(
                "| sound | s | recordings | found | pitch and rate right | level error mean dB | SD dB | refused |\n");
        out.append("|---|---|---|---|---|---|---|---|\n");
    }

    private static void row(
            StringBuilder out,
            int runs,
            double db,
            PingSound.Against against,
            int seconds,
            PingSound.Receiver receiver) {
        PingMeter.Settings usual = PingMeter.Settings.defaults();
        PingMeter.Settings settings = new PingMeter.Settings(
                usual.lowHz(), usual.highHz(), usual.leastPerMinute(), usual.mostPerMinute(), seconds);
        int found = 0;
        int right = 0;
        int refused = 0;
        double sum = 0;
        double squares = 0;
        for (int k = 0; k < runs; k++) {
            double pitch = 500 + 2200.0 * k / runs;
            double rate = 35 + 80.0 * ((k * 7) % runs) / runs;
            double truth = db;
            double pingS = k % 2 == 0 ? 0.03 : 0.018;
            PingMeter.Reading r = PingMeter.measure(
                    PingSound.make(500 + k, new PingSound.Wanted(seconds, db, against, pitch, rate, pingS, receiver)),
                    PingSound.RATE_HZ,
                    settings);
            refused += r.verdict() == PingMeter.Verdict.AUTOMATIC_GAIN ? 1 : 0;
            if (r.verdict() == PingMeter.Verdict.PINGS || r.verdict() == PingMeter.Verdict.SATURATED) {
                found++;
                if (Math.abs(r.pitchHz() - pitch) <= 40 && Math.abs(r.perMinute() - rate) < 0.02 * rate) {
                    right++;
                    double error = (against == PingSound.Against.BLOCK ? r.aboveNoiseDb() : r.levelDb() - levelDb(db))
                            - (against == PingSound.Against.BLOCK ? truth : 0);
                    sum += error;
                    squares += error * error;
                }
            }
        }
        double mean = right == 0 ? 0 : sum / right;
        out.append(String.format(
                Locale.ROOT,
                "| %s%s | %d | %d | %d | %d | %s | %s | %d |%n",
                Double.isInfinite(db) ? "no ping" : String.format(Locale.ROOT, "%+.0f dB", db),
                receiver == PingSound.Receiver.PLAIN
                        ? ""
                        : ", " + receiver.name().toLowerCase(Locale.ROOT).replace('_', ' '),
                seconds,
                runs,
                found,
                right,
                right == 0 ? "–" : String.format(Locale.ROOT, "%+.1f", mean),
                right < 2
                        ? "–"
                        : String.format(Locale.ROOT, "%.1f", Math.sqrt(Math.max(0, squares / right - mean * mean))),
                refused));
    }

    /** Level in dB of a full-scale tone of a ping so many dB over all sound (the powers of PingSound). */
    private static double levelDb(double db) {
        double tones = 0;
        for (int h = 1; h <= 12; h++) {
            tones += 0.03 * 0.03 / (h * h) / 2;
        }
        double all = 0.02 * 0.02 + 0.008 * 0.008 / 2 + tones;
        return db + 10 * Math.log10(2 * all);
    }
}
