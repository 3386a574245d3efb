package org.aftercast.study;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/** Writes aside as {@code .aside-<uuid>-<name>}, syncs file and folder, renames. */
final class DiskFileStore implements FileStore {

    private static final String ASIDE = ".aside-";

    @Override
    public void write(Path target, Writer writer) throws IOException {
        Path absolute = target.toAbsolutePath();
        Path folder = absolute.getParent();
        if (folder == null || absolute.getFileName() == null) {
            throw new IOException(target + ": not a file that can be written");
        }
        Path aside = folder.resolve(ASIDE + UUID.randomUUID() + "-" + absolute.getFileName());
        try {
            writer.writeTo(aside);
            try (FileChannel file = FileChannel.open(aside, StandardOpenOption.WRITE)) {
                file.force(true);
            }
            Files.move(aside, absolute, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
            syncFolder(folder);
        } catch (IOException failure) {
            Files.deleteIfExists(aside);
            throw new IOException(
                    target + ": could not be written (" + describe(failure) + "); nothing was changed", failure);
        } catch (RuntimeException failure) {
            Files.deleteIfExists(aside);
            throw failure;
        }
    }

    @Override
    public List<Path> sweep(Path folder) throws IOException {
        List<Path> removed = new ArrayList<>();
        try (DirectoryStream<Path> left = Files.newDirectoryStream(folder, ASIDE + "*")) {
            for (Path path : left) {
                Files.delete(path);
                removed.add(path);
            }
        }
        return removed;
    }

    private static String describe(IOException failure) {
        String message = failure.getMessage();
        return failure.getClass().getSimpleName() + (message == null ? "" : ": " + message);
    }

    private static void syncFolder(Path folder) throws IOException {
        if (System.getProperty("os.name", "").startsWith("Windows")) {
            return; // a folder cannot be opened for syncing there; the rename is journalled by the file system
        }
        try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        }
    }
}
