package org.aftercast.report;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * All figures of a study as files: each at one and at two columns of a journal (85 and 174 mm: common practice, no source),
 * as SVG, PDF and PNG at 600 dpi; the plates at two columns; the poster on A3 as SVG and PDF.
 */
public final class FigureSet {

    /** Width of one column. */
    static final double ONE_COLUMN_MM = 85;

    /** Width of two columns. */
    static final double TWO_COLUMNS_MM = 174;

    private static final double POSTER_MM = 297;
    private static final int DPI = 600;

    /** Which plates come as images. */
    public enum PlateImages {
        /** SVG and PDF only: they can be enlarged at will and are small. */
        VECTOR_ONLY,
        /** PNG at 600 dpi too. */
        WITH_PNG
    }

    private FigureSet() {}

    /** Writes all figures. */
    public static void write(StudyReport report, PlateImages plates, Shelf shelf) throws IOException {
        for (Figure figure : study(report, ONE_COLUMN_MM)) {
            put(report, figure, "one-column/" + figure.name(), PlateImages.WITH_PNG, shelf);
        }
        for (Figure figure : study(report, TWO_COLUMNS_MM)) {
            put(report, figure, "two-columns/" + figure.name(), PlateImages.WITH_PNG, shelf);
        }
        for (AnimalSection animal : report.animals()) {
            AnimalSection.ReadingSection reading = animal.reading();
            if (reading != null) {
                Figure figure = AnimalPart.plate(report, animal, reading, TWO_COLUMNS_MM);
                put(report, figure, "plates/" + StudyDocument.anchor(report, animal), plates, shelf);
            }
        }
        put(report, FishFigure.poster(report, POSTER_MM), "poster", PlateImages.VECTOR_ONLY, shelf);
    }

    /** The figures of all animals together at one width. */
    static List<Figure> study(StudyReport report, double widthMm) {
        List<Figure> out = new ArrayList<>();
        out.add(FishFigure.draw(report, widthMm));
        out.add(TimelineFigure.draw(report, widthMm));
        PlanSection plan = report.plan();
        if (plan != null) {
            out.add(PlanFigure.draw(plan.plan(), widthMm));
        }
        EstimateSection estimate = report.estimate();
        if (estimate != null) {
            if (estimate.headline() != null
                    && !estimate.sameShareOtherIntervals().isEmpty()) {
                out.add(StudyFigures.shares(
                        "share-intervals",
                        "The share that died, with several intervals",
                        estimate.headline(),
                        estimate.sameShareOtherIntervals(),
                        widthMm));
            }
            if (!estimate.robustness().isEmpty()) {
                out.add(StudyFigures.choices(estimate, widthMm));
            }
            if (!estimate.flow().isEmpty()) {
                out.add(StudyFigures.flow(estimate.flow(), widthMm));
            }
            if (!estimate.curves().isEmpty()) {
                out.add(StudyFigures.survival(estimate, widthMm));
            }
            if (!estimate.risks().isEmpty()) {
                out.add(StudyFigures.risks(estimate.risks(), widthMm));
            }
        }
        for (Map.Entry<String, List<StudyFigures.AnimalRecovery>> measure :
                RecoveryPart.measures(report).entrySet()) {
            if (measure.getValue().stream().anyMatch(StudyFigures::hasRow)) {
                out.add(StudyFigures.recovery(measure.getKey(), measure.getValue(), widthMm));
            }
        }
        return out;
    }

    private static void put(StudyReport report, Figure bare, String path, PlateImages images, Shelf shelf)
            throws IOException {
        boolean label = report.about().origin() == StudyReport.Origin.INVENTED
                && !bare.name().equals("poster");
        Figure figure = label ? bare.labelled(PlainWords.INVENTED) : bare;
        shelf.put(path + ".svg", out -> FigureFiles.svg(figure, out));
        shelf.put(path + ".pdf", out -> FigureFiles.pdf(figure, out));
        if (images == PlateImages.WITH_PNG) {
            shelf.put(path + ".png", out -> FigureFiles.png(figure, DPI, out));
        }
    }
}
