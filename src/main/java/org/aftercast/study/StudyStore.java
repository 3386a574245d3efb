package org.aftercast.study;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.JdbiException;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;

/**
 * One study folder, open.
 *
 * <p>Records are read with {@link #all} and {@link #find} and changed with {@link #change}: one transaction, each
 * change of a record noted in the history. A study opened for writing holds a lock, so that no second program writes
 * to it; any number may read meanwhile. An open store may be used from several threads: they take turns.
 */
public final class StudyStore implements AutoCloseable {

    /** What a study is opened for. */
    public enum Access {
        /** Looking only; works on a read-only medium and while another program writes. */
        READ,
        /** Changing; takes the lock, migrates and tidies up. */
        WRITE
    }

    /**
     * Work done in one transaction.
     *
     * @param <T> what it returns
     * @param <X> what it may throw besides
     */
    @FunctionalInterface
    public interface Work<T, X extends Exception> {
        /**
         * Reads and changes records; if it throws, nothing is changed.
         *
         * @throws IOException as the work sees fit
         * @throws X as the work sees fit
         */
        T in(Change change) throws IOException, X;
    }

    /** The database's file name. */
    public static final String DATABASE = "study.db";

    private static final int WAIT_FOR_OTHERS_MS = 5000;

    private final Path folder;
    private final Access access;
    private final FileStore files;
    private final InstantSource clock;
    private final Connection connection;
    private final Handle handle;
    private final @Nullable StudyLock lock;
    private final List<String> notices = new ArrayList<>();
    private final ReentrantLock turn = new ReentrantLock();

    private StudyStore(
            Path folder,
            Access access,
            FileStore files,
            InstantSource clock,
            Connection connection,
            Handle handle,
            @Nullable StudyLock lock) {
        this.folder = folder;
        this.access = access;
        this.files = files;
        this.clock = clock;
        this.connection = connection;
        this.handle = handle;
        this.lock = lock;
    }

