package org.aftercast.motion;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * What tailbeat frequency is usual for a body, to question a result, never to make one.
 *
 * <p>Usual frequency: {@code 1.07·L^(−0.7)} Hz, our own line through indicative ranges (0.5–1 m: 0.8–2 Hz; 1–2 m: 0.5–1.2
 * Hz; over 2.5 m: 0.3–0.8 Hz; from memory) and flume measurements of small catsharks [berio]. With body mass frequency
 * falls as mass^−0.29 [sato2007].
 */
public final class BeatPlausibility {

    /** Farthest that a cruising frequency lies from the usual one, as a factor, before it is questioned. */
    public static final double FACTOR = 2.5;

    private static final double MASS_EXPONENT = -0.29;

    private BeatPlausibility() {}

    /**
     * Usual cruising frequency.
     *
     * @param lengthM body length in metres, &gt; 0
     * @return Hz
     */
    public static double usualHz(double lengthM) {
        return 1.07 * Math.pow(lengthM, -0.7);
    }

    /**
     * By what factor the frequency of a heavier body differs: {@code ratio^(−0.29)} [sato2007].
     *
     * @param massRatio mass over mass, &gt; 0
     */
    public static double frequencyRatio(double massRatio) {
        return Math.pow(massRatio, MASS_EXPONENT);
    }

    /**
     * By what factor longer or shorter a body of the same build would have to be to beat at another frequency, mass going
     * with the cube of length.
     *
     * @param frequencyRatio frequency over frequency, &gt; 0
     */
    public static double lengthRatio(double frequencyRatio) {
        return Math.pow(frequencyRatio, 1 / (3 * MASS_EXPONENT));
    }

    /**
     * Swimming speed by Bainbridge's rule {@code V = L(3f − 4)/4} cm/s, L in cm [bainbridge1958], which holds above 5 Hz
     * only.
     *
     * @param lengthM body length in metres
     * @param beatHz tailbeat frequency, &gt; 5 Hz
     * @return m/s
     * @throws IllegalArgumentException at 5 Hz or below
     */
    public static double bainbridgeMps(double lengthM, double beatHz) {
        if (!(beatHz > 5)) {
            throw new IllegalArgumentException(
                    "beatHz: " + beatHz + "; Bainbridge's rule holds above 5 Hz only (never for slow sharks)");
        }
        return lengthM * (3 * beatHz - 4) / 4;
    }

    /** A sentence when a cruising frequency is far from what is usual for the length, else null. */
    static @Nullable String question(double cruiseHz, @Nullable Double lengthM) {
        if (lengthM == null) {
            return null;
        }
        double usual = usualHz(lengthM);
        double ratio = cruiseHz / usual;
        if (ratio <= FACTOR && ratio >= 1 / FACTOR) {
            return null;
        }
        return String.format(
                Locale.ROOT,
                "The beat frequency looked for, around %.2g Hz, is far from the %.2g Hz that is usual at a length of %.2g m;"
                        + " it would suit a body of about %.2g m. Check the length, the axis and the units of acceleration.",
                cruiseHz,
                usual,
                lengthM,
                lengthM * lengthRatio(ratio));
    }
}
