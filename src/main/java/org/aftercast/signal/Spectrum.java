package org.aftercast.signal;

import org.jtransforms.fft.DoubleFFT_1D;

/**
 * A one-sided power spectral density.
 *
 * @param stepHz spacing of the frequencies; entry k stands at k·stepHz
 * @param density power per hertz (unit² / Hz), length n/2 + 1
 */
public record Spectrum(double stepHz, double[] density) {

    /**
     * Welch's estimate: overlapping segments, each less its mean, Hann window (periodic), averaged [welch1967].
     *
     * @param x samples, finite; at least one segment long
     * @param sampleRateHz samples per second
     * @param segmentSamples length of a segment, ≥ 8
     * @return density; its integral over frequency is the variance
     */
    public static Spectrum welch(double[] x, double sampleRateHz, int segmentSamples) {
        if (segmentSamples < 8 || x.length < segmentSamples) {
            throw new IllegalArgumentException(
                    "segmentSamples: " + segmentSamples + " is outside 8–" + x.length + " (the number of samples)");
        }
        int half = segmentSamples / 2;
        double[] window = hann(segmentSamples);
        double windowPower = 0;
        for (double w : window) {
            windowPower += w * w;
        }
        DoubleFFT_1D fft = Fourier.ofLength(segmentSamples);
        double[] density = new double[half + 1];
        double[] buffer = new double[segmentSamples];
        int segments = 0;
        for (int from = 0; from + segmentSamples <= x.length; from += segmentSamples - half) {
            double mean = 0;
            for (int i = 0; i < segmentSamples; i++) {
                mean += x[from + i];
            }
            mean /= segmentSamples;
            for (int i = 0; i < segmentSamples; i++) {
                buffer[i] = (x[from + i] - mean) * window[i];
            }
            fft.realForward(buffer);
            addPower(buffer, density);
            segments++;
        }
        double scale = 1 / (windowPower * sampleRateHz * segments);
        for (int k = 0; k <= half; k++) {
            boolean unpaired = k == 0 || (k == half && segmentSamples % 2 == 0);
            density[k] *= unpaired ? scale : 2 * scale;
        }
        return new Spectrum(sampleRateHz / segmentSamples, density);
    }

    /** The periodic Hann window, {@code 0.5 − 0.5·cos(2πi/n)}. */
    static double[] hann(int n) {
        double[] w = new double[n];
        for (int i = 0; i < n; i++) {
            w[i] = 0.5 - 0.5 * Math.cos(2 * Math.PI * i / n);
        }
        return w;
    }

    private static void addPower(double[] packed, double[] into) {
        int n = packed.length;
        into[0] += packed[0] * packed[0];
        if (n % 2 == 0) {
            into[n / 2] += packed[1] * packed[1];
            for (int k = 1; k < n / 2; k++) {
                into[k] += packed[2 * k] * packed[2 * k] + packed[2 * k + 1] * packed[2 * k + 1];
            }
        } else {
            for (int k = 1; k < (n - 1) / 2; k++) {
                into[k] += packed[2 * k] * packed[2 * k] + packed[2 * k + 1] * packed[2 * k + 1];
            }
            int last = (n - 1) / 2;
            into[last] += packed[n - 1] * packed[n - 1] + packed[1] * packed[1];
        }
    }

    /**
     * Frequency of the peak nearest the largest density in a band, refined by a parabola through the logarithms of three
     * points.
     *
     * @param lowHz lower edge
     * @param highHz upper edge, &gt; lowHz
     * @return hertz, or NaN when the band holds no local maximum
     */
    public double peakHz(double lowHz, double highHz) {
        int best = -1;
        for (int k = Math.max(1, (int) Math.ceil(lowHz / stepHz));
                k < density.length - 1 && k * stepHz <= highHz;
                k++) {
            if (density[k] > density[k - 1]
                    && density[k] >= density[k + 1]
                    && (best < 0 || density[k] > density[best])) {
                best = k;
            }
        }
        if (best < 0) {
            return Double.NaN;
        }
        double left = Math.log(Math.max(density[best - 1], Double.MIN_NORMAL));
        double mid = Math.log(Math.max(density[best], Double.MIN_NORMAL));
        double right = Math.log(Math.max(density[best + 1], Double.MIN_NORMAL));
        double curve = left - 2 * mid + right;
        double shift = curve < 0 ? 0.5 * (left - right) / curve : 0;
        return (best + shift) * stepHz;
    }

    /**
     * The frequency under which a frequency above half the sample rate appears: {@code |f − fs·round(f/fs)|}.
     *
     * @param hz true frequency
     * @param sampleRateHz samples per second
     */
    public static double aliasHz(double hz, double sampleRateHz) {
        return Math.abs(hz - sampleRateHz * Math.rint(hz / sampleRateHz));
    }

    /**
     * Largest share of a sine's peak that sampling can miss: {@code 1 − cos(πf/fs)}.
     *
     * @param hz frequency of the sine
     * @param sampleRateHz samples per second
     */
    public static double worstPeakLoss(double hz, double sampleRateHz) {
        return 1 - Math.cos(Math.PI * hz / sampleRateHz);
    }
}
