package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.fate.AnimalFate;
import org.jspecify.annotations.Nullable;

/**
 * One fish drawn for every animal, in rows by what became of it. For readers who want no numbers: on the page for
 * managers, and large as a poster.
 */
final class FishFigure {

    private record Group(String words, @Nullable AnimalFate fate, int animals) {}

    private static final double NARROW_MM = 120;
    private static final double NARROW_UNIT = 0.85;

    private FishFigure() {}

    static Figure draw(StudyReport report, double widthMm) {
        // at one column the words stand above the fish, so that they keep a size that can be read
        boolean narrow = widthMm < NARROW_MM;
        double unit = narrow ? NARROW_UNIT : Look.mm(widthMm) / Look.mm(174);
        Sheet sheet = new Sheet(Look.mm(widthMm));
        double bottom = rows(sheet, report, narrow ? 0 : 6 * unit, unit, narrow ? Setting.ABOVE : Setting.BESIDE, 0.9);
        return sheet.figure("fish", bottom, "What became of each fish", describe(report));
    }

    /** A poster of its own (sides as 1 to √2): a question, the share in plain words, the fish as large as they fit. */
    static Figure poster(StudyReport report, double widthMm) {
        double unit = Look.mm(widthMm) / Look.mm(174);
        Sheet sheet = new Sheet(Look.mm(widthMm));
        double height = sheet.widthPt * Math.sqrt(2);
        double margin = 12 * unit;
        double width = sheet.widthPt - 2 * margin;
        double y = margin + 24 * unit;
        if (report.about().origin() == StudyReport.Origin.INVENTED) {
            sheet.box(0, 0, sheet.widthPt, 18 * unit, Look.SAND);
            sheet.bold(sheet.widthPt / 2, 12 * unit, PlainWords.INVENTED, 9 * unit, Mark.Anchor.MIDDLE, Look.INK);
            y += 16 * unit;
        }
        for (String line : List.of("What happens to a fish", "after we let it go?")) {
            sheet.bold(margin, y, line, 30 * unit, Mark.Anchor.START, Look.INK);
            y += 35 * unit;
        }
        y -= 4 * unit;
        for (String sentence : PlainWords.poster(report)) {
            y = sheet.paragraph(margin, y, width, sentence, 14 * unit, Look.INK) + 5 * unit;
        }
        double foot = height - 52 * unit;
        double size = 3;
        while (size > 0.5 && rows(new Sheet(sheet.widthPt), report, y, unit, Setting.ABOVE, size) > foot) {
            size -= 0.05;
        }
        rows(sheet, report, y, unit, Setting.ABOVE, size);
        double below = foot + 14 * unit;
        for (String sentence : PlainWords.posterLimits(report)) {
            below = sheet.paragraph(margin, below, width, sentence, 10 * unit, Look.FAINT_INK) + 2 * unit;
        }
        sheet.paragraph(margin, below, width, report.about().title(), 10 * unit, Look.FAINT_INK);
        return sheet.figure("poster", height, "Poster: what became of each fish", describe(report));
    }

    /** How the rows are set. */
    private enum Setting {
        /** Words to the left of the fish. */
        BESIDE,
        /** Words above the fish. */
        ABOVE
    }

    private static double rows(Sheet sheet, StudyReport report, double top, double unit, Setting setting, double size) {
        double margin = setting == Setting.ABOVE ? 12 * unit : 4 * unit;
        double words = 8.5 * unit * Math.min(size, 1.6);
        double left = margin;
        if (setting == Setting.BESIDE) {
            for (Group group : groups(report)) {
                left = Math.max(left, margin + TextWidth.pt(group.animals() + " " + group.words(), words) + 14 * unit);
            }
        }
        double fishWidth = 27 * unit * size;
        double fishHeight = 12 * unit * size;
        double step = fishWidth + 6 * unit;
        int perRow = Math.max(1, (int) ((sheet.widthPt - left - margin + 6 * unit) / step));
        double y = top;
        for (Group group : groups(report)) {
            String label = group.animals() + " " + group.words();
            if (setting == Setting.ABOVE) {
                y += 10 * unit * size;
                sheet.bold(margin, y, label, words, Mark.Anchor.START, Look.INK);
                y += 7 * unit;
            } else {
                sheet.text(margin, y + fishHeight * 0.72, label, words, Mark.Anchor.START, Look.INK);
            }
            for (int i = 0; i < group.animals(); i++) {
                double x = left + (i % perRow) * step;
                int line = i / perRow;
                double fy = y + line * (fishHeight + 5 * unit);
                fish(sheet, group.fate(), x, fy, fishWidth, fishHeight, unit);
            }
            int lines = (group.animals() + perRow - 1) / perRow;
            y += lines * (fishHeight + 5 * unit) + 3 * unit;
        }
        return y;
    }

