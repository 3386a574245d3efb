package org.aftercast.report;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Where an axis has its ticks and what they say.
 *
 * @param values positions in data units, ascending
 * @param labels one each
 */
record Ticks(double[] values, String[] labels) {

    private static final double[] NICE = {1, 2, 2.5, 5, 10};
    private static final long[] CLOCK_STEPS_S = {
        1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800, 604800
    };
    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
    private static final DateTimeFormatter CLOCK_SECONDS = DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ROOT);
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);

    /**
     * Ticks at multiples of 1, 2, 2.5 or 5 times a power of ten, inside the range.
     *
     * @param low lower end
     * @param high upper end, &gt; low
     * @param atMost largest number of ticks, ≥ 2
     */
    static Ticks nice(double low, double high, int atMost) {
        double step = niceStep(low, high, atMost);
        List<Double> at = new ArrayList<>();
        for (long k = (long) Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++) {
            at.add(k * step);
        }
        int decimals = decimals(step);
        return new Ticks(
                at.stream().mapToDouble(Double::doubleValue).toArray(),
                at.stream().map(v -> Num.fixed(v, decimals)).toArray(String[]::new));
    }

    /** The step that {@link #nice} would take. */
    static double niceStep(double low, double high, int atMost) {
        if (!(high > low) || Double.isInfinite(high - low)) {
            throw new IllegalArgumentException("low, high: " + low + ", " + high + " is not a range");
        }
        double rough = (high - low) / Math.max(1, atMost);
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        for (double nice : NICE) {
            double step = nice * power;
            double count = Math.floor(high / step + 1e-9) - Math.ceil(low / step - 1e-9) + 1;
            if (count <= atMost) {
                return step;
            }
        }
        return 20 * power;
    }

    /** Widens a range outwards to whole steps, so that the first and last tick stand on the panel's edges. */
    static double[] niceRange(double low, double high, int atMost) {
        double widened = high > low ? high : low + 1;
        double step = niceStep(low, widened, atMost);
        return new double[] {Math.floor(low / step + 1e-9) * step, Math.ceil(widened / step - 1e-9) * step};
    }

    /** Elapsed time: the axis runs in seconds, the labels say hours. */
    static Ticks elapsedHours(double fromS, double toS, int atMost) {
        long step = clockStep(toS - fromS, atMost);
        List<Double> at = new ArrayList<>();
        List<String> labels = new ArrayList<>();
        int decimals = step % 3600 == 0 ? 0 : step % 360 == 0 ? 1 : 2;
        for (long k = (long) Math.ceil(fromS / step - 1e-9); k * step <= toS + 1e-6; k++) {
            at.add((double) (k * step));
            labels.add(Num.fixed(k * step / 3600.0, decimals));
        }
        return new Ticks(at.stream().mapToDouble(Double::doubleValue).toArray(), labels.toArray(String[]::new));
    }

    /**
     * Clock time: the axis runs in seconds from {@code zero}, the labels show the time of day, and the date where a day
     * begins and at the first tick.
     */
    static Ticks clock(Instant zero, ZoneId zone, double fromS, double toS, int atMost) {
        long step = clockStep(toS - fromS, atMost);
        ZonedDateTime start = zero.plusMillis(Math.round(fromS * 1000)).atZone(zone);
        ZonedDateTime midnight = start.toLocalDate().atStartOfDay(zone);
        List<Double> at = new ArrayList<>();
        List<String> labels = new ArrayList<>();
        for (ZonedDateTime t = midnight; ; t = t.plusSeconds(step)) {
            double s = Duration.between(zero, t.toInstant()).toMillis() / 1000.0;
            if (s > toS) {
                break;
            }
            if (s < fromS) {
                continue;
            }
            boolean dayBegins = t.toLocalTime().toSecondOfDay() == 0;
            String clock = t.format(step % 60 == 0 ? CLOCK : CLOCK_SECONDS);
            labels.add(dayBegins || labels.isEmpty() ? t.format(DAY) + (dayBegins ? "" : " " + clock) : clock);
            at.add(s);
        }
        return new Ticks(at.stream().mapToDouble(Double::doubleValue).toArray(), labels.toArray(String[]::new));
    }

    private static long clockStep(double spanS, int atMost) {
        for (long step : CLOCK_STEPS_S) {
            if (spanS / step <= atMost) {
                return step;
            }
        }
        long week = CLOCK_STEPS_S[CLOCK_STEPS_S.length - 1];
        return week * (long) Math.ceil(spanS / week / atMost);
    }

    private static int decimals(double step) {
        for (int d = 0; d < 10; d++) {
            double scaled = step * Math.pow(10, d);
            if (Math.abs(scaled - Math.rint(scaled)) < 1e-6 * scaled) {
                return d;
            }
        }
        return 10;
    }
}
