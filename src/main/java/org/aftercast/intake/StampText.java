package org.aftercast.intake;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Locale;
import org.aftercast.intake.DownloadLayout.TimeKind;

/**
 * Time stamps from bytes to nanoseconds. Calendar stamps count from 1970-01-01T00:00 in their own zone, others from their
 * own zero. One reader serves one thread.
 */
final class StampText {

    static final long SECOND = 1_000_000_000L;
    private static final long DAY = 86_400L * SECOND;
    private static final int FIRST_YEAR = 1970;
    private static final int LAST_YEAR = 2199;
    /** 1899-12-30 to 1970-01-01. */
    private static final int SERIAL_EPOCH_DAYS = 25_569;

    private final TimeKind kind;
    private final char decimalMark;
    private final String accepted;

    private byte[] b = new byte[0];
    private int fieldStart;
    private int at;
    private int to;

    private int cachedDate = -1;
    private long cachedEpochDay;

    /** Whether the stamp last read carried its own offset, so that it is UTC already. */
    private boolean carriesOffset;

    StampText(TimeKind kind, char decimalMark) {
        this.kind = kind;
        this.decimalMark = decimalMark;
        this.accepted = switch (kind) {
            case YEAR_FIRST -> "a time such as 2024-05-03T14:05:06.25";
            case DAY_FIRST -> "a time such as 31/05/2024 14:05:06 (day first)";
            case MONTH_FIRST -> "a time such as 05/31/2024 2:05:06 PM (month first)";
            case EPOCH_SECONDS -> "seconds since 1970-01-01";
            case EPOCH_MILLISECONDS -> "milliseconds since 1970-01-01";
            case SERIAL_DAYS -> "days since 1899-12-30";
            case ELAPSED_SECONDS -> "seconds from the start";
            case ELAPSED_MILLISECONDS -> "milliseconds from the start";
            case SAMPLE_NUMBER -> "a counter";
            case NONE -> "nothing";
        };
    }

    boolean carriesOffset() {
        return carriesOffset;
    }

    /**
     * Reads a stamp from one field, or from a date field and a time-of-day field.
     *
     * @throws RowProblem (line and column 0) if it cannot be read
     */
    long read(byte[] bytes, int from, int end) throws RowProblem {
        if (from == end) {
            throw new RowProblem(0, 0, "the time is missing", accepted);
        }
        if (kind.isCalendar() && kind != TimeKind.SERIAL_DAYS) {
            long days = startDate(bytes, from, end);
            skip(' ');
            if (at < to && (b[at] == 'T' || b[at] == 't' || b[at] == ',')) {
                at++;
            }
            return days * DAY + timeOfDay();
        }
        return number(bytes, from, end);
    }

    /** The same with date and time of day in two fields. */
    long read(byte[] bytes, int dateFrom, int dateTo, int timeFrom, int timeTo) throws RowProblem {
        if (dateFrom == dateTo || timeFrom == timeTo) {
            throw new RowProblem(0, 0, "the time is missing", accepted);
        }
        long days = startDate(bytes, dateFrom, dateTo);
        skip(' ');
        // Some write midnight behind the date although the time has its own column.
        if (at < to && timeOfDay() != 0) {
            throw fail();
        }
        b = bytes;
        fieldStart = timeFrom;
        at = timeFrom;
        to = timeTo;
        return days * DAY + timeOfDay();
    }

