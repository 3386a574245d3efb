package org.aftercast.motion;

import java.util.Arrays;

/** Growing parallel arrays of cycles that may be tailbeats, in time order. */
final class Candidates {

    double[] startS = new double[256];
    float[] periodS = new float[256];
    float[] amplitudeG = new float[256];
    float[] peakToPeakG = new float[256];
    float[] ridgeHz = new float[256];
    int count;

    void add(double start, double period, double amplitude, double peakToPeak, double ridge) {
        if (count == startS.length) {
            int size = 2 * count;
            startS = Arrays.copyOf(startS, size);
            periodS = Arrays.copyOf(periodS, size);
            amplitudeG = Arrays.copyOf(amplitudeG, size);
            peakToPeakG = Arrays.copyOf(peakToPeakG, size);
            ridgeHz = Arrays.copyOf(ridgeHz, size);
        }
        startS[count] = start;
        periodS[count] = (float) period;
        amplitudeG[count] = (float) amplitude;
        peakToPeakG[count] = (float) peakToPeak;
        ridgeHz[count] = (float) ridge;
        count++;
    }

    void addAll(Candidates other) {
        for (int i = 0; i < other.count; i++) {
            add(other.startS[i], other.periodS[i], other.amplitudeG[i], other.peakToPeakG[i], other.ridgeHz[i]);
        }
    }
}
