package org.aftercast.intake;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Properties;
import org.duckdb.DuckDBColumnType;
import org.duckdb.DuckDBConnection;
import org.duckdb.DuckDBDriver;
import org.duckdb.DuckDBFunctions;

/**
 * One DuckDB in memory for the whole process, with one connection for each thread that asks (connections must not be
 * shared between threads). Its memory is limited, extensions are never fetched, spill goes to a private folder.
 */
final class Duck {

    private static final int MEMORY_MB = 256;

    private static final ThreadLocal<DuckDBConnection> MINE = new ThreadLocal<>();

    private Duck() {}

    private static final class Root {
        static final DuckDBConnection CONNECTION = open();

        private static DuckDBConnection open() {
            try {
                Path spill = DuckTemp.makeSpill();
                Properties settings = new Properties();
                settings.setProperty("memory_limit", MEMORY_MB + "MB");
                settings.setProperty("threads", "2");
                settings.setProperty("temp_directory", spill.toString());
                settings.setProperty("autoinstall_known_extensions", "false");
                settings.setProperty("autoload_known_extensions", "false");
                settings.setProperty("preserve_insertion_order", "true");
                Connection connection = new DuckDBDriver().connect("jdbc:duckdb:", settings);
                DuckDBFunctions.tableFunction()
                        .withName(SampleFeed.FUNCTION)
                        .withParameter(DuckDBColumnType.BIGINT)
                        .withFunction(new SampleFeed.Function())
                        .register(connection);
                DuckTemp.removeOwnLibrary();
                return connection.unwrap(DuckDBConnection.class);
            } catch (SQLException problem) {
                throw new IllegalStateException("DuckDB could not be started: " + problem.getMessage(), problem);
            } catch (IOException problem) {
                throw new UncheckedIOException("no temporary folder for DuckDB", problem);
            }
        }
    }

    /** The connection of this thread. */
    static DuckDBConnection mine() throws SQLException {
        DuckDBConnection mine = MINE.get();
        if (mine == null || mine.isClosed()) {
            mine = Root.CONNECTION.duplicate().unwrap(DuckDBConnection.class);
            MINE.set(mine);
        }
        return mine;
    }

    /** Runs one statement. */
    static void run(String sql) throws SQLException {
        try (Statement statement = mine().createStatement()) {
            statement.execute(sql);
        }
    }

    /** A path or text as an SQL literal. */
    static String literal(String text) {
        return "'" + text.replace("'", "''") + "'";
    }
}