    private long startDate(byte[] bytes, int from, int end) throws RowProblem {
        b = bytes;
        fieldStart = from;
        at = from;
        to = end;
        carriesOffset = false;
        int first = part();
        separator();
        int second = part();
        separator();
        int third = part();
        int year;
        int month;
        int day;
        switch (kind) {
            case YEAR_FIRST -> {
                year = first;
                month = second;
                day = third;
            }
            case DAY_FIRST -> {
                day = first;
                month = second;
                year = third;
            }
            default -> {
                month = first;
                day = second;
                year = third;
            }
        }
        if (year < 100) {
            year += 2000;
        }
        int date = (year * 100 + month) * 100 + day;
        if (date != cachedDate) {
            if (year < FIRST_YEAR || year > LAST_YEAR) {
                throw new RowProblem(
                        0, 0, shown() + " lies outside the years " + FIRST_YEAR + " to " + LAST_YEAR, accepted);
            }
            try {
                cachedEpochDay = LocalDate.of(year, month, day).toEpochDay();
                cachedDate = date;
            } catch (DateTimeException noSuchDay) {
                throw fail();
            }
        }
        return cachedEpochDay;
    }

    /** A number, or the English name of a month. */
    private int part() throws RowProblem {
        int start = at;
        int value = 0;
        while (at < to && b[at] >= '0' && b[at] <= '9' && at - start < 5) {
            value = value * 10 + b[at++] - '0';
        }
        if (at > start) {
            return value;
        }
        while (at < to && Character.isLetter(b[at])) {
            at++;
        }
        if (at - start < 3) {
            throw fail();
        }
        String name = new String(b, start, 3, StandardCharsets.US_ASCII).toLowerCase(Locale.ROOT);
        int month = "janfebmaraprmayjunjulaugsepoctnovdec".indexOf(name);
        if (month < 0 || month % 3 != 0) {
            throw fail();
        }
        return month / 3 + 1;
    }

    private void separator() throws RowProblem {
        if (at < to && (b[at] == '-' || b[at] == '/' || b[at] == '.' || b[at] == ' ')) {
            at++;
        } else {
            throw fail();
        }
    }

    private long timeOfDay() throws RowProblem {
        skip(' ');
        if (at == to) {
            return 0; // a date alone is its midnight
        }
        int hour = twoDigits();
        colon();
        int minute = twoDigits();
        int second = 0;
        long fraction = 0;
        if (at < to && b[at] == ':') {
            at++;
            second = twoDigits();
            if (at < to && (b[at] == '.' || b[at] == ',' || b[at] == ':')) {
                at++;
                fraction = fraction();
            }
        }
        skip(' ');
        if (at < to && (b[at] | 0x20) != 'z' && b[at] != '+' && b[at] != '-') {
            hour = halfDay(hour);
            skip(' ');
        }
        // 24:00:00 is the midnight that ends the day; 23:59:60 is a leap second.
        if (hour > 24 || (hour == 24 && (minute > 0 || second > 0 || fraction > 0)) || minute > 59 || second > 60) {
            throw fail();
        }
        long offset = offsetSeconds();
        if (at < to) {
            throw fail();
        }
        return (hour * 3600L + minute * 60L + second - offset) * SECOND + fraction;
    }

    private int halfDay(int hour) throws RowProblem {
        int letter = b[at] | 0x20;
        at++;
        if (at < to && b[at] == '.') {
            at++;
        }
        boolean m = at < to && (b[at] | 0x20) == 'm';
        if ((letter != 'a' && letter != 'p') || !m || hour < 1 || hour > 12) {
            throw fail();
        }
        at++;
        if (at < to && b[at] == '.') {
            at++;
        }
        return hour % 12 + (letter == 'p' ? 12 : 0);
    }

    private long offsetSeconds() throws RowProblem {
        if (at == to) {
            return 0;
        }
        if ((b[at] | 0x20) == 'z') {
            at++;
            carriesOffset = true;
            return 0;
        }
        int sign = b[at] == '-' ? -1 : b[at] == '+' ? 1 : 0;
        if (sign == 0) {
            throw fail();
        }
        at++;
        int hours = twoDigits();
        int minutes = 0;
        if (at < to && b[at] == ':') {
            at++;
        }
        if (at < to) {
            minutes = twoDigits();
        }
        if (hours > 18 || minutes > 59) {
            throw fail();
        }
        carriesOffset = true;
        return sign * (hours * 3600L + minutes * 60L);
    }

