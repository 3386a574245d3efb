package org.aftercast.report;

/** Writes a {@link Figure} as SVG 1.1: plain shapes only, no identifiers that could clash inside a page. */
final class SvgWriter {

    private SvgWriter() {}

    static String write(Figure figure) {
        StringBuilder out = new StringBuilder(1 << 16);
        String titleId = "fig-" + figure.name() + "-title";
        String descriptionId = "fig-" + figure.name() + "-desc";
        out.append("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" role=\"img\" aria-labelledby=\"")
                .append(titleId)
                .append(' ')
                .append(descriptionId)
                .append("\" width=\"")
                .append(Num.coordinate(figure.widthPt()))
                .append("pt\" height=\"")
                .append(Num.coordinate(figure.heightPt()))
                .append("pt\" viewBox=\"0 0 ")
                .append(Num.coordinate(figure.widthPt()))
                .append(' ')
                .append(Num.coordinate(figure.heightPt()))
                .append("\" font-family=\"")
                .append(Look.FONT_STACK)
                .append("\">\n<title id=\"")
                .append(titleId)
                .append("\">")
                .append(escape(figure.title()))
                .append("</title>\n<desc id=\"")
                .append(descriptionId)
                .append("\">")
                .append(escape(figure.description()))
                .append("</desc>\n");
        for (Mark mark : figure.marks()) {
            if (mark instanceof Mark.Box box) {
                box(out, box);
            } else if (mark instanceof Mark.Trace trace) {
                trace(out, trace);
            } else if (mark instanceof Mark.Words words) {
                words(out, words);
            }
        }
        return out.append("</svg>\n").toString();
    }

    private static void box(StringBuilder out, Mark.Box box) {
        out.append("<rect");
        number(out, "x", box.x());
        number(out, "y", box.y());
        number(out, "width", Math.max(0, box.width()));
        number(out, "height", Math.max(0, box.height()));
        paint(out, box.fill(), box.stroke(), box.strokePt());
        out.append("/>\n");
    }

    private static void trace(StringBuilder out, Mark.Trace trace) {
        if (trace.path().isEmpty()) {
            return;
        }
        out.append("<path d=\"").append(trace.path()).append('"');
        paint(out, trace.fill(), trace.stroke(), trace.strokePt());
        if (!trace.dash().equals("none")) {
            out.append(" stroke-dasharray=\"").append(trace.dash()).append('"');
        }
        out.append(" stroke-linejoin=\"round\"/>\n");
    }

    private static void words(StringBuilder out, Mark.Words words) {
        out.append("<text");
        number(out, "x", words.x());
        number(out, "y", words.y());
        number(out, "font-size", words.sizePt());
        if (words.anchor() != Mark.Anchor.START) {
            out.append(" text-anchor=\"").append(words.anchor().svg).append('"');
        }
        if (words.weight() == Mark.Weight.BOLD) {
            out.append(" font-family=\"'")
                    .append(Look.BOLD_FONT)
                    .append("', ")
                    .append(Look.FONT_STACK)
                    .append("\" font-weight=\"bold\"");
        }
        out.append(" fill=\"").append(words.fill()).append('"');
        if (words.turnDeg() != 0) {
            out.append(" transform=\"rotate(")
                    .append(Num.coordinate(words.turnDeg()))
                    .append(' ')
                    .append(Num.coordinate(words.x()))
                    .append(' ')
                    .append(Num.coordinate(words.y()))
                    .append(")\"");
        }
        out.append('>').append(escape(words.text())).append("</text>\n");
    }

    private static void paint(StringBuilder out, String fill, String stroke, double strokePt) {
        out.append(" fill=\"").append(fill).append('"');
        if (!stroke.equals("none")) {
            out.append(" stroke=\"").append(stroke).append('"');
            number(out, "stroke-width", strokePt);
        }
    }

    private static void number(StringBuilder out, String name, double value) {
        out.append(' ').append(name).append("=\"").append(Num.coordinate(value)).append('"');
    }

    /** Text for XML content and attributes; characters that XML 1.0 forbids become U+FFFD. */
    static String escape(String text) {
        StringBuilder out = new StringBuilder(text.length() + 16);
        text.codePoints().forEach(c -> {
            switch (c) {
                case '<' -> out.append("&lt;");
                case '>' -> out.append("&gt;");
                case '&' -> out.append("&amp;");
                case '"' -> out.append("&quot;");
                default -> out.appendCodePoint(allowed(c) ? c : 0xFFFD);
            }
        });
        return out.toString();
    }

    private static boolean allowed(int c) {
        return c == 0x9
                || c == 0xA
                || c == 0xD
                || (c >= 0x20 && c <= 0xD7FF)
                || (c >= 0xE000 && c <= 0xFFFD)
                || c >= 0x10000;
    }
}
