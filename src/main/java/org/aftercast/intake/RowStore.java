package org.aftercast.intake;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/** Keeps parsed rows until the clock check knows where they stand on the grid. */
interface RowStore extends AutoCloseable {

    /** Appends the values of a block. */
    void append(RowBlock block) throws IOException;

    /** Reads rows {@code fromRow} to {@code fromRow + count} of one column. */
    void read(int column, long fromRow, int count, float[] into, int at) throws IOException;

    @Override
    void close() throws IOException;

    /** Rows in memory. */
    static RowStore inMemory() {
        return new InMemory();
    }

    /** Blocks as they came, trimmed to their rows. */
    final class InMemory implements RowStore {
        private final List<float[][]> blocks = new ArrayList<>();
        private final List<Long> firstRows = new ArrayList<>();
        private long rows;

        @Override
        public void append(RowBlock block) {
            float[][] kept = new float[block.values.length][];
            for (int c = 0; c < kept.length; c++) {
                kept[c] = java.util.Arrays.copyOf(block.values[c], block.rows);
            }
            blocks.add(kept);
            firstRows.add(rows);
            rows += block.rows;
        }

        @Override
        public void read(int column, long fromRow, int count, float[] into, int at) {
            int found = java.util.Collections.binarySearch(firstRows, fromRow);
            int block = found >= 0 ? found : -found - 2;
            // Empty blocks share their first row with the next one.
            while (block + 1 < blocks.size() && firstRows.get(block + 1) <= fromRow) {
                block++;
            }
            int left = count;
            int to = at;
            int within = (int) (fromRow - firstRows.get(block));
            while (left > 0) {
                float[] values = blocks.get(block)[column];
                int n = Math.min(left, values.length - within);
                System.arraycopy(values, within, into, to, n);
                left -= n;
                to += n;
                within = 0;
                block++;
            }
        }

        @Override
        public void close() {
            blocks.clear();
        }
    }
}
