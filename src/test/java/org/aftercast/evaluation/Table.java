package org.aftercast.evaluation;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** A table in Markdown. */
final class Table {

    private final List<String[]> rows = new ArrayList<>();

    Table(String... heads) {
        rows.add(heads);
    }

    Table row(Object... cells) {
        String[] row = new String[cells.length];
        for (int i = 0; i < cells.length; i++) {
            row[i] = String.valueOf(cells[i]);
        }
        rows.add(row);
        return this;
    }

    String markdown() {
        StringBuilder text = new StringBuilder();
        for (int r = 0; r < rows.size(); r++) {
            text.append("| ").append(String.join(" | ", rows.get(r))).append(" |\n");
            if (r == 0) {
                text.append("|").append(" --- |".repeat(rows.get(0).length)).append('\n');
            }
        }
        return text.toString();
    }

    static String number(double value, int decimals) {
        return Double.isNaN(value) ? "-" : String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    static String percent(double share, int decimals) {
        return Double.isNaN(share) ? "-" : String.format(Locale.ROOT, "%." + decimals + "f %%", 100 * share);
    }

    /** "x of y (z %)". */
    static String of(int part, int whole) {
        return whole == 0 ? "none" : part + " of " + whole + " (" + percent((double) part / whole, 1) + ")";
    }
}
