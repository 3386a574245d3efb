package org.aftercast.signal;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Filters, spectra, peaks and wavelet against scipy as a slow twin: {@code src/test/reference/signal_twin.py} made
 * {@code src/test/resources/signal/scipy.csv}, whose first line names the versions.
 */
class SignalTwinTest {

    private static final double RATE_HZ = 25;
    private static final Map<String, double[]> TWIN = new HashMap<>();

    @BeforeAll
    static void load() throws IOException {
        List<String> lines = Files.readAllLines(
                Path.of(System.getProperty("aftercast.basedir", "."), "src/test/resources/signal/scipy.csv"));
        assertThat(lines.get(0)).startsWith("# scipy ");
        for (String line : lines.subList(1, lines.size())) {
            String[] cells = line.split(",");
            double[] values = new double[cells.length - 1];
            for (int i = 0; i < values.length; i++) {
                values[i] = Double.parseDouble(cells[i + 1]);
            }
            TWIN.put(cells[0], values);
        }
    }

    private static Sections design(String name) {
        return switch (name) {
            case "low2" -> Butterworth.lowPass(2, 0.5, RATE_HZ);
            case "low5" -> Butterworth.lowPass(5, 3, RATE_HZ);
            case "high3" -> Butterworth.highPass(3, 0.7, RATE_HZ);
            case "band2" -> Butterworth.bandPass(2, 0.2, 3, RATE_HZ);
            case "band3" -> Butterworth.bandPass(3, 0.5, 2, RATE_HZ);
            default -> throw new IllegalArgumentException(name);
        };
    }

    @ParameterizedTest
    @ValueSource(strings = {"low2", "low5", "high3", "band2", "band3"})
    void butterworthAndZeroPhase(String name) {
        Sections filter = design(name);
        double[][] ba = filter.transferFunction();
        near(trim(ba[0], twin(name + ".b").length), twin(name + ".b"), 1e-9);
        near(trim(ba[1], twin(name + ".a").length), twin(name + ".a"), 1e-9);
        near(ZeroPhase.filter(twin("x"), filter, 60), twin(name + ".zerophase60"), 1e-9);
        double[] hz = {0.1, 0.8, 2.0, 5.0};
        double[] gain = new double[4];
        for (int i = 0; i < 4; i++) {
            gain[i] = filter.gain(2 * Math.PI * hz[i] / RATE_HZ);
        }
        near(gain, twin(name + ".gain"), 1e-9);
    }

    @Test
    void singlePrecisionFilteringFollowsDoubleToItsOwnRounding() {
        double[] x = twin("x");
        float[] single = new float[x.length];
        for (int i = 0; i < x.length; i++) {
            single[i] = (float) x[i];
        }
        float[] y = ZeroPhase.filter(single, design("band2"), 60);
        double[] expected = twin("band2.zerophase60");
        for (int i = 0; i < y.length; i++) {
            // Four passes over values below 2 rounded to 24 bits: about 4 × 6e−8 × 2.
            assertThat((double) y[i]).isCloseTo(expected[i], org.assertj.core.data.Offset.offset(1e-6));
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"low2", "band2"})
    void threeArraysAtOnceGiveTheSameBitsAsOneByOne(String name) {
        float[][] x = new float[3][twin("x").length];
        for (int i = 0; i < x[0].length; i++) {
            x[0][i] = (float) twin("x")[i];
            x[1][i] = (float) (0.3 - twin("x")[i]);
            x[2][i] = (float) (twin("x")[i] * twin("x")[i]);
        }
        float[][] together = ZeroPhase.filter(x[0], x[1], x[2], design(name), 60);
        for (int c = 0; c < 3; c++) {
            assertThat(together[c]).isEqualTo(ZeroPhase.filter(x[c], design(name), 60));
        }
    }

