package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.aftercast.search.BearingFix.Line;
import org.aftercast.search.BearingFix.Method;
import org.junit.jupiter.api.Test;

class BearingFixTest {

    /** Three bearings from a public statistics question; expected values recomputed by brute force outside the project. */
    private static final List<Line> EXAMPLE_A =
            List.of(new Line(554045, 2813867, 300), new Line(553355, 2813873, 20), new Line(553207, 2814120, 90));

    /** True place (900, 1100); the last bearing is wrong by +60°. Brute force outside the project. */
    private static final List<Line> EXAMPLE_B = List.of(
            new Line(0, 0, 41.3),
            new Line(1000, 0, 351.8),
            new Line(2000, 0, 316.0),
            new Line(2000, 1000, 273.2),
            new Line(2000, 2000, 233.7),
            new Line(1000, 2000, 246.3));

    private static final double KAPPA_B = 1 / Math.pow(Math.toRadians(5), 2);

    @Test
    void maximumLikelihoodOfExampleA() {
        BearingFix fix = BearingFix.ofUnknownKappa(EXAMPLE_A);
        assertThat(fix.xM()).isCloseTo(553455.137, within(0.01));
        assertThat(fix.yM()).isCloseTo(2814130.725, within(0.01));
        assertThat(fix.kappa()).isCloseTo(231.88, within(0.01));
        assertThat(fix.covariance()[0]).isCloseTo(383.17, within(0.02));
        assertThat(fix.covariance()[1]).isCloseTo(71.75, within(0.02));
        assertThat(fix.covariance()[2]).isCloseTo(232.24, within(0.02));
        BearingFix.Ellipse ellipse = fix.ellipse(5.991);
        assertThat(ellipse.semiMajorM()).isCloseTo(49.67, within(0.05));
        assertThat(ellipse.semiMinorM()).isCloseTo(34.92, within(0.05));
        assertThat(ellipse.azimuthDeg()).isCloseTo(68.2, within(0.2));
        assertThat(ellipse.areaM2()).isCloseTo(5450, within(10.0));
    }

    @Test
    void exampleAWithAKnownSpread() {
        BearingFix fix = BearingFix.of(EXAMPLE_A, Method.MAXIMUM_LIKELIHOOD, VonMises.concentrationOfSd(5));
        BearingFix.Ellipse ellipse = fix.ellipse(5.991);
        assertThat(ellipse.semiMajorM()).isCloseTo(65.84, within(0.05));
        assertThat(ellipse.semiMinorM()).isCloseTo(46.29, within(0.05));
        assertThat(ellipse.areaM2()).isCloseTo(9574, within(15.0));
        assertThat(fix.cutDeg()).isCloseTo(80, within(1e-9));
    }

    @Test
    void robustFormsOfExampleB() {
        BearingFix plain = BearingFix.of(EXAMPLE_B, Method.MAXIMUM_LIKELIHOOD, KAPPA_B);
        assertThat(plain.xM()).isCloseTo(493.7, within(0.1));
        assertThat(plain.yM()).isCloseTo(1483.0, within(0.1));
        BearingFix huber = BearingFix.of(EXAMPLE_B, Method.HUBER, KAPPA_B);
        assertThat(huber.xM()).isCloseTo(788.22, within(0.1));
        assertThat(huber.yM()).isCloseTo(1104.05, within(0.1));
        BearingFix andrews = BearingFix.of(EXAMPLE_B, Method.ANDREWS, KAPPA_B);
        assertThat(andrews.xM()).isCloseTo(869.07, within(0.1));
        assertThat(andrews.yM()).isCloseTo(1086.72, within(0.1));
        assertThat(andrews.weights()[5]).isZero();
        assertThat(Math.abs(andrews.residualDeg()[5])).isGreaterThan(50);
    }

    /** Slow twin: a fine search over a grid finds no better place. */
    @Test
    void noPlaceOnAGridIsBetter() {
        Random random = new Random(5);
        for (int k = 0; k < 20; k++) {
            List<Line> lines = new ArrayList<>();
            for (int i = 0; i < 5; i++) {
                double x = random.nextDouble() * 4000;
                double y = random.nextDouble() * 4000;
                double to = Math.toDegrees(Math.atan2(2000 - x, 2500 - y)) + 10 * random.nextGaussian();
                lines.add(new Line(x, y, to));
            }
            BearingFix fix = BearingFix.of(lines, Method.MAXIMUM_LIKELIHOOD, 33.5);
            double best = cosines(lines, fix.xM(), fix.yM());
            for (double x = -2000; x <= 6000; x += 50) {
                for (double y = -2000; y <= 6000; y += 50) {
                    assertThat(cosines(lines, x, y)).isLessThanOrEqualTo(best + 1e-9);
                }
            }
        }
    }

    private static double cosines(List<Line> lines, double x, double y) {
        double sum = 0;
        for (Line line : lines) {
            sum += Math.cos(Math.toRadians(line.bearingDeg()) - Math.atan2(x - line.xM(), y - line.yM()));
        }
        return sum;
    }

    /** κ of 5°, 10°, 15° (Lenth 1981, eq. 2.10 form; recomputed); 2 F(2, n−2) at 95 % (R qf(0.95, 2, n−2)·2). */
    @Test
    void concentrationsAndMultipliers() {
        assertThat(VonMises.concentrationOfSd(5)).isCloseTo(131.995, within(0.001));
        assertThat(VonMises.concentrationOfSd(10)).isCloseTo(33.510, within(0.001));
        assertThat(VonMises.concentrationOfSd(15)).isCloseTo(15.271, within(0.001));
        assertThat(BearingFix.estimatedKappa95(3)).isCloseTo(399.0, within(0.001));
        assertThat(BearingFix.estimatedKappa95(5)).isCloseTo(19.104, within(0.001));
        assertThat(BearingFix.estimatedKappa95(10)).isCloseTo(8.918, within(0.001));
        // e^(−x) I0(x) from tables: I0(1) = 1.2660658778, I0(5) = 27.2398718236 (Abramowitz and Stegun, table 9.8).
        assertThat(VonMises.scaledBessel(1)).isCloseTo(1.2660658778 * Math.exp(-1), within(1e-6));
        assertThat(VonMises.scaledBessel(5)).isCloseTo(27.2398718236 * Math.exp(-5), within(1e-6));
        assertThat(VonMises.unbiased(1.0, 10)).isCloseTo(0.8, within(1e-12));
    }

    @Test
    void refusesWhatMakesNoFix() {
        assertThatThrownBy(() -> BearingFix.of(EXAMPLE_A.subList(0, 1), Method.HUBER, 10))
                .hasMessageContaining("two at least");
        assertThatThrownBy(() ->
                        BearingFix.of(List.of(new Line(0, 0, 10), new Line(100, 0, 10)), Method.MAXIMUM_LIKELIHOOD, 10))
                .hasMessageContaining("no two of them cross");
        assertThatThrownBy(() -> BearingFix.estimatedKappa95(2)).hasMessageContaining("three at least");
    }
}
