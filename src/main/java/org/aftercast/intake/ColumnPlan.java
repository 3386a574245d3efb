package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.intake.DownloadLayout.Calibration;
import org.aftercast.intake.DownloadLayout.ColumnForm;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.recording.Channel;
import org.jspecify.annotations.Nullable;

/**
 * A layout applied to one file: which field is a time, which a channel, and how its numbers become Aftercast's units.
 * Immutable, so that several threads may parse by it.
 */
final class ColumnPlan {

    /** Field is not used. */
    static final int UNUSED = -1;

    /** Field is the time, or the date. */
    static final int TIME = -2;

    /** Field is the time of day beside a date. */
    static final int TIME_OF_DAY = -3;

    private static final int MOST_FIELDS = 10_000;

    /** Role by field: {@link #UNUSED}, {@link #TIME}, {@link #TIME_OF_DAY} or an index into the channels. */
    final int[] role;

    final Channel[] channels;
    final double[] factor;
    final double[] shift;
    final DownloadLayout layout;

    private ColumnPlan(int[] role, Channel[] channels, double[] factor, double[] shift, DownloadLayout layout) {
        this.role = role;
        this.channels = channels;
        this.factor = factor;
        this.shift = shift;
        this.layout = layout;
    }

    /**
     * Finds the layout's columns in the header line.
     *
     * @param file name used in errors
     * @param header the names in the header line; empty if the layout has none
     * @throws ImportException if a column is missing or stands twice
     */
    static ColumnPlan of(String file, DownloadLayout layout, List<String> header) throws ImportException {
        List<ColumnForm> columns = layout.columns();
        Channel[] channels = new Channel[columns.size()];
        double[] factor = new double[columns.size()];
        double[] shift = new double[columns.size()];
        int[] fields = new int[columns.size()];
        int last = 0;
        for (int c = 0; c < fields.length; c++) {
            ColumnForm column = columns.get(c);
            channels[c] = column.channel();
            // ours = unitFactor * (scale * number + offset + unitShift), folded into one factor and one addend
            factor[c] = column.unit().factor() * column.scale();
            shift[c] = column.unit().factor() * (column.offset() + column.unit().shift());
            calibrate(layout.calibration(), channels[c], c, factor, shift);
            fields[c] = find(file, layout, header, column.column());
            last = Math.max(last, fields[c]);
        }
        TimeForm time = layout.time();
        int[] times = new int[time.columns().size()];
        for (int t = 0; t < times.length; t++) {
            times[t] = find(file, layout, header, time.columns().get(t));
            last = Math.max(last, times[t]);
        }
        int[] role = new int[last + 1];
        java.util.Arrays.fill(role, UNUSED);
        for (int t = 0; t < times.length; t++) {
            claim(file, layout, role, times[t], t == 0 ? TIME : TIME_OF_DAY);
        }
        for (int c = 0; c < fields.length; c++) {
            claim(file, layout, role, fields[c], c);
        }
        return new ColumnPlan(role, channels, factor, shift, layout);
    }

    /** Folds gain · (value − offset) into factor and addend. */
    private static void calibrate(
            @Nullable Calibration calibration, Channel channel, int c, double[] factor, double[] shift) {
        if (calibration == null || !channel.isAcceleration()) {
            return;
        }
        int axis = channel == Channel.ACCELERATION_X ? 0 : channel == Channel.ACCELERATION_Y ? 1 : 2;
        double gain = calibration.gain().get(axis);
        factor[c] *= gain;
        shift[c] = gain * (shift[c] - calibration.offsetG().get(axis));
    }

    private static void claim(String file, DownloadLayout layout, int[] role, int field, int as)
            throws ImportException {
        if (role[field] != UNUSED) {
            throw new ImportException(
                    file,
                    layout.text().headerLine(),
                    field + 1,
                    "the layout uses this column twice",
                    "each column at most once");
        }
        role[field] = as;
    }

    private static int find(String file, DownloadLayout layout, List<String> header, String column)
            throws ImportException {
        if (column.matches("#[0-9]{1,5}")) {
            int field = Integer.parseInt(column.substring(1)) - 1;
            if (field < 0 || field >= MOST_FIELDS || (!header.isEmpty() && field >= header.size())) {
                throw new ImportException(
                        file,
                        layout.text().headerLine(),
                        0,
                        "there is no column " + column,
                        header.isEmpty() ? "#1 to #" + MOST_FIELDS : "#1 to #" + header.size());
            }
            return field;
        }
        int found = -1;
        for (int f = 0; f < header.size(); f++) {
            if (same(header.get(f), column)) {
                if (found >= 0) {
                    throw new ImportException(
                            file,
                            layout.text().headerLine(),
                            f + 1,
                            "column " + NumberText.quote(column) + " stands twice",
                            "each name once, or #" + (f + 1));
                }
                found = f;
            }
        }
        if (found < 0) {
            throw new ImportException(
                    file,
                    layout.text().headerLine(),
                    0,
                    "column " + NumberText.quote(column) + " is missing",
                    header.isEmpty()
                            ? "columns by number (#1) where there is no header line"
                            : "one of " + shown(header));
        }
        return found;
    }

    private static boolean same(String a, String b) {
        return a.strip().toLowerCase(Locale.ROOT).equals(b.strip().toLowerCase(Locale.ROOT));
    }

    private static String shown(List<String> header) {
        List<String> names = new ArrayList<>();
        for (String name : header.subList(0, Math.min(header.size(), 12))) {
            names.add(NumberText.quote(name));
        }
        return String.join(", ", names) + (header.size() > 12 ? ", …" : "");
    }
}
