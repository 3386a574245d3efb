package org.aftercast.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A safe copy of a study that may be open and written to meanwhile: first a snapshot of the database, then the files it
 * refers to (they are never written in place), then the snapshot takes its place; only then is the copy a study.
 */
final class StudyCopy {

    private StudyCopy() {}

    static void copy(StudyStore store, Path target, FileStore files) throws IOException {
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
        files.write(target.resolve(StudyStore.DATABASE), aside -> {
            store.snapshotTo(aside);
            for (Path file : filesOf(store)) {
                Path to = target.resolve(store.folder().relativize(file).toString());
                Path folder = to.getParent();
                if (folder != null) {
                    files.makeFolder(folder);
                }
                files.write(to, part -> Files.copy(file, part));
                if (!Files.isWritable(file)) {
                    files.makeReadOnly(to);
                }
            }
        });
    }

    /** Every file a record names, and the reports. */
    private static List<Path> filesOf(StudyStore store) throws IOException {
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
        if (Files.isDirectory(store.reportsFolder())) {
            try (var walk = Files.walk(store.reportsFolder())) {
                walk.filter(path -> Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS))
                        .filter(path -> !DiskFileStore.isAside(String.valueOf(path.getFileName())))
                        .forEach(all::add);
            }
        }
        return all;
    }
}
