package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.intake.DownloadLayout.Calibration;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;

/**
 * Calibration of the acceleration axes from still poses: a logger at rest feels exactly 1 g, whichever way it lies.
 *
 * <p>Model: u = gain · (m − offset), axis by axis, |u| = 1 g in every pose. With the pose means m this is an ellipsoid
 * with its axes along the sensor's, A·x² + B·x + C·y² + D·y + E·z² + F·z = 1, fitted by linear least squares; then
 * offset = −B/(2A), and gain = √(A/k) with k = 1 + B²/(4A) + D²/(4C) + F²/(4E). Six poses that differ are needed; the six
 * faces of a box are the best six. Cross-axis sensitivity is not modelled. Reference: frosio2009.
 *
 * <p>A pose is found where each axis varies by at most {@value #STILL_SD_G} g (standard deviation) in windows of
 * {@value #WINDOW_S} s; still windows that follow one another and point within {@value #SAME_DEG}° are one pose.
 */
public final class StillPoses {

    /** Largest standard deviation of an axis within a still window, in g. */
    public static final double STILL_SD_G = 0.02;

    /** Length of a window in seconds. */
    public static final double WINDOW_S = 1;

    /** Poses nearer than this in direction count as the same, in degrees. */
    public static final double SAME_DEG = 20;

    private static final int LEAST_POSES = 6;
    private static final int UNKNOWNS = 6;

    private StillPoses() {}

    /**
     * A calibration and how well it fits.
     *
     * @param calibration offsets and gains
     * @param poses mean acceleration of each pose before calibration, in g: arrays of x, y, z
     * @param residualG root mean square of |u| − 1 over the poses, in g
     */
    public record Result(Calibration calibration, List<double[]> poses, double residualG) {}

    /**
     * Finds still poses and fits.
     *
     * @param recording with three axes, uncalibrated, at least some seconds in each pose
     * @param file name used in errors
     * @throws ImportException if there are fewer than six poses, they do not differ enough, or the fit makes no sense
     */
    public static Result calibrate(Recording recording, String file) throws ImportException {
        for (Channel channel : Channel.values()) {
            if (channel.isAcceleration() && !recording.has(channel)) {
                throw new ImportException(file, 0, 0, "carries no " + channel.columnName(), "three acceleration axes");
            }
        }
        return fit(poses(recording), file);
    }

    private static List<double[]> poses(Recording recording) {
        int window = (int) Math.max(4, Math.round(WINDOW_S * recording.clock().sampleRateHz()));
        float[][] axes = new float[3][window];
        List<double[]> sums = new ArrayList<>();
        List<Integer> counts = new ArrayList<>();
        for (long from = 0; from + window <= recording.samples().sampleCount(); from += window) {
            recording.samples().read(Channel.ACCELERATION_X, from, window, axes[0], 0);
            recording.samples().read(Channel.ACCELERATION_Y, from, window, axes[1], 0);
            recording.samples().read(Channel.ACCELERATION_Z, from, window, axes[2], 0);
            double[] mean = stillMean(axes, window);
            if (mean.length > 0) {
                addTo(sums, counts, mean);
            }
        }
        for (int p = 0; p < sums.size(); p++) {
            for (int a = 0; a < 3; a++) {
                sums.get(p)[a] /= counts.get(p);
            }
        }
        return sums;
    }

    /** Mean of each axis, or an empty array if the window is not still. */
    private static double[] stillMean(float[][] axes, int window) {
        double[] mean = new double[3];
        for (int a = 0; a < 3; a++) {
            double sum = 0;
            double squares = 0;
            for (float v : axes[a]) {
                sum += v;
                squares += (double) v * v;
            }
            mean[a] = sum / window;
            double variance = squares / window - mean[a] * mean[a];
            if (!(variance <= STILL_SD_G * STILL_SD_G)) {
                return new double[0];
            }
        }
        return mean;
    }

