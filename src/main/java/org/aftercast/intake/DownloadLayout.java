package org.aftercast.intake;

import com.fasterxml.jackson.annotation.JsonCreator;
import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.JsonProperty;
import com.fasterxml.jackson.annotation.JsonPropertyOrder;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.aftercast.recording.Channel;
import org.jspecify.annotations.Nullable;

/**
 * How one kind of text download is to be read: its form, its time columns, which column is which channel, and what is
 * known about clock and calibration. Saved as JSON ({@link LayoutJson}) and reused for the next file of the same kind.
 *
 * @param name a name for people; may be empty
 * @param text delimiter, decimal mark, where header and data stand
 * @param time how the time of a row is found
 * @param columns which column is which channel; at least the three acceleration axes or depth or pressure
 * @param clock what is known about the logger's clock, or null
 * @param calibration corrections of the acceleration axes, or null
 * @param pressureZero how the surface is found in a pressure channel
 */
@JsonPropertyOrder({"name", "text", "time", "columns", "clock", "calibration", "pressureZero"})
@JsonInclude(JsonInclude.Include.NON_NULL)
public record DownloadLayout(
        String name,
        TextForm text,
        TimeForm time,
        List<ColumnForm> columns,
        @Nullable ClockNotes clock,
        @Nullable Calibration calibration,
        @Nullable PressureZero pressureZero) {

    /**
     * Checks what can be checked without a file.
     *
     * @throws IllegalArgumentException if a part is missing, a channel stands twice or a unit does not fit its channel
     */
    public DownloadLayout {
        name = name == null ? "" : name;
        if (text == null || time == null || columns == null) {
            throw new IllegalArgumentException("layout: needs \"text\", \"time\" and \"columns\"");
        }
        columns = List.copyOf(columns);
        Set<Channel> seen = EnumSet.noneOf(Channel.class);
        for (ColumnForm column : columns) {
            if (!seen.add(column.channel())) {
                throw new IllegalArgumentException(
                        "columns: channel " + column.channel().columnName() + " stands twice");
            }
        }
        if (seen.isEmpty()) {
            throw new IllegalArgumentException("columns: no channel given, at least one is needed");
        }
    }

    /** The same layout without clock notes, calibration and pressure zero. */
    public static DownloadLayout of(TextForm text, TimeForm time, List<ColumnForm> columns) {
        return new DownloadLayout("", text, time, columns, null, null, null);
    }

    /** The same layout with another way of telling the time. */
    public DownloadLayout withTime(TimeForm other) {
        return new DownloadLayout(name, text, other, columns, clock, calibration, pressureZero);
    }

    /** The same layout with other clock notes. */
    public DownloadLayout withClock(@Nullable ClockNotes other) {
        return new DownloadLayout(name, text, time, columns, other, calibration, pressureZero);
    }

    /** The same layout with another calibration. */
    public DownloadLayout withCalibration(@Nullable Calibration other) {
        return new DownloadLayout(name, text, time, columns, clock, other, pressureZero);
    }

    /** What separates the fields of a row. */
    public enum Delimiter {
        @JsonProperty("comma")
        COMMA(','),
        @JsonProperty("semicolon")
        SEMICOLON(';'),
        @JsonProperty("tab")
        TAB('\t'),
        @JsonProperty("pipe")
        PIPE('|'),
        /** Any run of blanks; leading and trailing blanks do not count. */
        @JsonProperty("spaces")
        SPACES(' ');

        private final char sign;

        Delimiter(char sign) {
            this.sign = sign;
        }

        /** The character itself. */
        public char sign() {
            return sign;
        }
    }

    /** What stands before the fraction of a number. */
    public enum DecimalMark {
        @JsonProperty("point")
        POINT('.'),
        @JsonProperty("comma")
        COMMA(',');

        private final char sign;

        DecimalMark(char sign) {
            this.sign = sign;
        }

        /** The character itself. */
        public char sign() {
            return sign;
        }
    }

    /**
     * The form of the text. Lines count from 1 as an editor shows them. Encoding, byte-order mark, line ends and
     * compression are recognised from the bytes and need no entry.
     *
     * @param delimiter what separates fields
     * @param decimalMark what stands before a fraction
     * @param headerLine line with the column names, or 0 when there is none
     * @param firstDataLine first line with values, after header, preamble and units rows
     */
    public record TextForm(Delimiter delimiter, DecimalMark decimalMark, int headerLine, int firstDataLine) {
        public TextForm {
            if (delimiter == null) {
                throw new IllegalArgumentException("text: needs \"delimiter\"");
            }
            decimalMark = decimalMark == null ? DecimalMark.POINT : decimalMark;
            firstDataLine = firstDataLine == 0 ? headerLine + 1 : firstDataLine;
            if (headerLine < 0 || firstDataLine <= headerLine) {
                throw new IllegalArgumentException("text: firstDataLine " + firstDataLine + " must be after headerLine "
                        + headerLine + ", which must be at least 0");
            }
            if (delimiter == Delimiter.COMMA && decimalMark == DecimalMark.COMMA) {
                throw new IllegalArgumentException("text: comma cannot be both the delimiter and the decimal mark");
            }
        }
    }

    /** How a row says when it was sampled. */
    public enum TimeKind {
        /** Year first: {@code 2024-05-03T14:05:06.25Z}; without an offset the layout's zone holds. */
        @JsonProperty("year-first")
        YEAR_FIRST,
        /** Day first: {@code 03/05/2024 14:05:06}. */
        @JsonProperty("day-first")
        DAY_FIRST,
        /** Month first: {@code 05/03/2024 2:05:06 PM}. */
        @JsonProperty("month-first")
        MONTH_FIRST,
        /** Seconds since 1970-01-01T00:00:00Z. */
        @JsonProperty("epoch-seconds")
        EPOCH_SECONDS,
        /** Milliseconds since 1970-01-01T00:00:00Z. */
        @JsonProperty("epoch-milliseconds")
        EPOCH_MILLISECONDS,
        /** Days since 1899-12-30, as spreadsheets keep dates; in the layout's zone. */
        @JsonProperty("serial-days")
        SERIAL_DAYS,
        /** Seconds from the start of the recording. */
        @JsonProperty("elapsed-seconds")
        ELAPSED_SECONDS,
        /** Milliseconds from the start of the recording. */
        @JsonProperty("elapsed-milliseconds")
        ELAPSED_MILLISECONDS,
        /** A counter that grows by one with each sample; needs a rate. */
        @JsonProperty("sample-number")
        SAMPLE_NUMBER,
        /** No time in the file: rows follow one another at the given rate. */
        @JsonProperty("none")
        NONE;

        /** Whether a stamp of this kind is a calendar date in some zone. */
        boolean isCalendar() {
            return this == YEAR_FIRST || this == DAY_FIRST || this == MONTH_FIRST || this == SERIAL_DAYS;
        }

        /** Whether a stamp of this kind fixes the time of day without {@link TimeForm#startUtc()}. */
        boolean isAbsolute() {
            return isCalendar() || this == EPOCH_SECONDS || this == EPOCH_MILLISECONDS;
        }

        boolean needsRate() {
            return this == SAMPLE_NUMBER || this == NONE;
        }
    }

    /**
     * How the time of a row is found.
     *
     * @param kind how to read the time columns
     * @param columns the time column, or the date column and then the time-of-day column; empty without one
     * @param zone IANA zone or offset of calendar stamps that carry none themselves; null means UTC
     * @param startUtc instant of the first sample where the stamps do not say; null if unknown
     * @param rateHz samples per second where the stamps do not say; otherwise checked against them; null if unknown
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record TimeForm(
            TimeKind kind,
            List<String> columns,
            @Nullable String zone,
            @Nullable Instant startUtc,
            @Nullable Double rateHz) {
        public TimeForm {
            if (kind == null) {
                throw new IllegalArgumentException("time: needs \"kind\"");
            }
            columns = columns == null ? List.of() : List.copyOf(columns);
            int most = kind == TimeKind.NONE ? 0 : kind.isCalendar() && kind != TimeKind.SERIAL_DAYS ? 2 : 1;
            int least = kind == TimeKind.NONE ? 0 : 1;
            if (columns.size() < least || columns.size() > most) {
                throw new IllegalArgumentException(
                        "time: this kind needs " + least + " to " + most + " columns, not " + columns.size());
            }
            if (kind.needsRate() && rateHz == null) {
                throw new IllegalArgumentException("time: this kind needs \"rateHz\"");
            }
            if (rateHz != null && !(rateHz > 0 && rateHz <= 10_000)) {
                throw new IllegalArgumentException("time: rateHz " + rateHz + " is outside (0, 10000] Hz");
            }
        }

        /** No time in the file. */
        public static TimeForm none(@Nullable Instant startUtc, double rateHz) {
            return new TimeForm(TimeKind.NONE, List.of(), null, startUtc, rateHz);
        }
    }

    /**
     * One column and the channel it carries: value in {@code unit} = {@code scale} · number + {@code offset}. A negative
     * scale turns an axis round; raw counts are read with the scale and offset of the logger's data sheet.
     *
     * @param column the name in the header line, or {@code #3} for the third column
     * @param channel the channel
     * @param unit the unit after scale and offset; null means Aftercast's own unit of the channel
     * @param scale factor, finite and not zero; null means 1
     * @param offset added after scaling; null means 0
     */
    public record ColumnForm(String column, Channel channel, Unit unit, Double scale, Double offset) {
        @JsonCreator
        public ColumnForm(
                @JsonProperty("column") @Nullable String column,
                @JsonProperty("channel") @Nullable Channel channel,
                @JsonProperty("unit") @Nullable Unit unit,
                @JsonProperty("scale") @Nullable Double scale,
                @JsonProperty("offset") @Nullable Double offset) {
            if (column == null || column.isBlank() || channel == null) {
                throw new IllegalArgumentException("columns: each needs \"column\" and \"channel\"");
            }
            this.column = column;
            this.channel = channel;
            this.unit = unit == null ? ownUnit(channel) : unit;
            this.scale = scale == null ? 1.0 : scale;
            this.offset = offset == null ? 0.0 : offset;
            if (this.unit.quantity() != Unit.Quantity.of(channel)) {
                throw new IllegalArgumentException(
                        "columns: unit " + this.unit.symbol() + " does not fit channel " + channel.columnName());
            }
            if (!Double.isFinite(this.scale) || this.scale == 0 || !Double.isFinite(this.offset)) {
                throw new IllegalArgumentException(
                        "columns: scale and offset of \"" + column + "\" must be finite and the scale not zero");
            }
        }

        /** A column in the given unit, unscaled. */
        public static ColumnForm of(String column, Channel channel, Unit unit) {
            return new ColumnForm(column, channel, unit, null, null);
        }

        private static Unit ownUnit(Channel channel) {
            return switch (Unit.Quantity.of(channel)) {
                case ACCELERATION -> Unit.G;
                case DEPTH -> Unit.METRE;
                case PRESSURE -> Unit.DECIBAR;
                case TEMPERATURE -> Unit.CELSIUS;
            };
        }
    }

    /**
     * What is known about the logger's clock: what it showed at one or two moments when the true time was known, as a
     * rule when it was set and when it was read out. One pair corrects an offset, two an offset and a steady drift.
     *
     * @param setLogger what the logger showed when it was set
     * @param setTrue the true time then
     * @param readLogger what the logger showed at read-out; null if not noted
     * @param readTrue the true time then; null if not noted
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record ClockNotes(
            @Nullable Instant setLogger,
            @Nullable Instant setTrue,
            @Nullable Instant readLogger,
            @Nullable Instant readTrue) {
        public ClockNotes {
            if ((setLogger == null) != (setTrue == null) || (readLogger == null) != (readTrue == null)) {
                throw new IllegalArgumentException("clock: what the logger showed and the true time come in pairs");
            }
            if (setLogger == null && readLogger == null) {
                throw new IllegalArgumentException("clock: at least one pair of logger time and true time is needed");
            }
            if (setLogger != null && readLogger != null && !readLogger.isAfter(setLogger)) {
                throw new IllegalArgumentException("clock: readLogger must be after setLogger");
            }
        }
    }

    /**
     * Correction of the acceleration axes after units: calibrated = gain · (value − offset), axis by axis (x, y, z).
     *
     * @param offsetG zero offsets in g, three numbers
     * @param gain gains without unit, three numbers near 1
     */
    public record Calibration(List<Double> offsetG, List<Double> gain) {
        public Calibration {
            offsetG = List.copyOf(offsetG);
            gain = List.copyOf(gain);
            if (offsetG.size() != 3 || gain.size() != 3) {
                throw new IllegalArgumentException("calibration: offsetG and gain need three numbers each (x, y, z)");
            }
            for (double g : gain) {
                if (!(Math.abs(g) > 0.1 && Math.abs(g) < 10)) {
                    throw new IllegalArgumentException("calibration: gain " + g + " is outside 0.1 to 10");
                }
            }
        }
    }

    /**
     * How a pressure (or depth) channel is brought to zero at the surface.
     *
     * @param kind {@code as-is}, {@code given} or {@code shallowest}
     * @param surface what the channel shows at the surface, in its own unit here (dbar or m), for {@code given}
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record PressureZero(Kind kind, @Nullable Double surface) {
        /** How the surface is found. */
        public enum Kind {
            /** The channel already reads zero at the surface. */
            @JsonProperty("as-is")
            AS_IS,
            /** The reading at the surface is given. */
            @JsonProperty("given")
            GIVEN,
            /** The 1st percentile of the recording is taken as the surface (the package floats in the end). */
            @JsonProperty("shallowest")
            SHALLOWEST
        }

        public PressureZero {
            if (kind == null || (kind == Kind.GIVEN) != (surface != null)) {
                throw new IllegalArgumentException("pressureZero: \"given\" needs \"surface\", the others none");
            }
        }
    }
}
