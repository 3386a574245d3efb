package org.aftercast.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * The one way by which files are written: aside, synced, then renamed, so that a file is either wholly there or not at
 * all. Tests put a store in its place that fails on purpose (full disk, crash between steps).
 */
public interface FileStore {

    /** Writes the content of one file to the path it is handed. */
    @FunctionalInterface
    interface Writer {
        /**
         * Writes the whole content.
         *
         * @param aside a path in the same folder as the target; the writer creates this file
         * @throws IOException if it cannot be written
         */
        void writeTo(Path aside) throws IOException;
    }

    /**
     * Writes a file so that it appears whole or not at all: {@code writer} fills a file aside, which is synced, renamed
     * to {@code target}, and the folder synced. On any failure the file aside is removed and {@code target} is as before.
     * A target that is a device, pipe or folder, or a link to one, is refused and left alone.
     *
     * @throws IOException if writing failed; the message names the target
     */
    void write(Path target, Writer writer) throws IOException;

    /** Writes bytes; see {@link #write(Path, Writer)}. */
    default void write(Path target, byte[] content) throws IOException {
        write(target, aside -> Files.write(aside, content));
    }

    /**
     * Makes a folder and those above it where they are missing, and syncs the folder that holds it.
     *
     * @throws IOException if it cannot be made; the message names it
     */
    void makeFolder(Path folder) throws IOException;

    /**
     * Renames a file within one disk, replacing the target, and syncs both folders.
     *
     * @throws IOException if it cannot be moved; then it lies where it was
     */
    void move(Path from, Path to) throws IOException;

    /**
     * Makes a file read-only, as far as its file system knows the difference.
     *
     * @throws IOException if the file is not there
     */
    void makeReadOnly(Path file) throws IOException;

    /**
     * Removes a file, or a folder with all that is in it; links are removed, not followed. Nothing there is no error.
     *
     * @throws IOException if something cannot be removed
     */
    void delete(Path fileOrFolder) throws IOException;

    /**
     * Removes what interrupted writes have left aside in this folder (not below it).
     *
     * @return the paths removed
     * @throws IOException if the folder cannot be read
     */
    List<Path> sweep(Path folder) throws IOException;

    /** The store on the real disk. */
    static FileStore onDisk() {
        return new DiskFileStore();
    }
}
