package org.aftercast.sim;

/**
 * Surface waves in deep water: a few components about the peak period. A particle at depth d (m) moves on circles that
 * shrink as exp(−k·d) with k = ω²/g (linear wave theory, deep water; textbook, from memory).
 */
final class Waves {

    private static final int COMPONENTS = 6;
    private static final double G = 9.80665;

    private final double[] amplitudeM = new double[COMPONENTS];
    private final double[] omega = new double[COMPONENTS];
    private final double[] number = new double[COMPONENTS];
    private final double[] cos = new double[COMPONENTS];
    private final double[] sin = new double[COMPONENTS];
    private final double[] stepCos = new double[COMPONENTS];
    private final double[] stepSin = new double[COMPONENTS];
    private final double[] decay = new double[COMPONENTS];
    private boolean felt;
    private int moved;

    /**
     * @param significantHeightM four times the standard deviation of the surface, m
     * @param peakPeriodS period at the peak, s
     * @param stepS time between two calls of {@link #step()}, s
     * @param dice where the components' phases come from
     */
    Waves(double significantHeightM, double peakPeriodS, double stepS, Dice dice) {
        double[] ratio = {0.78, 0.92, 1.0, 1.11, 1.32, 1.75};
        double[] weight = {0.15, 0.7, 1.0, 0.75, 0.4, 0.15};
        double total = 0;
        for (double w : weight) {
            total += w;
        }
        double variance = significantHeightM * significantHeightM / 16;
        for (int i = 0; i < COMPONENTS; i++) {
            amplitudeM[i] = Math.sqrt(2 * variance * weight[i] / total);
            omega[i] = 2 * Math.PI / peakPeriodS * ratio[i] * dice.between(0.97, 1.03);
            number[i] = omega[i] * omega[i] / G;
            double phase = dice.between(0, 2 * Math.PI);
            cos[i] = Math.cos(phase);
            sin[i] = Math.sin(phase);
            stepCos[i] = Math.cos(omega[i] * stepS);
            stepSin[i] = Math.sin(omega[i] * stepS);
        }
        atDepth(0);
    }

    /** Sets the depth at which the next values are asked for. */
    void atDepth(double depthM) {
        felt = false;
        for (int i = 0; i < COMPONENTS; i++) {
            decay[i] = Math.exp(-number[i] * Math.max(0, depthM));
            if (amplitudeM[i] * omega[i] * omega[i] * decay[i] > 1e-4 * G) {
                felt = true;
            }
        }
    }

    /** Whether any component moves water at the depth set by more than 0.0001 g. */
    boolean felt() {
        return felt;
    }

    /** Moves on by one step. */
    void step() {
        for (int i = 0; i < COMPONENTS; i++) {
            double c = cos[i] * stepCos[i] - sin[i] * stepSin[i];
            sin[i] = sin[i] * stepCos[i] + cos[i] * stepSin[i];
            cos[i] = c;
        }
        if (++moved % 4096 == 0) {
            for (int i = 0; i < COMPONENTS; i++) {
                double scale = 1 / Math.hypot(cos[i], sin[i]); // rounding would let the circles grow or shrink
                cos[i] *= scale;
                sin[i] *= scale;
            }
        }
    }

    /** Upward acceleration of the water, m/s². */
    double upMps2() {
        double sum = 0;
        for (int i = 0; i < COMPONENTS; i++) {
            sum -= amplitudeM[i] * omega[i] * omega[i] * decay[i] * cos[i];
        }
        return sum;
    }

    /** Acceleration of the water along the waves' direction, m/s². */
    double alongMps2() {
        double sum = 0;
        for (int i = 0; i < COMPONENTS; i++) {
            sum += amplitudeM[i] * omega[i] * omega[i] * decay[i] * sin[i];
        }
        return sum;
    }

    /** What a pressure sensor held still at the depth sees of the waves, m of water. */
    double pressureM() {
        double sum = 0;
        for (int i = 0; i < COMPONENTS; i++) {
            sum += amplitudeM[i] * decay[i] * cos[i];
        }
        return sum;
    }
}
