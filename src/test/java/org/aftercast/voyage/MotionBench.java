package org.aftercast.voyage;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.TextImport;
import org.aftercast.motion.MotionReader;
import org.aftercast.motion.MotionReading;
import org.aftercast.motion.MotionSettings;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.SimulatedRecording;

/**
 * The measured half of {@code bench/motion}: one mode a process, one line of figures as JSON. The input is invented: a
 * swimming animal for 24 h at 100 Hz.
 */
public final class MotionBench {

    private static final double BAND_LOW_HZ = 0.3;
    private static final double BAND_HIGH_HZ = 3;
    private static final Channel[] COLUMNS = {
        Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z, Channel.DEPTH, Channel.TEMPERATURE
    };

    private MotionBench() {}

    /** Arguments: {@code make FOLDER HOURS}, or {@code csv|array|stored FILE} (array: columns.f32). */
    public static void main(String[] args) throws Exception {
        Path path = Path.of(args[1]);
        switch (args[0]) {
            case "make" -> make(path, Double.parseDouble(args[2]));
            case "csv" -> csv(path);
            case "array" -> array(path);
            case "stored" -> stored(path);
            default -> throw new IllegalArgumentException(args[0]);
        }
    }

    private static MotionSettings settings() {
        MotionSettings d = MotionSettings.defaults();
        return new MotionSettings(
                BAND_LOW_HZ,
                BAND_HIGH_HZ,
                d.beatAxis(),
                d.lengthM(),
                d.latitudeDeg(),
                d.noiseMultiple(),
                d.noiseG(),
                d.bridgeS(),
                d.mounts());
    }

    private static void csv(Path file) throws IOException {
        double cpuStart = cpuS();
        long start = System.nanoTime();
        Recording recording = TextImport.read(file, null, ImportOptions.none()).recording();
        long parsed = System.nanoTime();
        double cpuParsed = cpuS();
        MotionReading reading = MotionReader.read(recording, settings());
        long end = System.nanoTime();
        print(reading, (parsed - start) / 1e9, new double[] {(end - parsed) / 1e9}, cpuParsed - cpuStart, new double[] {
            cpuS() - cpuParsed
        });
    }

    /** Five columns of little-endian single precision, one after the other. */
    private static void array(Path file) throws IOException {
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        int n = (int) (Files.size(file) / Float.BYTES / COLUMNS.length);
        try (FileChannel in = FileChannel.open(file)) {
            for (int c = 0; c < COLUMNS.length; c++) {
                float[] column = new float[n];
                in.map(FileChannel.MapMode.READ_ONLY, (long) c * n * Float.BYTES, (long) n * Float.BYTES)
                        .order(ByteOrder.LITTLE_ENDIAN)
                        .asFloatBuffer()
                        .get(column);
                columns.put(COLUMNS[c], column);
            }
        }
        Recording recording = new Recording(
                "0".repeat(64), new SampleClock(null, 100), new MemorySamples(columns), List.of(), List.of());
        repeat(() -> recording);
    }

    /** Opened anew each time, so that every run decodes the file. */
    private static void stored(Path file) throws IOException {
        repeat(() -> ColumnStore.parquet().open(file));
    }

    private interface Source {
        Recording open() throws IOException;
    }

    private static void repeat(Source source) throws IOException {
        double[] times = new double[7];
        double[] cpu = new double[times.length];
        MotionReading reading = null;
        for (int i = 0; i < times.length; i++) {
            long start = System.nanoTime();
            double cpuStart = cpuS();
            reading = MotionReader.read(source.open(), settings());
            times[i] = (System.nanoTime() - start) / 1e9;
            cpu[i] = cpuS() - cpuStart;
        }
        print(java.util.Objects.requireNonNull(reading), 0, times, 0, cpu);
    }

    private static void print(
            MotionReading reading, double parseS, double[] computeS, double parseCpuS, double[] computeCpuS) {
        System.out.printf(
                Locale.ROOT,
                "{\"parseS\": %.3f, \"computeS\": %s, \"parseCpuS\": %.3f, \"computeCpuS\": %s, \"beats\": %d,"
                        + " \"beatHz\": %.6f, \"amplitudeG\": %.6f, \"pitchDeg\": %.4f, \"rollDeg\": %.4f,"
                        + " \"l1G\": %.6f, \"l2G\": %.6f, \"jerkGps\": %.6f, \"swayRmsG\": %.6f, \"depthM\": %.5f,"
                        + " \"tempC\": %.5f}%n",
                parseS,
                Arrays.toString(computeS),
                parseCpuS,
                Arrays.toString(computeCpuS),
                reading.beats().count(),
                1 / median(reading.beats().periodS()),
                median(reading.beats().amplitudeG()),
                median(reading.seconds().pitchDeg()),
                median(reading.seconds().rollDeg()),
                median(reading.seconds().dynamicL1G()),
                median(reading.seconds().dynamicL2G()),
                median(reading.seconds().jerkGps()),
                median(reading.seconds().swayRmsG()),
                median(reading.seconds().depthM()),
                median(reading.seconds().tempC()));
    }

