package org.aftercast.intake;

import java.io.IOException;
import java.util.Arrays;

/** Cuts the text into blocks of whole lines and keeps count of the lines. */
final class BlockReader {

    /** A line may not be longer than this, header lines included. */
    static final int LONGEST_LINE = 1 << 20;

    private final TextBytes text;
    private final byte[] buffer;
    private int from;
    private int to;
    private int filled;
    private boolean ended;
    private long line = 1;
    private boolean first = true;

    BlockReader(TextBytes text, int blockBytes) throws IOException {
        this.text = text;
        this.buffer = new byte[blockBytes + LONGEST_LINE];
        fill();
    }

    /** The beginning of the text; valid before the first {@link #next()}. */
    byte[] head() {
        return Arrays.copyOfRange(buffer, 0, Math.min(filled, TextHead.BYTES));
    }

    /** Passes over whole lines before the first block. */
    void skipLines(int lines) throws ImportException {
        for (int n = 0; n < lines; n++) {
            int end = from;
            while (end < filled && buffer[end] != '\n' && buffer[end] != '\r') {
                end++;
            }
            if (end >= filled) {
                throw new ImportException(
                        text.file(),
                        line,
                        0,
                        filled == buffer.length
                                ? "the lines before the first row of values are too long"
                                : "the file ends before the first row of values",
                        "at least " + (lines + 1) + " lines");
            }
            from = end + 1;
            if (buffer[end] == '\r' && from < filled && buffer[from] == '\n') {
                from++;
            }
            line++;
        }
        to = from;
    }

    /**
     * Moves to the next block.
     *
     * @return false at the end of the text
     */
    boolean next() throws IOException {
        if (!first) {
            int rest = filled - to;
            System.arraycopy(buffer, to, buffer, 0, rest);
            from = 0;
            filled = rest;
            if (!ended) {
                fill();
            }
        }
        first = false;
        if (from >= filled) {
            return false;
        }
        if (ended) {
            to = filled;
            return true;
        }
        int end = filled;
        // A carriage return at the very end may belong to a line feed that is still to come.
        while (end > from && !(buffer[end - 1] == '\n' || (buffer[end - 1] == '\r' && end < filled))) {
            end--;
        }
        if (end == from) {
            throw new ImportException(
                    text.file(), line, 0, "the line is longer than " + LONGEST_LINE + " bytes", "one row per line");
        }
        to = end;
        return true;
    }

    private void fill() throws IOException {
        int read = text.fill(buffer, filled, line);
        filled += read;
        ended = filled < buffer.length;
    }

    byte[] bytes() {
        return buffer;
    }

    /** Whether the current block ends the text. */
    boolean isLast() {
        return ended && to == filled;
    }

    int from() {
        return from;
    }

    int to() {
        return to;
    }

    /** Line on which the current block begins, or after {@link #passed} the one on which the next begins. */
    long line() {
        return line;
    }

    void passed(int lines) {
        line += lines;
    }
}