    private static void addTo(List<double[]> sums, List<Integer> counts, double[] mean) {
        for (int p = 0; p < sums.size(); p++) {
            if (angleDeg(sums.get(p), mean) < SAME_DEG) {
                for (int a = 0; a < 3; a++) {
                    sums.get(p)[a] += mean[a];
                }
                counts.set(p, counts.get(p) + 1);
                return;
            }
        }
        sums.add(mean);
        counts.add(1);
    }

    private static double angleDeg(double[] a, double[] b) {
        double dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        double lengths = Math.hypot(Math.hypot(a[0], a[1]), a[2]) * Math.hypot(Math.hypot(b[0], b[1]), b[2]);
        return lengths == 0 ? 0 : Math.toDegrees(Math.acos(Math.max(-1, Math.min(1, dot / lengths))));
    }

    /**
     * Fits offsets and gains to pose means.
     *
     * @param poses means of x, y, z in g, at least six
     * @param file name used in errors
     */
    static Result fit(List<double[]> poses, String file) throws ImportException {
        if (poses.size() < LEAST_POSES) {
            throw new ImportException(
                    file,
                    0,
                    0,
                    "holds " + poses.size() + " still poses that differ",
                    "at least six, such as a box laid on each of its faces for ten seconds");
        }
        double[][] normal = new double[UNKNOWNS][UNKNOWNS + 1];
        for (double[] m : poses) {
            double[] row = {m[0] * m[0], m[0], m[1] * m[1], m[1], m[2] * m[2], m[2]};
            for (int i = 0; i < UNKNOWNS; i++) {
                for (int j = 0; j < UNKNOWNS; j++) {
                    normal[i][j] += row[i] * row[j];
                }
                normal[i][UNKNOWNS] += row[i];
            }
        }
        double[] p = solve(normal, file);
        double k = 1;
        for (int a = 0; a < 3; a++) {
            k += p[2 * a + 1] * p[2 * a + 1] / (4 * p[2 * a]);
        }
        List<Double> offset = new ArrayList<>();
        List<Double> gain = new ArrayList<>();
        for (int a = 0; a < 3; a++) {
            double g = Math.sqrt(p[2 * a] / k);
            double o = -p[2 * a + 1] / (2 * p[2 * a]);
            if (!(g > 0.5 && g < 2 && Math.abs(o) < 0.5)) {
                throw notApart(file);
            }
            gain.add(g);
            offset.add(o);
        }
        double squares = 0;
        for (double[] m : poses) {
            double size = 0;
            for (int a = 0; a < 3; a++) {
                double u = gain.get(a) * (m[a] - offset.get(a));
                size += u * u;
            }
            squares += (Math.sqrt(size) - 1) * (Math.sqrt(size) - 1);
        }
        return new Result(new Calibration(offset, gain), poses, Math.sqrt(squares / poses.size()));
    }

    /** Gaussian elimination with the largest pivot. */
    private static double[] solve(double[][] a, String file) throws ImportException {
        int n = a.length;
        for (int c = 0; c < n; c++) {
            int pivot = c;
            for (int r = c + 1; r < n; r++) {
                pivot = Math.abs(a[r][c]) > Math.abs(a[pivot][c]) ? r : pivot;
            }
            double[] swap = a[c];
            a[c] = a[pivot];
            a[pivot] = swap;
            if (Math.abs(a[c][c]) < 1e-6) {
                throw notApart(file);
            }
            for (int r = c + 1; r < n; r++) {
                double f = a[r][c] / a[c][c];
                for (int k = c; k <= n; k++) {
                    a[r][k] -= f * a[c][k];
                }
            }
        }
        double[] x = new double[n];
        for (int r = n - 1; r >= 0; r--) {
            double sum = a[r][n];
            for (int k = r + 1; k < n; k++) {
                sum -= a[r][k] * x[k];
            }
            x[r] = sum / a[r][r];
        }
        return x;
    }

    private static ImportException notApart(String file) {
        return new ImportException(
                file,
                0,
                0,
                "holds still poses that do not tell offsets and gains apart",
                "six poses with each axis once up and once down");
    }
}
