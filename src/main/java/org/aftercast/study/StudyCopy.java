package org.aftercast.study;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A safe copy of a study that may be open and written to meanwhile: first a snapshot of the database, then the files it
 * refers to (they are never written in place) and every other file of the folder (tables of searches, tracks, maps,
 * reports, what a person keeps there), then the snapshot takes its place; only then is the copy a study. Each file of the
 * copy is read back and compared by its SHA-256. In the folders whose files the records name, a file without a record is
 * left out: it is what interrupted or unfinished work put there. Links are not followed.
 */
final class StudyCopy {

    private StudyCopy() {}

    static List<Path> copy(StudyStore store, Path target, FileStore files) throws IOException {
        if (Files.exists(target) && (!Files.isDirectory(target) || StudyFolder.holdsForeignFiles(target))) {
            throw new StudyException(target + ": is not empty; a copy needs a folder of its own");
        }
        Path inside = target.toAbsolutePath().normalize();
        if (inside.startsWith(store.folder().toAbsolutePath().normalize())) {
            throw new StudyException(target + ": lies inside the study; choose a folder outside");
        }
        try {
            StudyFolder.makeFolders(target, files);
        } catch (IOException failure) {
            throw StudyLock.notWritable(target, failure);
        }
        List<Path> leftOut = new ArrayList<>();
        files.write(target.resolve(StudyStore.DATABASE), aside -> {
            store.snapshotTo(aside);
            Set<Path> named = new LinkedHashSet<>(namedFiles(store));
            Set<Path> all = new LinkedHashSet<>(named);
            leftOut.addAll(leftOut(store, named));
            all.addAll(otherFiles(store));
            for (Path file : all) {
                Path to = target.resolve(store.folder().relativize(file).toString());
                Path folder = to.getParent();
                if (folder != null) {
                    files.makeFolder(folder);
                }
                @Nullable String wanted = copyOne(file, to, named.contains(file), files);
                if (wanted == null) {
                    continue;
                }
                if (!Hashes.ofFile(to).equals(wanted)) {
                    throw new StudyException(to + ": was not copied right: read back, it differs from " + file);
                }
                if (!Files.isWritable(file)) {
                    files.makeReadOnly(to);
                }
            }
        });
        return leftOut;
    }

    /** What is in the folder and not in the copy, but for the database's side files and the lock. */
    private static List<Path> leftOut(StudyStore store, Set<Path> named) throws IOException {
        List<Path> all = new ArrayList<>();
        for (Path entry : StudyStore.entries(store.folder())) {
            String name = String.valueOf(entry.getFileName());
            if (name.equals(StudyLock.NAME) || isDatabase(name)) {
                continue;
            }
            try (var walk = Files.walk(entry)) {
                walk.filter(path -> !Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS))
                        .filter(path -> !Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS)
                                || DiskFileStore.isAside(String.valueOf(path.getFileName()))
                                || (StudyFolder.RECORDED.contains(name) && !named.contains(path)))
                        .forEach(all::add);
            }
        }
        return all;
    }

    /** Copies; returns the SHA-256 of the bytes as they were read, or null when an unnamed file went away meanwhile. */
    private static @Nullable String copyOne(Path file, Path to, boolean named, FileStore files) throws IOException {
        if (!named && !Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
            return null;
        }
        MessageDigest digest = Hashes.sha256();
        files.write(to, part -> {
            try (InputStream in = new DigestInputStream(Files.newInputStream(file), digest)) {
                Files.copy(in, part);
            }
        });
        return HexFormat.of().formatHex(digest.digest());
    }

    /** Every file a record names. */
    private static List<Path> namedFiles(StudyStore store) throws IOException {
        List<Path> all = new ArrayList<>();
        store.all(RawFile.class).forEach(row -> all.add(store.rawFolder().resolve(row.storedName())));
        store.all(RecordingRow.class)
                .forEach(row -> all.add(store.recordingsFolder().resolve(row.parquetName())));
        store.all(Photo.class).forEach(row -> all.add(store.photosFolder().resolve(row.storedName())));
        store.all(ReadingRow.class)
                .forEach(row -> row.files()
                        .keySet()
                        .forEach(name -> all.add(
                                store.readingsFolder().resolve(row.folder()).resolve(name))));
        return all;
    }

    /** Every other file that is neither the database, nor the lock, nor half-written. */
    private static List<Path> otherFiles(StudyStore store) throws IOException {
        List<Path> all = new ArrayList<>();
        for (Path entry : StudyStore.entries(store.folder())) {
            String name = String.valueOf(entry.getFileName());
            if (StudyFolder.RECORDED.contains(name) || name.equals(StudyLock.NAME) || isDatabase(name)) {
                continue;
            }
            try (var walk = Files.walk(entry)) {
                walk.filter(path -> Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS))
                        .filter(path -> !DiskFileStore.isAside(String.valueOf(path.getFileName())))
                        .forEach(all::add);
            }
        }
        return all;
    }

    /** The database, and what SQLite keeps beside it while it writes. */
    private static boolean isDatabase(String name) {
        return Set.of("", "-journal", "-wal", "-shm").stream().anyMatch(end -> name.equals(StudyStore.DATABASE + end));
    }
}
