package org.aftercast.study;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Collects the broken rules of one record, so that all of them can be shown at once. */
final class Rules {

    /** Longest name, in characters. */
    static final int NAME_LENGTH = 60;

    /** Longest one-line text, in characters. */
    static final int LINE_LENGTH = 200;

    /** Longest note, in characters. */
    static final int NOTE_LENGTH = 10_000;

    private static final Instant EARLIEST = Instant.parse("1990-01-01T00:00:00Z");
    private static final Instant LATEST = Instant.parse("2100-01-01T00:00:00Z");
    private static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{M}\\p{N} ._#()-]*");
    private static final Pattern SHA256 = Pattern.compile("[0-9a-f]{64}");

    private final List<RuleException.Problem> problems = new ArrayList<>();

    /** A name: begins with a letter or digit, then letters, digits, spaces and {@code . _ # ( ) -}; no path separators. */
    Rules name(String field, @Nullable String value) {
        if (value == null || value.isEmpty()) {
            return add(field, "is missing");
        }
        if (value.codePointCount(0, value.length()) > NAME_LENGTH) {
            return add(field, Shown.text(value) + " is longer than " + NAME_LENGTH + " characters");
        }
        if (!NAME.matcher(value).matches() || value.endsWith(" ") || value.endsWith(".")) {
            return add(
                    field,
                    Shown.text(value)
                            + " cannot be a name; accepted: begins with a letter or digit, then letters, digits, spaces"
                            + " and . _ # ( ) -, not ending in a space or full stop");
        }
        return this;
    }

    /** As {@link #name}, but may be absent. */
    Rules optionalName(String field, @Nullable String value) {
        return value == null ? this : name(field, value);
    }

    /** One line of text, or null. */
    Rules line(String field, @Nullable String value) {
        return text(field, value, LINE_LENGTH, false);
    }

    /** Text of several lines, or null. */
    Rules note(String field, @Nullable String value) {
        return text(field, value, NOTE_LENGTH, true);
    }

    private Rules text(String field, @Nullable String value, int longest, boolean lines) {
        if (value == null) {
            return this;
        }
        if (value.isBlank()) {
            return add(field, "is blank; leave it out instead");
        }
        if (value.length() > longest) {
            add(field, Shown.text(value) + " is longer than " + longest + " characters");
        }
        if (!value.equals(value.strip())) {
            add(field, Shown.text(value) + " begins or ends with a space");
        }
        boolean control = value.chars()
                .anyMatch(c -> (Character.isISOControl(c) && !(lines && (c == '\n' || c == '\t'))) || c == 0xFFFD);
        if (control) {
            add(field, Shown.text(value) + " holds a control or undecodable character");
        }
        return this;
    }

    /** Text that must be there. */
    Rules needed(String field, @Nullable Object value) {
        return value == null || (value instanceof String s && s.isBlank()) ? add(field, "is missing") : this;
    }

    /** A number within bounds, or null. */
    Rules within(String field, @Nullable Number value, double low, double high, String unit) {
        if (value != null && !(value.doubleValue() >= low && value.doubleValue() <= high)) {
            return add(
                    field,
                    Shown.number(value) + " is outside " + Shown.number(low) + " to " + Shown.number(high)
                            + (unit.isEmpty() ? "" : " " + unit));
        }
        return this;
    }

    /** Latitude and longitude: both or neither. */
    Rules position(String latField, @Nullable Double latDeg, String lonField, @Nullable Double lonDeg) {
        within(latField, latDeg, -90, 90, "°");
        within(lonField, lonDeg, -180, 180, "°");
        if (latDeg == null && lonDeg != null) {
            add(latField, "is missing although " + lonField + " is given");
        }
        if (lonDeg == null && latDeg != null) {
            add(lonField, "is missing although " + latField + " is given");
        }
        return this;
    }

    /** An instant between 1990 and 2100, or null. */
    Rules time(String field, @Nullable Instant value) {
        if (value != null && (value.isBefore(EARLIEST) || !value.isBefore(LATEST))) {
            return add(field, value + " is outside 1990 to 2099");
        }
        return this;
    }

    /** {@code later} does not lie before {@code earlier}, where both are given. */
    Rules order(String laterField, @Nullable Instant later, String earlierField, @Nullable Instant earlier) {
        if (later != null && earlier != null && later.isBefore(earlier)) {
            return add(laterField, later + " lies before " + earlierField + " " + earlier);
        }
        return this;
    }

    /** A SHA-256 in lower-case hexadecimal. */
    Rules sha256(String field, @Nullable String value) {
        return value != null && SHA256.matcher(value).matches()
                ? this
                : add(field, Shown.text(value) + " is not a SHA-256 in lower-case hexadecimal");
    }

    /** A plain file name without any folder. */
    Rules fileName(String field, @Nullable String value) {
        if (value == null
                || value.isBlank()
                || value.contains("/")
                || value.contains("\\")
                || value.startsWith(".")
                || value.chars().anyMatch(Character::isISOControl)) {
            return add(field, Shown.text(value) + " is not a plain file name");
        }
        return this;
    }

    Rules add(String field, String problem) {
        problems.add(new RuleException.Problem(field, problem));
        return this;
    }

    /** Refuses the record if any rule was broken. */
    void check() {
        if (!problems.isEmpty()) {
            throw new RuleException(problems);
        }
    }

    /** Instants are kept to the millisecond. */
    static @Nullable Instant toMs(@Nullable Instant instant) {
        return instant == null ? null : instant.truncatedTo(ChronoUnit.MILLIS);
    }

    /** Values as shown in messages. */
    private static final class Shown {
        static String text(@Nullable String value) {
            if (value == null) {
                return "(nothing)";
            }
            StringBuilder shown = new StringBuilder("\"");
            value.codePoints().limit(40).forEach(c -> {
                if (Character.isISOControl(c)) {
                    shown.append(String.format("\\u%04x", c));
                } else {
                    shown.appendCodePoint(c);
                }
            });
            return shown.append(value.codePointCount(0, value.length()) > 40 ? "…\"" : "\"")
                    .toString();
        }

        static String number(Number value) {
            double v = value.doubleValue();
            return v == Math.rint(v) && Math.abs(v) < 1e15 ? Long.toString((long) v) : Double.toString(v);
        }
    }
}
