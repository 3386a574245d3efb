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
    private final boolean told;
    private final Set<String> used = new HashSet<>();

    SeekRow(
            TableProblems problems,
            long line,
            @Nullable Instant time,
            @Nullable Position own,
            String kind,
            Map<String, String> values,
            boolean told) {
        this.problems = problems;
        this.line = line;
        this.time = time;
        this.own = own;
        this.kind = kind;
        this.values = values;
        this.told = told;
    }

    /** Whether its time or place is bad and has been told: that it is missing is not worth a second line. */
    boolean told() {
        return told;
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

    static @Nullable Instant time(TableProblems problems, long line, int place, String name, String text) {
        try {
            String iso = text.replace(' ', 'T');
            return iso.matches(".*(Z|[+-]\\d\\d:?\\d\\d)$") && iso.length() > 16
                    ? OffsetDateTime.parse(iso).toInstant()
                    : LocalDateTime.parse(iso).toInstant(ZoneOffset.UTC);
        } catch (DateTimeException bad) {
            problems.inCell(
                    line,
                    place,
                    (place == TIME ? "" : name + ": ") + "\"" + text
                            + "\" is not a time; accepted: year-month-day and UTC, as in 2026-08-01T10:15:00Z");
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
                line,
                place,
                name + ": \"" + text + "\" is not a number; accepted: "
                        + (text.matches("[+-]?\\d+,\\d+")
                                ? "a decimal point, " + text.replace(',', '.')
                                : place == LAT || place == LON
                                        ? "degrees with a decimal point, as in -4.5800 (south and west are negative)"
                                        : "digits with a decimal point, the unit stands in the name"));
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
        throw new MissingException(
                VALUES,
                (text.isEmpty() ? "kind " + kind + " needs " + name : name + ": \"" + text + "\"") + "; accepted: "
                        + name + "=yes or " + name + "=no" + others());
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
            throw new MissingException(
                    VALUES, "kind " + kind + " needs " + name + "; accepted: " + name + "=N" + others());
        }
        return value;
    }

    /** What the row has that was not asked for: often the value that is missing, under another name or in another unit. */
    private String others() {
        List<String> left =
                values.keySet().stream().filter(n -> !used.contains(n)).sorted().toList();
        return left.isEmpty() ? "" : " (it has " + String.join(", ", left) + ")";
    }

    /** A direction in degrees from {@code least} to 360, or null. */
    @Nullable
    Double direction(String name, double least) {
        Double deg = value(name);
        return deg == null ? null : Double.valueOf(inCircle(name, deg, least));
    }

    double needDirection(String name, double least) {
        return inCircle(name, need(name), least);
    }

    static double inCircle(String name, double deg, double least) {
        if (deg < least || deg > 360) {
            throw new MissingException(
                    VALUES,
                    String.format(
                            Locale.ROOT,
                            "%s: %s is no direction; accepted: degrees from %.0f to 360",
                            name,
                            deg,
                            least));
        }
        return deg;
    }

    private static final Map<String, String> TYPED = Map.ofEntries(
            Map.entry("latDeg", "lat"),
            Map.entry("lonDeg", "lon"),
            Map.entry("sdM", "sd_m"),
            Map.entry("sdDeg", "sd_deg"),
            Map.entry("fuelHours", "fuel_h"),
            Map.entry("speedMps", "speed"),
            Map.entry("frequencyMHz", "frequency_mhz"),
            Map.entry("beaconHeightM", "height_m"),
            Map.entry("antennaHeightM", "antenna_height_m"),
            Map.entry("referenceDistanceM", "range_nm"),
            Map.entry("gainStepsDb", "steps_db"),
            Map.entry("headingDeg", "heading_deg"),
            Map.entry("deviationDeg", "deviation_deg"),
            Map.entry("distanceM", "distance_m"),
            Map.entry("sweptFromDeg, sweptToDeg", "from_deg, to_deg"),
            Map.entry("periodH", "period_h"),
            Map.entry("strengthSd", "sd_share"),
            Map.entry("points", "levels"));

    /** A message with the name of a value as it is typed in the file, and what would be accepted. */
    static String asTyped(String message) {
        int colon = message.indexOf(':');
        String internal = colon < 0 ? "" : message.substring(0, colon);
        String name = TYPED.getOrDefault(internal, internal);
        String told = name + message.substring(Math.max(0, colon));
        return told.endsWith(" needs it")
                ? told + "; accepted: " + name + "=N"
                : told.replaceFirst(" is outside ", "; accepted: ");
    }

    double needSpeed(double fastestMps) {
        Double mps = value("speed_mps");
        Double knots = value("speed_kn");
        if ((mps == null) == (knots == null)) {
            throw new MissingException(
                    VALUES,
                    "kind " + kind + " needs a speed; accepted: speed_mps=N or speed_kn=N, one of them" + others());
        }
        double speed = mps != null ? mps : (knots == null ? 0 : knots * KNOT_MPS);
        if (speed < 0 || speed > fastestMps) {
            throw new MissingException(
                    VALUES,
                    String.format(
                            Locale.ROOT,
                            "%s: %s is no speed of kind %s; accepted: 0 to %.0f m/s (%.0f kn)",
                            mps != null ? "speed_mps" : "speed_kn",
                            values.get(mps != null ? "speed_mps" : "speed_kn"),
                            kind,
                            fastestMps,
                            fastestMps / KNOT_MPS));
        }
        return speed;
    }

    @Nullable
    Instant instant(String name) {
        String text = text(name, "");
        return text.isEmpty() ? null : time(problems, line, VALUES, name, text);
    }

    Instant needTime() {
        if (time == null) {
            throw new MissingException(
                    TIME, "kind " + kind + " needs a time; accepted: UTC, as in 2026-08-01T10:15:00Z");
        }
        return time;
    }

    Position needOwn() {
        if (own == null) {
            throw new MissingException(LAT, "kind " + kind + " needs lat and lon; accepted: degrees, as in 52.4800");
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
                VALUES,
                (text.isEmpty() ? "kind " + kind + " needs " + name : name + ": \"" + text + "\"") + "; accepted: "
                        + name + "=" + String.join(", ", names));
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
