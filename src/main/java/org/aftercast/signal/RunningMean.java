package org.aftercast.signal;

/** Centred running mean. */
public final class RunningMean {

    private RunningMean() {}

    /**
     * Mean over {@code windowSamples} samples centred on each sample; near the ends over the samples that exist.
     *
     * @param x samples, finite
     * @param windowSamples odd, ≥ 1
     * @return means, same length
     */
    public static double[] centred(double[] x, int windowSamples) {
        if (windowSamples < 1 || windowSamples % 2 == 0) {
            throw new IllegalArgumentException("windowSamples: " + windowSamples + " is not an odd number ≥ 1");
        }
        int half = windowSamples / 2;
        double[] sums = new double[x.length + 1];
        for (int i = 0; i < x.length; i++) {
            sums[i + 1] = sums[i] + x[i];
        }
        double[] mean = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            int from = Math.max(0, i - half);
            int to = Math.min(x.length, i + half + 1);
            mean[i] = (sums[to] - sums[from]) / (to - from);
        }
        return mean;
    }

    /**
     * Gain of the running mean at a frequency: {@code sin(πfN/fs) / (N·sin(πf/fs))}; negative where the phase is turned.
     *
     * @param windowSamples N ≥ 1
     * @param hz frequency f, 0 ≤ f &lt; fs
     * @param sampleRateHz fs
     */
    public static double gain(int windowSamples, double hz, double sampleRateHz) {
        if (hz == 0) {
            return 1;
        }
        double x = Math.PI * hz / sampleRateHz;
        return Math.sin(windowSamples * x) / (windowSamples * Math.sin(x));
    }
}
