package org.aftercast.intake;

import org.aftercast.intake.DownloadLayout.Delimiter;

/**
 * Cuts one line into fields. Blanks around a field do not count; a field in double quotes is taken without them. The end
 * of a line is a line feed, a carriage return or both.
 */
final class FieldCursor {

    private final byte delimiter;
    private final boolean runs;

    private byte[] b = new byte[0];
    private int at;
    private int lineEnd;
    private boolean more;

    /** First byte of the current field. */
    int from;

    /** One past the last byte of the current field. */
    int to;

    FieldCursor(Delimiter delimiter) {
        this.delimiter = (byte) delimiter.sign();
        this.runs = delimiter == Delimiter.SPACES;
    }

    /** Starts on the line {@code [lineFrom, lineTo)}, which holds no line end. */
    void start(byte[] bytes, int lineFrom, int lineTo) {
        b = bytes;
        at = lineFrom;
        lineEnd = lineTo;
        more = true;
        if (runs) {
            while (at < lineEnd && isBlank(b[at])) {
                at++;
            }
            while (lineEnd > at && isBlank(b[lineEnd - 1])) {
                lineEnd--;
            }
        }
    }

    /**
     * Moves to the next field.
     *
     * @return false when the line has no further field
     * @throws RowProblem if a quote is not closed on the line
     */
    boolean next() throws RowProblem {
        if (!more) {
            return false;
        }
        int start = at;
        while (start < lineEnd && b[start] != delimiter && isBlank(b[start])) {
            start++;
        }
        if (start < lineEnd && b[start] == '"') {
            return quoted(start + 1);
        }
        int end = start;
        while (end < lineEnd && b[end] != delimiter && !(runs && b[end] == '\t')) {
            end++;
        }
        from = start;
        to = end;
        while (to > from && isBlank(b[to - 1])) {
            to--;
        }
        after(end);
        return true;
    }

    private boolean quoted(int start) throws RowProblem {
        int end = start;
        while (end < lineEnd && (b[end] != '"' || (end + 1 < lineEnd && b[end + 1] == '"'))) {
            end += b[end] == '"' ? 2 : 1;
        }
        if (end >= lineEnd) {
            throw new RowProblem(
                    0, 0, "a quoted field is not closed on its line", "quotes in pairs, each field on one line");
        }
        from = start;
        to = end;
        while (from < to && isBlank(b[from])) {
            from++;
        }
        while (to > from && isBlank(b[to - 1])) {
            to--;
        }
        end++;
        while (end < lineEnd && b[end] != delimiter && isBlank(b[end])) {
            end++;
        }
        if (end < lineEnd && b[end] != delimiter && !runs) {
            throw new RowProblem(0, 0, "text follows a closing quote", "a delimiter after the closing quote");
        }
        after(end);
        return true;
    }

    private void after(int end) {
        if (end >= lineEnd) {
            more = false;
            at = end;
            return;
        }
        at = end + 1;
        if (runs) {
            while (at < lineEnd && isBlank(b[at])) {
                at++;
            }
        }
    }

    static boolean isBlank(byte c) {
        return c == ' ' || c == '\t';
    }
}
