package org.aftercast.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;

/** One bar per animal from its release to the last certain sign of life, with what became of it at the bar's end. */
final class TimelineFigure {

    private static final double ROW_PT = 11;

    private TimelineFigure() {}

    static Figure draw(StudyReport report, double widthMm) {
        Sheet sheet = new Sheet(Look.mm(widthMm));
        List<AnimalSection> known = new ArrayList<>();
        List<AnimalSection> unknown = new ArrayList<>();
        for (AnimalSection animal : report.animals()) {
            (animal.reading() != null ? known : unknown).add(animal);
        }
        known.sort(Comparator.comparingDouble(TimelineFigure::atRiskH).reversed());
        double longest = known.stream().mapToDouble(TimelineFigure::spanH).max().orElse(24);
        double labelPt = 20;
        for (AnimalSection animal : report.animals()) {
            labelPt = Math.max(labelPt, TextWidth.pt(animal.name(), Look.SMALL_PT) + 6);
        }
        double left = labelPt + 14;
        double right = sheet.widthPt - 14;
        Scale hours = new Scale(0, Math.max(longest, 0.1), left, right);
        double top = 8;
        double bottom = top + (known.size() + unknown.size()) * ROW_PT;
        Ticks ticks = Ticks.elapsedHours(0, hours.to() * 3600, widthMm < 120 ? 6 : 10);
        for (int i = 0; i < ticks.values().length; i++) {
            double x = hours.pt(ticks.values()[i] / 3600);
            sheet.line(x, top, x, bottom, Look.GRID, Look.HAIR_PT);
            sheet.text(x, bottom + 10, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.INK);
        }
        EstimateSection estimate = report.estimate();
        if (estimate != null && estimate.horizonH() <= hours.to()) {
            double x = hours.pt(estimate.horizonH());
            sheet.dashed(x, top, x, bottom, Look.FAINT_INK, Look.LINE_PT, "3 2");
        }
        sheet.line(left, bottom, right, bottom, Look.INK, Look.HAIR_PT);
        double y = top;
        for (AnimalSection animal : known) {
            row(sheet, animal, hours, left, y);
            y += ROW_PT;
        }
        for (AnimalSection animal : unknown) {
            name(sheet, animal, left, y);
            sheet.text(left + 4, y + 8, animal.stage().words(), Look.SMALL_PT, Mark.Anchor.START, Look.FAINT_INK);
            y += ROW_PT;
        }
        sheet.text(
                (left + right) / 2, bottom + 21, "hours since release", Look.NORMAL_PT, Mark.Anchor.MIDDLE, Look.INK);
        Legend legend = new Legend(sheet, left, right, bottom + 35);
        for (AnimalFate fate : AnimalFate.values()) {
            if (known.stream().anyMatch(a -> fateOf(a) == fate)) {
                legend.item(
                        FateStyle.words(fate), 9, (x, base) -> FateStyle.draw(sheet, fate, x + 4.5, base - 2.5, 3.2));
            }
        }
        legend.item("interval of the change", 14, (x, base) -> sheet.box(x, base - 6, 14, 7, Look.SAND));
        legend.item("bar cut off: package came off early", 8, (x, base) -> early(sheet, x + 4, base - 2.5));
        if (estimate != null && estimate.horizonH() <= hours.to()) {
            legend.item(
                    "hours for which the share is stated",
                    14,
                    (x, base) -> sheet.dashed(x, base - 2.5, x + 14, base - 2.5, Look.FAINT_INK, Look.LINE_PT, "3 2"));
        }
        double end = legend.finish() - 4;
        return sheet.figure(
                "timeline",
                end,
                "How long each animal was watched and what became of it",
                "One bar per animal, longest first, from release to the last certain sign of life. " + known.size()
                        + " animals have a recording, " + unknown.size() + " have none.");
    }

    private static void row(Sheet sheet, AnimalSection animal, Scale hours, double left, double y) {
        name(sheet, animal, left, y);
        AnimalSection.ReadingSection reading = animal.reading();
        if (reading == null) {
            return;
        }
        AnimalSection.FateSection fate = reading.fate();
        double end = hours.clamped(fate.atRiskH());
        sheet.box(left, y + 3.6, end - left, 3.8, Look.PALE_BLUE);
        Double low = fate.changeLowH();
        Double high = fate.changeHighH();
        if (low != null && high != null) {
            double from = hours.clamped(low);
            sheet.box(from, y + 2.4, Math.max(1, hours.clamped(high) - from), 6.2, Look.SAND);
        }
        if (fate.end() == RecordEnd.SHED_EARLY) {
            early(sheet, Math.max(left + 2, end), y + 5.5);
        }
        FateStyle.draw(sheet, fate.animal(), end + 6, y + 5.5, 3);
    }

    private static void early(Sheet sheet, double x, double y) {
        sheet.line(x - 1, y - 4, x - 1, y + 4, Look.INK, Look.LINE_PT);
        sheet.line(x + 1, y - 4, x + 1, y + 4, Look.INK, Look.LINE_PT);
    }

    private static void name(Sheet sheet, AnimalSection animal, double left, double y) {
        sheet.text(left - 5, y + 8, animal.name(), Look.SMALL_PT, Mark.Anchor.END, Look.INK);
    }

    private static AnimalFate fateOf(AnimalSection animal) {
        AnimalSection.ReadingSection reading = animal.reading();
        return reading == null ? AnimalFate.UNDECIDED : reading.fate().animal();
    }

    private static double atRiskH(AnimalSection animal) {
        AnimalSection.ReadingSection reading = animal.reading();
        return reading == null ? 0 : reading.fate().atRiskH();
    }

    private static double spanH(AnimalSection animal) {
        AnimalSection.ReadingSection reading = animal.reading();
        if (reading == null) {
            return 0;
        }
        Double high = reading.fate().changeHighH();
        return Math.max(reading.fate().atRiskH(), high == null ? 0 : high);
    }
}
