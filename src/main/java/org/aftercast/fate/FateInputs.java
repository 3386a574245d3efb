package org.aftercast.fate;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What must be known beside the behaviour.
 *
 * @param plannedDetachS when the package was meant to come off, seconds from the first sample, or null when not known
 * @param recordEnd how the record ended where a person knows (flooded, lost), or null
 * @param sightings what people saw
 * @param yardstick the rest of the study's animals, or null
 */
public record FateInputs(
        @Nullable Double plannedDetachS,
        @Nullable RecordEnd recordEnd,
        List<Sighting> sightings,
        @Nullable Yardstick yardstick) {

    public FateInputs {
        sightings = List.copyOf(sightings);
    }

    /** Nothing known. */
    public static FateInputs none() {
        return new FateInputs(null, null, List.of(), null);
    }

    /** Only the planned detachment. */
    public static FateInputs planned(double plannedDetachS) {
        return new FateInputs(plannedDetachS, null, List.of(), null);
    }

    /**
     * How the other animals of the study swim.
     *
     * @param animals how many, ≥ 3
     * @param medianBeatHz median of their beat frequencies, Hz
     * @param spreadLn robust standard deviation of ln(beat frequency) between animals, &gt; 0
     */
    public record Yardstick(int animals, double medianBeatHz, double spreadLn) {

        /**
         * From the beat frequencies of other animals: median, and 1.4826 · median absolute deviation of their logarithms
         * (at least 0.02, so that a few alike animals do not make every other one strange).
         *
         * @param beatHz Hz, &gt; 0
         * @return null for fewer than three
         */
        public static @Nullable Yardstick of(double[] beatHz) {
            if (beatHz.length < 3) {
                return null;
            }
            double[] logs = Arrays.stream(beatHz).map(Math::log).toArray();
            double middle = median(logs);
            double off =
                    median(Arrays.stream(logs).map(v -> Math.abs(v - middle)).toArray());
            return new Yardstick(beatHz.length, Math.exp(middle), Math.max(0.02, 1.4826 * off));
        }

        private static double median(double[] x) {
            double[] sorted = x.clone();
            Arrays.sort(sorted);
            int n = sorted.length;
            return n % 2 == 1 ? sorted[n / 2] : 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]);
        }

        public Yardstick {
            if (animals < 3 || !(medianBeatHz > 0) || !(spreadLn > 0)) {
                throw new IllegalArgumentException("yardstick: " + animals + " animals, " + medianBeatHz + " Hz, "
                        + spreadLn + " needs at least 3 animals and values above 0");
            }
        }
    }
}
