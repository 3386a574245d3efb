package org.aftercast.sim;

import java.util.List;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * What truly happened in an invented recording. Times are seconds from the first sample; arrays are parallel and handed
 * over (do not change them).
 *
 * @param scenario everything physical
 * @param seed the seed
 * @param beatStartS start of each of the animal's own beats: the rising zero crossing of the noise-free lateral reading
 * @param beatPeriodS period of each beat, s
 * @param beatAmplitudeG half the peak-to-peak noise-free lateral reading within the beat, g
 * @param kindBySecond what was going on in each whole second
 * @param pitchDegBySecond true pitch in the body frame at each second's middle, without the beat's own roll, degrees
 * @param rollDegBySecond true roll likewise, degrees, −180 to 180
 * @param depthMBySecond true depth, m
 * @param bursts each burst, in order
 * @param animalFate alive-at-end, died, eaten or dead-then-scavenged
 * @param call the one-word call that would be right: survived, died, eaten or shed
 * @param recordEnd planned-detachment, shed-early or logger-stopped
 * @param releaseS when the animal was let go
 * @param changeS death, attack or shedding, or null for a survivor
 * @param detachS when the package came off or out, or null when the recording ends before
 * @param decidable whether a careful reader could be expected to tell the fate; fixed before any detector saw it
 * @param undecidableBecause why not, or null
 * @param mountRotation 3×3 row by row: body vector = rotation × sensor vector, before any shift
 * @param mountShiftS when the mount shifted, or null
 * @param shiftedRotation as {@code mountRotation}, after the shift; null when there is none
 * @param whiteNoiseG white noise per sample and axis (standard deviation) with the converter's step included, g
 * @param gaps missing stretches
 */
public record Truth(
        Scenario scenario,
        long seed,
        double[] beatStartS,
        float[] beatPeriodS,
        float[] beatAmplitudeG,
        TrueKind[] kindBySecond,
        float[] pitchDegBySecond,
        float[] rollDegBySecond,
        float[] depthMBySecond,
        List<TrueBurst> bursts,
        String animalFate,
        String call,
        String recordEnd,
        double releaseS,
        @Nullable Double changeS,
        @Nullable Double detachS,
        Decidable decidable,
        @Nullable String undecidableBecause,
        double[] mountRotation,
        @Nullable Double mountShiftS,
        double @Nullable [] shiftedRotation,
        double whiteNoiseG,
        List<SampleRange> gaps) {

    /** Whether the fate can be told from the record at all. */
    public enum Decidable {
        YES,
        NO
    }

    /**
     * One burst.
     *
     * @param atS onset
     * @param durationS length, s
     * @param rateRatio beat frequency over cruising
     */
    public record TrueBurst(double atS, double durationS, double rateRatio) {}

    public Truth {
        bursts = List.copyOf(bursts);
        gaps = List.copyOf(gaps);
    }

    /** What was going on in a whole second. */
    public TrueKind kindAt(int second) {
        return kindBySecond[second];
    }

    /**
     * Noise inside a band: standard deviation, g, of white noise of {@link #whiteNoiseG()} after an ideal band-pass.
     *
     * @param lowHz lower edge, Hz
     * @param highHz upper edge, Hz, cut at half the sampling rate
     */
    public double inBandNoiseG(double lowHz, double highHz) {
        double nyquistHz = scenario.logger().sampleRateHz() / 2;
        double top = Math.min(highHz, nyquistHz);
        return top <= lowHz ? 0 : whiteNoiseG * Math.sqrt((top - lowHz) / nyquistHz);
    }

    /** Noise in the band from half to twice the cruising frequency, g (standard deviation). */
    public double inBandNoiseG() {
        double hz = scenario.body().cruiseHz();
        return inBandNoiseG(hz / 2, hz * 2);
    }

    /** Hours from the release to 80 % of the way back to normal, or null for an animal that was never disturbed. */
    public @Nullable Double t80H() {
        Scenario.Recovery recovery = scenario.recovery();
        return recovery == null ? null : recovery.t80H();
    }

    /** The end of the animal's own life with the package: change, else detachment, else the recording's end, s. */
    public double aliveUntilS() {
        double end = scenario.logger().durationH() * 3600;
        if (changeS != null) {
            return Math.min(end, changeS);
        }
        return detachS == null ? end : Math.min(end, detachS);
    }
}
