package org.aftercast.intake;

import com.github.luben.zstd.ZstdIOException;
import com.github.luben.zstd.ZstdInputStream;
import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PushbackInputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipInputStream;
import org.jspecify.annotations.Nullable;

/**
 * The text of a download as UTF-8 bytes: gzip, zip (one file inside) and zstd are unpacked, byte-order marks removed,
 * UTF-16 recoded. The raw bytes are hashed on the way.
 *
 * <p>Expansion is limited: what unpacks to more than {@value #LARGEST_RATIO} times its size and more than
 * {@value #RATIO_FREE_BYTES} bytes, or to more than {@value #LARGEST_BYTES} bytes, is refused.
 */
final class TextBytes implements AutoCloseable {

    static final int LARGEST_RATIO = 300;
    static final long RATIO_FREE_BYTES = 64L << 20;
    static final long LARGEST_BYTES = 256L << 30;

    private static final int SNIFF = 4096;

    private final String file;
    private final RawTap raw;
    private final InputStream text;
    private final boolean packed;
    private long bytesOut;

    private TextBytes(String file, RawTap raw, InputStream text, boolean packed) {
        this.file = file;
        this.raw = raw;
        this.text = text;
        this.packed = packed;
    }

    /**
     * Opens a file and recognises its packing and encoding.
     *
     * @throws ImportException if it is missing, empty, not text, or packed in a way that cannot be read
     */
    static TextBytes open(Path path) throws ImportException {
        try {
            return open(path, null);
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException problem) {
            throw broken(path.toString(), 0, problem);
        }
    }

    /**
     * The same, with a copy of the raw bytes.
     *
     * @param copy receives every raw byte; closed with the text
     * @throws ImportException as for {@link #open(Path)}
     * @throws IOException if the copy cannot be written
     */
    static TextBytes open(Path path, @Nullable OutputStream copy) throws IOException {
        String file = path.toString();
        InputStream in;
        try {
            if (Files.isDirectory(path)) {
                throw new ImportException(file, 0, 0, "is a folder", "a text file");
            }
            in = Files.newInputStream(path);
        } catch (ImportException problem) {
            throw problem;
        } catch (NoSuchFileException missing) {
            throw new ImportException(
                    file, 0, 0, "does not exist", "a text file, plain or packed with gzip, zip or zstd");
        } catch (IOException problem) {
            throw new ImportException(file, 0, 0, "cannot be opened", "a text file that may be read");
        }
        return of(file, in, copy);
    }

    /** The same for bytes from elsewhere; {@code file} is used in errors. */
    static TextBytes of(String file, InputStream in, @Nullable OutputStream copy) throws IOException {
        RawTap raw = new RawTap(in, copy);
        boolean open = false;
        try {
            TextBytes text = of(file, raw);
            open = true;
            return text;
        } catch (ImportException | RawTap.CopyFailed problem) {
            throw problem;
        } catch (IOException problem) {
            throw broken(file, 0, problem);
        } finally {
            if (!open) {
                close(raw);
            }
        }
    }

    private static TextBytes of(String file, RawTap raw) throws IOException {
        PushbackInputStream start = new PushbackInputStream(raw, 4);
        byte[] magic = start.readNBytes(4);
        if (magic.length == 0) {
            throw new ImportException(file, 0, 0, "is empty", "a text file with a row per sample");
        }
        start.unread(magic);
        InputStream unpacked = start;
        boolean packed = true;
        if (magic.length >= 2 && u(magic[0]) == 0x1f && u(magic[1]) == 0x8b) {
            unpacked = new GZIPInputStream(start, 1 << 16);
        } else if (magic.length == 4
                && u(magic[0]) == 0x28
                && u(magic[1]) == 0xb5
                && u(magic[2]) == 0x2f
                && u(magic[3]) == 0xfd) {
            unpacked = new ZstdInputStream(start);
        } else if (magic.length == 4 && magic[0] == 'P' && magic[1] == 'K' && magic[2] == 3 && magic[3] == 4) {
            unpacked = new OneEntryZip(file, new ZipInputStream(start));
        } else {
            packed = false;
        }
        PushbackInputStream head = new PushbackInputStream(unpacked, SNIFF);
        byte[] sniffed = head.readNBytes(SNIFF);
        if (sniffed.length == 0) {
            throw new ImportException(file, 0, 0, "is empty once unpacked", "a text file with a row per sample");
        }
        Encoding encoding = Encoding.of(sniffed);
        head.unread(sniffed, encoding.markBytes, sniffed.length - encoding.markBytes);
        InputStream text = encoding.charset == null ? head : new Recoder(head, encoding.charset);
        return new TextBytes(file, raw, text, packed);
    }

    /** The name used in errors. */
    String file() {
        return file;
    }

    /** Raw bytes read so far. */
    long rawBytes() {
        return raw.count();
    }

    /**
     * Reads text bytes until {@code into} is full from {@code at} on or the text ends.
     *
     * @param line line number for errors
     * @return bytes read, 0 at the end
     * @throws ImportException if the packing is broken or the file grows beyond the limits
     * @throws IOException if the copy cannot be written
     */
    int fill(byte[] into, int at, long line) throws IOException {
        int read;
        try {
            read = text.readNBytes(into, at, into.length - at);
        } catch (ImportException | RawTap.CopyFailed problem) {
            throw problem;
        } catch (IOException problem) {
            throw broken(file, line, problem);
        }
        bytesOut += read;
        if (packed && bytesOut > RATIO_FREE_BYTES && bytesOut / LARGEST_RATIO > raw.count()) {
            throw new ImportException(
                    file,
                    line,
                    0,
                    "unpacks to more than " + LARGEST_RATIO + " times its size",
                    "a file that was packed from a download");
        }
        if (bytesOut > LARGEST_BYTES) {
            throw new ImportException(
                    file,
                    line,
                    0,
                    "is longer than " + LARGEST_BYTES + " bytes of text",
                    "shorter files, one after the other");
        }
        return read;
    }

