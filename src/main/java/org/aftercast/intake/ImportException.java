package org.aftercast.intake;

import java.io.IOException;

/**
 * A file that cannot be read as a recording: names file, line and column and what would be accepted.
 *
 * <p>Lines and columns count from 1 as an editor shows them; 0 means that the problem concerns the whole file (or line).
 */
public final class ImportException extends IOException {

    private static final long serialVersionUID = 1L;

    private final String file;
    private final long line;
    private final int column;
    private final String problem;
    private final String accepted;

    /**
     * Describes the problem.
     *
     * @param file the file as the user named it
     * @param line line from 1, or 0 for the whole file
     * @param column field from 1, or 0 for the whole line
     * @param problem what is wrong, without a full stop
     * @param accepted what would be accepted instead, without a full stop
     */
    public ImportException(String file, long line, int column, String problem, String accepted) {
        super(where(file, line, column) + ": " + problem + "; accepted: " + accepted);
        this.file = file;
        this.line = line;
        this.column = column;
        this.problem = problem;
        this.accepted = accepted;
    }

    /** The same problem at another line. */
    ImportException atLine(long otherLine) {
        return new ImportException(file, otherLine, column, problem, accepted);
    }

    /** The file as the user named it. */
    public String file() {
        return file;
    }

    /** Line from 1, or 0. */
    public long line() {
        return line;
    }

    /** Field from 1, or 0. */
    public int column() {
        return column;
    }

    private static String where(String file, long line, int column) {
        StringBuilder where = new StringBuilder(file);
        if (line > 0) {
            where.append(", line ").append(line);
        }
        if (column > 0) {
            where.append(", column ").append(column);
        }
        return where.toString();
    }
}
