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
    static final String PHOTOS = "photos";
    static final String REPORTS = "reports";

    /** One table of observations for each search, by the name of the animal. */
    static final String SEARCHES = "searches";

    /** Where downloads and photographs without a record are kept: they may be the only copies. */
    static final String SET_ASIDE = "set-aside";

    /** Folders whose files are all named by records. */
    static final List<String> RECORDED = List.of(RAW, RECORDINGS, READINGS, PHOTOS);

    private static final List<String> FOLDERS = List.of(RAW, RECORDINGS, READINGS, PHOTOS, REPORTS);

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

    /** Removes half-written files; removes recordings and readings that have no record; sets downloads and photographs aside. */
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
        setAside(store, files, store.rawFolder(), raw, "a download whose loading was interrupted", notices);
        Set<String> photos = new HashSet<>();
        store.all(Photo.class).forEach(row -> photos.add(row.storedName()));
        setAside(store, files, store.photosFolder(), photos, "a photograph without a record", notices);
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

    private static void setAside(
            StudyStore store, FileStore files, Path from, Set<String> known, String what, List<String> notices)
            throws IOException {
        for (Path file : StudyStore.entries(from)) {
            String name = String.valueOf(file.getFileName());
            if (!known.contains(name)) {
                Path kept = store.folder().resolve(SET_ASIDE).resolve(name);
                files.makeFolder(store.folder().resolve(SET_ASIDE));
                files.move(file, kept);
                notices.add("set aside " + what + ": " + store.folder().relativize(kept));
            }
        }
    }
}
