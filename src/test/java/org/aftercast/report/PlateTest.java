package org.aftercast.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.metadata.IIOMetadataNode;
import javax.imageio.stream.ImageInputStream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.motion.SecondTable;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;

/** The plate of one animal, drawn from an invented recording. */
class PlateTest {

    private final Figure figure = PlateFigure.draw(InventedPlate.plate(300), "plate-sh-07", 174);

    @Test
    void theSvgIsWellFormedAndSpeaksToScreenReaders() throws Exception {
        Document document = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(figure.svg().getBytes(StandardCharsets.UTF_8)));
        assertThat(document.getDocumentElement().getAttribute("role")).isEqualTo("img");
        assertThat(document.getElementsByTagName("title").getLength()).isEqualTo(1);
        assertThat(document.getElementsByTagName("desc").item(0).getTextContent())
                .contains("swimming", "motionless", "died at 20.9 h");
        assertThat(figure.svg()).contains("hours since the animal was released", "package off, 22.9 h", "no samples");
    }

    @Test
    void everyKindOfBoutCanBeToldApartWithoutColour() {
        Set<List<Object>> looks = new HashSet<>();
        for (BoutKind kind : BoutKind.values()) {
            BoutStyle style = BoutStyle.of(kind);
            looks.add(Arrays.asList(style.top(), style.bottom(), style.hatch()));
        }
        assertThat(looks).hasSameSizeAs(BoutKind.values());
    }

    @Test
    void thinningKeepsExtremesAndGaps() {
        SecondTable table = InventedPlate.table(86400, 7);
        table.depthM()[5000] = 77;
        PlateSeries series = PlateSeries.of(table, 0, 86400, 300);
        assertThat(series.count()).isEqualTo(300);
        assertThat(series.depthM().high()[(int) (5000 / series.binS())]).isEqualTo(77);
        assertThat(series.depthM().middle()[(int) (41000 / series.binS())]).isNaN();
    }

    /** 170, 180 and −170 degrees are 20° apart: their middle is 180°, not 170° or 0°. */
    @Test
    void rollIsThinnedOnTheCircle() {
        float[] none = {Float.NaN, Float.NaN, Float.NaN};
        float[] roll = {170, -170, 180};
        SecondTable table =
                new SecondTable(none, none, none, none, roll, none, none, none, none, none, none, none, none);
        PlateSeries series = PlateSeries.of(table, 0, 3, 1);
        assertThat(Math.abs(series.rollDeg().middle()[0])).isEqualTo(180);
        assertThat(series.rollDeg().high()[0] - series.rollDeg().low()[0]).isEqualTo(20);
    }

    @Test
    void aRecordingWithNothingInItStillGivesAPlateThatSaysSo() {
        float[] none = new float[100];
        Arrays.fill(none, Float.NaN);
        SecondTable table =
                new SecondTable(none, none, none, none, none, none, none, none, none, none, none, none, none);
        Plate plate = new Plate(
                "1",
                PlateSeries.of(table, 0, 100, 50),
                Instant.parse("2031-01-01T00:00:00Z"),
                ZoneOffset.UTC,
                0,
                Double.NaN,
                null,
                List.of(),
                List.of(),
                List.of(),
                List.of());
        String svg = PlateFigure.draw(plate, "plate-1", 174).svg();
        assertThat(svg).contains("no depth in this recording", "no tailbeats in this recording");
        assertThat(svg).doesNotContain("NaN", "package off");
    }

    @Test
    void pngHasTheAskedResolutionAndPdfTheFiguresSize() throws IOException {
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        FigureFiles.png(figure, 300, png);
        try (ImageInputStream in = ImageIO.createImageInputStream(new ByteArrayInputStream(png.toByteArray()))) {
            ImageReader reader = ImageIO.getImageReaders(in).next();
            reader.setInput(in);
            assertThat(reader.getWidth(0)).isEqualTo((int) Math.round(174 / 25.4 * 300));
            IIOMetadataNode tree = (IIOMetadataNode) reader.getImageMetadata(0).getAsTree("javax_imageio_png_1.0");
            IIOMetadataNode resolution =
                    (IIOMetadataNode) tree.getElementsByTagName("pHYs").item(0);
            assertThat(Integer.parseInt(resolution.getAttribute("pixelsPerUnitXAxis")))
                    .isBetween(11810, 11812); // 300 per inch = 11 811 per metre
        }
        ByteArrayOutputStream pdf = new ByteArrayOutputStream();
        FigureFiles.pdf(figure, pdf);
        try (PDDocument document = Loader.loadPDF(pdf.toByteArray())) {
            assertThat(document.getNumberOfPages()).isEqualTo(1);
            assertThat(document.getPage(0).getMediaBox().getWidth() / 72 * 25.4)
                    .isCloseTo(174, org.assertj.core.data.Offset.offset(0.1));
        }
    }

    @Test
    void theSameFigureGivesTheSameBytes() throws IOException {
        Figure again = PlateFigure.draw(InventedPlate.plate(300), "plate-sh-07", 174);
        assertThat(again.svg()).isEqualTo(figure.svg());
        ByteArrayOutputStream first = new ByteArrayOutputStream();
        ByteArrayOutputStream second = new ByteArrayOutputStream();
        FigureFiles.png(figure, 100, first);
        FigureFiles.png(again, 100, second);
        assertThat(second.toByteArray()).isEqualTo(first.toByteArray());
        first.reset();
        second.reset();
        FigureFiles.pdf(figure, first);
        FigureFiles.pdf(again, second);
        assertThat(second.toByteArray()).isEqualTo(first.toByteArray());
    }

    @Test
    void refusesAWidthThatHoldsNoPlate() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PlateFigure.draw(InventedPlate.plate(10), "plate-1", 40))
                .withMessageContaining("widthMm");
    }
}
