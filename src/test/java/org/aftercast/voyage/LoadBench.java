package org.aftercast.voyage;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.Hashes;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;

/** The measurement behind {@code bench/load}. The recording is invented: noise around a slow wave, two decimals of depth. */
public final class LoadBench {

    private static final int RATE_HZ = 100;
    private static final int RUNS = 5;

    private LoadBench() {}

    /** Arguments: class path, work folder, hours …; or "child", study, animal, file. */
    public static void main(String[] args) throws Exception {
        if (args[0].equals("child")) {
            child(Path.of(args[1]), args[2], Path.of(args[3]));
            return;
        }
        Path folder = Path.of(args[1]);
        List<Integer> hours = new ArrayList<>(List.of(24));
        for (String more : Arrays.copyOfRange(args, 2, args.length)) {
            hours.add(Integer.valueOf(more));
        }
        double reference = 0;
        for (int h : hours) {
            Path file = folder.resolve(h + "h.csv");
            if (!Files.exists(file)) {
                generate(file, h);
            }
            reference = h == 24 ? reference(file, folder) : reference;
        }
        // In turn, so that what else the machine does falls on all of them alike.
        double[][] seconds = new double[hours.size()][RUNS];
        double[][] megabytes = new double[hours.size()][RUNS];
        for (int run = 0; run < RUNS; run++) {
            for (int k = 0; k < hours.size(); k++) {
                int h = hours.get(k);
                double[] took = load(args[0], folder, folder.resolve(h + "h.csv"), h);
                seconds[k][run] = took[0];
                megabytes[k][run] = took[1];
            }
        }
        for (int k = 0; k < hours.size(); k++) {
            Arrays.sort(seconds[k]);
            Arrays.sort(megabytes[k]);
            String figures = String.format(
                    Locale.ROOT,
                    "%d h, %d loads in turn: %.2f s (median %.2f, longest %.2f), peak %.0f MB (median; %.0f to %.0f)",
                    hours.get(k),
                    RUNS,
                    seconds[k][0],
                    seconds[k][RUNS / 2],
                    seconds[k][RUNS - 1],
                    megabytes[k][RUNS / 2],
                    megabytes[k][0],
                    megabytes[k][RUNS - 1]);
            if (k == 0) {
                say(
                        "%s; %.2f times the reference of %.2f s, %.2f by the median (asked for: at most 2, 1024 MB)",
                        figures, seconds[k][0] / reference, reference, seconds[k][RUNS / 2] / reference);
            } else {
                say(
                        "%s; %.2f times the time of the first, %.2f times its memory by the medians and %.2f by the largest (72 h:"
                                + " at most 3.2 and 1.1)",
                        figures,
                        seconds[k][0] / seconds[0][0],
                        megabytes[k][RUNS / 2] / megabytes[0][RUNS / 2],
                        megabytes[k][RUNS - 1] / megabytes[0][RUNS - 1]);
            }
        }
    }

