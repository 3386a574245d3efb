package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;

/**
 * How wide a text is, from the advance widths of the Helvetica metrics (thousandths of the size, U+0020 to U+007E), which
 * the shipped font shares. Other characters count as a digit. Used for placing labels only.
 */
final class TextWidth {

    private static final int[] WIDTHS = {
        278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556,
        556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667,
        556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556,
        556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722,
        500, 500, 500, 334, 260, 334, 584
    };

    private TextWidth() {}

    /** Width in points at a size in points. */
    static double pt(String text, double sizePt) {
        double thousandths = 0;
        for (int i = 0; i < text.length(); i++) {
            int c = text.charAt(i) - 32;
            thousandths += c >= 0 && c < WIDTHS.length ? WIDTHS[c] : 556;
        }
        return thousandths * sizePt / 1000;
    }

    /** Breaks at spaces so that each line fits; a single longer word stands alone. */
    static List<String> broken(String text, double sizePt, double widthPt) {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        for (String word : text.split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (!line.isEmpty() && pt(longer, sizePt) > widthPt) {
                lines.add(line.toString());
                line.setLength(0);
                line.append(word);
            } else {
                line.setLength(0);
                line.append(longer);
            }
        }
        lines.add(line.toString());
        return lines;
    }
}
