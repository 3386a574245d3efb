package org.aftercast.study;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.HexFormat;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Copies photographs into {@code photos/}: byte for byte, hashed on the way, read-only, named by their hash. */
final class PhotoKeeper {

    private static final int BLOCK_BYTES = 1 << 20;
    private static final long LARGEST_BYTES = 100_000_000;

    private PhotoKeeper() {}

    /** Copies the file; the record is still to be added. */
    static Photo keep(
            Path source,
            String animal,
            @Nullable Instant takenUtc,
            @Nullable String caption,
            Path folder,
            FileStore files)
            throws IOException {
        if (!Files.isRegularFile(source)) {
            throw new StudyException(source + ": there is no such file");
        }
        if (Files.size(source) > LARGEST_BYTES) {
            throw new StudyException(source + ": " + Files.size(source)
                    + " bytes is too large for a photograph; accepted: up to " + LARGEST_BYTES + " bytes");
        }
        String ending = endingOf(source);
        // the final name holds the hash, which is known only after the copy: copy under a name that the sweep knows
        Path incoming = folder.resolve(DiskFileStore.ASIDE + UUID.randomUUID() + "-incoming");
        MessageDigest digest = Hashes.sha256();
        long[] sizeBytes = {0};
        files.write(incoming, aside -> {
            byte[] block = new byte[BLOCK_BYTES];
            try (InputStream in = Files.newInputStream(source);
                    OutputStream out = Files.newOutputStream(aside)) {
                for (int n = in.read(block); n >= 0; n = in.read(block)) {
                    digest.update(block, 0, n);
                    out.write(block, 0, n);
                    sizeBytes[0] += n;
                }
            }
        });
        String sha256 = HexFormat.of().formatHex(digest.digest());
        String storedName = sha256 + ending;
        try {
            Path kept = folder.resolve(storedName);
            if (Files.exists(kept)) {
                files.delete(incoming); // the name says that it is the same content
            } else {
                files.move(incoming, kept);
                files.makeReadOnly(kept);
            }
        } catch (IOException failure) {
            try {
                files.delete(incoming);
            } catch (IOException left) {
                failure.addSuppressed(left); // swept when the study is next opened
            }
            throw failure;
        }
        return new Photo(
                sha256, animal, String.valueOf(source.getFileName()), storedName, sizeBytes[0], takenUtc, caption);
    }

    /** JPEG begins with FF D8 FF (ISO/IEC 10918-1 SOI and a marker), PNG with its eight-byte signature (ISO/IEC 15948). */
    private static String endingOf(Path source) throws IOException {
        byte[] start;
        try (InputStream in = Files.newInputStream(source)) {
            start = in.readNBytes(8);
        }
        String hex = HexFormat.of().formatHex(start);
        if (hex.startsWith("ffd8ff")) {
            return ".jpg";
        }
        if (hex.equals("89504e470d0a1a0a")) {
            return ".png";
        }
        throw new StudyException(source + ": is not a photograph that can be kept; accepted: JPEG or PNG");
    }
}
