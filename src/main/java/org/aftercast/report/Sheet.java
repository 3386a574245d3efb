package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;

/** Collects marks for a {@link Figure}. Coordinates in points, y downwards. */
final class Sheet {

    /** How an area is hatched; each can be told from the others without colour. */
    enum Hatch {
        RISING,
        FALLING,
        CROSSED,
        LEVEL,
        DOTTED
    }

    final double widthPt;
    private final List<Mark> marks = new ArrayList<>();

    Sheet(double widthPt) {
        this.widthPt = widthPt;
    }

    Figure figure(String name, double heightPt, String title, String description) {
        List<Mark> all = new ArrayList<>(marks.size() + 1);
        all.add(new Mark.Box(0, 0, widthPt, heightPt, Look.PAPER, "none", 0));
        all.addAll(marks);
        return new Figure(name, widthPt, heightPt, title, description, all);
    }

    void box(double x, double y, double width, double height, String fill) {
        marks.add(new Mark.Box(x, y, width, height, fill, "none", 0));
    }

    void frame(double x, double y, double width, double height, String stroke, double strokePt) {
        marks.add(new Mark.Box(x, y, width, height, "none", stroke, strokePt));
    }

    void line(double x1, double y1, double x2, double y2, String stroke, double strokePt) {
        dashed(x1, y1, x2, y2, stroke, strokePt, "none");
    }

    void dashed(double x1, double y1, double x2, double y2, String stroke, double strokePt, String dash) {
        marks.add(new Mark.Trace(new Path().move(x1, y1).line(x2, y2).toString(), "none", stroke, strokePt, dash));
    }

    void stroke(Path path, String stroke, double strokePt) {
        marks.add(new Mark.Trace(path.toString(), "none", stroke, strokePt, "none"));
    }

    void stroke(Path path, String stroke, double strokePt, String dash) {
        marks.add(new Mark.Trace(path.toString(), "none", stroke, strokePt, dash));
    }

    void fill(Path path, String fill) {
        marks.add(new Mark.Trace(path.toString(), fill, "none", 0, "none"));
    }

    void shape(Path path, String fill, String stroke, double strokePt) {
        marks.add(new Mark.Trace(path.toString(), fill, stroke, strokePt, "none"));
    }

    void text(double x, double y, String text, double sizePt, Mark.Anchor anchor, String fill) {
        marks.add(new Mark.Words(x, y, text, sizePt, anchor, Mark.Weight.PLAIN, fill, 0));
    }

    void bold(double x, double y, String text, double sizePt, Mark.Anchor anchor, String fill) {
        marks.add(new Mark.Words(x, y, text, sizePt, anchor, Mark.Weight.BOLD, fill, 0));
    }

    void turned(double x, double y, String text, double sizePt, String fill) {
        marks.add(new Mark.Words(x, y, text, sizePt, Mark.Anchor.MIDDLE, Mark.Weight.PLAIN, fill, -90));
    }

    /** Lines of text broken at spaces to fit a width; returns the baseline of the line after the last. */
    double paragraph(double x, double y, double width, String text, double sizePt, String fill) {
        double baseline = y;
        for (String line : TextWidth.broken(text, sizePt, width)) {
            text(x, baseline, line, sizePt, Mark.Anchor.START, fill);
            baseline += sizePt * 1.35;
        }
        return baseline;
    }

    /** Hatches a rectangle with lines cut at its edges, so that no clip and no pattern is needed. */
    void hatch(double x, double y, double width, double height, Hatch hatch, String stroke, double stepPt) {
        if (width <= 0 || height <= 0) {
            return;
        }
        Path path = new Path();
        switch (hatch) {
            case RISING -> slanted(path, x, y, width, height, stepPt, 1);
            case FALLING -> slanted(path, x, y, width, height, stepPt, -1);
            case CROSSED -> {
                slanted(path, x, y, width, height, stepPt, 1);
                slanted(path, x, y, width, height, stepPt, -1);
            }
            case LEVEL -> {
                for (double ly = y + stepPt / 2; ly < y + height; ly += stepPt) {
                    path.move(x, ly).line(x + width, ly);
                }
            }
            case DOTTED -> {
                boolean odd = false;
                for (double dy = y + stepPt / 2; dy < y + height; dy += stepPt) {
                    double first = Math.ceil((x + (odd ? stepPt / 2 : 0)) / stepPt) * stepPt - (odd ? stepPt / 2 : 0);
                    for (double dx = first; dx < x + width - 0.3; dx += stepPt) {
                        path.move(Math.max(x, dx), dy).line(Math.min(x + width, dx + 0.6), dy);
                    }
                    odd = !odd;
                }
            }
        }
        stroke(path, stroke, hatch == Hatch.DOTTED ? 0.6 : Look.HAIR_PT);
    }

    /** Lines u = px + sign·py at whole multiples of the step (so that neighbouring areas join), cut at the edges. */
    private static void slanted(Path path, double x, double y, double width, double height, double stepPt, int sign) {
        double step = stepPt * Math.sqrt(2);
        double low = Math.min(x + sign * y, x + sign * (y + height));
        double high = Math.max(x + sign * y, x + sign * (y + height)) + width;
        for (double u = Math.ceil(low / step) * step; u < high; u += step) {
            double yAtLeft = (u - x) / sign;
            double yAtRight = (u - x - width) / sign;
            double top = Math.max(y, Math.min(yAtLeft, yAtRight));
            double bottom = Math.min(y + height, Math.max(yAtLeft, yAtRight));
            if (bottom > top) {
                path.move(u - sign * top, top).line(u - sign * bottom, bottom);
            }
        }
    }

    /** SVG path data. */
    static final class Path {
        private final StringBuilder data = new StringBuilder();

        Path move(double x, double y) {
            return add('M', x, y);
        }

        Path line(double x, double y) {
            return add('L', x, y);
        }

        /** A cubic curve to the last point. */
        Path curve(double x1, double y1, double x2, double y2, double x, double y) {
            add('C', x1, y1);
            data.append(' ')
                    .append(Num.coordinate(x2))
                    .append(' ')
                    .append(Num.coordinate(y2))
                    .append(' ')
                    .append(Num.coordinate(x))
                    .append(' ')
                    .append(Num.coordinate(y));
            return this;
        }

        Path close() {
            data.append('Z');
            return this;
        }

        static Path circle(double x, double y, double radius) {
            double k = 0.5523 * radius;
            return new Path()
                    .move(x + radius, y)
                    .curve(x + radius, y + k, x + k, y + radius, x, y + radius)
                    .curve(x - k, y + radius, x - radius, y + k, x - radius, y)
                    .curve(x - radius, y - k, x - k, y - radius, x, y - radius)
                    .curve(x + k, y - radius, x + radius, y - k, x + radius, y)
                    .close();
        }

        static Path polygon(double... xy) {
            Path path = new Path().move(xy[0], xy[1]);
            for (int i = 2; i < xy.length; i += 2) {
                path.line(xy[i], xy[i + 1]);
            }
            return path.close();
        }

        private Path add(char command, double x, double y) {
            data.append(command).append(Num.coordinate(x)).append(' ').append(Num.coordinate(y));
            return this;
        }

        @Override
        public String toString() {
            return data.toString();
        }
    }
}
