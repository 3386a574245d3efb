package org.aftercast.study;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileSystemException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Writes aside as {@code .aside-<uuid>-<name>}, syncs file and folder, renames. */
final class DiskFileStore implements FileStore {

    static final String ASIDE = ".aside-";

    /** Long names would not fit with the prefix: most file systems allow 255 bytes. */
    private static final int KEPT_NAME_CHARACTERS = 60;

    static boolean isAside(String fileName) {
        return fileName.startsWith(ASIDE);
    }

    @Override
    public void write(Path target, Writer writer) throws IOException {
        Path absolute = target.toAbsolutePath();
        Path folder = absolute.getParent();
        Path name = absolute.getFileName();
        if (folder == null || name == null || Files.isDirectory(absolute, LinkOption.NOFOLLOW_LINKS)) {
            throw new IOException(target + ": not a file that can be written");
        }
        if (Files.exists(absolute) && !Files.isRegularFile(absolute)) {
            // the rename would put a plain file in the place of a device or pipe
            throw new IOException(target + ": is a device, pipe or folder and stays as it is; accepted: the name of a"
                    + " file to write");
        }
        if (!Files.isDirectory(folder)) {
            throw new IOException(target + ": cannot be written, the folder " + folder + " is not there");
        }
        String tail = name.toString();
        if (tail.length() > KEPT_NAME_CHARACTERS) {
            tail = tail.substring(tail.length() - KEPT_NAME_CHARACTERS);
        }
        Path aside = folder.resolve(ASIDE + UUID.randomUUID() + "-" + tail);
        boolean renamed = false;
        try {
            writer.writeTo(aside);
            try (FileChannel file = FileChannel.open(aside, StandardOpenOption.WRITE)) {
                file.force(true);
            }
            Files.move(aside, absolute, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
            renamed = true;
            syncFolder(folder);
        } catch (IOException failure) {
            if (renamed) {
                throw new IOException(
                        target + ": written, but the disk did not confirm it (" + describe(failure)
                                + "); check it before relying on it",
                        failure);
            }
            removeAside(aside, failure);
            throw new IOException(
                    target + ": could not be written (" + describe(failure) + "); nothing was changed", failure);
        } catch (RuntimeException | Error failure) {
            removeAside(aside, failure);
            throw failure;
        }
    }

    @Override
    public void makeFolder(Path folder) throws IOException {
        Path absolute = folder.toAbsolutePath().normalize();
        if (Files.isDirectory(absolute)) {
            return;
        }
        Path above = absolute.getParent();
        if (above != null) {
            makeFolder(above);
        }
        Files.createDirectory(absolute);
        if (above != null) {
            syncFolder(above);
        }
    }

    @Override
    public void move(Path from, Path to) throws IOException {
        Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        syncFolder(parent(to));
        syncFolder(parent(from));
    }

    @Override
    public void makeReadOnly(Path file) throws IOException {
        if (!Files.isRegularFile(file)) {
            throw new IOException(file + ": is not there");
        }
        // memory sticks know no permissions: nothing is lost if this has no effect, verify guards the content
        boolean done = file.toFile().setWritable(false, false);
        if (done) {
            syncFolder(parent(file));
        }
    }

    @Override
    public void delete(Path fileOrFolder) throws IOException {
        if (!Files.exists(fileOrFolder, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        Files.walkFileTree(fileOrFolder, new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
                Files.delete(file);
                return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult postVisitDirectory(Path folder, @Nullable IOException failure) throws IOException {
                if (failure != null) {
                    throw failure;
                }
                Files.delete(folder);
                return FileVisitResult.CONTINUE;
            }
        });
        syncFolder(parent(fileOrFolder));
    }

    @Override
    public List<Path> sweep(Path folder) throws IOException {
        List<Path> removed = new ArrayList<>();
        try (DirectoryStream<Path> left = Files.newDirectoryStream(folder, ASIDE + "*")) {
            for (Path path : left) {
                delete(path);
                removed.add(path);
            }
        }
        return removed;
    }

    private static void removeAside(Path aside, Throwable failure) {
        try {
            Files.deleteIfExists(aside);
        } catch (IOException left) {
            failure.addSuppressed(left); // the next start sweeps it
        }
    }

    private static Path parent(Path path) {
        Path parent = path.toAbsolutePath().getParent();
        return parent == null ? path.toAbsolutePath() : parent;
    }

    private static String describe(IOException failure) {
        if (failure instanceof AccessDeniedException) {
            return "you may not write there";
        }
        String message = failure instanceof FileSystemException fault && fault.getReason() != null
                ? fault.getReason()
                : failure.getMessage();
        return message == null ? failure.getClass().getSimpleName() : message;
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
