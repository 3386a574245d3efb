package org.aftercast.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.data.Offset.offset;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.aftercast.signal.Butterworth;
import org.aftercast.signal.Morlet;
import org.aftercast.signal.RunningMean;
import org.aftercast.signal.Sections;
import org.aftercast.signal.Spectrum;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Numbers from outside: handbook tables, published formulas evaluated independently, other libraries. Each names its
 * source; "recomputed" values were made with numpy or scipy from the published formula, not with this code.
 */
class MotionChecksTest {

    private static final Path SHARED =
            Path.of(System.getProperty("aftercast.basedir", ".")).resolve("../shared/data");

    /** UNESCO technical papers in marine science 44 (Fofonoff & Millard 1983), table for algorithm 4 and its text. */
    @ParameterizedTest
    @CsvSource({
        "10000, 30, 9712.653",
        "10000, 0, 9725.4709",
        "10000, 45, 9699.8405",
        "10000, 90, 9674.2314",
        "500, 0, 496.6530",
        "500, 30, 495.9977",
        "500, 90, 494.0336"
    })
    void depthFromPressureUnesco44(double dbar, double latitudeDeg, double depthM) {
        assertThat(Seawater.depthM(dbar, latitudeDeg)).isCloseTo(depthM, offset(1e-3));
    }

    /** TEOS-10 check set of z_from_p at 4°; the UNESCO formula is another standard and agrees within 0.01 %. */
    @ParameterizedTest
    @CsvSource({
        "10, 9.9445834",
        "50, 49.7180897",
        "125, 124.2726219",
        "250, 248.4700577",
        "600, 595.8253480",
        "1000, 992.0919061"
    })
    void depthFromPressureAgainstTeos10(double dbar, double depthM) {
        assertThat(Seawater.depthM(dbar, 4)).isCloseTo(depthM, offset(1e-4 * depthM));
    }

    /** TEOS-10 (python3-gsw 3.6.16 of Debian), 7 latitudes × 11 pressures: UNESCO within 0.01 %. */
    @Test
    void depthFromPressureAgainstTeos10Table() throws IOException {
        Path table = SHARED.resolve("teos10_pressure_to_depth/z_from_p.csv");
        Assumptions.assumeTrue(Files.exists(table), "the shared data folder is not beside this checkout");
        List<String> lines = Files.readAllLines(table);
        assertThat(lines).hasSize(78);
        for (String line : lines.subList(1, lines.size())) {
            double[] v = Arrays.stream(line.split(","))
                    .mapToDouble(Double::parseDouble)
                    .toArray();
            assertThat(Seawater.depthM(v[1], v[0])).as(line).isCloseTo(v[2], offset(1e-4 * v[2] + 1e-4));
        }
    }

    /** UNESCO 44, gravity at the surface at 45°, recomputed. */
    @Test
    void gravity() {
        assertThat(Seawater.gravityMps2(45)).isCloseTo(9.80618988, offset(1e-7));
    }

    /** Torrence & Compo 1998, BAMS 79:61, table 1 and 2 (factor, ψ0(0)), recomputed to more digits. */
    @Test
    void morletConstants() {
        assertThat(Morlet.periodPerScale()).isCloseTo(1.0330436, offset(1e-7));
        assertThat(Morlet.centreValue()).isCloseTo(0.7511256, offset(1e-7));
    }

    /**
     * Torrence & Compo 1998, eqn 13: Cδ = 0.776 for ω0 = 6, from the transform of a single impulse: the integral over
     * scale, so scales are fine and reach from where an impulse's wavelet has faded to where it is spread thin.
     */
    @Test
    void morletReconstructionFactor() {
        int n = 1 << 14;
        double[] impulse = new double[n];
        impulse[n / 2] = 1;
        double dj = 0.125;
        double sum = 0;
        // δt = 1; Re W of an impulse at its own place equals |W| there.
        for (double s = 0.3; s < 2000; s *= Math.pow(2, dj)) {
            sum += Morlet.modulus(impulse, 1, s)[n / 2] / Math.sqrt(s);
        }
        double delta = dj * sum / Morlet.centreValue();
        assertThat(delta).isCloseTo(0.776, offset(0.003));
    }

    /** Largest |W| of 0.1·cos(2π·0.8t) at 25 Hz: 0.51602 at s = 1.2100 s; closed form, recomputed with numpy. */
    @Test
    void morletOfASine() {
        double[] x = new double[4000];
        for (int i = 0; i < x.length; i++) {
            x[i] = 0.1 * Math.cos(2 * Math.PI * 0.8 * i / 25);
        }
        double best = 0;
        double bestScale = 0;
        for (double s = 1.0; s < 1.5; s += 0.005) {
            double w = Morlet.modulus(x, 25, s)[2000];
            if (w > best) {
                best = w;
                bestScale = s;
            }
        }
        assertThat(best).isCloseTo(0.51602, offset(0.001 * 0.51602));
        assertThat(bestScale).isCloseTo(1.2100, offset(0.005));
        // Liu et al. 2007, JTECH 24:2093: divided by scale the peak stands at the sine's own frequency.
        double[] z = Morlet.amplitude(x, 25, 0.8);
        assertThat(Math.hypot(z[4000], z[4001])).isCloseTo(0.1, offset(1e-4));
    }

