package org.aftercast.intake;

/** Rows parsed from one block of text: stamps and values in Aftercast's units. */
final class RowBlock {

    /** Number of rows. */
    int rows;

    /** Number of lines, blank ones included. */
    int lines;

    /** Stamp of each row in nanoseconds (see {@link StampText}); unused without a time column. */
    long[] stamps;

    /** Line of each row, counted from 0 at the start of the block. */
    int[] lineInBlock;

    /** One array per channel of the plan, in its order. */
    final float[][] values;

    /** Whether any stamp carried its own offset, and whether any did not. */
    boolean someCarryOffset;

    boolean someLackOffset;

    /** Whether the text ended within a row, which was left out. */
    boolean cutOff;

    /** What the last line of a block may be. */
    enum Tail {
        /** A whole row. */
        WHOLE,
        /** The last line of the text: without a line end and with too few fields it was cut off and is left out. */
        MAY_BE_CUT_OFF
    }

    /** The text of the block. */
    byte[] text = new byte[0];

    /** Length of {@link #text} that counts. */
    int textLength;

    RowBlock(int channels, int capacity) {
        stamps = new long[capacity];
        lineInBlock = new int[capacity];
        values = new float[channels][capacity];
    }

    void ensureRoomForOne() {
        if (rows < stamps.length) {
            return;
        }
        int larger = Math.max(1024, rows + (rows >> 1));
        stamps = java.util.Arrays.copyOf(stamps, larger);
        lineInBlock = java.util.Arrays.copyOf(lineInBlock, larger);
        for (int c = 0; c < values.length; c++) {
            values[c] = java.util.Arrays.copyOf(values[c], larger);
        }
    }

    /** Empties the block and gives it other text. */
    void restart(byte[] from, int begin, int end) {
        rows = 0;
        lines = 0;
        someCarryOffset = false;
        someLackOffset = false;
        cutOff = false;
        textLength = end - begin;
        if (text.length < textLength) {
            text = new byte[textLength + (textLength >> 4)];
        }
        System.arraycopy(from, begin, text, 0, textLength);
    }
}