    private static double cpuS() {
        return java.lang.ProcessHandle.current()
                        .info()
                        .totalCpuDuration()
                        .orElse(java.time.Duration.ZERO)
                        .toNanos()
                / 1e9;
    }

    private static double median(float[] values) {
        double[] sorted = new double[values.length];
        int n = 0;
        for (float v : values) {
            if (!Float.isNaN(v)) {
                sorted[n++] = v;
            }
        }
        sorted = Arrays.copyOf(sorted, n);
        Arrays.sort(sorted);
        return n == 0 ? Double.NaN : sorted[n / 2];
    }

    private static void make(Path folder, double hours) throws IOException {
        Files.createDirectories(folder);
        Scenario base = Scenario.swimmer();
        SimulatedRecording made = RecordingSimulator.simulate(
                base.withLogger(base.logger().with(100, hours))
                        .withRecovery(null)
                        .withEnding(base.ending().with(base.ending().course(), hours * 0.9, hours + 1)),
                20260601);
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        int n = (int) made.samples().sampleCount();
        for (Channel channel : made.samples().channels()) {
            float[] column = new float[n];
            made.samples().read(channel, 0, n, column, 0);
            columns.put(channel, column);
        }
        float last = 0;
        for (Channel slow : new Channel[] {Channel.DEPTH, Channel.TEMPERATURE}) {
            float[] column = java.util.Objects.requireNonNull(columns.get(slow));
            for (int i = 0; i < n; i++) { // held between its samples, as many loggers write it
                last = Float.isNaN(column[i]) ? last : column[i];
                column[i] = last;
            }
        }
        raw(folder.resolve("columns.f32"), columns);
        write(folder.resolve("iso.csv"), columns, n, true);
        write(folder.resolve("epoch.csv"), columns, n, false);
        Recording recording = TextImport.read(folder.resolve("epoch.csv"), null, ImportOptions.none())
                .recording();
        ColumnStore.parquet()
                .write(
                        new Recording(
                                recording.sourceSha256(),
                                recording.clock(),
                                new MemorySamples(columns),
                                recording.gaps(),
                                recording.flags()),
                        folder.resolve("stored.parquet"));
    }

    private static void raw(Path file, Map<Channel, float[]> columns) throws IOException {
        try (FileChannel out = FileChannel.open(
                file, StandardOpenOption.CREATE, StandardOpenOption.WRITE, StandardOpenOption.TRUNCATE_EXISTING)) {
            for (Channel channel : COLUMNS) {
                float[] column = java.util.Objects.requireNonNull(columns.get(channel));
                ByteBuffer bytes =
                        ByteBuffer.allocate(column.length * Float.BYTES).order(ByteOrder.LITTLE_ENDIAN);
                bytes.asFloatBuffer().put(column);
                while (bytes.hasRemaining()) {
                    out.write(bytes);
                }
            }
        }
    }

    private static void write(Path file, Map<Channel, float[]> c, int n, boolean iso) throws IOException {
        DateTimeFormatter stamp =
                DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss.SS'Z'").withZone(ZoneOffset.UTC);
        long startMs = Instant.parse("2026-06-01T08:00:00Z").toEpochMilli();
        StringBuilder block = new StringBuilder();
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 20)) {
            block.append(iso ? "time_utc" : "epoch_s").append(",acc_x_g,acc_y_g,acc_z_g,depth_m,temp_c\n");
            for (int i = 0; i < n; i++) {
                long ms = startMs + 10L * i;
                if (iso) {
                    block.append(stamp.format(Instant.ofEpochMilli(ms)));
                } else {
                    block.append(ms / 1000).append('.').append(String.format(Locale.ROOT, "%02d", ms % 1000 / 10));
                }
                fixed(block, value(c, Channel.ACCELERATION_X, i), 1000);
                fixed(block, value(c, Channel.ACCELERATION_Y, i), 1000);
                fixed(block, value(c, Channel.ACCELERATION_Z, i), 1000);
                fixed(block, value(c, Channel.DEPTH, i), 100);
                fixed(block, value(c, Channel.TEMPERATURE, i), 100);
                block.append('\n');
                if (block.length() > 1 << 16) {
                    out.write(block.toString().getBytes(StandardCharsets.US_ASCII));
                    block.setLength(0);
                }
            }
            out.write(block.toString().getBytes(StandardCharsets.US_ASCII));
        }
    }

    private static float value(Map<Channel, float[]> columns, Channel channel, int i) {
        return java.util.Objects.requireNonNull(columns.get(channel))[i];
    }

    private static void fixed(StringBuilder out, float value, int scale) {
        long scaled = Math.round((double) value * scale);
        out.append(',');
        if (scaled < 0) {
            out.append('-');
            scaled = -scaled;
        }
        String digits = Long.toString(scaled % scale);
        out.append(scaled / scale).append('.');
        for (int width = scale / 10; width > 1 && width > scaled % scale; width /= 10) {
            out.append('0');
        }
        out.append(digits);
    }
}
