package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.junit.jupiter.api.Test;

/** Exact cases: the sensor's errors are chosen, the poses follow from them in closed form, and the fit must undo them. */
class StillPosesTest {

    private static final double[] OFFSET_G = {0.031, -0.052, 0.018};
    private static final double[] GAIN = {1.021, 0.974, 1.008};

    private static final double[][] FACES = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}};

    @Test
    void undoesChosenOffsetsAndGainsFromTheSixFacesOfABox() throws Exception {
        List<double[]> poses = new ArrayList<>();
        for (double[] up : FACES) {
            poses.add(seen(up));
        }
        StillPoses.Result result = StillPoses.fit(poses, "poses");
        for (int a = 0; a < 3; a++) {
            assertThat(result.calibration().offsetG().get(a)).isCloseTo(OFFSET_G[a], within(1e-12));
            assertThat(result.calibration().gain().get(a)).isCloseTo(GAIN[a], within(1e-12));
        }
        assertThat(result.residualG()).isLessThan(1e-12);
    }

    /** Six-position rule, (max + min)/2 and (max − min)/2: readings +1.043 and −0.981 mean offset 0.031, slope 1.012. */
    @Test
    void agreesWithTheSixPositionRule() throws Exception {
        List<double[]> poses = new ArrayList<>();
        for (double[] up : FACES) {
            double[] seen = new double[3];
            for (int a = 0; a < 3; a++) {
                seen[a] = up[a] > 0 ? 1.043 : up[a] < 0 ? -0.981 : 0.031;
            }
            poses.add(seen);
        }
        StillPoses.Result result = StillPoses.fit(poses, "poses");
        for (int a = 0; a < 3; a++) {
            assertThat(result.calibration().offsetG().get(a)).isCloseTo(0.031, within(1e-12));
            assertThat(1 / result.calibration().gain().get(a)).isCloseTo(1.012, within(1e-12));
        }
    }

    @Test
    void findsThePosesInARecordingWithHandlingBetweenThem() throws Exception {
        Random random = new Random(6);
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        int poseRows = 500;
        int moveRows = 200;
        float[][] axes = new float[3][FACES.length * (poseRows + moveRows)];
        for (int p = 0; p < FACES.length; p++) {
            double[] m = seen(FACES[p]);
            for (int i = 0; i < poseRows + moveRows; i++) {
                double noise = i < poseRows ? 0.005 : 0.6;
                for (int a = 0; a < 3; a++) {
                    axes[a][p * (poseRows + moveRows) + i] = (float) (m[a] + noise * random.nextGaussian());
                }
            }
        }
        columns.put(Channel.ACCELERATION_X, axes[0]);
        columns.put(Channel.ACCELERATION_Y, axes[1]);
        columns.put(Channel.ACCELERATION_Z, axes[2]);
        StillPoses.Result result = StillPoses.calibrate(
                new Recording("", new SampleClock(null, 50), new MemorySamples(columns), List.of(), List.of()),
                "poses");
        assertThat(result.poses()).hasSize(6);
        // the mean of 500 samples with 0.005 g noise is good to 0.00022 g; five times that
        for (int a = 0; a < 3; a++) {
            assertThat(result.calibration().offsetG().get(a)).isCloseTo(OFFSET_G[a], within(0.0011));
            assertThat(result.calibration().gain().get(a)).isCloseTo(GAIN[a], within(0.0011));
        }
    }

    @Test
    void refusesPosesThatDoNotTellEnough() {
        List<double[]> five = new ArrayList<>();
        for (int p = 0; p < 5; p++) {
            five.add(seen(FACES[p]));
        }
        assertThatThrownBy(() -> StillPoses.fit(five, "poses"))
                .isInstanceOf(ImportException.class)
                .hasMessage(
                        "poses: holds 5 still poses that differ; accepted: at least six, such as a box laid on each of"
                                + " its faces for ten seconds");
        List<double[]> flat = new ArrayList<>();
        for (int p = 0; p < 8; p++) {
            flat.add(new double[] {Math.cos(p * Math.PI / 4), Math.sin(p * Math.PI / 4), 0});
        }
        assertThatThrownBy(() -> StillPoses.fit(flat, "poses"))
                .isInstanceOf(ImportException.class)
                .hasMessageContaining("do not tell offsets and gains apart");
    }

    /** What the sensor shows when {@code up} is the true direction: m = u / gain + offset. */
    private static double[] seen(double[] up) {
        double[] m = new double[3];
        for (int a = 0; a < 3; a++) {
            m[a] = up[a] / GAIN[a] + OFFSET_G[a];
        }
        return m;
    }
}
