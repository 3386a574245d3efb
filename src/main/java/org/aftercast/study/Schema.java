package org.aftercast.study;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import org.jdbi.v3.core.Handle;

/**
 * Versioned migrations: script {@code Vn.sql} leads from version n − 1 to n. The version reached is kept in SQLite's
 * {@code user_version}, set in the same transaction as the script; {@code application_id} marks the file as a study.
 */
final class Schema {

    /** The version this software writes. */
    static final int VERSION = 4;

    /** "Aftc" in ASCII; SQLite's place for telling one application's files from another's. */
    static final int APPLICATION_ID = 0x41667463;

    private Schema() {}

    static int versionOf(Connection connection) throws SQLException {
        return pragma(connection, "user_version");
    }

    static boolean isStudy(Connection connection) throws SQLException {
        return pragma(connection, "application_id") == APPLICATION_ID;
    }

    /**
     * Runs every script after the database's version, each in its own transaction, with what a script cannot do: changes of
     * records that belong into the history.
     *
     * @param handle on the same connection
     * @param now noted with such changes
     */
    static void migrate(Connection connection, Handle handle, Instant now) throws SQLException, IOException {
        try (Statement statement = connection.createStatement()) {
            for (int version = versionOf(connection) + 1; version <= VERSION; version++) {
                statement.executeUpdate("BEGIN IMMEDIATE");
                try {
                    statement.executeUpdate(script(version));
                    if (version == 3) {
                        Version3.rewrite(handle, now);
                    }
                    statement.executeUpdate("PRAGMA application_id = " + APPLICATION_ID);
                    statement.executeUpdate("PRAGMA user_version = " + version);
                    statement.executeUpdate("COMMIT");
                } catch (SQLException | IOException | RuntimeException failure) {
                    statement.executeUpdate("ROLLBACK");
                    throw failure;
                }
            }
        }
    }

    private static String script(int version) throws IOException {
        try (InputStream in = Schema.class.getResourceAsStream("V" + version + ".sql")) {
            if (in == null) {
                throw new IllegalStateException("migration script V" + version + ".sql is missing from the program");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static int pragma(Connection connection, String name) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("PRAGMA " + name)) {
            return row.getInt(1);
        }
    }
}
