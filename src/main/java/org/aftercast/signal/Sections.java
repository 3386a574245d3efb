package org.aftercast.signal;

/**
 * A digital filter as second-order sections.
 *
 * <p>Each section is {@code (b0, b1, b2, a1, a2)} with a0 = 1; the sections act one after the other.
 */
public final class Sections {

    private final double[][] table;

    Sections(double[][] table) {
        this.table = table;
    }

    /** Number of sections. */
    public int count() {
        return table.length;
    }

    /** Coefficients {@code b0, b1, b2, a1, a2} of one section (a copy). */
    public double[] section(int index) {
        return table[index].clone();
    }

    /** The sections multiplied out: numerator {@code b[0…2n]} first, denominator {@code a[0…2n]} (a[0] = 1) second. */
    public double[][] transferFunction() {
        double[] b = {1};
        double[] a = {1};
        for (double[] s : table) {
            b = multiply(b, new double[] {s[0], s[1], s[2]});
            a = multiply(a, new double[] {1, s[3], s[4]});
        }
        return new double[][] {b, a};
    }

    /**
     * Modulus of the gain of a single pass.
     *
     * @param radiansPerSample frequency, 2π·f/fs, 0 to π
     */
    public double gain(double radiansPerSample) {
        double c1 = Math.cos(radiansPerSample);
        double s1 = Math.sin(radiansPerSample);
        double c2 = Math.cos(2 * radiansPerSample);
        double s2 = Math.sin(2 * radiansPerSample);
        double squared = 1;
        for (double[] s : table) {
            double nr = s[0] + s[1] * c1 + s[2] * c2;
            double ni = s[1] * s1 + s[2] * s2;
            double dr = 1 + s[3] * c1 + s[4] * c2;
            double di = s[3] * s1 + s[4] * s2;
            squared *= (nr * nr + ni * ni) / (dr * dr + di * di);
        }
        return Math.sqrt(squared);
    }

    /** Filters one section's worth in place, forward or backward, from the steady state for a constant first value. */
    void pass(int index, float[] x, int from, int to, int step) {
        double[] s = table[index];
        double b0 = s[0];
        double b1 = s[1];
        double b2 = s[2];
        double a1 = s[3];
        double a2 = s[4];
        int first = step > 0 ? from : to - 1;
        double level = x[first];
        // Steady state of the transposed direct form II for a constant input.
        double dc = (b0 + b1 + b2) / (1 + a1 + a2);
        double z2 = (b2 - a2 * dc) * level;
        double z1 = (b1 - a1 * dc) * level + z2;
        int n = to - from;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double in = x[i];
            double out = b0 * in + z1;
            z1 = b1 * in - a1 * out + z2;
            z2 = b2 * in - a2 * out;
            x[i] = (float) out;
        }
    }

    /** As {@link #pass(int, float[], int, int, int)} in double precision. */
    void pass(int index, double[] x, int from, int to, int step) {
        double[] s = table[index];
        double b0 = s[0];
        double b1 = s[1];
        double b2 = s[2];
        double a1 = s[3];
        double a2 = s[4];
        int first = step > 0 ? from : to - 1;
        double level = x[first];
        double dc = (b0 + b1 + b2) / (1 + a1 + a2);
        double z2 = (b2 - a2 * dc) * level;
        double z1 = (b1 - a1 * dc) * level + z2;
        int n = to - from;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double in = x[i];
            double out = b0 * in + z1;
            z1 = b1 * in - a1 * out + z2;
            z2 = b2 * in - a2 * out;
            x[i] = out;
        }
    }

    private static double[] multiply(double[] p, double[] q) {
        double[] product = new double[p.length + q.length - 1];
        for (int i = 0; i < p.length; i++) {
            for (int j = 0; j < q.length; j++) {
                product[i + j] += p[i] * q[j];
            }
        }
        return product;
    }
}
