package org.aftercast.study;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.UUID;

/** Copies downloads into {@code raw/}: byte for byte, hashed on the way, read-only. */
final class RawKeeper {

    private static final int BLOCK_BYTES = 1 << 20;
    private static final int NAME_CHARACTERS = 80;

    private RawKeeper() {}

    static KeptRaw keep(Path source, Path rawFolder, FileStore files) throws IOException {
        if (!Files.isRegularFile(source)) {
            throw new StudyException(source + ": there is no such file");
        }
        // the final name holds the hash, which is known only after the copy: copy under a name that the sweep knows
        Path incoming = rawFolder.resolve(DiskFileStore.ASIDE + UUID.randomUUID() + "-incoming");
        MessageDigest digest = Hashes.sha256();
        long[] sizeBytes = {0};
        files.write(incoming, aside -> {
            digest.reset();
            sizeBytes[0] = 0;
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
        String originalName = String.valueOf(source.getFileName());
        String storedName = sha256 + "-" + plain(originalName);
        try {
            Path kept = rawFolder.resolve(storedName);
            if (Files.exists(kept)) {
                files.delete(incoming); // the name says that it is the same content
            } else {
                files.move(incoming, kept);
                files.makeReadOnly(kept);
            }
        } catch (IOException failure) {
            files.delete(incoming);
            throw failure;
        }
        return new KeptRaw(sha256, originalName, storedName, sizeBytes[0]);
    }

    /** A name that every file system can hold; the original name is kept in the record. */
    static String plain(String name) {
        String letters = name.replaceAll("[^A-Za-z0-9._-]", "_");
        if (letters.length() > NAME_CHARACTERS) { // the end says what kind of file it is
            letters = letters.substring(letters.length() - NAME_CHARACTERS);
        }
        return letters.replaceAll("[.]+$", "_");
    }
}
