package org.aftercast.evaluation;

import java.util.Locale;

/** Stated probability against how often it came true, as SVG: on the diagonal the two agree. */
final class ReliabilityDiagram {

    private static final double SIZE = 300;
    private static final double LEFT = 60;
    private static final double TOP = 20;

    private ReliabilityDiagram() {}

    /**
     * Draws.
     *
     * @param title for the top
     * @param stated mean stated probability of each class, 0–1
     * @param happened share that came true
     * @param n statements in each class; classes without any are left out
     */
    static String svg(String title, double[] stated, double[] happened, int[] n) {
        StringBuilder s = new StringBuilder();
        s.append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 400 390\" font-family=\"sans-serif\""
                + " font-size=\"12\" role=\"img\">\n");
        s.append("<title>").append(title).append("</title>\n");
        s.append("<rect width=\"400\" height=\"390\" fill=\"white\"/>\n");
        s.append(line(0, 0, 1, 1, "#999999", "4 3"));
        s.append(line(0, 0, 1, 0, "#222222", "")).append(line(0, 0, 0, 1, "#222222", ""));
        for (int k = 0; k <= 4; k++) {
            double v = k / 4.0;
            s.append(text(px(v), py(0) + 16, "middle", String.format(Locale.ROOT, "%.2f", v)));
            s.append(text(px(0) - 6, py(v) + 4, "end", String.format(Locale.ROOT, "%.2f", v)));
        }
        s.append(text(px(0.5), py(0) + 36, "middle", "stated probability"));
        s.append(String.format(
                Locale.ROOT,
                "<text transform=\"translate(16 %.0f) rotate(-90)\" text-anchor=\"middle\">came true</text>%n",
                py(0.5)));
        for (int i = 0; i < n.length; i++) {
            if (n[i] == 0) {
                continue;
            }
            double spread = 1.96 * Math.sqrt(Math.max(1e-9, happened[i] * (1 - happened[i]) / n[i]));
            s.append(line(
                    stated[i],
                    Math.max(0, happened[i] - spread),
                    stated[i],
                    Math.min(1, happened[i] + spread),
                    "#1f5fa8",
                    ""));
            s.append(String.format(
                    Locale.ROOT,
                    "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"%.1f\" fill=\"#1f5fa8\"><title>%d statements: stated %.3f, came true"
                            + " %.3f</title></circle>%n",
                    px(stated[i]),
                    py(happened[i]),
                    Math.min(9, 2.5 + Math.log10(n[i]) * 1.8),
                    n[i],
                    stated[i],
                    happened[i]));
        }
        s.append(text(px(0.5), py(0) + 56, "middle", title));
        return s.append("</svg>\n").toString();
    }

    private static double px(double v) {
        return LEFT + v * SIZE;
    }

    private static double py(double v) {
        return TOP + (1 - v) * SIZE;
    }

    private static String line(double x1, double y1, double x2, double y2, String colour, String dash) {
        return String.format(
                Locale.ROOT,
                "<line x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"%s\"%s/>%n",
                px(x1),
                py(y1),
                px(x2),
                py(y2),
                colour,
                dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\"");
    }

    private static String text(double x, double y, String anchor, String words) {
        return String.format(
                Locale.ROOT, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>%n", x, y, anchor, words);
    }
}
