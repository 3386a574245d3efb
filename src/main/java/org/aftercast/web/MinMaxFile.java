package org.aftercast.web;

import com.fasterxml.jackson.core.type.TypeReference;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.FloatBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The least and greatest value of every run of {@value #BASE} samples of a recording, and of every four of these runs,
 * and so on: enough to draw any stretch without touching every sample and without hiding a spike. It can be thrown away
 * at any time and is then built again.
 *
 * <p>File: the eight bytes {@code AFTMM001}; the header's length (int); the header as JSON (see {@link Header}); then for
 * each series its levels from fine to coarse, each a sequence of pairs of floats (least, greatest; both NaN where there is
 * no sample). Little-endian throughout. A file whose length is not what its header says is not used.
 */
final class MinMaxFile {

    static final int BASE = 16;
    static final int FACTOR = 4;

    private static final byte[] MAGIC = "AFTMM001".getBytes(StandardCharsets.US_ASCII);
    private static final int BLOCK = 1 << 20;
    private static final int PAIR_BYTES = 8;

    /**
     * What the file was made from.
     *
     * @param key recording and reading it belongs to
     * @param sampleCount samples of each series
     * @param series names in order
     */
    record Header(String key, long sampleCount, List<String> series) {}

    /** Where the samples come from while the file is built. */
    interface Samples {
        void read(int series, long from, int count, float[] into);
    }

    private final Header header;
    private final FloatBuffer[][] levels;

    private MinMaxFile(Header header, FloatBuffer[][] levels) {
        this.header = header;
        this.levels = levels;
    }

    Header header() {
        return header;
    }

    private static List<Long> levelSizes(long sampleCount) {
        List<Long> sizes = new ArrayList<>();
        long n = (sampleCount + BASE - 1) / BASE;
        sizes.add(n);
        while (n > 64) {
            n = (n + FACTOR - 1) / FACTOR;
            sizes.add(n);
        }
        return sizes;
    }

    /** Builds the file. */
    static void write(Path target, Header header, Samples samples) throws IOException {
        byte[] json = Json.MAPPER.writeValueAsBytes(
                Map.of("key", header.key(), "sampleCount", header.sampleCount(), "series", header.series()));
        try (FileChannel out = FileChannel.open(target, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
            ByteBuffer head =
                    ByteBuffer.allocate(MAGIC.length + 4 + json.length).order(ByteOrder.LITTLE_ENDIAN);
            head.put(MAGIC).putInt(json.length).put(json).flip();
            write(out, head);
            for (int s = 0; s < header.series().size(); s++) {
                writeSeries(out, header.sampleCount(), s, samples);
            }
        }
    }

    private static void writeSeries(FileChannel out, long sampleCount, int series, Samples samples) throws IOException {
        List<Long> sizes = levelSizes(sampleCount);
        float[] coarse = sizes.size() > 1 ? nothing(Math.toIntExact(2 * sizes.get(1))) : new float[0];
        float[] block = new float[BLOCK];
        long bucket = 0;
        for (long from = 0; from < sampleCount; from += BLOCK) {
            int n = (int) Math.min(BLOCK, sampleCount - from);
            samples.read(series, from, n, block);
            int buckets = (n + BASE - 1) / BASE;
            ByteBuffer pairs = ByteBuffer.allocate(buckets * PAIR_BYTES).order(ByteOrder.LITTLE_ENDIAN);
            for (int b = 0; b < buckets; b++, bucket++) {
                float min = Float.NaN;
                float max = Float.NaN;
                for (int i = b * BASE; i < Math.min(n, (b + 1) * BASE); i++) {
                    min = least(min, block[i]);
                    max = greatest(max, block[i]);
                }
                pairs.putFloat(min).putFloat(max);
                if (coarse.length > 0) {
                    int up = (int) (bucket / FACTOR);
                    coarse[2 * up] = least(coarse[2 * up], min);
                    coarse[2 * up + 1] = greatest(coarse[2 * up + 1], max);
                }
            }
            write(out, pairs.flip());
        }
        for (int level = 1; level < sizes.size(); level++) {
            ByteBuffer pairs = ByteBuffer.allocate(coarse.length * 4).order(ByteOrder.LITTLE_ENDIAN);
            pairs.asFloatBuffer().put(coarse);
            write(out, pairs);
            if (level + 1 < sizes.size()) {
                float[] next = nothing(Math.toIntExact(2 * sizes.get(level + 1)));
                for (int b = 0; b < coarse.length / 2; b++) {
                    int up = b / FACTOR;
                    next[2 * up] = least(next[2 * up], coarse[2 * b]);
                    next[2 * up + 1] = greatest(next[2 * up + 1], coarse[2 * b + 1]);
                }
                coarse = next;
            }
        }
    }

    private static void write(FileChannel out, ByteBuffer bytes) throws IOException {
        while (bytes.hasRemaining()) {
            out.write(bytes);
        }
    }

    private static float[] nothing(int n) {
        float[] values = new float[n];
        Arrays.fill(values, Float.NaN);
        return values;
    }

    /** The lesser of two values; one that is NaN does not count. */
    static float least(float a, float b) {
        return Float.isNaN(a) || b < a ? b : a;
    }

    /** The greater of two values; one that is NaN does not count. */
    static float greatest(float a, float b) {
        return Float.isNaN(a) || b > a ? b : a;
    }

    /**
     * Opens a file.
     *
     * @throws IOException if it is not such a file or not whole; it is then to be built again
     */
    static MinMaxFile open(Path file) throws IOException {
        try (FileChannel in = FileChannel.open(file, StandardOpenOption.READ)) {
            ByteBuffer head = ByteBuffer.allocate(MAGIC.length + 4).order(ByteOrder.LITTLE_ENDIAN);
            readFully(in, head, file);
            byte[] magic = new byte[MAGIC.length];
            head.get(magic);
            int length = head.getInt();
            if (!Arrays.equals(magic, MAGIC) || length < 2 || length > 1_000_000) {
                throw new IOException(file + ": is not a min/max file");
            }
            ByteBuffer json = ByteBuffer.allocate(length);
            readFully(in, json, file);
            Map<String, Object> fields =
                    Json.MAPPER.readValue(json.array(), new TypeReference<LinkedHashMap<String, Object>>() {});
            List<String> names = new ArrayList<>();
            if (fields.get("series") instanceof List<?> list) {
                list.forEach(name -> names.add(String.valueOf(name)));
            }
            if (!(fields.get("sampleCount") instanceof Number count)) {
                throw new IOException(file + ": is not a min/max file");
            }
            Header header = new Header(String.valueOf(fields.get("key")), count.longValue(), names);
            List<Long> sizes = levelSizes(header.sampleCount());
            FloatBuffer[][] levels = new FloatBuffer[names.size()][sizes.size()];
            long at = MAGIC.length + 4L + length;
            for (FloatBuffer[] series : levels) {
                for (int level = 0; level < sizes.size(); level++) {
                    long bytes = sizes.get(level) * PAIR_BYTES;
                    if (at + bytes > in.size()) {
                        throw new IOException(file + ": ends too early");
                    }
                    series[level] = in.map(FileChannel.MapMode.READ_ONLY, at, bytes)
                            .order(ByteOrder.LITTLE_ENDIAN)
                            .asFloatBuffer();
                    at += bytes;
                }
            }
            if (at != in.size()) {
                throw new IOException(file + ": is longer than its header says");
            }
            return new MinMaxFile(header, levels);
        }
    }

    private static void readFully(FileChannel in, ByteBuffer into, Path file) throws IOException {
        while (into.hasRemaining()) {
            if (in.read(into) < 0) {
                throw new IOException(file + ": ends too early");
            }
        }
        into.flip();
    }

    /** Whether a window is wide enough to be answered from here: at least four runs a column. */
    static boolean covers(double samplesPerColumn) {
        return samplesPerColumn >= FACTOR * BASE;
    }

    /**
     * Least and greatest value a column. A column takes in every run that touches it, so that no spike is hidden; it may
     * show at most a quarter of its width of its neighbours.
     *
     * @param series index of the series
     * @param from first sample
     * @param samplesPerColumn at least {@code FACTOR * BASE}
     */
    void window(int series, double from, double samplesPerColumn, float[] min, float[] max) {
        int level = 0;
        long run = BASE;
        while (level + 1 < levels[series].length && run * FACTOR * FACTOR <= samplesPerColumn) {
            level++;
            run *= FACTOR;
        }
        FloatBuffer pairs = levels[series][level];
        int runs = pairs.limit() / 2;
        for (int c = 0; c < min.length; c++) {
            long first = Math.max(0, (long) Math.floor((from + c * samplesPerColumn) / run));
            long last = Math.min(runs - 1L, (long) Math.ceil((from + (c + 1) * samplesPerColumn) / run) - 1);
            float lo = Float.NaN;
            float hi = Float.NaN;
            for (long b = first; b <= last; b++) {
                lo = least(lo, pairs.get((int) (2 * b)));
                hi = greatest(hi, pairs.get((int) (2 * b + 1)));
            }
            min[c] = lo;
            max[c] = hi;
        }
    }
}
