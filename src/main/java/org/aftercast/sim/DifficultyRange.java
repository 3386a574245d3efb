package org.aftercast.sim;

/**
 * From how far {@link ScenarioDraw} may draw. All ranges are closed; "log" says that the draw is even in the logarithm.
 *
 * @param name for tables
 * @param beat how frequency and sway are chosen
 * @param lowHz lowest cruising beat frequency, Hz (log)
 * @param highHz highest, Hz
 * @param lowSwayG least cruising sway, g (log)
 * @param highSwayG greatest, g
 * @param lowSignalToNoise least cruising sway over the in-band noise (standard deviation, half to twice the beat
 *     frequency) (log)
 * @param highSignalToNoise greatest
 * @param ratesHz sampling rates to choose from, Hz
 * @param lowDurationH shortest recording, h
 * @param highDurationH longest, h
 * @param lowBottomM shallowest sea-bed, m (log)
 * @param highBottomM deepest, m
 * @param lowWaveM least significant wave height, m
 * @param highWaveM greatest, m
 * @param restersShare share of animals that can rest on the bottom
 * @param disturbedShare share of animals whose swimming has to recover
 * @param mountShiftShare share of mounts that shift
 * @param largestTiltDeg largest tilt of the mount, degrees
 * @param gapShare missing share of each recording
 */
public record DifficultyRange(
        String name,
        BeatFrom beat,
        double lowHz,
        double highHz,
        double lowSwayG,
        double highSwayG,
        double lowSignalToNoise,
        double highSignalToNoise,
        double[] ratesHz,
        double lowDurationH,
        double highDurationH,
        double lowBottomM,
        double highBottomM,
        double lowWaveM,
        double highWaveM,
        double restersShare,
        double disturbedShare,
        double mountShiftShare,
        double largestTiltDeg,
        double gapShare) {

    /** How frequency and sway are chosen. */
    public enum BeatFrom {
        /** From the body length: f ≈ 1 Hz·m / length, sway from a lateral displacement of 1.2–4.5 % of the length. */
        LENGTH,
        /** Each from its own range, whatever the length. */
        RANGE
    }

    /** Ten hours at 20 Hz, sharks of 0.6 to 2 m, ordinary weather: the first accuracy criterion. */
    public static DifficultyRange plain() {
        return new DifficultyRange(
                "plain",
                BeatFrom.LENGTH,
                0.35,
                2,
                0.025,
                0.5,
                8,
                60,
                new double[] {20},
                10,
                10,
                12,
                150,
                0.1,
                1.2,
                0.5,
                0.7,
                0.1,
                40,
                0);
    }

    /** As {@link #plain()}, at 10, 20 and 25 Hz over 12 to 36 h, weaker beats, rougher sea, a few gaps. */
    public static DifficultyRange hard() {
        return new DifficultyRange(
                "hard",
                BeatFrom.LENGTH,
                0.25,
                2.5,
                0.02,
                0.8,
                5,
                60,
                new double[] {10, 20, 25},
                12,
                36,
                8,
                300,
                0.1,
                2.5,
                0.5,
                0.75,
                0.2,
                60,
                0.005);
    }

    /** Every beat from 0.2 to 6 Hz and 0.02 to 1.5 g at 5 to 100 Hz, down to three times the noise: for beats alone. */
    public static DifficultyRange extreme() {
        return new DifficultyRange(
                "extreme",
                BeatFrom.RANGE,
                0.2,
                6,
                0.02,
                1.5,
                3,
                40,
                new double[] {5, 10, 25, 50, 100},
                1,
                1,
                12,
                150,
                0.1,
                1,
                0.2,
                0.3,
                0,
                90,
                0);
    }

    /** The same range at one sampling rate and length. */
    public DifficultyRange with(double rateHz, double durationH) {
        return with(new double[] {rateHz}, durationH, durationH);
    }

    /** The same range at other sampling rates and lengths. */
    public DifficultyRange with(double[] newRatesHz, double newLowDurationH, double newHighDurationH) {
        return new DifficultyRange(
                name,
                beat,
                lowHz,
                highHz,
                lowSwayG,
                highSwayG,
                lowSignalToNoise,
                highSignalToNoise,
                newRatesHz,
                newLowDurationH,
                newHighDurationH,
                lowBottomM,
                highBottomM,
                lowWaveM,
                highWaveM,
                restersShare,
                disturbedShare,
                mountShiftShare,
                largestTiltDeg,
                gapShare);
    }
}
