package org.aftercast.intake;

import org.aftercast.intake.DownloadLayout.TimeKind;

/**
 * Parses blocks of whole lines into rows. This is the path every byte of a download takes, so it reads numbers straight
 * from the bytes. One parser serves one thread.
 */
final class RowParser {

    private final ColumnPlan plan;
    private final FieldCursor fields;
    private final StampText stamp;
    private final char mark;
    private final boolean timed;
    private final boolean dateAndTime;
    private final double[] row;

    RowParser(ColumnPlan plan) {
        this.plan = plan;
        this.mark = plan.layout.text().decimalMark().sign();
        this.fields = new FieldCursor(plan.layout.text().delimiter());
        this.stamp = new StampText(plan.layout.time().kind(), mark);
        this.timed = plan.layout.time().kind() != TimeKind.NONE;
        this.dateAndTime = plan.layout.time().columns().size() == 2;
        this.row = new double[plan.channels.length];
    }

    /**
     * Appends the rows of {@code [from, to)}, which holds whole lines (the last one may lack its line end).
     *
     * @param tail what the last line may be
     * @param into receives the rows; its line count must be that of what was appended before
     * @throws RowProblem with line within the block and field
     */
    void parse(byte[] b, int from, int to, RowBlock.Tail tail, RowBlock into) throws RowProblem {
        int at = from;
        while (at < to) {
            int end = at;
            while (end < to && b[end] != '\n' && b[end] != '\r') {
                end++;
            }
            if (!isBlank(b, at, end)) {
                if (end == to
                        && tail == RowBlock.Tail.MAY_BE_CUT_OFF
                        && at > from
                        && count(b, at, end) < plan.role.length) {
                    into.cutOff = true;
                } else {
                    line(b, at, end, into);
                }
            }
            into.lines++;
            at = end + 1;
            if (end + 1 < to && b[end] == '\r' && b[end + 1] == '\n') {
                at++;
            }
        }
    }

    private static boolean isBlank(byte[] b, int from, int to) {
        int at = from;
        while (at < to && FieldCursor.isBlank(b[at])) {
            at++;
        }
        return at == to;
    }

    private void line(byte[] b, int from, int to, RowBlock into) throws RowProblem {
        int[] role = plan.role;
        fields.start(b, from, to);
        int field = 0;
        long time = 0;
        int dateFrom = 0;
        int dateTo = 0;
        int timeFrom = 0;
        int timeTo = 0;
        try {
            while (field < role.length && fields.next()) {
                int r = role[field];
                if (r >= 0) {
                    row[r] = NumberText.read(b, fields.from, fields.to, mark);
                } else if (r == ColumnPlan.TIME) {
                    if (dateAndTime) {
                        dateFrom = fields.from;
                        dateTo = fields.to;
                    } else {
                        time = stamp.read(b, fields.from, fields.to);
                    }
                } else if (r == ColumnPlan.TIME_OF_DAY) {
                    timeFrom = fields.from;
                    timeTo = fields.to;
                }
                field++;
            }
            if (field < role.length) {
                field = -1;
                throw new RowProblem(
                        0,
                        0,
                        "the row has " + count(b, from, to) + " of the " + role.length + " fields needed",
                        "rows with all columns of the layout; an empty field for a missing value");
            }
            if (dateAndTime) {
                field = fieldOf(ColumnPlan.TIME_OF_DAY);
                time = stamp.read(b, dateFrom, dateTo, timeFrom, timeTo);
            }
        } catch (RowProblem problem) {
            throw problem.at(into.lines, field + 1);
        }
        into.ensureRoomForOne();
        int n = into.rows++;
        into.lineInBlock[n] = into.lines;
        if (timed) {
            into.stamps[n] = time;
            if (stamp.carriesOffset()) {
                into.someCarryOffset = true;
            } else {
                into.someLackOffset = true;
            }
        }
        double[] factor = plan.factor;
        double[] shift = plan.shift;
        for (int c = 0; c < row.length; c++) {
            into.values[c][n] = (float) (factor[c] * row[c] + shift[c]);
        }
    }

    private int fieldOf(int wanted) {
        for (int f = 0; f < plan.role.length; f++) {
            if (plan.role[f] == wanted) {
                return f;
            }
        }
        return -1;
    }

    private int count(byte[] b, int from, int to) {
        fields.start(b, from, to);
        int n = 0;
        try {
            while (fields.next()) {
                n++;
            }
        } catch (RowProblem openQuote) {
            return n;
        }
        return n;
    }
}
