package org.aftercast.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The figures of all animals together. */
class FigureSetTest {

    private final StudyReport report = InventedStudy.report(50);

    @ParameterizedTest
    @ValueSource(doubles = {FigureSet.ONE_COLUMN_MM, FigureSet.TWO_COLUMNS_MM})
    void figuresKeepTheirWidthAndTheirLetters(double widthMm) {
        Set<String> names = new HashSet<>();
        for (Figure figure : FigureSet.study(report, widthMm)) {
            assertThat(names.add(figure.name())).isTrue();
            assertThat(figure.widthMm()).isCloseTo(widthMm, org.assertj.core.data.Offset.offset(1e-9));
            for (Mark mark : figure.marks()) {
                if (mark instanceof Mark.Words words) {
                    assertThat(words.sizePt())
                            .as("letters in %s", figure.name())
                            .isGreaterThanOrEqualTo(6);
                }
            }
            assertThat(figure.svg()).doesNotContain("NaN", "Infinity").contains("<desc");
        }
        assertThat(names)
                .contains(
                        "timeline", "flow", "survival", "share-intervals", "robustness", "risks", "recovery-activity");
    }

    /** The curve, drawn: 1 until 6 h, then 0.909; two who left at 9.2 and 16 h are no longer watched at 18 h. */
    @Test
    void survivalFigureCountsWhoIsStillWatched() {
        EstimateSection estimate = report.estimate();
        assertThat(estimate).isNotNull();
        String svg = StudyFigures.survival(estimate, 174).svg();
        assertThat(svg).contains("animals still watched", ">11<", ">6<");
    }

    @Test
    void inventedFiguresSaySoWhereverTheyGo() throws Exception {
        StudyReport small =
                new StudyReport(report.about(), report.animals().subList(11, 12), null, null, report.madeWith());
        Set<String> paths = new HashSet<>();
        FigureSet.write(small, FigureSet.PlateImages.VECTOR_ONLY, (path, content) -> {
            paths.add(path);
            if (path.endsWith(".svg")) {
                java.io.ByteArrayOutputStream out = new java.io.ByteArrayOutputStream();
                content.writeTo(out);
                assertThat(out.toString(StandardCharsets.UTF_8)).contains("Invented data");
            }
        });
        assertThat(paths)
                .contains(
                        "one-column/timeline.svg", "one-column/timeline.pdf", "one-column/timeline.png", "poster.pdf");
    }

    /** The same study gives the same figures, byte for byte, as SVG, PDF and PNG. */
    @Test
    void theSameStudyGivesTheSameFigures() throws Exception {
        java.util.List<Figure> first = FigureSet.study(report, FigureSet.ONE_COLUMN_MM);
        java.util.List<Figure> again = FigureSet.study(InventedStudy.report(50), FigureSet.ONE_COLUMN_MM);
        assertThat(again).hasSameSizeAs(first);
        for (int i = 0; i < first.size(); i++) {
            assertThat(again.get(i).svg()).isEqualTo(first.get(i).svg());
            Figure a = first.get(i);
            Figure b = again.get(i);
            assertThat(bytes(out -> FigureFiles.pdf(b, out))).isEqualTo(bytes(out -> FigureFiles.pdf(a, out)));
            assertThat(bytes(out -> FigureFiles.png(b, 72, out))).isEqualTo(bytes(out -> FigureFiles.png(a, 72, out)));
        }
    }

    private static byte[] bytes(Shelf.Content content) throws Exception {
        java.io.ByteArrayOutputStream out = new java.io.ByteArrayOutputStream();
        content.writeTo(out);
        return out.toByteArray();
    }

    /** At one column no label of who was tagged reaches into its bar. */
    @Test
    void labelsKeepClearOfBars() {
        java.util.List<EstimateSection.FlowLine> lines = java.util.List.of(
                new EstimateSection.FlowLine("brought to the vessel", 42, 0),
                new EstimateSection.FlowLine("released without a package: too small for the package", 13, 1),
                new EstimateSection.FlowLine("alive when the package came off early", 1, 3));
        Figure figure = StudyFigures.flow(lines, FigureSet.ONE_COLUMN_MM);
        double left = Look.mm(FigureSet.ONE_COLUMN_MM) * 0.55;
        for (Mark mark : figure.marks()) {
            if (mark instanceof Mark.Words words && !words.text().matches("\\d+")) {
                assertThat(words.x() + TextWidth.pt(words.text(), words.sizePt()))
                        .isLessThan(left);
            }
        }
    }
}
