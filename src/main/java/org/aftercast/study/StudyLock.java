package org.aftercast.study;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * Keeps two programs from writing to one study at once. The operating system holds the lock and drops it when the
 * process ends, however it ends; the text in the file only says who holds it.
 */
final class StudyLock implements AutoCloseable {

    static final String NAME = "study.lock";

    /** Beyond any text, so that the text can be read while the lock is held (Windows locks are mandatory). */
    private static final long LOCKED_BYTE = 1 << 20;

    private final FileChannel channel;
    private final FileLock lock;

    private StudyLock(FileChannel channel, FileLock lock) {
        this.channel = channel;
        this.lock = lock;
    }

    static StudyLock take(Path folder, Instant now) throws StudyException {
        Path file = folder.resolve(NAME);
        FileChannel channel = null;
        try {
            channel = FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            FileLock lock = channel.tryLock(LOCKED_BYTE, 1, false);
            if (lock == null) {
                throw inUse(folder, file, null);
            }
            String text = "process " + ProcessHandle.current().pid() + ", since " + now + "\n";
            channel.truncate(0);
            channel.write(ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8)), 0);
            return new StudyLock(channel, lock);
        } catch (OverlappingFileLockException samePrograms) {
            closeQuietly(channel);
            throw inUse(folder, file, samePrograms);
        } catch (StudyException inUse) {
            closeQuietly(channel);
            throw inUse;
        } catch (IOException failure) {
            closeQuietly(channel);
            throw notWritable(folder, failure);
        }
    }

    /** The message for a study that cannot be written to. */
    static StudyException notWritable(Path folder, IOException failure) {
        String reason = failure.getMessage();
        boolean readOnly = failure instanceof AccessDeniedException
                || (failure instanceof FileSystemException f
                        && f.getReason() != null
                        && f.getReason().contains("Read-only"));
        if (readOnly) {
            return new StudyException(
                    folder + ": this study lies on a read-only medium or in a folder you may not write to; it can be"
                            + " listed and verified, but to change it copy the folder to a disk you can write to",
                    failure);
        }
        return new StudyException(
                folder + ": the study cannot be written to ("
                        + failure.getClass().getSimpleName() + ": " + reason + ")",
                failure);
    }

    private static StudyException inUse(Path folder, Path file, @Nullable Throwable cause) {
        String holder = "";
        try {
            holder = " (" + Files.readString(file).strip() + ")";
        } catch (IOException unreadable) {
            holder = " (its lock file cannot be read: " + unreadable.getMessage() + ")";
        }
        return new StudyException(
                folder + ": another aftercast is writing to this study" + holder
                        + "; wait for it or close it, then try again. Nothing was changed",
                cause);
    }

    private static void closeQuietly(@Nullable FileChannel channel) {
        if (channel != null) {
            try {
                channel.close();
            } catch (IOException alreadyFailing) {
                // the failure that led here is the one to report
            }
        }
    }

    @Override
    public void close() throws IOException {
        try {
            lock.release();
        } finally {
            channel.close();
        }
    }
}
