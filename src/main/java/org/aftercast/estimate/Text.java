package org.aftercast.estimate;

import java.util.Locale;

/** Numbers and counts as words of a sentence. */
final class Text {

    private Text() {}

    /** Up to two decimals, none when whole. */
    static String number(double value) {
        String text = String.format(Locale.ROOT, "%.2f", value);
        return text.contains(".") ? text.replaceAll("0+$", "").replaceAll("\\.$", "") : text;
    }

    /** Per cent with one decimal. */
    static String percent(double share) {
        return String.format(Locale.ROOT, "%.1f %%", 100 * share);
    }

    /** "1 animal", "3 animals". */
    static String animals(int n) {
        return n + (n == 1 ? " animal" : " animals");
    }
}
