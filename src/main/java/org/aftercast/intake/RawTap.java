package org.aftercast.intake;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import org.jspecify.annotations.Nullable;

/**
 * Hashes the raw bytes that are read through it and, if asked, keeps a copy of them: what is parsed, what is hashed and
 * what is kept are the same bytes, read once. With a copy, hashing and writing run in a thread of their own.
 */
final class RawTap extends InputStream {

    private static final int CHUNK = 1 << 20;
    private static final int CHUNKS_WAITING = 8;
    private static final byte[] END = new byte[0];

    private final InputStream in;
    private final MessageDigest digest;
    /** Chunks to be used again; never more than are under way. */
    private final ConcurrentLinkedQueue<byte[]> spare = new ConcurrentLinkedQueue<>();

    private final @Nullable ArrayBlockingQueue<byte[]> waiting;
    private final @Nullable FutureTask<Void> keeper;
    private byte[] chunk = new byte[1 << 13];
    private int filled;
    private long count;
    private @Nullable String sha256;

    /**
     * A tap on a stream.
     *
     * @param copy receives the same bytes, or null; closed with the tap
     */
    RawTap(InputStream in, @Nullable OutputStream copy) {
        this.in = in;
        try {
            this.digest = MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java has SHA-256", impossible);
        }
        if (copy == null) {
            waiting = null;
            keeper = null;
        } else {
            ArrayBlockingQueue<byte[]> queue = new ArrayBlockingQueue<>(CHUNKS_WAITING);
            waiting = queue;
            keeper = new FutureTask<>(() -> {
                keep(queue, copy);
                return null;
            });
            Thread thread = new Thread(keeper, "raw copy");
            thread.setDaemon(true);
            thread.start();
        }
    }

    private void keep(ArrayBlockingQueue<byte[]> queue, OutputStream copy) throws IOException, InterruptedException {
        try (copy) {
            for (byte[] bytes = queue.take(); bytes.length > 0; bytes = queue.take()) {
                digest.update(bytes);
                copy.write(bytes);
                if (bytes.length == CHUNK) {
                    spare.add(bytes);
                }
            }
        }
    }

    /** Raw bytes read so far. */
    long count() {
        return count;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] into, int at, int length) throws IOException {
        int read = in.read(into, at, length);
        if (read > 0) {
            count += read;
            take(into, at, read);
        }
        return read;
    }

    private void take(byte[] from, int at, int length) throws IOException {
        int next = at;
        int left = length;
        while (left > 0) {
            if (filled == chunk.length && chunk.length < CHUNK) {
                chunk = Arrays.copyOf(chunk, Math.min(CHUNK, chunk.length * 8));
            }
            int n = Math.min(left, chunk.length - filled);
            System.arraycopy(from, next, chunk, filled, n);
            filled += n;
            next += n;
            left -= n;
            if (filled == CHUNK) {
                pass();
            }
        }
    }

    private void pass() throws IOException {
        if (waiting == null || keeper == null) {
            digest.update(chunk, 0, filled);
        } else {
            boolean full = filled == CHUNK;
            put(full ? chunk : Arrays.copyOf(chunk, filled));
            if (full) {
                byte[] used = spare.poll();
                chunk = used == null ? new byte[CHUNK] : used;
            }
        }
        filled = 0;
    }

    private void put(byte[] bytes) throws IOException {
        if (waiting == null || keeper == null) {
            return;
        }
        try {
            while (!waiting.offer(bytes, 50, java.util.concurrent.TimeUnit.MILLISECONDS)) {
                if (keeper.isDone()) {
                    finishKeeper();
                    throw new IOException("the copy of the raw file ended early");
                }
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new java.io.InterruptedIOException("interrupted while the raw file was copied");
        }
    }

    private void finishKeeper() throws IOException {
        if (keeper == null) {
            return;
        }
        try {
            keeper.get();
        } catch (ExecutionException failure) {
            if (failure.getCause() instanceof IOException cause) {
                throw new CopyFailed(cause);
            }
            throw new IllegalStateException("the copy of the raw file failed", failure.getCause());
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new java.io.InterruptedIOException("interrupted while the raw file was copied");
        }
    }

    /** The copy could not be written (a full disk, say): not the fault of the file that is read. */
    static final class CopyFailed extends IOException {
        private static final long serialVersionUID = 1L;

        CopyFailed(IOException cause) {
            super(cause.getMessage(), cause);
        }
    }

    /** Reads on to the end of the stream; gives the SHA-256 of all bytes in lower-case hexadecimal. */
    String finish() throws IOException {
        if (sha256 != null) {
            return sha256;
        }
        transferTo(OutputStream.nullOutputStream());
        if (filled > 0) {
            pass();
        }
        if (keeper != null) {
            put(END);
            finishKeeper();
        }
        sha256 = HexFormat.of().formatHex(digest.digest());
        return sha256;
    }

    @Override
    public int available() throws IOException {
        return in.available();
    }

    /** Closes the stream; without {@link #finish} the copy is given up. */
    @Override
    public void close() throws IOException {
        in.close();
        if (keeper != null && waiting != null && !keeper.isDone()) {
            waiting.clear();
            if (!waiting.offer(END)) {
                throw new IllegalStateException("the queue was just cleared");
            }
            try {
                finishKeeper();
            } catch (CopyFailed alreadyGivenUp) {
                // The copy is given up anyway; whoever asked for it sees the failure that led here.
            }
        }
    }
}
