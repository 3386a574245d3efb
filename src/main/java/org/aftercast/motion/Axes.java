package org.aftercast.motion;

import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleRange;
import org.aftercast.recording.SampleSource;

/** Three acceleration axes over one run of samples, short runs of missing samples bridged by straight lines. */
record Axes(float[] x, float[] y, float[] z) {

    static Axes read(SampleSource samples, SampleRange range) {
        return new Axes(
                column(samples, Channel.ACCELERATION_X, range),
                column(samples, Channel.ACCELERATION_Y, range),
                column(samples, Channel.ACCELERATION_Z, range));
    }

    private static float[] column(SampleSource samples, Channel axis, SampleRange range) {
        int n = (int) range.sampleCount();
        float[] v = new float[n];
        samples.read(axis, range.fromSample(), n, v, 0);
        for (int i = 0; i < n; i++) {
            if (!(Math.abs(v[i]) <= Float.MAX_VALUE)) {
                int j = i;
                while (j < n && !(Math.abs(v[j]) <= Float.MAX_VALUE)) {
                    j++;
                }
                float left = i > 0 ? v[i - 1] : (j < n ? v[j] : 0);
                float right = j < n ? v[j] : left;
                for (int k = i; k < j; k++) {
                    v[k] = left + (right - left) * (k - i + 1) / (j - i + 1);
                }
                i = j;
            }
        }
        return v;
    }

    /** Means of {@code samples} neighbours each, the last incomplete group left out. */
    Axes averaged(int samples) {
        return samples == 1 ? this : new Axes(averaged(x, samples), averaged(y, samples), averaged(z, samples));
    }

    /** Means of {@code samples} neighbours each of one array, the last incomplete group left out. */
    static float[] averaged(float[] x, int samples) {
        float[] y = new float[x.length / samples];
        for (int i = 0, from = 0; i < y.length; i++, from += samples) {
            float sum = 0;
            for (int k = 0; k < samples; k++) {
                sum += x[from + k];
            }
            y[i] = sum / samples;
        }
        return y;
    }

    /** Turns samples [from, to) in place by a 3×3 rotation given row by row. */
    void rotate(double[] r, int from, int to) {
        float r0 = (float) r[0];
        float r1 = (float) r[1];
        float r2 = (float) r[2];
        float r3 = (float) r[3];
        float r4 = (float) r[4];
        float r5 = (float) r[5];
        float r6 = (float) r[6];
        float r7 = (float) r[7];
        float r8 = (float) r[8];
        for (int i = from; i < to; i++) {
            float a = x[i];
            float b = y[i];
            float c = z[i];
            x[i] = r0 * a + r1 * b + r2 * c;
            y[i] = r3 * a + r4 * b + r5 * c;
            z[i] = r6 * a + r7 * b + r8 * c;
        }
    }
}
