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

    /** Filters in place, forward (step 1) or backward (step −1), from the steady state for a constant first value. */
    void run(double[] x, int from, int to, int step) {
        int first = step > 0 ? from : to - 1;
        for (double[] section : table) {
            single(x, first, to - from, step, new State(section, x[first]));
        }
    }

    /**
     * As {@link #run(double[], int, int, int)} in single precision with state in double precision. Two sections go side by
     * side through one loop: the second works on a sample while the first works on the next.
     */
    void run(float[] x, int from, int to, int step) {
        int first = step > 0 ? from : to - 1;
        int s = 0;
        for (; s + 1 < table.length; s += 2) {
            State p = new State(table[s], x[first]);
            State q = new State(table[s + 1], p.steady);
            pair(x, first, to - from, step, p, q);
        }
        if (s < table.length) {
            single(x, first, to - from, step, new State(table[s], x[first]));
        }
    }

    /** As {@link #run(float[], int, int, int)} for three arrays of one length; the same bits, three chains at a time. */
    void run(float[] x, float[] y, float[] z, int from, int to, int step) {
        int first = step > 0 ? from : to - 1;
        if (table.length != 1) {
            run(x, from, to, step);
            run(y, from, to, step);
            run(z, from, to, step);
            return;
        }
        triple(
                new float[][] {x, y, z},
                first,
                to - from,
                step,
                new State(table[0], x[first]),
                new State(table[0], y[first]),
                new State(table[0], z[first]));
    }

    /** Coefficients and memory (transposed direct form II) of one section. */
    private static final class State {
        final double b0;
        final double b1;
        final double b2;
        final double a1;
        final double a2;
        final double z1;
        final double z2;
        /** Output in the steady state. */
        final double steady;

        State(double[] s, double level) {
            b0 = s[0];
            b1 = s[1];
            b2 = s[2];
            a1 = s[3];
            a2 = s[4];
            steady = (b0 + b1 + b2) / (1 + a1 + a2) * level;
            z2 = b2 * level - a2 * steady;
            z1 = b1 * level - a1 * steady + z2;
        }
    }

    private static void single(double[] x, int first, int n, int step, State p) {
        double b0 = p.b0;
        double b1 = p.b1;
        double b2 = p.b2;
        double a1 = p.a1;
        double a2 = p.a2;
        double z1 = p.z1;
        double z2 = p.z2;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double in = x[i];
            double out = b0 * in + z1;
            z1 = (b1 * in + z2) - a1 * out;
            z2 = b2 * in - a2 * out;
            x[i] = out;
        }
    }

    private static void single(float[] x, int first, int n, int step, State p) {
        double b0 = p.b0;
        double b1 = p.b1;
        double b2 = p.b2;
        double a1 = p.a1;
        double a2 = p.a2;
        double z1 = p.z1;
        double z2 = p.z2;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double in = x[i];
            double out = b0 * in + z1;
            z1 = (b1 * in + z2) - a1 * out;
            z2 = b2 * in - a2 * out;
            x[i] = (float) out;
        }
    }

    private static void pair(float[] x, int first, int n, int step, State p, State q) {
        double z1 = p.z1;
        double z2 = p.z2;
        double w1 = q.z1;
        double w2 = q.z2;
        double b0 = p.b0;
        double b1 = p.b1;
        double b2 = p.b2;
        double a1 = p.a1;
        double a2 = p.a2;
        double d0 = q.b0;
        double d1 = q.b1;
        double d2 = q.b2;
        double c1 = q.a1;
        double c2 = q.a2;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double in = x[i];
            double mid = b0 * in + z1;
            z1 = (b1 * in + z2) - a1 * mid;
            z2 = b2 * in - a2 * mid;
            double out = d0 * mid + w1;
            w1 = (d1 * mid + w2) - c1 * out;
            w2 = d2 * mid - c2 * out;
            x[i] = (float) out;
        }
    }

    private static void triple(float[][] axes, int first, int n, int step, State p, State q, State r) {
        float[] x = axes[0];
        float[] y = axes[1];
        float[] z = axes[2];
        double b0 = p.b0;
        double b1 = p.b1;
        double b2 = p.b2;
        double a1 = p.a1;
        double a2 = p.a2;
        double x1 = p.z1;
        double x2 = p.z2;
        double y1 = q.z1;
        double y2 = q.z2;
        double z1 = r.z1;
        double z2 = r.z2;
        for (int k = 0, i = first; k < n; k++, i += step) {
            double u = x[i];
            double v = y[i];
            double w = z[i];
            double s = b0 * u + x1;
            double t = b0 * v + y1;
            double o = b0 * w + z1;
            x1 = (b1 * u + x2) - a1 * s;
            y1 = (b1 * v + y2) - a1 * t;
            z1 = (b1 * w + z2) - a1 * o;
            x2 = b2 * u - a2 * s;
            y2 = b2 * v - a2 * t;
            z2 = b2 * w - a2 * o;
            x[i] = (float) s;
            y[i] = (float) t;
            z[i] = (float) o;
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