    /** The ridge against the wavelet in double precision: a sweep from 0.6 to 1.8 Hz under noise. */
    @Test
    void ridgeAmplitudeIsThatOfTheWavelet() {
        int n = 4000;
        double[] x = new double[n];
        float[] single = new float[n];
        java.util.SplittableRandom random = new java.util.SplittableRandom(5);
        for (int i = 0; i < n; i++) {
            double t = i / RATE_HZ;
            x[i] = 0.1 * Math.sin(2 * Math.PI * (0.6 * t + 0.00375 * t * t)) + 0.01 * random.nextGaussian();
            single[i] = (float) x[i];
        }
        Ridge ridge = new RidgeFinder(RATE_HZ, 0.3, 4, Double.NaN).find(single);
        double perStep = ridge.stepS() * RATE_HZ;
        for (int t = (int) (300 / perStep); t < (n - 300) / perStep; t += 7) {
            double at = t * ridge.stepS();
            assertThat((double) ridge.hz()[t])
                    .isCloseTo(0.6 + 0.0075 * at, org.assertj.core.data.Percentage.withPercentage(6));
        }
        // At one voice and step the amplitude is that of the double-precision wavelet at the same frequency.
        int t = (int) Math.round(80 / ridge.stepS());
        int sample = (int) Math.round(t * perStep);
        double[] z = Morlet.amplitude(x, RATE_HZ, ridge.hz()[t]);
        double expected = Math.hypot(z[2 * sample], z[2 * sample + 1]);
        // The ridge's amplitude stands at its voice, up to half a voice (4 %) from the interpolated frequency.
        assertThat((double) ridge.amplitude()[t])
                .isCloseTo(expected, org.assertj.core.data.Percentage.withPercentage(4));
    }

    @Test
    void welch() {
        near(Spectrum.welch(twin("x"), RATE_HZ, 128).density(), twin("welch128"), 1e-9);
        near(Spectrum.welch(twin("x"), RATE_HZ, 75).density(), twin("welch75"), 1e-9);
    }

    @Test
    void runningMean() {
        near(RunningMean.centred(twin("x"), 25), twin("mean25"), 1e-9);
    }

    @Test
    void peaks() {
        Peaks peaks = Peaks.of(twin("x"));
        double[] at = new double[peaks.at().length];
        for (int i = 0; i < at.length; i++) {
            at[i] = peaks.at()[i];
        }
        near(at, twin("peaks"), 0);
        near(peaks.prominence(), twin("prominences"), 1e-9);
    }

    /** The twin convolves in time; the wavelet has no value below 1e-8 outside ±6 scales, so the middle is compared. */
    @ParameterizedTest
    @ValueSource(doubles = {0.5, 1.2, 2.0})
    void morletByDirectConvolution(double scaleS) {
        double[] modulus = Morlet.modulus(twin("x"), RATE_HZ, scaleS);
        double[] expected = twin("morlet" + scaleS);
        double top = 0;
        for (double v : expected) {
            top = Math.max(top, v);
        }
        for (int i = 0; i < modulus.length; i++) {
            // The analytic wavelet lacks the negative frequencies (exp(−18) = 1.5e−8 of the peak, times the drift's
            // 0.8).
            assertThat(modulus[i]).isCloseTo(expected[i], org.assertj.core.data.Offset.offset(2e-6 * top));
        }
    }

    private static double[] twin(String name) {
        double[] values = TWIN.get(name);
        assertThat(values).as("row %s of scipy.csv", name).isNotNull();
        return values;
    }

    private static double[] trim(double[] coefficients, int length) {
        for (int i = length; i < coefficients.length; i++) {
            assertThat(coefficients[i]).isZero(); // an odd order leaves an empty half section
        }
        return java.util.Arrays.copyOf(coefficients, length);
    }

    /** Relative to the largest expected value of the row. */
    private static void near(double[] actual, double[] expected, double relative) {
        assertThat(actual).hasSameSizeAs(expected);
        double top = 0;
        for (double v : expected) {
            top = Math.max(top, Math.abs(v));
        }
        for (int i = 0; i < expected.length; i++) {
            assertThat(actual[i])
                    .as("value %d", i)
                    .isCloseTo(expected[i], org.assertj.core.data.Offset.offset(relative * top));
        }
    }
}