    private static List<Group> groups(StudyReport report) {
        List<Group> groups = new ArrayList<>();
        for (AnimalFate fate : AnimalFate.values()) {
            int count = 0;
            for (AnimalSection animal : report.animals()) {
                AnimalSection.ReadingSection reading = animal.reading();
                if (reading != null && reading.fate().animal() == fate) {
                    count++;
                }
            }
            if (count > 0) {
                groups.add(new Group(groupWords(fate), fate, count));
            }
        }
        long unknown =
                report.animals().stream().filter(a -> a.reading() == null).count();
        if (unknown > 0) {
            groups.add(new Group("without a record (package not found, or not read yet)", null, (int) unknown));
        }
        return groups;
    }

    private static String groupWords(AnimalFate fate) {
        return switch (fate) {
            case ALIVE_AT_END -> "alive when last seen in the record";
            case DIED -> "died";
            case EATEN -> "taken alive by a larger animal";
            case DEAD_THEN_SCAVENGED -> "died and then fed upon";
            case UNDECIDED -> "undecided: the record cannot tell";
        };
    }

    private static String describe(StudyReport report) {
        StringBuilder out = new StringBuilder("One fish drawn for each animal. ");
        for (Group group : groups(report)) {
            out.append(group.animals()).append(' ').append(group.words()).append(". ");
        }
        return out.toString().trim();
    }

    /** A plain fish in side view: upright when alive, belly up when dead, hatched when eaten, broken line otherwise. */
    private static void fish(
            Sheet sheet, @Nullable AnimalFate fate, double x, double y, double width, double height, double unit) {
        boolean bellyUp = fate == AnimalFate.DIED || fate == AnimalFate.DEAD_THEN_SCAVENGED;
        Sheet.Path outline = outline(x, y, width, height, bellyUp ? -1 : 1);
        double thin = 0.8 * unit;
        if (fate == null) {
            sheet.stroke(outline, Look.FAINT_INK, thin, Num.coordinate(unit) + " " + Num.coordinate(2 * unit));
            return;
        }
        switch (fate) {
            case ALIVE_AT_END -> sheet.shape(outline, Look.TEAL, Look.TEAL, thin);
            case DIED -> sheet.shape(outline, Look.INK, Look.INK, thin);
            case DEAD_THEN_SCAVENGED -> {
                sheet.shape(outline, Look.PAPER, Look.INK, 1.4 * unit);
                sheet.line(x, y, x + width, y + height, Look.INK, 1.4 * unit);
                sheet.line(x, y + height, x + width, y, Look.INK, 1.4 * unit);
            }
            case EATEN -> {
                sheet.shape(outline, Look.SAND, Look.RUST, 1.2 * unit);
                for (int k = 0; k < 3; k++) {
                    double tx = x + width * (0.34 + 0.14 * k);
                    sheet.fill(
                            Sheet.Path.polygon(
                                    tx,
                                    y - height * 0.05,
                                    tx + width * 0.12,
                                    y - height * 0.05,
                                    tx + width * 0.06,
                                    y + height * 0.6),
                            Look.RUST);
                }
            }
            case UNDECIDED ->
                sheet.stroke(
                        outline, Look.INK, 1.1 * unit, Num.coordinate(3 * unit) + " " + Num.coordinate(1.6 * unit));
        }
        if (fate == AnimalFate.ALIVE_AT_END || fate == AnimalFate.DIED) {
            double eyeY = y + height * (bellyUp ? 0.58 : 0.42);
            sheet.fill(Sheet.Path.circle(x + width * 0.9, eyeY, height * 0.06), Look.PAPER);
        }
    }

    /** Head to the right; {@code up} −1 turns the back downwards. */
    private static Sheet.Path outline(double x, double y, double w, double h, int up) {
        double mid = y + h / 2;
        double s = h / 2 * up;
        return new Sheet.Path()
                .move(x + w, mid)
                .curve(x + 0.92 * w, mid - 0.62 * s, x + 0.7 * w, mid - 0.72 * s, x + 0.62 * w, mid - 0.66 * s)
                .line(x + 0.5 * w, mid - 1.1 * s)
                .line(x + 0.47 * w, mid - 0.55 * s)
                .curve(x + 0.36 * w, mid - 0.4 * s, x + 0.25 * w, mid - 0.24 * s, x + 0.17 * w, mid - 0.18 * s)
                .line(x, mid - 0.95 * s)
                .line(x + 0.07 * w, mid)
                .line(x + 0.02 * w, mid + 0.62 * s)
                .line(x + 0.17 * w, mid + 0.2 * s)
                .curve(x + 0.3 * w, mid + 0.34 * s, x + 0.5 * w, mid + 0.5 * s, x + 0.6 * w, mid + 0.5 * s)
                .line(x + 0.6 * w, mid + 0.98 * s)
                .line(x + 0.72 * w, mid + 0.5 * s)
                .curve(x + 0.86 * w, mid + 0.46 * s, x + 0.95 * w, mid + 0.3 * s, x + w, mid)
                .close();
    }
}
