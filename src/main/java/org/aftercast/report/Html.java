package org.aftercast.report;

import java.util.List;
import java.util.regex.Pattern;

/** Builds well-formed XHTML: text is escaped, elements are closed. */
final class Html {

    /** Markup that is already well-formed. */
    record Raw(String markup) {}

    private final StringBuilder out = new StringBuilder(1 << 18);

    Html raw(String markup) {
        out.append(markup);
        return this;
    }

    /** A number and the unit after it stay on one line. */
    private static final Pattern NUMBER_AND_UNIT =
            Pattern.compile("(?<=\\d) (?=(?:%|h|min|s|m|kg|°C|g|Hz|points)(?![\\p{L}\\d]))");

    Html text(String text) {
        out.append(SvgWriter.escape(NUMBER_AND_UNIT.matcher(text).replaceAll("\u00a0")));
        return this;
    }

    Html open(String tag, String... attributes) {
        out.append('<').append(tag);
        for (int i = 0; i < attributes.length; i += 2) {
            out.append(' ')
                    .append(attributes[i])
                    .append("=\"")
                    .append(SvgWriter.escape(attributes[i + 1]))
                    .append('"');
        }
        out.append('>');
        return this;
    }

    Html close(String tag) {
        out.append("</").append(tag).append(">\n");
        return this;
    }

    Html element(String tag, String text, String... attributes) {
        return open(tag, attributes).text(text).close(tag);
    }

    Html p(String text) {
        return element("p", text);
    }

    Html list(List<String> items) {
        if (items.isEmpty()) {
            return this;
        }
        open("ul");
        items.forEach(item -> element("li", item));
        return close("ul");
    }

    /** A figure with its caption below. */
    Html figure(Figure figure, String caption) {
        return open("figure", "id", "fig-" + figure.name())
                .raw(figure.svg())
                .element("figcaption", caption)
                .close("figure");
    }

    /**
     * A table with a caption and headed columns; the first cell of each row heads its row.
     *
     * @param numeric columns set flush right, by index
     * @param rows cells: a {@link Raw}, or anything else as text
     */
    Html table(String caption, List<String> heads, List<Integer> numeric, List<List<Object>> rows) {
        open("table").element("caption", caption).open("thead").open("tr");
        for (int i = 0; i < heads.size(); i++) {
            element("th", heads.get(i), "scope", "col", "class", numeric.contains(i) ? "n" : "t");
        }
        close("tr").close("thead").open("tbody");
        for (List<Object> row : rows) {
            open("tr");
            for (int i = 0; i < row.size(); i++) {
                String tag = i == 0 ? "th" : "td";
                if (i == 0) {
                    open(tag, "scope", "row", "class", numeric.contains(i) ? "n" : "t");
                } else {
                    open(tag, "class", numeric.contains(i) ? "n" : "t");
                }
                cell(row.get(i)).close(tag);
            }
            close("tr");
        }
        return close("tbody").close("table");
    }

    private Html cell(Object cell) {
        return cell instanceof Raw markup ? raw(markup.markup()) : text(cell.toString());
    }

    /** Names in a row, none of which is broken at its hyphen. */
    static Raw names(List<String> names) {
        StringBuilder out = new StringBuilder();
        for (int i = 0; i < names.size(); i++) {
            int after = names.size() - 1 - i;
            // the comma stands within, so that no line begins with it
            out.append("<span class=\"name\">")
                    .append(SvgWriter.escape(names.get(i)))
                    .append(after > 1 ? ",</span> " : after == 1 ? "</span> and " : "</span>");
        }
        return new Raw(out.toString());
    }

    static Raw link(String href, String words) {
        return new Raw("<a href=\"" + SvgWriter.escape(href) + "\">" + SvgWriter.escape(words) + "</a>");
    }

    /** A hash or a path, which may be broken anywhere. */
    static Raw code(String text) {
        return new Raw("<code>" + SvgWriter.escape(text) + "</code>");
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
