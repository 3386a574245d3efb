package org.aftercast.sim;

import java.util.Arrays;

/** Collects the true beats. */
final class BeatLog {

    private double[] startS = new double[4096];
    private float[] periodS = new float[4096];
    private float[] amplitudeG = new float[4096];
    private int count;

    private double openS;
    private boolean openOwn;
    private double sum;
    private int summed;

    /** A beat begins; {@code own} when it is the animal's. */
    void begin(double atS, boolean own) {
        openS = atS;
        openOwn = own;
        sum = 0;
        summed = 0;
    }

    /** One sample's sway amplitude within the open beat, g. */
    void add(double swayG) {
        sum += swayG;
        summed++;
    }

    /** The open beat ends; it is kept if it is the animal's own and not below {@code leastG}. */
    void end(double atS, double leastG) {
        double mean = summed == 0 ? 0 : sum / summed;
        if (!openOwn || mean < leastG) {
            return;
        }
        if (count == startS.length) {
            int larger = count * 2;
            startS = Arrays.copyOf(startS, larger);
            periodS = Arrays.copyOf(periodS, larger);
            amplitudeG = Arrays.copyOf(amplitudeG, larger);
        }
        startS[count] = openS;
        periodS[count] = (float) (atS - openS);
        amplitudeG[count] = (float) mean;
        count++;
    }

    double[] startS() {
        return Arrays.copyOf(startS, count);
    }

    float[] periodS() {
        return Arrays.copyOf(periodS, count);
    }

    float[] amplitudeG() {
        return Arrays.copyOf(amplitudeG, count);
    }
}