    private int twoDigits() throws RowProblem {
        if (at == to || b[at] < '0' || b[at] > '9') {
            throw fail();
        }
        int value = b[at++] - '0';
        if (at < to && b[at] >= '0' && b[at] <= '9') {
            value = value * 10 + b[at++] - '0';
        }
        return value;
    }

    private void colon() throws RowProblem {
        if (at == to || b[at] != ':') {
            throw fail();
        }
        at++;
    }

    private long fraction() {
        long value = 0;
        int digits = 0;
        while (at < to && b[at] >= '0' && b[at] <= '9') {
            if (digits < 9) {
                value = value * 10 + b[at] - '0';
                digits++;
            }
            at++;
        }
        for (; digits < 9; digits++) {
            value *= 10;
        }
        return value;
    }

    private void skip(char c) {
        while (at < to && b[at] == c) {
            at++;
        }
    }

    /** A plain number, kept exact to the nanosecond as long as it has at most 18 digits. */
    private long number(byte[] bytes, int from, int end) throws RowProblem {
        b = bytes;
        fieldStart = from;
        at = from;
        to = end;
        carriesOffset = !kind.isCalendar();
        boolean negative = bytes[from] == '-';
        int i = negative || bytes[from] == '+' ? from + 1 : from;
        long mantissa = 0;
        int digits = 0;
        int decimals = 0;
        boolean fraction = false;
        boolean plain = true;
        for (; i < end && plain; i++) {
            int c = bytes[i];
            if (c >= '0' && c <= '9') {
                mantissa = mantissa * 10 + c - '0';
                digits++;
                decimals += fraction ? 1 : 0;
            } else if ((c == decimalMark || c == '.') && !fraction) {
                fraction = true;
            } else {
                plain = false;
            }
        }
        double unitNanos = unitNanos();
        if (plain && digits > 0 && digits <= 18) {
            mantissa = negative ? -mantissa : mantissa;
            long power = (long) NumberText.ten(decimals);
            long whole = mantissa / power;
            checkRange(whole * unitNanos);
            long unit = (long) unitNanos;
            // The fraction: rest/power of a unit; both fit a double to better than a nanosecond of a day.
            return whole * unit + Math.round((double) (mantissa % power) / power * unitNanos) - epochShift();
        }
        double value;
        try {
            value = NumberText.read(bytes, from, end, decimalMark);
        } catch (RowProblem notANumber) {
            throw fail();
        }
        if (Double.isNaN(value)) {
            throw new RowProblem(0, 0, "the time is missing", accepted);
        }
        checkRange(value * unitNanos);
        return Math.round(value * unitNanos) - epochShift();
    }

    private double unitNanos() {
        return switch (kind) {
            case SERIAL_DAYS -> DAY;
            case EPOCH_MILLISECONDS, ELAPSED_MILLISECONDS -> 1e6;
            default -> SECOND;
        };
    }

    private long epochShift() {
        return kind == TimeKind.SERIAL_DAYS ? SERIAL_EPOCH_DAYS * DAY : 0;
    }

    private void checkRange(double nanos) throws RowProblem {
        double fromZero = nanos - epochShift();
        double latest = (LAST_YEAR + 1 - FIRST_YEAR) * 365.25 * DAY;
        double earliest = kind.isAbsolute() ? 0 : -latest;
        if (!(fromZero >= earliest && fromZero <= latest)) {
            throw new RowProblem(
                    0, 0, shown() + " lies outside the years " + FIRST_YEAR + " to " + LAST_YEAR, accepted);
        }
    }

    private String shown() {
        return "time " + NumberText.quote(new String(b, fieldStart, to - fieldStart, StandardCharsets.UTF_8));
    }

    private RowProblem fail() {
        return new RowProblem(0, 0, shown() + " cannot be read", accepted);
    }
}
