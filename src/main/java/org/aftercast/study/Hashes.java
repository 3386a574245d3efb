package org.aftercast.study;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 (FIPS 180-4) in lower-case hexadecimal. */
public final class Hashes {

    private static final int BLOCK_BYTES = 1 << 16;

    private Hashes() {}

    /** Of text in UTF-8. */
    public static String ofText(String text) {
        return ofBytes(text.getBytes(StandardCharsets.UTF_8));
    }

    /** Of bytes. */
    public static String ofBytes(byte[] bytes) {
        return HexFormat.of().formatHex(sha256().digest(bytes));
    }

    /**
     * Of a file's content.
     *
     * @throws IOException if it cannot be read
     */
    public static String ofFile(Path file) throws IOException {
        MessageDigest digest = sha256();
        byte[] block = new byte[BLOCK_BYTES];
        try (InputStream in = Files.newInputStream(file)) {
            for (int n = in.read(block); n >= 0; n = in.read(block)) {
                digest.update(block, 0, n);
            }
        }
        return HexFormat.of().formatHex(digest.digest());
    }

    static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java platform has SHA-256", impossible);
        }
    }
}
