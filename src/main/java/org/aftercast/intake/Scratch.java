package org.aftercast.intake;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/**
 * A folder in the temporary folder for what need not outlive the process. It is held by a lock on a file in it, which the
 * operating system lets go of when the process ends in whatever way: what a killed process has left is therefore known
 * for certain, and removed and said by the next start ({@link #sweep}).
 */
public final class Scratch implements AutoCloseable {

    private static final String PREFIX = "aftercast-scratch-";
    private static final String HELD = "held";

    private final Path folder;
    private final FileChannel channel;
    private final Thread atExit = new Thread(this::letGo, "scratch");
    private boolean gone;

    private Scratch(Path folder, FileChannel channel) {
        this.folder = folder;
        this.channel = channel;
    }

    /**
     * Makes a folder; it is removed with all that is in it on closing, or when the process ends.
     *
     * @param what a word for its name
     */
    public static Scratch make(String what) throws IOException {
        Path folder = Files.createTempDirectory(PREFIX + what + "-");
        // The file gets its name once it is locked, so that a sweep in between does not take it for a left one.
        Path unheld = folder.resolve(HELD + "-soon");
        FileChannel channel = FileChannel.open(unheld, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
        channel.lock();
        Files.move(unheld, folder.resolve(HELD));
        Scratch scratch = new Scratch(folder, channel);
        Runtime.getRuntime().addShutdownHook(scratch.atExit);
        return scratch;
    }

    /** The folder. */
    public Path folder() {
        return folder;
    }

    /** Removes what killed processes have left in the temporary folder; one sentence for each folder removed. */
    public static List<String> sweep() throws IOException {
        return sweep(Path.of(System.getProperty("java.io.tmpdir")));
    }

    static List<String> sweep(Path temporary) throws IOException {
        List<String> said = new ArrayList<>();
        try (DirectoryStream<Path> found = Files.newDirectoryStream(temporary, PREFIX + "*")) {
            for (Path left : found) {
                if (Files.isDirectory(left, LinkOption.NOFOLLOW_LINKS)) {
                    sweepOne(left, said);
                }
            }
        }
        return said;
    }

    private static void sweepOne(Path left, List<String> said) {
        Path held = left.resolve(HELD);
        try {
            // A folder without its file is just being made.
            if (!Files.isRegularFile(held, LinkOption.NOFOLLOW_LINKS)) {
                return;
            }
            try (FileChannel channel = FileChannel.open(held, StandardOpenOption.WRITE);
                    FileLock lock = channel.tryLock()) {
                if (lock == null) {
                    return;
                }
            }
            long bytes = remove(left);
            said.add(String.format(
                    Locale.ROOT, "Removed what a process that was killed had left: %s (%.1f MB).", left, bytes / 1e6));
        } catch (IOException | OverlappingFileLockException inUseOrNotOurs) {
            // Another user's, or this process's own: it is left alone.
        }
    }

    private static long remove(Path folder) throws IOException {
        List<Path> all;
        try (Stream<Path> walk = Files.walk(folder)) {
            all = walk.sorted(Comparator.reverseOrder()).toList();
        }
        long bytes = 0;
        for (Path path : all) {
            bytes += Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS) ? Files.size(path) : 0;
            Files.deleteIfExists(path);
        }
        return bytes;
    }

    private synchronized void letGo() {
        if (gone) {
            return;
        }
        gone = true;
        try {
            channel.close();
            remove(folder);
        } catch (IOException left) {
            // The next start removes it.
        }
    }

    @Override
    public void close() {
        letGo();
        try {
            Runtime.getRuntime().removeShutdownHook(atExit);
        } catch (IllegalStateException alreadyEnding) {
            // The hook has been called, or is about to find nothing left to do.
        }
    }
}
