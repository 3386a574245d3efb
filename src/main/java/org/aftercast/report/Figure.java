package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;

/**
 * A finished figure: marks on a sheet of a given size. Drawn to SVG by {@link #svg()}; the same figure goes into pages,
 * documents and files.
 *
 * @param name short name for files and anchors: lower case letters, digits and hyphens
 * @param widthPt width in points
 * @param heightPt height in points
 * @param title one line for readers and screen readers
 * @param description what is to be seen, in sentences, for those who cannot see it
 * @param marks in drawing order
 */
public record Figure(String name, double widthPt, double heightPt, String title, String description, List<Mark> marks) {

    public Figure {
        if (!name.matches("[a-z0-9-]+")) {
            throw new IllegalArgumentException("name: " + name + " is not made of lower case letters, digits, hyphens");
        }
        marks = List.copyOf(marks);
    }

    /** Width in millimetres. */
    public double widthMm() {
        return widthPt * 25.4 / 72;
    }

    /** Height in millimetres. */
    public double heightMm() {
        return heightPt * 25.4 / 72;
    }

    /** The figure as one SVG element, without an XML declaration, ready to stand inside a page. */
    public String svg() {
        return SvgWriter.write(this);
    }

    /** The same figure with a line of words below it, for figures that leave the report and must say what they are. */
    Figure labelled(String words) {
        double size = Look.SMALL_PT * Math.max(1, widthPt / Look.mm(174));
        double label = size * 1.9;
        List<Mark> more = new ArrayList<>(marks);
        more.add(new Mark.Box(0, heightPt, widthPt, label, Look.SAND, "none", 0));
        more.add(new Mark.Words(
                widthPt / 2,
                heightPt + label * 0.68,
                words,
                Math.min(size, (widthPt - 8) / Math.max(1, TextWidth.pt(words, 1))),
                Mark.Anchor.MIDDLE,
                Mark.Weight.PLAIN,
                Look.INK,
                0));
        return new Figure(name, widthPt, heightPt + label, title, words + " " + description, more);
    }
}
