package org.aftercast.motion;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.zip.GZIPInputStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;

/**
 * Real recordings, two independent loggers on one runner at 100 Hz (M. Karas et al. 2021, data package "adeptdata",
 * GPL-3, not kept in this project). The ankle beats once a stride, the hip twice. This checks arithmetic on real signals,
 * not fish. Reference: own FFT of the modulus in 20 s windows, medians 2.609 and 1.306 Hz, median mismatch 0.0015 Hz.
 */
class RealRecordingTest {

    private static final Path DATA =
            Path.of(System.getProperty("aftercast.basedir", ".")).resolve("../shared/data/running_two_loggers_100hz");

    @Test
    void hipBeatsTwiceForEachAnkleStrideAndStandingIsQuiet() throws IOException {
        Assumptions.assumeTrue(Files.isDirectory(DATA), "the shared data folder is not beside this checkout");
        MotionReading hip = read("run_left_hip_100hz.csv.gz", 2.0, 3.6);
        MotionReading ankle = read("run_left_ankle_100hz.csv.gz", 1.0, 1.8);
        double[] mismatch = new double[74];
        int n = 0;
        for (int w = 0; w < 74; w++) {
            double fast = medianHz(hip.beats(), 20.0 * w, 20.0 * (w + 1));
            double slow = medianHz(ankle.beats(), 20.0 * w, 20.0 * (w + 1));
            if (!Double.isNaN(fast) && !Double.isNaN(slow)) {
                mismatch[n++] = Math.abs(fast - 2 * slow);
            }
        }
        double[] sorted = Arrays.copyOf(mismatch, n);
        Arrays.sort(sorted);
        assertThat(n).as("windows with beats on both").isGreaterThan(50);
        assertThat(sorted[n / 2]).as("median mismatch, Hz").isLessThanOrEqualTo(0.02);
        assertThat(medianHz(hip.beats(), 0, 1500)).isBetween(2.609 - 0.05, 2.609 + 0.05);
        assertThat(medianHz(ankle.beats(), 0, 1500)).isBetween(1.306 - 0.03, 1.306 + 0.03);
        // Standing still at 420-480 s: activity there is below a tenth of its median over the run.
        for (MotionReading reading : List.of(hip, ankle)) {
            float[] l2 = reading.seconds().dynamicL2G();
            float[] all = l2.clone();
            Arrays.sort(all);
            double usual = all[all.length / 2];
            int quiet = 0;
            for (int k = 420; k < 480; k++) {
                quiet += l2[k] < 0.1 * usual ? 1 : 0;
            }
            assertThat(quiet).as("quiet seconds of 60").isGreaterThanOrEqualTo(54);
            assertThat(Arrays.stream(reading.beats().startS())
                            .filter(s -> s > 425 && s < 475)
                            .count())
                    .as("beats while standing")
                    .isZero();
        }
    }

    private static double medianHz(Beats beats, double fromS, double toS) {
        double[] hz = new double[beats.count()];
        int n = 0;
        for (int i = 0; i < beats.count(); i++) {
            if (beats.startS()[i] >= fromS && beats.startS()[i] < toS) {
                hz[n++] = 1 / beats.periodS()[i];
            }
        }
        if (n < 10) {
            return Double.NaN;
        }
        double[] sorted = Arrays.copyOf(hz, n);
        Arrays.sort(sorted);
        return sorted[n / 2];
    }

    private static MotionReading read(String name, double lowHz, double highHz) throws IOException {
        int n = 150_000;
        float[][] axes = new float[3][n];
        try (BufferedReader in = new BufferedReader(new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(DATA.resolve(name))), StandardCharsets.US_ASCII))) {
            in.readLine();
            for (int i = 0; i < n; i++) {
                String[] cells = in.readLine().split(",");
                for (int c = 0; c < 3; c++) {
                    axes[c][i] = Float.parseFloat(cells[c + 1]);
                }
            }
        }
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        columns.put(Channel.ACCELERATION_X, axes[0]);
        columns.put(Channel.ACCELERATION_Y, axes[1]);
        columns.put(Channel.ACCELERATION_Z, axes[2]);
        MotionSettings d = MotionSettings.defaults();
        MotionSettings settings = new MotionSettings(
                lowHz,
                highHz,
                MotionSettings.BeatAxis.STRONGEST,
                null,
                d.latitudeDeg(),
                d.noiseMultiple(),
                null,
                d.bridgeS(),
                d.mounts());
        Recording recording = new Recording(
                "0".repeat(64), new SampleClock(null, 100), new MemorySamples(columns), List.of(), List.of());
        return MotionReader.read(recording, settings);
    }
}