    /** scipy.signal.butter, order 2 at half the Nyquist frequency. */
    @Test
    void butterworthHalfBand() {
        double[][] ba = Butterworth.lowPass(2, 0.25, 1).transferFunction();
        assertThat(ba[0]).containsExactly(new double[] {.29289322, .58578644, .29289322}, offset(1e-8));
        assertThat(ba[1]).containsExactly(new double[] {1, 0, .17157288}, offset(1e-8));
    }

    /** scipy.signal.butter, low-pass 2 at 0.5 Hz and band-pass 2 at 0.2–3 Hz, 25 samples a second. */
    @Test
    void butterworthAtTwentyFiveHertz() {
        double[][] low = Butterworth.lowPass(2, 0.5, 25).transferFunction();
        double b0 = .003621681515;
        assertThat(low[0]).containsExactly(new double[] {b0, 2 * b0, b0}, offset(1e-10));
        assertThat(low[1]).containsExactly(new double[] {1, -1.822694925196, .837181651256}, offset(1e-10));
        double[][] band = Butterworth.bandPass(2, 0.2, 3, 25).transferFunction();
        double g = .081492744852;
        assertThat(band[0]).containsExactly(new double[] {g, 0, -2 * g, 0, g}, offset(1e-10));
        assertThat(band[1])
                .containsExactly(
                        new double[] {1, -2.986166942964, 3.370198777302, -1.755269614146, .372177239266},
                        offset(1e-10));
    }

    /** Theory: a Butterworth filter has gain 1/√2 at its edge, the square of it forward and backward. */
    @Test
    void gainAtTheEdge() {
        Sections low = Butterworth.lowPass(2, 0.5, 25);
        double single = low.gain(2 * Math.PI * 0.5 / 25);
        assertThat(single).isCloseTo(.70710678, offset(1e-6));
        assertThat(single * single).isCloseTo(0.5, offset(1e-6));
    }

    /** Box filter sin(πfNΔ)/(N·sin(πfΔ)), recomputed; a 2 s box at 0.6 Hz leaks −0.156. */
    @Test
    void runningMeanGain() {
        assertThat(RunningMean.gain(75, 1 / 3.0, 25)).isCloseTo(0, offset(1e-6));
        assertThat(RunningMean.gain(75, 0.6, 25)).isCloseTo(-0.104042, offset(1e-6));
        assertThat(RunningMean.gain(50, 0.6, 25)).isCloseTo(-0.156, offset(1e-3));
    }

    /** Closed form: the mean of |A·sin| over whole cycles is 2A/π; one axis moves, so L1 = L2. */
    @Test
    void dynamicMeasuresOfASine() {
        double l1 = 0;
        double l2 = 0;
        int n = 2500;
        for (int i = 0; i < n; i++) {
            double d = 0.3 * Math.sin(2 * Math.PI * i / 25.0 + 0.1);
            l1 += Activity.dynamicL1(0, d, 0) / n;
            l2 += Activity.dynamicL2(0, d, 0) / n;
        }
        assertThat(l1).isCloseTo(2 * 0.3 / Math.PI, offset(0.005 * 2 * 0.3 / Math.PI));
        assertThat(l2).isCloseTo(l1, offset(1e-12));
        // Qasem et al. 2012, PLoS ONE: L2 ≤ L1 ≤ √3·L2.
        assertThat(Activity.dynamicL1(1, -1, 1)).isCloseTo(Math.sqrt(3) * Activity.dynamicL2(1, -1, 1), offset(1e-12));
    }

