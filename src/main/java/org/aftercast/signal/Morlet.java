package org.aftercast.signal;

import org.jtransforms.fft.DoubleFFT_1D;

/**
 * The continuous wavelet transform with the Morlet wavelet, ω0 = 6 [torrence1998].
 *
 * <p>{@code ψ̂0(sω) = π^(−1/4)·H(ω)·exp(−(sω−ω0)²/2)}, each scale scaled by {@code √(2πs/δt)}.
 *
 * <p>Raw {@code |W|²} favours long periods; divided by the scale it does not [liu2007], and then a sine of frequency f
 * peaks at {@code s = ω0/(2πf)}. {@link #amplitude} is scaled that way: a sine of amplitude A gives A at its own
 * frequency.
 */
public final class Morlet {

    /** Non-dimensional frequency of the wavelet. */
    public static final double OMEGA0 = 6;

    private Morlet() {}

    /** Fourier period over scale where the raw power peaks: {@code 4π/(ω0+√(2+ω0²))}. */
    public static double periodPerScale() {
        return 4 * Math.PI / (OMEGA0 + Math.sqrt(2 + OMEGA0 * OMEGA0));
    }

    /** Value of the wavelet at its centre, {@code π^(−1/4)}. */
    public static double centreValue() {
        return Math.pow(Math.PI, -0.25);
    }

    /**
     * Modulus of the transform of [torrence1998] at one scale, by multiplication in the frequency domain. The array is
     * padded with zeros to a power of two at least twice its length.
     *
     * @param x samples, finite
     * @param sampleRateHz samples per second
     * @param scaleS scale in seconds, &gt; 0
     * @return {@code |W|} for every sample
     */
    public static double[] modulus(double[] x, double sampleRateHz, double scaleS) {
        double norm = Math.sqrt(2 * Math.PI * scaleS * sampleRateHz) * centreValue();
        double[] z = analytic(x, sampleRateHz, OMEGA0 / (2 * Math.PI * scaleS), norm);
        double[] modulus = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            modulus[i] = Math.hypot(z[2 * i], z[2 * i + 1]);
        }
        return modulus;
    }

    /**
     * Complex amplitude at one frequency: modulus is the local amplitude of a sine of that frequency, argument its phase.
     *
     * @param x samples, finite
     * @param sampleRateHz samples per second
     * @param hz frequency, &gt; 0
     * @return real and imaginary parts in turn, length 2·x.length
     */
    public static double[] amplitude(double[] x, double sampleRateHz, double hz) {
        return analytic(x, sampleRateHz, hz, 2);
    }

    private static double[] analytic(double[] x, double sampleRateHz, double hz, double norm) {
        int n = Fourier.powerOfTwo(2 * x.length);
        DoubleFFT_1D fft = Fourier.ofLength(n);
        double[] spectrum = new double[2 * n];
        System.arraycopy(x, 0, spectrum, 0, x.length);
        fft.realForwardFull(spectrum);
        weigh(spectrum, n, sampleRateHz, hz, norm);
        fft.complexInverse(spectrum, true);
        double[] z = new double[2 * x.length];
        System.arraycopy(spectrum, 0, z, 0, z.length);
        return z;
    }

    /** Multiplies a full complex spectrum by {@code norm·H(ω)·exp(−(ω0·f/hz − ω0)²/2)}. */
    static void weigh(double[] spectrum, int n, double sampleRateHz, double hz, double norm) {
        spectrum[0] = 0;
        spectrum[1] = 0;
        for (int k = 1; k < n; k++) {
            double w = 0;
            if (k <= n / 2) {
                double d = OMEGA0 * (k * sampleRateHz / n / hz - 1);
                w = d * d < 80 ? norm * Math.exp(-d * d / 2) : 0;
            }
            spectrum[2 * k] *= w;
            spectrum[2 * k + 1] *= w;
        }
    }
}
