package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.jspecify.annotations.Nullable;

/**
 * Which columns tell the time, and how.
 *
 * @param form how to read the time, or null if it cannot be told
 * @param fields the time columns, from 0
 * @param reason why they were taken for it
 * @param ambiguities what cannot be decided
 * @param notes what was assumed
 */
record TimeGuess(
        @Nullable TimeForm form, List<Integer> fields, String reason, List<String> ambiguities, List<String> notes) {

    private static final Pattern YEAR_FIRST = Pattern.compile("[12][0-9]{3}([-/.])[0-9]{1,2}\\1[0-9]{1,2}(?:[T ,].*)?");
    private static final Pattern YEAR_LAST =
            Pattern.compile("([0-9]{1,2})([-/. ])([0-9]{1,2}|[A-Za-z]{3,9})\\2([12][0-9]{3}|[0-9]{2})(?:[T ,].*)?");
    private static final Pattern TIME_OF_DAY = Pattern.compile(
            "[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:[.,:][0-9]{1,9})?)? ?(?:[AaPp]\\.?[Mm]\\.?)?(?:[Zz]|[+-][0-9]{2}:?[0-9]{2})?");

    /** Whether a field has the form of a date or a time of day. */
    static boolean looksLikeStamp(String field) {
        if (field.length() < 4 || field.length() > 60 || !Character.isDigit(field.charAt(0))) {
            return false;
        }
        return YEAR_FIRST.matcher(field).matches()
                || YEAR_LAST.matcher(field).matches()
                || TIME_OF_DAY.matcher(field).matches();
    }

    static TimeGuess of(TableShape shape, ImportOptions options) {
        List<String> ambiguities = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        for (int f = 0; f < shape.fields(); f++) {
            TimeKind kind = calendar(shape, f, options.dates(), ambiguities);
            if (kind == null) {
                continue;
            }
            List<Integer> fields = new ArrayList<>(List.of(f));
            boolean dateOnly = most(shape.column(f), v -> v.indexOf(':') < 0);
            if (dateOnly) {
                int clock = timeOfDay(shape);
                if (clock < 0) {
                    ambiguities.add("column " + NumberText.quote(shape.name(f)) + " holds dates without a time of day");
                } else {
                    fields.add(clock);
                }
            }
            return calendarGuess(shape, options, kind, fields, ambiguities, notes);
        }
        if (timeOfDay(shape) >= 0) {
            ambiguities.add("column " + NumberText.quote(shape.name(timeOfDay(shape)))
                    + " holds a time of day, but no column holds the date");
            return new TimeGuess(null, List.of(timeOfDay(shape)), "its form", ambiguities, notes);
        }
        for (int f = 0; f < shape.fields(); f++) {
            TimeGuess guess = numeric(shape, f, options);
            if (guess != null) {
                return guess;
            }
        }
        if (options.rateHz() == null) {
            ambiguities.add("no time column was found and no rate is given (--rate-hz)");
            return new TimeGuess(null, List.of(), "", ambiguities, notes);
        }
        notes.add("no time column: rows follow one another at the given rate");
        return new TimeGuess(TimeForm.none(options.startUtc(), options.rateHz()), List.of(), "", ambiguities, notes);
    }

    private static TimeGuess calendarGuess(
            TableShape shape,
            ImportOptions options,
            TimeKind kind,
            List<Integer> fields,
            List<String> ambiguities,
            List<String> notes) {
        StringBuilder names = new StringBuilder();
        List<String> columns = new ArrayList<>();
        boolean offset = true;
        for (int f : fields) {
            columns.add(shape.columnName(f));
            names.append(' ').append(shape.name(f));
        }
        for (String value : shape.column(fields.get(fields.size() - 1))) {
            offset &= value.isEmpty() || value.matches(".*[0-9:]([Zz]|[+-][0-9]{2}:?[0-9]{2})");
        }
        String zone = options.zone();
        if (!offset && zone == null) {
            List<String> tokens = ColumnNames.tokens(names.toString().replaceAll("[()\\[\\]]", " "));
            if (tokens.contains("utc") || tokens.contains("gmt")) {
                zone = "UTC";
                notes.add("the name of the time column says UTC");
            } else if (tokens.contains("local")) {
                ambiguities.add("the time column says local time, but not in which zone");
            } else {
                notes.add("the times carry no zone and are taken as UTC");
            }
        }
        TimeForm form = new TimeForm(kind, columns, zone, null, options.rateHz());
        String order =
                kind == TimeKind.YEAR_FIRST ? "year first" : kind == TimeKind.DAY_FIRST ? "day first" : "month first";
        return new TimeGuess(form, fields, "dates in its form, " + order, ambiguities, notes);
    }

    private static @Nullable TimeKind calendar(
            TableShape shape, int field, ImportOptions.@Nullable DateOrder told, List<String> ambiguities) {
        List<String> values = shape.column(field);
        boolean dayOver12 = false;
        boolean secondOver12 = false;
        boolean dots = false;
        boolean monthName = false;
        int yearFirst = 0;
        int yearLast = 0;
        for (String value : values) {
            if (YEAR_FIRST.matcher(value).matches()) {
                yearFirst++;
                continue;
            }
            Matcher m = YEAR_LAST.matcher(value);
            if (m.matches()) {
                yearLast++;
                dayOver12 |= Integer.parseInt(m.group(1)) > 12;
                monthName |= Character.isLetter(m.group(3).charAt(0));
                secondOver12 |= !Character.isLetter(m.group(3).charAt(0)) && Integer.parseInt(m.group(3)) > 12;
                dots |= m.group(2).equals(".");
            }
        }
        if (yearFirst * 2 > values.size()) {
            return TimeKind.YEAR_FIRST;
        }
        if (yearLast * 2 <= values.size()) {
            return null;
        }
        if (dayOver12 || monthName) {
            if (told == ImportOptions.DateOrder.MONTH_FIRST) {
                ambiguities.add(
                        "dates such as " + NumberText.quote(values.get(0)) + " cannot be month first, as was said");
            }
            return TimeKind.DAY_FIRST;
        }
        if (secondOver12) {
            if (told == ImportOptions.DateOrder.DAY_FIRST) {
                ambiguities.add(
                        "dates such as " + NumberText.quote(values.get(0)) + " cannot be day first, as was said");
            }
            return TimeKind.MONTH_FIRST;
        }
        if (told != null) {
            return told == ImportOptions.DateOrder.DAY_FIRST ? TimeKind.DAY_FIRST : TimeKind.MONTH_FIRST;
        }
        if (!dots) {
            ambiguities.add("dates such as " + NumberText.quote(values.get(0))
                    + " may be day first or month first (say which with --dates day-first or --dates month-first,"
                    + " or by the time kind of a layout)");
        }
        return TimeKind.DAY_FIRST; // nobody writes the month first with dots (common practice, no source)
    }

    /** Whether most values have a property; a stray one is left for the import to refuse with its line. */
    private static boolean most(List<String> values, Predicate<String> property) {
        return values.stream().filter(property).count() * 2 > values.size();
    }

    private static int timeOfDay(TableShape shape) {
        for (int f = 0; f < shape.fields(); f++) {
            if (most(shape.column(f), v -> TIME_OF_DAY.matcher(v).matches())) {
                return f;
            }
        }
        return -1;
    }

    private static @Nullable TimeGuess numeric(TableShape shape, int field, ImportOptions options) {
        if (!shape.isNumeric(field) || ColumnNames.meaning(shape.name(field)) != null) {
            return null;
        }
        List<String> tokens = ColumnNames.tokens(shape.name(field));
        List<String> inBrackets =
                ColumnNames.tokens(shape.name(field).replaceAll("[()\\[\\]]", " ") + " " + shape.unitText(field));
        boolean timeName = anyStarts(
                        tokens,
                        "time",
                        "timestamp",
                        "datetime",
                        "date",
                        "elapsed",
                        "sec",
                        "ms",
                        "millis",
                        "epoch",
                        "unix",
                        "uptime",
                        "clock",
                        "zeit",
                        "temps")
                || shape.name(field).strip().equalsIgnoreCase("t");
        boolean counterName =
                anyStarts(tokens, "sample", "index", "count", "counter", "row", "no", "nr", "n", "seq", "record");
        double[] values = shape.numbers(field);
        if ((!timeName && !counterName) || values.length == 0) {
            return null;
        }
        List<String> columns = List.of(shape.columnName(field));
        List<Integer> fields = List.of(field);
        List<String> doubt = new ArrayList<>();
        double first = values[0];
        TimeKind kind;
        String reason;
        if (timeName && first > 6e8 && first < 7e9) {
            kind = TimeKind.EPOCH_SECONDS;
            reason = "its name; seconds since 1970 by size";
        } else if (timeName && first > 6e11 && first < 7e12) {
            kind = TimeKind.EPOCH_MILLISECONDS;
            reason = "its name; milliseconds since 1970 by size";
        } else if (timeName && first > 25_569 && first < 80_000 && values[values.length - 1] - first < 1) {
            kind = TimeKind.SERIAL_DAYS;
            reason = "its name; spreadsheet days by size";
        } else if (inBrackets.contains("ms") || anyStarts(tokens, "ms", "millis")) {
            kind = TimeKind.ELAPSED_MILLISECONDS;
            reason = "its name; milliseconds from the start";
        } else if (timeName && (inBrackets.contains("s") || anyStarts(inBrackets, "sec") || fractional(values))) {
            kind = TimeKind.ELAPSED_SECONDS;
            reason = "its name; seconds from the start";
        } else if (counterName && stepsOfOne(values)) {
            kind = TimeKind.SAMPLE_NUMBER;
            reason = "its name; grows by one";
            if (options.rateHz() == null) {
                doubt.add("column " + NumberText.quote(shape.name(field))
                        + " counts samples, but no rate is given (--rate-hz)");
                return new TimeGuess(null, fields, reason, doubt, List.of());
            }
        } else if (counterName) {
            return null;
        } else {
            doubt.add("the unit of time column " + NumberText.quote(shape.name(field)) + " is not stated");
            return new TimeGuess(null, fields, "its name", doubt, List.of());
        }
        boolean zoned = kind == TimeKind.SERIAL_DAYS;
        return new TimeGuess(
                new TimeForm(
                        kind,
                        columns,
                        zoned ? options.zone() : null,
                        kind.isAbsolute() ? null : options.startUtc(),
                        options.rateHz()),
                fields,
                reason,
                doubt,
                zoned && options.zone() == null ? List.of("the times carry no zone and are taken as UTC") : List.of());
    }

    private static boolean anyStarts(List<String> tokens, String... words) {
        for (String token : tokens) {
            for (String word : words) {
                if (word.length() > 3 ? token.startsWith(word) : token.equals(word)) {
                    return true;
                }
            }
        }
        return false;
    }

    private static boolean fractional(double[] values) {
        for (double v : values) {
            if (v != Math.rint(v)) {
                return true;
            }
        }
        return false;
    }

    private static boolean stepsOfOne(double[] values) {
        for (int i = 1; i < values.length; i++) {
            if (values[i] - values[i - 1] != 1) {
                return false;
            }
        }
        return values.length > 1;
    }

    @Override
    public String toString() {
        return String.format(Locale.ROOT, "TimeGuess[%s, %s]", form, ambiguities);
    }
}
