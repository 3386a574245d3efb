package org.aftercast.voyage;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleSource;

/**
 * Writes an invented recording as a logger's text file: comment lines that say it is invented, a header, one row a
 * sample. A missing acceleration drops the row, as loggers do; a slow channel is blank between its samples.
 */
final class SimulatedCsv {

    private static final int BLOCK = 65_536;
    private static final int WIDEST_ROW = 160;
    private static final long[] TENS = {1, 10, 100, 1_000, 10_000, 100_000, 1_000_000};

    private SimulatedCsv() {}

    /**
     * Writes the file.
     *
     * @param samples the channels
     * @param clock start (needed) and rate
     * @param comments comment lines without the leading mark
     * @param target the file
     */
    static void write(SampleSource samples, SampleClock clock, List<String> comments, Path target) throws IOException {
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(target), 1 << 16)) {
            write(samples, clock, comments, out);
        }
    }

    /** Writes the file through gzip at its quickest. */
    static void writeGzip(SampleSource samples, SampleClock clock, List<String> comments, Path target)
            throws IOException {
        try (OutputStream out = new QuickGzip(Files.newOutputStream(target))) {
            write(samples, clock, comments, out);
        }
    }

    private static final class QuickGzip extends GZIPOutputStream {
        QuickGzip(OutputStream out) throws IOException {
            super(out, 1 << 16);
            def.setLevel(Deflater.BEST_SPEED);
        }
    }

    private static void write(SampleSource samples, SampleClock clock, List<String> comments, OutputStream out)
            throws IOException {
        Instant start = clock.startUtc();
        if (start == null) {
            throw new IllegalArgumentException("clock: an invented recording needs a start");
        }
        List<Channel> channels = new ArrayList<>();
        for (Channel channel : Channel.values()) {
            if (samples.channels().contains(channel)) {
                channels.add(channel);
            }
        }
        StringBuilder head = new StringBuilder();
        for (String comment : comments) {
            head.append("# ").append(comment).append('\n');
        }
        head.append("timeUtc");
        channels.forEach(channel -> head.append(',').append(channel.columnName()));
        out.write(head.append('\n').toString().getBytes(StandardCharsets.UTF_8));
        rows(samples, clock.sampleRateHz(), start, channels, out);
    }

    private static void rows(
            SampleSource samples, double rateHz, Instant start, List<Channel> channels, OutputStream out)
            throws IOException {
        boolean wholeMillis = 1000 % rateHz == 0;
        Clock clock = new Clock(start, wholeMillis ? 3 : 6);
        float[][] values = new float[channels.size()][BLOCK];
        byte[] text = new byte[BLOCK * 2 + WIDEST_ROW];
        int at = 0;
        for (long from = 0; from < samples.sampleCount(); from += BLOCK) {
            int n = (int) Math.min(BLOCK, samples.sampleCount() - from);
            for (int c = 0; c < channels.size(); c++) {
                samples.read(channels.get(c), from, n, values[c], 0);
            }
            for (int i = 0; i < n; i++) {
                if (Float.isNaN(values[0][i])) {
                    continue;
                }
                at = clock.put(Math.round((from + i) * 1e6 / rateHz), text, at);
                for (int c = 0; c < values.length; c++) {
                    text[at++] = ',';
                    at = number(values[c][i], channels.get(c).isAcceleration() ? 4 : 3, text, at);
                }
                text[at++] = '\n';
                if (at > text.length - WIDEST_ROW) {
                    out.write(text, 0, at);
                    at = 0;
                }
            }
        }
        out.write(text, 0, at);
    }

    private static int number(float value, int decimals, byte[] text, int from) {
        int at = from;
        if (Float.isNaN(value)) {
            return at;
        }
        long scaled = Math.round((double) value * TENS[decimals]);
        if (scaled < 0) {
            text[at++] = '-';
            scaled = -scaled;
        }
        at = whole(scaled / TENS[decimals], 1, text, at);
        text[at++] = '.';
        return whole(scaled % TENS[decimals], decimals, text, at);
    }

    /** A whole number, with leading zeros up to {@code least} digits. */
    private static int whole(long value, int least, byte[] text, int from) {
        int digits = least;
        long bound = 1;
        for (int i = 0; i < least; i++) {
            bound *= 10;
        }
        while (value >= bound) {
            bound *= 10;
            digits++;
        }
        long rest = value;
        for (int k = digits - 1; k >= 0; k--) {
            text[from + k] = (byte) ('0' + rest % 10);
            rest /= 10;
        }
        return from + digits;
    }

    /** ISO 8601 times in UTC; the text up to the second is made once a second. */
    private static final class Clock {
        private final Instant start;
        private final int decimals;
        private long second = Long.MIN_VALUE;
        private byte[] prefix = {};

        Clock(Instant start, int decimals) {
            this.start = start;
            this.decimals = decimals;
        }

        int put(long microsSinceStart, byte[] text, int from) {
            long micros = start.getNano() / 1000 + microsSinceStart;
            long now = start.getEpochSecond() + Math.floorDiv(micros, 1_000_000L);
            if (now != second) {
                second = now;
                String time =
                        LocalDateTime.ofEpochSecond(now, 0, ZoneOffset.UTC).toString();
                prefix = (time.length() == 16 ? time + ":00" : time).getBytes(StandardCharsets.US_ASCII);
            }
            System.arraycopy(prefix, 0, text, from, prefix.length);
            int at = from + prefix.length;
            text[at++] = '.';
            at = whole(Math.floorMod(micros, 1_000_000L) / TENS[6 - decimals], decimals, text, at);
            text[at++] = 'Z';
            return at;
        }
    }
}
