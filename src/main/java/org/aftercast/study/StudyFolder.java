package org.aftercast.study;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** The folders of a study, and tidying up what interrupted work has left in them. */
final class StudyFolder {

    static final String RAW = "raw";
    static final String RECORDINGS = "recordings";
    static final String READINGS = "readings";
    static final String REPORTS = "reports";

    /** Where raw files without a record are kept: they are never deleted by the program. */
    static final String SET_ASIDE = "set-aside";

    private static final List<String> FOLDERS = List.of(RAW, RECORDINGS, READINGS, REPORTS);

    private StudyFolder() {}

    static void makeFolders(Path folder, FileStore files) throws IOException {
        files.makeFolder(folder);
        for (String name : FOLDERS) {
            files.makeFolder(folder.resolve(name));
        }
    }

    /** Whether the folder holds anything but what an interrupted creation of a study may have left. */
    static boolean holdsForeignFiles(Path folder) throws IOException {
        for (Path entry : StudyStore.entries(folder)) {
            String name = String.valueOf(entry.getFileName());
            boolean ours = (FOLDERS.contains(name) && StudyStore.entries(entry).isEmpty())
                    || name.equals(StudyLock.NAME)
                    || DiskFileStore.isAside(name);
            if (!ours) {
                return true;
            }
        }
        return false;
    }

    /** Removes half-written files; removes recordings and readings, and sets raw files aside, that have no record. */
    static List<String> tidy(StudyStore store, FileStore files) throws IOException {
        List<String> notices = new ArrayList<>();
        Path root = store.folder();
        List<Path> places = new ArrayList<>(List.of(root));
        FOLDERS.forEach(name -> places.add(root.resolve(name)));
        for (Path place : places) {
            for (Path removed : files.sweep(place)) {
                notices.add("removed a half-written file: " + root.relativize(removed));
            }
        }
        Set<String> raw = new HashSet<>();
        store.all(RawFile.class).forEach(row -> raw.add(row.storedName()));
        for (Path file : StudyStore.entries(store.rawFolder())) {
            String name = String.valueOf(file.getFileName());
            if (!raw.contains(name)) {
                Path kept = root.resolve(SET_ASIDE).resolve(name);
                files.makeFolder(root.resolve(SET_ASIDE));
                files.move(file, kept);
                notices.add("set aside a download whose loading was interrupted: " + root.relativize(kept));
            }
        }
        Set<String> recordings = new HashSet<>();
        store.all(RecordingRow.class).forEach(row -> recordings.add(row.parquetName()));
        for (Path file : StudyStore.entries(store.recordingsFolder())) {
            if (!recordings.contains(String.valueOf(file.getFileName()))) {
                files.delete(file);
                notices.add("removed a recording whose loading was interrupted: " + root.relativize(file));
            }
        }
        Set<String> readings = new HashSet<>();
        store.all(ReadingRow.class).forEach(row -> readings.add(row.folder()));
        for (Path file : StudyStore.entries(store.readingsFolder())) {
            if (!readings.contains(String.valueOf(file.getFileName()))) {
                files.delete(file);
                notices.add("removed a reading that was interrupted: " + root.relativize(file));
            }
        }
        return notices;
    }
}
