package org.aftercast.web;

import java.nio.charset.StandardCharsets;
import java.util.Set;
import org.aftercast.motion.Beats;
import org.aftercast.motion.SecondTable;
import org.aftercast.voyage.Reading;

/**
 * One stretch of a recording as the page draws it: the least and greatest value a pixel column, or, where there are fewer
 * samples than columns, the samples themselves. Written as JSON by hand: this is the one answer whose time matters.
 */
final class Window {

    private static final int MOST_BEATS = 3000;

    private final OpenRecording open;
    private final double fromS;
    private final double toS;
    private final int columns;
    private final StringBuilder out = new StringBuilder(1 << 18);

    Window(OpenRecording open, double fromS, double toS, int columns) {
        this.open = open;
        this.fromS = fromS;
        this.toS = toS;
        this.columns = columns;
    }

    /** The answer; of the series only those that are wanted, all when none is named. */
    byte[] json(Set<String> wanted) {
        out.append("{\"fromS\":")
                .append(fromS)
                .append(",\"toS\":")
                .append(toS)
                .append(",\"columns\":")
                .append(columns)
                .append(",\"series\":{");
        int count = 0;
        for (int s = 0; s < open.tracks().size(); s++) {
            OpenRecording.Track track = open.tracks().get(s);
            if (wanted.isEmpty() || wanted.contains(track.name())) {
                begin(count++, track.name(), track.unit());
                samples(s, track);
                out.append('}');
            }
        }
        Reading reading = open.reading();
        if (reading != null) {
            SecondTable seconds = reading.motion().seconds();
            count = second(wanted, count, "beatHz", "Hz", 3, seconds.beatHz());
            count = second(wanted, count, "beatAmplitude", "g", 4, seconds.beatAmplitudeG());
            count = second(wanted, count, "activity", "g", 4, seconds.dynamicL2G());
            count = second(wanted, count, "pitch", "°", 1, seconds.pitchDeg());
            second(wanted, count, "roll", "°", 1, seconds.rollDeg());
        }
        out.append("},\"beats\":");
        beats(reading);
        out.append('}');
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }

    private void begin(int count, String name, String unit) {
        out.append(count == 0 ? "" : ",")
                .append('"')
                .append(name)
                .append("\":{\"unit\":\"")
                .append(unit)
                .append("\",");
    }

    private void samples(int series, OpenRecording.Track track) {
        double rate = open.recording().clock().sampleRateHz();
        long total = open.recording().samples().sampleCount();
        double from = fromS * rate;
        double perColumn = (toS - fromS) * rate / columns;
        float[] min = new float[columns];
        float[] max = new float[columns];
        if (MinMaxFile.covers(perColumn)) {
            open.minMax().window(series, from, perColumn, min, max);
            columnsOf(min, max, track.decimals());
            return;
        }
        long first = Math.max(0, (long) Math.floor(from) - 1);
        long last = Math.min(total, (long) Math.ceil(toS * rate) + 2);
        int n = (int) Math.max(0, last - first);
        float[] values = new float[n];
        if (n > 0) {
            track.reader().read(first, n, values);
        }
        if (n <= columns) {
            points(first / rate, 1 / rate, values, track.decimals());
        } else {
            fold(values, from - first, perColumn, min, max);
            columnsOf(min, max, track.decimals());
        }
    }

    /** Least and greatest of the values that fall into each column. */
    static void fold(float[] values, double from, double perColumn, float[] min, float[] max) {
        for (int c = 0; c < min.length; c++) {
            int lo = (int) Math.max(0, Math.floor(from + c * perColumn));
            int hi = (int) Math.min(values.length, Math.max(lo + 1.0, Math.ceil(from + (c + 1) * perColumn)));
            float least = Float.NaN;
            float greatest = Float.NaN;
            for (int i = lo; i < hi; i++) {
                least = MinMaxFile.least(least, values[i]);
                greatest = MinMaxFile.greatest(greatest, values[i]);
            }
            min[c] = least;
            max[c] = greatest;
        }
    }

    private int second(Set<String> wanted, int count, String name, String unit, int decimals, float[] values) {
        if (!wanted.isEmpty() && !wanted.contains(name)) {
            return count;
        }
        begin(count, name, unit);
        double perColumn = (toS - fromS) / columns;
        if (perColumn >= 1) {
            float[] min = new float[columns];
            float[] max = new float[columns];
            fold(values, fromS, perColumn, min, max);
            columnsOf(min, max, decimals);
        } else {
            int first = (int) Math.max(0, Math.floor(fromS) - 1);
            int last = (int) Math.min(values.length, Math.ceil(toS) + 1);
            points(first + 0.5, 1, java.util.Arrays.copyOfRange(values, first, Math.max(first, last)), decimals);
        }
        out.append('}');
        return count + 1;
    }

    private void beats(@org.jspecify.annotations.Nullable Reading reading) {
        if (reading == null) {
            out.append("null");
            return;
        }
        Beats beats = reading.beats();
        int first = firstFrom(beats.startS(), fromS - 10);
        int last = firstFrom(beats.startS(), toS);
        if (last - first > MOST_BEATS) {
            out.append("null");
            return;
        }
        out.append("{\"startS\":[");
        for (int i = first; i < last; i++) {
            comma(i > first);
            number(beats.startS()[i], 3);
        }
        out.append("],\"periodS\":[");
        for (int i = first; i < last; i++) {
            comma(i > first);
            number(beats.periodS()[i], 3);
        }
        out.append("],\"amplitudeG\":[");
        for (int i = first; i < last; i++) {
            comma(i > first);
            number(beats.amplitudeG()[i], 4);
        }
        out.append("]}");
    }

    private static int firstFrom(double[] sorted, double from) {
        int at = java.util.Arrays.binarySearch(sorted, from);
        return at < 0 ? -at - 1 : at;
    }

    private void columnsOf(float[] min, float[] max, int decimals) {
        out.append("\"min\":[");
        numbers(min, decimals);
        out.append("],\"max\":[");
        numbers(max, decimals);
        out.append(']');
    }

    private void points(double startS, double stepS, float[] values, int decimals) {
        out.append("\"startS\":")
                .append(startS)
                .append(",\"stepS\":")
                .append(stepS)
                .append(",\"values\":[");
        numbers(values, decimals);
        out.append(']');
    }

    private void numbers(float[] values, int decimals) {
        for (int i = 0; i < values.length; i++) {
            comma(i > 0);
            number(values[i], decimals);
        }
    }

    private void comma(boolean wanted) {
        if (wanted) {
            out.append(',');
        }
    }

    /** A number with at most so many digits after the point, or null. */
    private void number(double value, int decimals) {
        if (!(Math.abs(value) < 1e12)) {
            out.append("null");
            return;
        }
        long scale = SCALES[decimals];
        long scaled = Math.round(value * scale);
        if (scaled < 0) {
            out.append('-');
            scaled = -scaled;
        }
        out.append(scaled / scale);
        long rest = scaled % scale;
        if (rest != 0) {
            out.append('.');
            for (long place = scale / 10; place > 0 && rest > 0; place /= 10) {
                out.append((char) ('0' + rest / place));
                rest %= place;
            }
        }
    }

    private static final long[] SCALES = {1, 10, 100, 1000, 10_000};
}
