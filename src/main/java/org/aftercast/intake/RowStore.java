package org.aftercast.intake;

import java.io.EOFException;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
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

    /** Rows in a file, which is removed on closing. */
    static RowStore inFile(Path file) throws IOException {
        return new InFile(file);
    }

    /** Blocks in a file, column after column, raw floats in the machine's order. */
    final class InFile implements RowStore {
        private final Path file;
        private final FileChannel channel;
        private final List<long[]> blocks = new ArrayList<>();
        private ByteBuffer buffer = ByteBuffer.allocateDirect(1 << 16).order(ByteOrder.nativeOrder());
        private long rows;
        private long end;

        InFile(Path file) throws IOException {
            this.file = file;
            this.channel = FileChannel.open(
                    file, StandardOpenOption.CREATE_NEW, StandardOpenOption.READ, StandardOpenOption.WRITE);
        }

        @Override
        public synchronized void append(RowBlock block) throws IOException {
            if (block.rows == 0) {
                return;
            }
            blocks.add(new long[] {rows, end, block.rows});
            int bytes = block.rows * Float.BYTES;
            for (float[] column : block.values) {
                room(bytes).asFloatBuffer().put(column, 0, block.rows);
                buffer.limit(bytes);
                while (buffer.hasRemaining()) {
                    end += channel.write(buffer, end);
                }
            }
            rows += block.rows;
        }

        @Override
        public synchronized void read(int column, long fromRow, int count, float[] into, int at) throws IOException {
            int left = count;
            int to = at;
            int b = blockOf(fromRow);
            long row = fromRow;
            while (left > 0) {
                long[] block = blocks.get(b++);
                int within = (int) (row - block[0]);
                int n = (int) Math.min(left, block[2] - within);
                int bytes = n * Float.BYTES;
                room(bytes).limit(bytes);
                long from = block[1] + (column * block[2] + within) * Float.BYTES;
                while (buffer.hasRemaining()) {
                    if (channel.read(buffer, from + buffer.position()) < 0) {
                        throw new EOFException(file + ": the rows kept aside end early");
                    }
                }
                buffer.flip();
                buffer.asFloatBuffer().get(into, to, n);
                left -= n;
                to += n;
                row += n;
            }
        }

        private int blockOf(long row) {
            int low = 0;
            int high = blocks.size() - 1;
            while (low < high) {
                int middle = (low + high + 1) >>> 1;
                if (blocks.get(middle)[0] <= row) {
                    low = middle;
                } else {
                    high = middle - 1;
                }
            }
            return low;
        }

        private ByteBuffer room(int bytes) {
            if (buffer.capacity() < bytes) {
                buffer = ByteBuffer.allocateDirect(bytes + (bytes >> 1)).order(ByteOrder.nativeOrder());
            }
            return buffer.clear();
        }

        @Override
        public void close() throws IOException {
            channel.close();
            Files.deleteIfExists(file);
        }
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
