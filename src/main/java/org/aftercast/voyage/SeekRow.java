package org.aftercast.voyage;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/** One row of a table of observations, and the reading of its values; what is wrong is told with line and column. */
final class SeekRow {

    static final int TIME = 1;
    static final int LAT = 2;
    static final int LON = 3;
    static final int KIND = 4;
    static final int VALUES = 5;

    static final double KNOT_MPS = 1852.0 / 3600;

    private static final Pattern NUMBER = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d{1,3})?");

    private final TableProblems problems;
    private final long line;
    private final @Nullable Instant time;
    private final @Nullable Position own;
    private final String kind;
    private final Map<String, String> values;
    private final Set<String> used = new HashSet<>();

    SeekRow(
            TableProblems problems,
            long line,
            @Nullable Instant time,
            @Nullable Position own,
            String kind,
            Map<String, String> values) {
        this.problems = problems;
        this.line = line;
        this.time = time;
        this.own = own;
        this.kind = kind;
        this.values = values;
    }

    long line() {
        return line;
    }

    String kind() {
        return kind;
    }

    Map<String, String> values() {
        return values;
    }

    @Nullable
    Position own() {
        return own;
    }

    /** Marks a value as one this kind takes. */
    void used(String name) {
        used.add(name);
    }

    boolean isUsed(String name) {
        return used.contains(name);
    }

    /** The values this kind takes, as far as they were asked for. */
    String accepted() {
        return String.join(", ", used.stream().sorted().toList());
    }

    static @Nullable Instant time(TableProblems problems, long line, String text) {
        try {
            String iso = text.replace(' ', 'T');
            return iso.matches(".*(Z|[+-]\\d\\d:?\\d\\d)$") && iso.length() > 16
                    ? OffsetDateTime.parse(iso).toInstant()
                    : LocalDateTime.parse(iso).toInstant(ZoneOffset.UTC);
        } catch (DateTimeException bad) {
            problems.inCell(line, TIME, "\"" + text + "\" is not a time; accepted: 2026-08-01T10:15:00Z");
            return null;
        }
    }

    static @Nullable Double number(TableProblems problems, long line, int place, String name, String text) {
        try {
            double value = NUMBER.matcher(text).matches() ? Double.parseDouble(text) : Double.NaN;
            if (Double.isFinite(value)) {
                return value;
            }
        } catch (NumberFormatException bad) {
            // told below
        }
        problems.inCell(
                line, place, name + ": \"" + text + "\" is not a number; accepted: digits with a decimal point");
        return null;
    }

    /** A gain step: a whole number from 1. */
    int gain() {
        double gain = value("gain", 1.0);
        if (gain != Math.rint(gain) || gain < 1 || gain > 20) {
            throw new MissingException(VALUES, "gain: \"" + text("gain", "") + "\"; accepted: a whole number, 1–20");
        }
        return (int) gain;
    }

    boolean yes(String name) {
        String text = text(name, "");
        if (text.equals("yes") || text.equals("no")) {
            return text.equals("yes");
        }
        throw new MissingException(VALUES, name + ": \"" + text + "\"; accepted: " + name + "=yes or " + name + "=no");
    }

    String text(String name, String otherwise) {
        used.add(name);
        return values.getOrDefault(name, otherwise);
    }

    @Nullable
    Double value(String name) {
        used.add(name);
        String text = values.get(name);
        if (text == null) {
            return null;
        }
        Double value = number(problems, line, VALUES, name, text);
        return value == null ? Double.valueOf(1) : value; // the problem is told; the row goes on to find others
    }

    double value(String name, double otherwise) {
        Double value = value(name);
        return value == null ? otherwise : value;
    }

    @Nullable
    Double value(String name, @Nullable Double otherwise) {
        Double value = value(name);
        return value == null ? otherwise : value;
    }

    double need(String name) {
        Double value = value(name);
        if (value == null) {
            throw new MissingException(VALUES, "kind " + kind + " needs " + name + "=…");
        }
        return value;
    }

    double needSpeed() {
        Double mps = value("speed_mps");
        Double knots = value("speed_kn");
        if ((mps == null) == (knots == null)) {
            throw new MissingException(VALUES, "kind " + kind + " needs speed_mps=… or speed_kn=…, one of them");
        }
        return mps != null ? mps : (knots == null ? 0 : knots * KNOT_MPS);
    }

    @Nullable
    Instant instant(String name) {
        String text = text(name, "");
        return text.isEmpty() ? null : time(problems, line, text);
    }

    Instant needTime() {
        if (time == null) {
            throw new MissingException(TIME, "kind " + kind + " needs a time");
        }
        return time;
    }

    Position needOwn() {
        if (own == null) {
            throw new MissingException(LAT, "kind " + kind + " needs lat and lon");
        }
        return own;
    }

    <E extends Enum<E>> E named(String name, Class<E> type, @Nullable E otherwise) {
        String text = text(name, "");
        if (text.isEmpty() && otherwise != null) {
            return otherwise;
        }
        List<String> names = new ArrayList<>();
        for (E value : type.getEnumConstants()) {
            String word = value.name().toLowerCase(Locale.ROOT).replace('_', '-');
            if (word.equals(text.toLowerCase(Locale.ROOT))) {
                return value;
            }
            names.add(word);
        }
        throw new MissingException(
                VALUES, name + ": \"" + text + "\"; accepted: " + name + "=" + String.join(", ", names));
    }

    static final class MissingException extends RuntimeException {
        private static final long serialVersionUID = 1L;
        private final int place;

        MissingException(int place, String message) {
            super(message);
            this.place = place;
        }

        int place() {
            return place;
        }
    }
}
