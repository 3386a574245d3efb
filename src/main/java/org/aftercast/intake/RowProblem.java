package org.aftercast.intake;

/** A problem inside a block of rows; the line counts from 0 at the start of the block until the block's place is known. */
final class RowProblem extends Exception {

    private static final long serialVersionUID = 1L;

    final int lineInBlock;
    final int column;
    final String problem;
    final String accepted;

    RowProblem(int lineInBlock, int column, String problem, String accepted) {
        super(problem, null, false, false);
        this.lineInBlock = lineInBlock;
        this.column = column;
        this.problem = problem;
        this.accepted = accepted;
    }

    /** The same problem at another place. */
    RowProblem at(int line, int field) {
        return new RowProblem(line, field, problem, accepted);
    }

    ImportException in(String file, long firstLine) {
        return new ImportException(file, firstLine + lineInBlock, column, problem, accepted);
    }
}
