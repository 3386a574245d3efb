package org.aftercast.voyage;

import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.report.Figure;
import org.aftercast.report.FigureFiles;
import org.aftercast.report.PlanFigure;
import org.aftercast.report.Shelf;
import org.aftercast.study.FileStore;

/** How many animals a study needs. */
public final class PlanStudy {

    private static final double FIGURE_MM = 174;
    private static final int FIGURE_DPI = 600;

    private final FileStore files;

    public PlanStudy(FileStore files) {
        this.files = files;
    }

    /**
     * Plans.
     *
     * @throws BadInputException if more animals would be needed than can be counted through
     */
    public static Plan of(PlanQuestion question) throws BadInputException {
        try {
            return Plan.of(question);
        } catch (IllegalArgumentException tooMany) {
            throw new BadInputException(String.valueOf(tooMany.getMessage()));
        }
    }

    /**
     * Writes the plan's figure, 174 mm wide, wholly or not at all.
     *
     * @param target ends in .svg, .png (600 dpi) or .pdf
     * @throws BadInputException if it ends otherwise
     * @throws IOException if it cannot be written
     */
    public void writeFigure(Plan plan, Path target) throws BadInputException, IOException {
        Shelf.Content content = content(plan, target.toString());
        files.write(target, aside -> {
            try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(aside))) {
                content.writeTo(out);
            }
        });
    }

    /**
     * The plan's figure, 174 mm wide.
     *
     * @param name ends in .svg, .png (600 dpi) or .pdf
     * @throws BadInputException if it ends otherwise
     */
    public static byte[] figure(Plan plan, String name) throws BadInputException, IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        content(plan, name).writeTo(out);
        return out.toByteArray();
    }

    private static Shelf.Content content(Plan plan, String target) throws BadInputException {
        Figure figure = PlanFigure.draw(plan, FIGURE_MM);
        String name = target.toLowerCase(Locale.ROOT);
        if (name.endsWith(".svg")) {
            return out -> FigureFiles.svg(figure, out);
        }
        if (name.endsWith(".png")) {
            return out -> FigureFiles.png(figure, FIGURE_DPI, out);
        }
        if (name.endsWith(".pdf")) {
            return out -> FigureFiles.pdf(figure, out);
        }
        throw new BadInputException(target + ": what kind of figure? accepted: a name ending in .svg, .png or .pdf");
    }

    /**
     * Writes the plan as JSON, wholly or not at all.
     *
     * @throws IOException if it cannot be written
     */
    public void writeJson(Plan plan, Path target) throws IOException {
        files.write(target, ResultJson.of(plan));
    }
}