    /** Closed form: jerk of 0.1 g at 1 Hz peaks at 2π·0.1; a first difference at 25 Hz has 0.99737 of it. */
    @Test
    void jerkOfASine() {
        int n = 25 * 40;
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = 0.1 * Math.sin(2 * Math.PI * i / 25.0 + 0.05);
        }
        double[] jerk = Activity.jerkGps(x, new double[n], new double[n], 25);
        double max = Arrays.stream(jerk).max().orElseThrow();
        double mean = Arrays.stream(jerk).average().orElseThrow();
        double rms = Math.sqrt(Arrays.stream(jerk).map(v -> v * v).average().orElseThrow());
        assertThat(max).isCloseTo(.62832 * .99737, offset(0.005 * .62832));
        assertThat(mean).isCloseTo(.4 * .99737, offset(0.005 * .4));
        assertThat(rms).isCloseTo(.44429 * .99737, offset(0.005 * .44429));
    }

    /** The frame's own definition, evaluated by hand: (½, ½, √½) is 30° head up and 35.26439° right side down. */
    @Test
    void postureOfOneVector() {
        double r = Math.sqrt(0.5);
        assertThat(Posture.pitchDeg(0.5, 0.5, r)).isCloseTo(30, offset(1e-5));
        assertThat(Posture.plainRollDeg(0.5, r)).isCloseTo(35.26439, offset(1e-5));
        assertThat(Posture.rollDeg(0.5, 0.5, r)).isCloseTo(35.26439, offset(0.3));
    }

    /** Mount rotation of the same vector, derived by hand with R = Ry·Rx. */
    @Test
    void levellingMatrix() {
        double r = Math.sqrt(0.5);
        assertThat(Posture.levelling(0.5, 0.5, r))
                .containsExactly(
                        new double[] {.866025, -.288675, -.408248, 0, .816497, -.577350, .5, .5, .707107},
                        offset(1e-6));
    }

    /** Sampling theory: |f − fs·round(f/fs)|, and the worst loss of a sampled peak. */
    @Test
    void aliasAndPeakLoss() {
        assertThat(Spectrum.aliasHz(3.2, 5)).isCloseTo(1.8, offset(1e-12));
        assertThat(Spectrum.aliasHz(7, 10)).isCloseTo(3, offset(1e-12));
        assertThat(Spectrum.worstPeakLoss(1, 4)).isCloseTo(.29, offset(.005));
        assertThat(Spectrum.worstPeakLoss(1, 10)).isCloseTo(.049, offset(.0005));
        assertThat(Spectrum.worstPeakLoss(1, 20)).isCloseTo(.012, offset(.0005));
        // The spectrum shows it there: a 3.2 Hz sine at 5 samples a second.
        double[] x = new double[1000];
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.sin(2 * Math.PI * 3.2 * i / 5);
        }
        Spectrum s = Spectrum.welch(x, 5, 500);
        assertThat(s.peakHz(0.1, 2.4)).isCloseTo(1.8, offset(s.stepHz()));
    }

    /** Kinematics: a sway of 2 cm at 1 Hz is (2π)²·0.02 m/s² = 0.080514 g. */
    @Test
    void lateralAcceleration() {
        assertThat(Activity.swayG(0.02, 1)).isCloseTo(.080514, offset(1e-6));
    }

    /** Bainbridge 1958, J Exp Biol 35:109: V = L(3f − 4)/4; L = 30 cm at 10 Hz: 195 cm/s, 20 cm at 8 Hz: 100 cm/s. */
    @Test
    void bainbridge() {
        assertThat(BeatPlausibility.bainbridgeMps(0.30, 10)).isCloseTo(1.95, offset(1e-12));
        assertThat(BeatPlausibility.bainbridgeMps(0.20, 8)).isCloseTo(1.00, offset(1e-12));
        assertThatThrownBy(() -> BeatPlausibility.bainbridgeMps(1.5, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("above 5 Hz only");
    }

    /** Sato et al. 2007, Proc R Soc B 274:471: frequency ∝ mass^−0.29, so ten times the mass gives 0.51286 times it. */
    @Test
    void massAndFrequency() {
        assertThat(BeatPlausibility.frequencyRatio(10)).isCloseTo(.51286, offset(1e-5));
        // The way back: a body whose mass is 1000 times larger is 10 times longer.
        assertThat(BeatPlausibility.lengthRatio(BeatPlausibility.frequencyRatio(1000)))
                .isCloseTo(10, offset(1e-9));
    }

    /**
     * Berio, Morerod & Di Santo, steady swimming of catsharks in a flume (shared open data): mean tailbeat frequency 2.17
     * Hz at 0.5 body lengths/s, 3.77 Hz at 5; every animal at every speed is within what the program calls plausible for
     * its length, and at a wrong length it asks.
     */
    @Test
    void catsharksInAFlumeArePlausible() throws IOException {
        Path file = SHARED.resolve("catshark_tailbeat_vs_speed/scanicula_midline_kinematics.txt");
        Assumptions.assumeTrue(Files.exists(file), "the shared open data are not here");
        List<String> lines = Files.readAllLines(file);
        List<String> header = Arrays.asList(lines.get(0).split(","));
        int speed = header.indexOf("speedBL");
        int length = header.indexOf("TL");
        int frequency = header.indexOf("TBF");
        double[] sum = new double[2];
        int[] n = new int[2];
        for (String line : lines.subList(1, lines.size())) {
            String[] cells = line.split(",");
            double hz = Double.parseDouble(cells[frequency]);
            double lengthM = Double.parseDouble(cells[length]) / 100;
            double bodyLengths = Double.parseDouble(cells[speed]);
            int group = bodyLengths == 0.5 ? 0 : bodyLengths == 5 ? 1 : -1;
            if (group >= 0) {
                sum[group] += hz;
                n[group]++;
            }
            assertThat(BeatPlausibility.question(hz, lengthM)).as(line).isNull();
            assertThat(BeatPlausibility.question(hz, 20 * lengthM)).as(line).contains("is far from");
        }
        assertThat(sum[0] / n[0]).isCloseTo(2.17, offset(0.005));
        assertThat(sum[1] / n[1]).isCloseTo(3.77, offset(0.005));
    }
}