    /** Reads the raw file to its end and gives its SHA-256. */
    String finishSha256() throws IOException {
        try {
            return raw.finish();
        } catch (RawTap.CopyFailed problem) {
            throw problem;
        } catch (IOException problem) {
            throw broken(file, 0, problem);
        }
    }

    @Override
    public void close() {
        close(raw);
    }

    private static void close(InputStream in) {
        try {
            in.close();
        } catch (IOException nothingLost) {
            // It was only read; closing cannot lose anything.
        }
    }

    private static ImportException broken(String file, long line, IOException problem) {
        if (problem instanceof ImportException already) {
            return already;
        }
        if (problem instanceof EOFException
                || (problem.getMessage() != null && problem.getMessage().contains("Truncated"))) {
            return new ImportException(
                    file,
                    line,
                    0,
                    "is packed but ends early: the file was cut off",
                    "the whole file; copy it from the logger again");
        }
        if (problem instanceof ZipException || problem instanceof ZstdIOException) {
            return new ImportException(file, line, 0, "is packed but damaged", "an undamaged gzip, zip or zstd file");
        }
        return new ImportException(file, line, 0, "cannot be read further", "a file that can be read to its end");
    }

    private static int u(byte b) {
        return b & 0xff;
    }

    /** Byte-order mark and charset; charset null means that the bytes can be taken as they are. */
    private record Encoding(int markBytes, @Nullable Charset charset) {
        static Encoding of(byte[] b) {
            if (b.length >= 3 && u(b[0]) == 0xef && u(b[1]) == 0xbb && u(b[2]) == 0xbf) {
                return new Encoding(3, null);
            }
            if (b.length >= 2 && u(b[0]) == 0xff && u(b[1]) == 0xfe) {
                return new Encoding(2, StandardCharsets.UTF_16LE);
            }
            if (b.length >= 2 && u(b[0]) == 0xfe && u(b[1]) == 0xff) {
                return new Encoding(2, StandardCharsets.UTF_16BE);
            }
            // Latin letters in UTF-16 without a mark: every other byte is zero.
            int pairs = Math.min(b.length, 512) / 2;
            int evenZero = 0;
            int oddZero = 0;
            for (int i = 0; i < pairs; i++) {
                evenZero += b[2 * i] == 0 ? 1 : 0;
                oddZero += b[2 * i + 1] == 0 ? 1 : 0;
            }
            if (pairs >= 4 && oddZero >= 0.9 * pairs && evenZero == 0) {
                return new Encoding(0, StandardCharsets.UTF_16LE);
            }
            if (pairs >= 4 && evenZero >= 0.9 * pairs && oddZero == 0) {
                return new Encoding(0, StandardCharsets.UTF_16BE);
            }
            return new Encoding(0, null);
        }
    }

    /** The only file inside a zip; a second one is refused when it is reached. */
    private static final class OneEntryZip extends InputStream {
        private final String file;
        private final ZipInputStream zip;
        private final String entry;
        private boolean ended;

        OneEntryZip(String file, ZipInputStream zip) throws IOException {
            this.file = file;
            this.zip = zip;
            ZipEntry first = nextFile();
            if (first == null) {
                throw new ImportException(file, 0, 0, "is a zip without a file inside", "a zip with one text file");
            }
            this.entry = first.getName();
        }

        private @Nullable ZipEntry nextFile() throws IOException {
            try {
                ZipEntry next = zip.getNextEntry();
                while (next != null && next.isDirectory()) {
                    next = zip.getNextEntry();
                }
                return next;
            } catch (IllegalArgumentException damagedName) {
                throw new ZipException("the name of an entry cannot be read");
            }
        }

        @Override
        public int read() throws IOException {
            byte[] one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] into, int at, int length) throws IOException {
            if (ended) {
                return -1;
            }
            int read = zip.read(into, at, length);
            if (read < 0) {
                ended = true;
                ZipEntry second = nextFile();
                if (second != null) {
                    throw new ImportException(
                            file,
                            0,
                            0,
                            "is a zip with several files (" + entry + ", " + second.getName() + ")",
                            "a zip with one text file; unpack it and give the files one by one");
                }
            }
            return read;
        }
    }

    /** Recodes to UTF-8 in blocks. */
    private static final class Recoder extends InputStream {
        private final java.io.Reader reader;
        private final char[] chars = new char[8192];
        private byte[] ready = new byte[0];
        private int at;

        Recoder(InputStream in, Charset charset) {
            this.reader = new java.io.InputStreamReader(new BufferedInputStream(in, 1 << 16), charset);
        }

        @Override
        public int read() throws IOException {
            return more() ? ready[at++] & 0xff : -1;
        }

        @Override
        public int read(byte[] into, int from, int length) throws IOException {
            if (length == 0) {
                return 0;
            }
            if (!more()) {
                return -1;
            }
            int n = Math.min(length, ready.length - at);
            System.arraycopy(ready, at, into, from, n);
            at += n;
            return n;
        }

        private boolean more() throws IOException {
            if (at < ready.length) {
                return true;
            }
            int n = reader.read(chars);
            if (n < 0) {
                return false;
            }
            if (n < chars.length && Character.isHighSurrogate(chars[n - 1])) {
                int low = reader.read();
                if (low >= 0) {
                    chars[n++] = (char) low;
                }
            }
            ready = new String(chars, 0, n).getBytes(StandardCharsets.UTF_8);
            at = 0;
            return ready.length > 0 || more();
        }
    }
}
