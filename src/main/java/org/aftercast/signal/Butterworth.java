package org.aftercast.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * Design of digital Butterworth filters as second-order sections.
 *
 * <p>The analogue prototype has its {@code n} poles at {@code exp(iπ(2k+n−1)/(2n))}, k = 1…n; it is scaled (low-pass,
 * high-pass) or transformed (band-pass) to edges pre-warped by {@code 2·fs·tan(π·f/fs)} and mapped by the bilinear
 * transform {@code z = (2fs+s)/(2fs−s)} [oppenheim2010]. A single pass has gain 1/√2 at an edge; a zero-phase (forward and
 * backward) pass has 1/2.
 */
public final class Butterworth {

    private Butterworth() {}

    /**
     * Low-pass of the given order.
     *
     * @param order 1–12
     * @param edgeHz −3 dB edge, 0 &lt; edgeHz &lt; sampleRateHz/2
     * @param sampleRateHz samples per second
     * @return second-order sections, gain 1 at 0 Hz
     * @throws IllegalArgumentException if an argument is outside its range
     */
    public static Sections lowPass(int order, double edgeHz, double sampleRateHz) {
        checkOrder(order);
        checkEdge("edgeHz", edgeHz, sampleRateHz);
        double warped = warp(edgeHz, sampleRateHz);
        List<Complex> poles = new ArrayList<>();
        for (Complex p : prototype(order)) {
            poles.add(bilinear(p.times(warped), sampleRateHz));
        }
        return assemble(poles, -1, -1, 1, 0);
    }

    /**
     * High-pass of the given order; arguments as for {@link #lowPass}.
     *
     * @return second-order sections, gain 1 at half the sample rate
     */
    public static Sections highPass(int order, double edgeHz, double sampleRateHz) {
        checkOrder(order);
        checkEdge("edgeHz", edgeHz, sampleRateHz);
        double warped = warp(edgeHz, sampleRateHz);
        List<Complex> poles = new ArrayList<>();
        for (Complex p : prototype(order)) {
            poles.add(bilinear(new Complex(warped, 0).over(p), sampleRateHz));
        }
        return assemble(poles, 1, 1, -1, 0);
    }

    /**
     * Band-pass; the digital filter has twice the given order.
     *
     * @param order order of the prototype, 1–6
     * @param lowHz lower −3 dB edge, &gt; 0
     * @param highHz upper −3 dB edge, lowHz &lt; highHz &lt; sampleRateHz/2
     * @param sampleRateHz samples per second
     * @return second-order sections, gain 1 at the (warped) geometric centre
     */
    public static Sections bandPass(int order, double lowHz, double highHz, double sampleRateHz) {
        checkOrder(order);
        checkEdge("lowHz", lowHz, sampleRateHz);
        checkEdge("highHz", highHz, sampleRateHz);
        if (!(lowHz < highHz)) {
            throw new IllegalArgumentException("lowHz, highHz: " + lowHz + ", " + highHz + " is not a band");
        }
        double low = warp(lowHz, sampleRateHz);
        double high = warp(highHz, sampleRateHz);
        double width = high - low;
        double centreSquared = low * high;
        List<Complex> poles = new ArrayList<>();
        for (Complex p : prototype(order)) {
            Complex half = p.times(width / 2);
            Complex root = half.times(half).minus(new Complex(centreSquared, 0)).squareRoot();
            poles.add(bilinear(half.plus(root), sampleRateHz));
            poles.add(bilinear(half.minus(root), sampleRateHz));
        }
        double centreRad = 2 * Math.atan(Math.sqrt(centreSquared) / (2 * sampleRateHz));
        return assemble(poles, 1, -1, Math.cos(centreRad), Math.sin(centreRad));
    }

    private static void checkOrder(int order) {
        if (order < 1 || order > 12) {
            throw new IllegalArgumentException("order: " + order + " is outside 1–12");
        }
    }

    private static void checkEdge(String name, double edgeHz, double sampleRateHz) {
        if (!(edgeHz > 0 && edgeHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException(
                    name + ": " + edgeHz + " Hz is outside (0, " + sampleRateHz / 2 + ") Hz, half the sample rate");
        }
    }

    private static double warp(double hz, double sampleRateHz) {
        return 2 * sampleRateHz * Math.tan(Math.PI * hz / sampleRateHz);
    }

    private static List<Complex> prototype(int order) {
        List<Complex> poles = new ArrayList<>();
        for (int k = 1; k <= order; k++) {
            double angle = Math.PI * (2 * k + order - 1) / (2.0 * order);
            poles.add(new Complex(Math.cos(angle), 2 * k == order + 1 ? 0 : Math.sin(angle)));
        }
        return poles;
    }

    private static Complex bilinear(Complex s, double sampleRateHz) {
        Complex twice = new Complex(2 * sampleRateHz, 0);
        return twice.plus(s).over(twice.minus(s));
    }

    /**
     * Pairs conjugate poles (and real poles two by two) into sections, gives each the two zeros, and scales the first
     * section so that the whole has gain 1 at {@code z = unitRe + i·unitIm}.
     */
    private static Sections assemble(List<Complex> poles, double zero1, double zero2, double unitRe, double unitIm) {
        List<double[]> sections = new ArrayList<>();
        List<Double> real = new ArrayList<>();
        for (Complex p : poles) {
            if (Math.abs(p.im()) < 1e-14) {
                real.add(p.re());
            } else if (p.im() > 0) {
                sections.add(
                        new double[] {1, -(zero1 + zero2), zero1 * zero2, -2 * p.re(), p.re() * p.re() + p.im() * p.im()
                        });
            }
        }
        for (int i = 0; i + 1 < real.size(); i += 2) {
            double p = real.get(i);
            double q = real.get(i + 1);
            sections.add(new double[] {1, -(zero1 + zero2), zero1 * zero2, -(p + q), p * q});
        }
        if (real.size() % 2 == 1) {
            sections.add(new double[] {1, -zero1, 0, -real.get(real.size() - 1), 0});
        }
        double[][] table = sections.toArray(new double[0][]);
        double gain = 1 / new Sections(table).gain(Math.atan2(unitIm, unitRe));
        for (int i = 0; i < 3; i++) {
            table[0][i] *= gain;
        }
        return new Sections(table);
    }

    private record Complex(double re, double im) {
        Complex plus(Complex o) {
            return new Complex(re + o.re, im + o.im);
        }

        Complex minus(Complex o) {
            return new Complex(re - o.re, im - o.im);
        }

        Complex times(double f) {
            return new Complex(re * f, im * f);
        }

        Complex times(Complex o) {
            return new Complex(re * o.re - im * o.im, re * o.im + im * o.re);
        }

        Complex over(Complex o) {
            double d = o.re * o.re + o.im * o.im;
            return new Complex((re * o.re + im * o.im) / d, (im * o.re - re * o.im) / d);
        }

        Complex squareRoot() {
            double modulus = Math.hypot(re, im);
            double a = Math.sqrt(Math.max(0, (modulus + re) / 2));
            double b = Math.sqrt(Math.max(0, (modulus - re) / 2));
            return new Complex(a, im < 0 ? -b : b);
        }
    }
}