    /**
     * Makes an empty study and opens it for writing. The study is there as a whole or not at all.
     *
     * @param folder absent or empty
     * @param info what holds for the whole study
     * @param who noted in the history
     * @throws StudyException if the folder holds something already or cannot be written
     */
    public static StudyStore create(Path folder, StudyInfo info, String who, FileStore files, InstantSource clock)
            throws IOException {
        new Rules().name("who", who).check();
        if (Files.exists(folder.resolve(DATABASE))) {
            throw new StudyException(folder + ": there is a study here already; choose another folder");
        }
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new StudyException(folder + ": this is a file; a study needs a folder of its own");
        }
        if (Files.isDirectory(folder) && StudyFolder.holdsForeignFiles(folder)) {
            throw new StudyException(folder + ": the folder is not empty; a study needs a folder of its own");
        }
        try {
            StudyFolder.makeFolders(folder, files);
        } catch (IOException failure) {
            throw StudyLock.notWritable(folder, failure);
        }
        Instant now = clock.instant();
        StudyLock lock = StudyLock.take(folder, now);
        try {
            files.sweep(folder);
            files.write(folder.resolve(DATABASE), aside -> fill(aside, info, who, now));
        } finally {
            lock.close();
        }
        return open(folder, Access.WRITE, files, clock);
    }

    private static void fill(Path aside, StudyInfo info, String who, Instant now) throws IOException {
        try (Connection fresh = connect(aside, Access.WRITE)) {
            try (Handle handle = Jdbi.create(fresh).open()) {
                Schema.migrate(fresh, handle, now);
                handle.useTransaction(h -> new Change(h, who, now.truncatedTo(ChronoUnit.MILLIS)).put(info));
            }
        } catch (SQLException | JdbiException failure) {
            throw new IOException(failure.getMessage(), failure);
        } finally {
            Files.deleteIfExists(aside.resolveSibling(aside.getFileName() + "-journal"));
        }
    }

    /**
     * Opens a study.
     *
     * @throws StudyException if there is none, it was made by a newer version, another program is writing to it, or it
     *     cannot be written to
     */
    public static StudyStore open(Path folder, Access access, FileStore files, InstantSource clock) throws IOException {
        Path database = folder.resolve(DATABASE);
        if (!Files.isRegularFile(database)) {
            throw new StudyException(
                    folder + ": there is no study here (no " + DATABASE + "); make one with: aftercast new " + folder);
        }
        @Nullable StudyLock lock = access == Access.WRITE ? StudyLock.take(folder, clock.instant()) : null;
        @Nullable Connection connection = null;
        try {
            connection = connect(database, access);
            if (!Schema.isStudy(connection)) {
                throw new StudyException(database + ": this is not a study's database");
            }
            int version = Schema.versionOf(connection);
            if (version > Schema.VERSION) {
                throw new StudyException(folder + ": this study was written by a newer aftercast (records version "
                        + version + "; this one knows up to " + Schema.VERSION + "); update aftercast");
            }
            List<String> notices = new ArrayList<>();
            Handle handle = Jdbi.create(connection).open();
            if (version < Schema.VERSION) {
                if (access == Access.READ) {
                    throw new StudyException(folder + ": this study was written by an older aftercast (records version "
                            + version + "); open it once for writing, for example with aftercast enter or serve");
                }
                Schema.migrate(connection, handle, clock.instant().truncatedTo(ChronoUnit.MILLIS));
                notices.add("records brought from version " + version + " to " + Schema.VERSION);
            }
            StudyStore store = new StudyStore(folder, access, files, clock, connection, handle, lock);
            store.notices.addAll(notices);
            if (access == Access.WRITE) {
                StudyFolder.makeFolders(folder, files);
                store.notices.addAll(StudyFolder.tidy(store, files));
            }
            return store;
        } catch (SQLException | JdbiException failure) {
            closeAll(connection, lock);
            throw new StudyException(
                    database + ": the study's database cannot be opened (" + failure.getMessage() + ")", failure);
        } catch (IOException | RuntimeException failure) {
            closeAll(connection, lock);
            throw failure;
        }
    }

    private static Connection connect(Path database, Access access) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.enforceForeignKeys(true);
        config.setBusyTimeout(WAIT_FOR_OTHERS_MS);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        if (access == Access.WRITE) {
            config.setJournalMode(SQLiteConfig.JournalMode.TRUNCATE);
            config.setTransactionMode(SQLiteConfig.TransactionMode.IMMEDIATE);
        }
        Connection connection = config.createConnection("jdbc:sqlite:" + database.toAbsolutePath());
        if (access == Access.READ) {
            // not opened read-only: SQLite must be able to roll back what a killed program left half-done
            try (Statement statement = connection.createStatement()) {
                statement.execute("PRAGMA query_only = ON");
            } catch (SQLException failure) {
                connection.close();
                throw failure;
            }
        }
        return connection;
    }

    private static void closeAll(@Nullable Connection connection, @Nullable StudyLock lock) throws IOException {
        try {
            if (connection != null) {
                connection.close();
            }
        } catch (SQLException failure) {
            throw new IOException(failure);
        } finally {
            if (lock != null) {
                lock.close();
            }
        }
    }

    /** What opening had to do: migrations, leftovers of interrupted work that were removed or set aside. */
    public List<String> notices() {
        return List.copyOf(notices);
    }

    /** The study's folder. */
    public Path folder() {
        return folder;
    }

    /** Downloads exactly as they came. */
    public Path rawFolder() {
        return folder.resolve(StudyFolder.RAW);
    }

    /** One Parquet file per recording. */
    public Path recordingsFolder() {
        return folder.resolve(StudyFolder.RECORDINGS);
    }

    /** One folder per reading. */
    public Path readingsFolder() {
        return folder.resolve(StudyFolder.READINGS);
    }

    /** Photographs exactly as they came. */
    public Path photosFolder() {
        return folder.resolve(StudyFolder.PHOTOS);
    }

    /** Reports. */
    public Path reportsFolder() {
        return folder.resolve(StudyFolder.REPORTS);
    }

    /** The store through which files of this study are written. */
    public FileStore files() {
        return files;
    }

    /** What holds for the whole study. */
    public StudyInfo info() throws StudyException {
        return find(StudyInfo.class, StudyInfo.ID)
                .orElseThrow(() -> new StudyException(folder + ": the study's own record is missing"));
    }

    /** All records of a type, in the order of their keys. */
    public <R extends Record> List<R> all(Class<R> type) throws StudyException {
        return guarded(() -> Rows.all(handle, Tables.of(type)));
    }

    /** One record by its key: the record type's first components (animal; animal and number; …). */
    public <R extends Record> Optional<R> find(Class<R> type, Object... key) throws StudyException {
        return guarded(() -> Rows.find(handle, Tables.of(type), List.of(key)));
    }

    /** Every change so far, oldest first. */
    public List<HistoryEntry> history() throws StudyException {
        return guarded(() -> Rows.history(handle));
    }

    /** The columns of every row of a table as stored, without checking rules. */
    List<Map<String, @Nullable Object>> rawRows(Table<?> table) throws StudyException {
        return guarded(() -> Rows.columns(handle, table));
    }

    /** SQLite's own check of the database file; empty when all is well. */
    List<String> databaseProblems() throws StudyException {
        return guarded(() -> Rows.databaseProblems(handle));
    }

    /**
     * Changes records in one transaction: all or nothing.
     *
     * @param who who does it, noted in the history; a short name or code
     * @return what the work returns
     * @throws StudyException if the study is open for reading only, or the database refuses
     * @throws IOException as the work throws; nothing was changed then
     * @throws X as the work throws; nothing was changed then
     */
    public <T, X extends Exception> T change(String who, Work<T, X> work) throws IOException, X {
        mayWrite();
        new Rules().name("who", who).check();
        turn.lock();
        try {
            Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
            handle.begin();
            boolean done = false;
            try {
                T result = work.in(new Change(handle, who, now));
                handle.commit();
                done = true;
                return result;
            } finally {
                if (!done) {
                    handle.rollback();
                }
            }
        } catch (JdbiException failure) {
            throw refused(failure);
        } finally {
            turn.unlock();
        }
    }

    /**
     * Keeps a photograph of an animal: the file byte for byte, read-only, then its record.
     *
     * @param source JPEG or PNG
     * @throws StudyException if it is no photograph, is in the study already, or there is no such animal
     */
    public Photo addPhoto(String who, String animal, Path source, @Nullable Instant takenUtc, @Nullable String caption)
            throws IOException {
        mayWrite();
        if (find(Animal.class, animal).isEmpty()) {
            throw new StudyException("there is no animal \"" + animal + "\" in this study");
        }
        Photo photo = PhotoKeeper.keep(source, animal, takenUtc, caption, photosFolder(), files);
        change(who, change -> {
            change.add(photo);
            return 0;
        });
        return photo;
    }

    /**
     * Copies the study as it stands now to another folder. It may be open here and elsewhere; until the copy is
     * complete its folder is no study.
     *
     * @param target absent or empty, outside this study
     * @return files that were left out, under this study's folder: half-written ones, links, and those that no record names
     *     where records name every file
     * @throws IOException if it cannot be written
     */
    public List<Path> copyTo(Path target) throws IOException {
        return StudyCopy.copy(this, target, files);
    }

    /** Writes the database as it stands to a file that is not there yet. */
    void snapshotTo(Path file) throws StudyException {
        guarded(() -> {
            // it changes nothing here, but SQLite takes it for a change
            Rows.execute(handle, "PRAGMA query_only = OFF", List.of());
            try {
                Rows.execute(
                        handle, "VACUUM INTO ?", List.of(file.toAbsolutePath().toString()));
            } finally {
                if (access == Access.READ) {
                    Rows.execute(handle, "PRAGMA query_only = ON", List.of());
                }
            }
            return 0;
        });
    }

    private void mayWrite() throws StudyException {
        if (access == Access.READ) {
            throw new StudyException(folder + ": the study is open for reading only");
        }
    }

    /**
     * Adds a loaded recording. Its raw files and its Parquet file must already lie in their folders: raw → Parquet →
     * row.
     *
     * @throws StudyException if a file is not there, or the same download is in the study already
     */
    public void addRecording(String who, RecordingRow recording, List<RawFile> raw) throws IOException {
        if (raw.isEmpty()) {
            throw new IllegalArgumentException("raw: a recording has at least one raw file");
        }
        for (RawFile file : raw) {
            if (!Files.isRegularFile(rawFolder().resolve(file.storedName()))) {
                throw new StudyException(rawFolder().resolve(file.storedName()) + ": the raw file is not there");
            }
        }
        if (!Files.isRegularFile(recordingsFolder().resolve(recording.parquetName()))) {
            throw new StudyException(recordingsFolder().resolve(recording.parquetName()) + ": is not there");
        }
        change(who, change -> {
            change.add(recording);
            for (RawFile file : raw) {
                change.add(file);
            }
            return 0;
        });
    }

    /**
     * Adds a reading. The files named in it must already lie in its folder.
     *
     * @throws StudyException if a file is not there
     */
    public void addReading(String who, ReadingRow reading) throws IOException {
        for (String name : reading.files().keySet()) {
            Path file = readingsFolder().resolve(reading.folder()).resolve(name);
            if (!Files.isRegularFile(file)) {
                throw new StudyException(file + ": the reading's file is not there");
            }
        }
        change(who, change -> {
            change.put(reading);
            return 0;
        });
    }

    @FunctionalInterface
    private interface Query<T> {
        T run();
    }

    private <T> T guarded(Query<T> query) throws StudyException {
        turn.lock();
        try {
            return query.run();
        } catch (JdbiException failure) {
            throw refused(failure);
        } finally {
            turn.unlock();
        }
    }

    private StudyException refused(JdbiException failure) {
        Throwable cause = failure.getCause() == null ? failure : failure.getCause();
        return new StudyException(
                folder + ": the database refused (" + cause.getMessage() + "); nothing was changed", failure);
    }

    /** Names of the entries of a folder of the study. */
    static List<Path> entries(Path folder) throws IOException {
        List<Path> found = new ArrayList<>();
        if (Files.isDirectory(folder)) {
            try (DirectoryStream<Path> stream = Files.newDirectoryStream(folder)) {
                stream.forEach(found::add);
            }
        }
        found.sort(null);
        return found;
    }

    @Override
    public void close() throws IOException {
        turn.lock();
        try {
            handle.close();
            closeAll(connection, lock);
        } finally {
            turn.unlock();
        }
    }
}
