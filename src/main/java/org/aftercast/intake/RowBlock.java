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
}
