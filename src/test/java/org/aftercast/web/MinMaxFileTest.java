package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The summary against a slow plain look at every sample. */
class MinMaxFileTest {

    @TempDir
    private Path dir;

    private final float[] samples = samples(300_007);

    private static float[] samples(int n) {
        Random random = new Random(11);
        float[] values = new float[n];
        for (int i = 0; i < n; i++) {
            values[i] = (float) (Math.sin(i / 900.0) + 0.1 * random.nextGaussian());
        }
        for (int i = 120_000; i < 140_000; i++) {
            values[i] = Float.NaN;
        }
        values[77_777] = 99;
        values[n - 1] = -99;
        return values;
    }

    private MinMaxFile file() throws Exception {
        Path file = dir.resolve("a.minmax");
        MinMaxFile.write(
                file,
                new MinMaxFile.Header("k", samples.length, List.of("x")),
                (series, from, count, into) -> System.arraycopy(samples, (int) from, into, 0, count));
        return MinMaxFile.open(file);
    }

    @Test
    void aColumnHoldsAllItsSamplesAndAtMostAQuarterOfItsNeighbours() throws Exception {
        MinMaxFile file = file();
        Random random = new Random(5);
        for (int round = 0; round < 200; round++) {
            int columns = 1 + random.nextInt(300);
            double perColumn = Math.exp(random.nextDouble() * Math.log(samples.length / 64.0 / 2)) * 64;
            double from = random.nextDouble() * samples.length;
            float[] min = new float[columns];
            float[] max = new float[columns];
            file.window(0, from, perColumn, min, max);
            for (int c = 0; c < columns; c++) {
                double a = from + c * perColumn;
                double b = a + perColumn;
                float[] inside = plain(a, b);
                float[] around = plain(a - perColumn / 4, b + perColumn / 4);
                if (Float.isNaN(inside[0])) {
                    continue;
                }
                assertThat(min[c]).isLessThanOrEqualTo(inside[0]).isGreaterThanOrEqualTo(around[0]);
                assertThat(max[c]).isGreaterThanOrEqualTo(inside[1]).isLessThanOrEqualTo(around[1]);
            }
        }
    }

    /** Every sample from a (rounded up) to b, one by one. */
    private float[] plain(double a, double b) {
        float lo = Float.NaN;
        float hi = Float.NaN;
        for (int i = (int) Math.max(0, Math.ceil(a)); i < Math.min(samples.length, b); i++) {
            float v = samples[i];
            if (!Float.isNaN(v)) {
                lo = Float.isNaN(lo) ? v : Math.min(lo, v);
                hi = Float.isNaN(hi) ? v : Math.max(hi, v);
            }
        }
        return new float[] {lo, hi};
    }

    @Test
    void oneSpikeShowsAtEveryZoomAndAGapStaysEmpty() throws Exception {
        MinMaxFile file = file();
        for (double perColumn = 64; perColumn < samples.length; perColumn *= 1.7) {
            int columns = (int) Math.ceil(samples.length / perColumn);
            float[] min = new float[columns];
            float[] max = new float[columns];
            file.window(0, 0, perColumn, min, max);
            assertThat(max[(int) (77_777 / perColumn)]).isEqualTo(99f);
            assertThat(min[columns - 1]).isEqualTo(-99f);
        }
        float[] min = new float[10];
        float[] max = new float[10];
        file.window(0, 121_000, 1000, min, max);
        assertThat(min).containsOnly(Float.NaN);
    }

    @Test
    void aCutOrForeignFileIsNotUsed() throws Exception {
        file();
        Path file = dir.resolve("a.minmax");
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.truncate(Files.size(file) - 8);
        }
        assertThatThrownBy(() -> MinMaxFile.open(file)).hasMessageContaining("ends too early");
        Path other = Files.writeString(dir.resolve("b.minmax"), "something else entirely");
        assertThatThrownBy(() -> MinMaxFile.open(other)).hasMessageContaining("not a min/max file");
    }
}