    private static void generate(Path file, int hours) throws IOException {
        Random random = new Random(24);
        byte[] line = new byte[96];
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 20)) {
            out.write("timestamp_utc,acc_x_g,acc_y_g,acc_z_g,depth_m,temp_c\n"
                    .getBytes(java.nio.charset.StandardCharsets.US_ASCII));
            java.time.LocalDateTime start = java.time.LocalDateTime.of(2026, 5, 3, 10, 0);
            long n = hours * 3600L * RATE_HZ;
            for (long i = 0; i < n; i++) {
                java.time.LocalDateTime at = start.plusNanos(i * (1_000_000_000L / RATE_HZ));
                int p = put(line, 0, at.getYear(), 4, '-');
                p = put(line, p, at.getMonthValue(), 2, '-');
                p = put(line, p, at.getDayOfMonth(), 2, 'T');
                p = put(line, p, at.getHour(), 2, ':');
                p = put(line, p, at.getMinute(), 2, ':');
                p = put(line, p, at.getSecond(), 2, '.');
                p = put(line, p, at.getNano() / 1_000_000, 3, ',');
                double beat = 0.2 * Math.sin(i * 0.09);
                p = put(line, p, beat + 0.05 * random.nextGaussian(), 4);
                p = put(line, p, 0.1 * beat + 0.05 * random.nextGaussian(), 4);
                p = put(line, p, 0.98 + 0.05 * random.nextGaussian(), 4);
                p = put(line, p, 20 + 15 * Math.sin(i * 1e-5), 2);
                p = put(line, p, 12 + Math.sin(i * 1e-6), 3);
                line[p - 1] = '\n';
                out.write(line, 0, p);
            }
        }
    }

    private static int put(byte[] line, int at, int value, int digits, char after) {
        int v = value;
        for (int d = digits - 1; d >= 0; d--) {
            line[at + d] = (byte) ('0' + v % 10);
            v /= 10;
        }
        line[at + digits] = (byte) after;
        return at + digits + 1;
    }

    private static int put(byte[] line, int at, double value, int decimals) {
        int p = at;
        long scaled = Math.round(Math.abs(value) * Math.pow(10, decimals));
        if (value < 0) {
            line[p++] = '-';
        }
        long power = (long) Math.pow(10, decimals);
        for (byte b : Long.toString(scaled / power).getBytes(java.nio.charset.StandardCharsets.US_ASCII)) {
            line[p++] = b;
        }
        line[p++] = '.';
        return put(line, p, (int) (scaled % power), decimals, ',');
    }

    private static double reference(Path file, Path folder) throws Exception {
        double parquet = Double.POSITIVE_INFINITY;
        double sha = Double.POSITIVE_INFINITY;
        double copy = Double.POSITIVE_INFINITY;
        for (int run = 0; run < 3; run++) {
            long t = System.nanoTime();
            duckdb(file, folder.resolve("reference.parquet"));
            parquet = Math.min(parquet, since(t));
            t = System.nanoTime();
            Hashes.ofFile(file);
            sha = Math.min(sha, since(t));
            Path target = folder.resolve("reference.copy");
            Files.deleteIfExists(target);
            t = System.nanoTime();
            Files.copy(file, target);
            try (FileChannel channel = FileChannel.open(target, StandardOpenOption.WRITE)) {
                channel.force(true);
            }
            copy = Math.min(copy, since(t));
            Files.delete(target);
        }
        say("reference: DuckDB CSV to Parquet %.2f s, SHA-256 %.2f s, synced copy %.2f s", parquet, sha, copy);
        return parquet + sha + copy;
    }

    private static void duckdb(Path file, Path target) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:duckdb:");
                Statement statement = connection.createStatement()) {
            statement.execute("SET threads = 2");
            statement.execute(
                    "COPY (SELECT timestamp_utc, acc_x_g::FLOAT, acc_y_g::FLOAT, acc_z_g::FLOAT, depth_m::FLOAT,"
                            + " temp_c::FLOAT FROM read_csv('" + file + "')) TO '" + target
                            + "' (FORMAT parquet, COMPRESSION zstd)");
        }
    }

    /** One load in a process of its own: seconds and peak resident megabytes. */
    private static double[] load(String classPath, Path folder, Path file, int hours) throws Exception {
        Path study = folder.resolve("study-" + hours);
        FileStore.onDisk().delete(study);
        try (StudyStore store = StudyStore.create(
                study, StudyInfo.titled("bench"), "bench", FileStore.onDisk(), InstantSource.system())) {
            store.change("bench", change -> {
                change.add(Animal.named("S01"));
                return 0;
            });
        }
        Process process = new ProcessBuilder(
                        "java",
                        "-cp",
                        classPath,
                        LoadBench.class.getName(),
                        "child",
                        study.toString(),
                        "S01",
                        file.toString())
                .redirectErrorStream(true)
                .start();
        String text = new String(process.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        if (process.waitFor() != 0) {
            throw new IllegalStateException(text);
        }
        System.out.print(text);
        String[] words = text.strip().split("\\s+");
        FileStore.onDisk().delete(study);
        return new double[] {Double.parseDouble(words[words.length - 4]), Double.parseDouble(words[words.length - 2])};
    }

    private static void child(Path study, String animal, Path file) throws Exception {
        long t = System.nanoTime();
        Loaded loaded = new LoadDownload(FileStore.onDisk(), InstantSource.system())
                .load(new LoadRequest(
                        study,
                        animal,
                        List.of(file),
                        List.of(),
                        LoadRequest.Guess.ACCEPTED,
                        ImportOptions.none(),
                        null,
                        null,
                        LoadRequest.Battery.NOT_NOTED,
                        "bench",
                        ImportProgress.NONE));
        double seconds = since(t);
        double peakMb = Files.readAllLines(Path.of("/proc/self/status")).stream()
                .filter(line -> line.startsWith("VmHWM:"))
                .mapToDouble(line -> Double.parseDouble(line.replaceAll("[^0-9]", "")) / 1024)
                .findFirst()
                .orElse(Double.NaN);
        Path parquet = study.resolve("recordings").resolve(loaded.row().parquetName());
        Recording recording = ColumnStore.parquet().open(parquet);
        int n = (int) Math.min(recording.samples().sampleCount(), 24L * 3600 * RATE_HZ);
        double whole = Double.POSITIVE_INFINITY;
        double blocks = Double.POSITIVE_INFINITY;
        float[] into = new float[n];
        for (int run = 0; run < 4; run++) {
            t = System.nanoTime();
            for (Channel channel : recording.samples().channels()) {
                recording.samples().read(channel, 0, n, into, 0);
            }
            whole = Math.min(whole, since(t));
            t = System.nanoTime();
            for (int from = 0; from < n; from += 65_536) {
                for (Channel channel : recording.samples().channels()) {
                    recording.samples().read(channel, from, Math.min(65_536, n - from), into, 0);
                }
            }
            blocks = Math.min(blocks, since(t));
        }
        say(
                "  read back %d rows x %d: whole columns %.2f s, blocks of 65536 %.2f s; Parquet %.1f MB",
                n, recording.samples().channels().size(), whole, blocks, Files.size(parquet) / 1e6);
        say("  load took %.3f s %.1f MB", seconds, peakMb);
    }

    private static double since(long nanos) {
        return (System.nanoTime() - nanos) / 1e9;
    }

    private static void say(String format, Object... values) {
        System.out.printf(Locale.ROOT, format + "%n", values);
    }
}
