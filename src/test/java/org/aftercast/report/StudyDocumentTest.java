package org.aftercast.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import javax.xml.parsers.DocumentBuilderFactory;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.Stage;
import org.aftercast.report.StudyReport.Origin;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** The document of an invented study: complete, self-contained, reachable, and the same every time. */
class StudyDocumentTest {

    private final StudyReport report = InventedStudy.report(60);

    private static Document parsed(String xhtml) throws Exception {
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        return factory.newDocumentBuilder().parse(new ByteArrayInputStream(xhtml.getBytes(StandardCharsets.UTF_8)));
    }

    @Test
    void pageIsWellFormedSelfContainedAndItsLinksLead() throws Exception {
        String page = StudyDocument.html(report).replace('\u00a0', ' ');
        Document document = parsed(page);
        String text = page.replaceAll("url\\(data:font/ttf;base64,[^)]*\\)", ""); // the fonts are inside
        assertThat(text).doesNotContain("<script", "http-equiv", "url(", "<img", "<link", "NaN", "null");
        NodeList all = document.getElementsByTagName("*");
        Set<String> ids = new HashSet<>();
        List<String> targets = new ArrayList<>();
        for (int i = 0; i < all.getLength(); i++) {
            Element element = (Element) all.item(i);
            if (element.hasAttribute("id")) {
                assertThat(ids.add(element.getAttribute("id")))
                        .as("id %s stands once", element.getAttribute("id"))
                        .isTrue();
            }
            if (element.hasAttribute("href")) {
                targets.add(element.getAttribute("href"));
            }
        }
        assertThat(targets).isNotEmpty().allSatisfy(href -> assertThat(ids).contains(href.substring(1)));
    }

    @Test
    void everyFigureHasWordsAndEveryTableHeads() throws Exception {
        Document document = parsed(StudyDocument.html(report).replace('\u00a0', ' '));
        NodeList figures = document.getElementsByTagName("svg");
        assertThat(figures.getLength()).isGreaterThan(report.animals().size());
        for (int i = 0; i < figures.getLength(); i++) {
            Element svg = (Element) figures.item(i);
            assertThat(svg.getElementsByTagName("title").item(0).getTextContent())
                    .isNotBlank();
            assertThat(svg.getElementsByTagName("desc").item(0).getTextContent())
                    .isNotBlank();
        }
        NodeList tables = document.getElementsByTagName("table");
        for (int i = 0; i < tables.getLength(); i++) {
            Element table = (Element) tables.item(i);
            assertThat(table.getElementsByTagName("caption").getLength()).isEqualTo(1);
            assertThat(((Element) table.getElementsByTagName("th").item(0)).getAttribute("scope"))
                    .isEqualTo("col");
        }
    }

    /** A death seen at the release, 0 h (to within 4 min), must not read "0 min after release". */
    @Test
    void aDeathAtTheReleaseIsSaidSo() {
        assertThat(PlainWords.changed(died(0, -0.017, 0.04))).isEqualTo("at release (known to within 4 min)");
        assertThat(PlainWords.changed(died(0.005, -0.05, 0.3))).isEqualTo("at release (between 0 min and 18 min)");
        assertThat(PlainWords.changed(died(0.05, -0.017, 0.071)))
                .isEqualTo("3 min (known to within 6 min) after release");
        assertThat(PlainWords.changed(died(6.3, 6.28, 6.31))).isEqualTo("6.3 h (known to within 2 min) after release");
    }

    private static AnimalSection.FateSection died(double atH, double lowH, double highH) {
        return new AnimalSection.FateSection(
                AnimalFate.DIED,
                RecordEnd.PLANNED_DETACHMENT,
                AnimalSection.DecidedBy.RECORD,
                null,
                atH,
                atH,
                lowH,
                highH,
                List.of(),
                List.of(),
                List.of(),
                "/fate");
    }

    @Test
    void aStrangerCanSayWhatHappenedToAnimalSeven() {
        String page = StudyDocument.html(report).replace('\u00a0', ' ');
        assertThat(page)
                .contains(
                        "Died 14.0 h (between 13.3 h and 14.3 h) after release and was then fed upon by other animals.",
                        "Animal SH-07, a 0.91 m male, was hooked in the jaw, fought for 20 min, held in air for 165 s and"
                                + " released on 15 June 2031, 00:45 (swam off).",
                        "Its package is still at sea; nothing is known after release.",
                        "Lost its package early, 9.2 h after release; it was alive then, and nothing is known after that.");
    }

    /** An odds ratio is no likelihood, an interval of 0.7 to 90 no finding, and a kind of bout no code. */
    @Test
    void ratiosAreOfOddsAndKindsOfBoutsAreWords() {
        String page = StudyDocument.html(report).replace('\u00a0', ' ');
        assertThat(page)
                .contains("How many times higher the odds", "Hooked deep", "so these data do not tell.")
                .doesNotContain("more likely death", "times more likely (1", "weak-at-surface");
        assertThat(PlainWords.bout(org.aftercast.behaviour.BoutKind.WEAK_AT_SURFACE))
                .isEqualTo("weak at the surface");
    }

    @Test
    void textFromTheStudyCannotBecomeMarkup() {
        assertThat(StudyDocument.html(report).replace('\u00a0', ' '))
                .contains("Line &amp; leader &lt;tangled&gt;; held &quot;upright&quot; alongside.");
    }

    @Test
    void everyAnimalIsTracedToTheBytesOfItsDownload() {
        String page = StudyDocument.html(report).replace('\u00a0', ' ');
        for (AnimalSection animal : report.animals()) {
            AnimalSection.ReadingSection reading = animal.reading();
            if (reading != null) {
                assertThat(page)
                        .contains(
                                reading.chain().raw().get(0).sha256(),
                                reading.chain().recordingSha256(),
                                reading.chain().readingKey());
            }
        }
        assertThat(page).contains("reading.json#/fate", "reading.json#/recovery/0", "20310614");
    }

    @Test
    void inventedDataSayTheySoOnEveryPageAndObservedDataNowhere() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        StudyDocument.pdf(small(Origin.INVENTED), out);
        try (PDDocument pdf = Loader.loadPDF(out.toByteArray())) {
            PDFTextStripper text = new PDFTextStripper();
            assertThat(pdf.getNumberOfPages()).isGreaterThan(2);
            for (int page = 1; page <= pdf.getNumberOfPages(); page++) {
                text.setStartPage(page);
                text.setEndPage(page);
                assertThat(text.getText(pdf))
                        .contains("Invented data")
                        .contains("page " + page + " of " + pdf.getNumberOfPages());
            }
            assertThat(pdf.getDocumentInformation().getTitle()).isEqualTo("Invented smooth-hounds after release");
            assertThat(pdf.getDocumentCatalog().getDocumentOutline()).isNotNull();
        }
        assertThat(StudyDocument.html(small(Origin.OBSERVED))).doesNotContain("Invented data");
    }

    @Test
    void theSameStudyGivesTheSameBytes() throws IOException {
        StudyReport small = small(Origin.INVENTED);
        assertThat(StudyDocument.html(InventedStudy.report(60))).isEqualTo(StudyDocument.html(report));
        ByteArrayOutputStream first = new ByteArrayOutputStream();
        ByteArrayOutputStream second = new ByteArrayOutputStream();
        StudyDocument.pdf(small, first);
        StudyDocument.pdf(small(Origin.INVENTED), second);
        assertThat(second.toByteArray()).isEqualTo(first.toByteArray());
    }

    @Test
    void aStudyWithNothingInItStillGivesAReport() {
        StudyReport empty = new StudyReport(report.about(), List.of(), null, null, report.madeWith());
        assertThat(StudyDocument.html(empty).replace('\u00a0', ' '))
                .contains("No record has been read yet.", "No estimate was made.", "No recovery was computed.");
        StudyReport one = new StudyReport(
                report.about(),
                List.of(new AnimalSection("1", CaptureFacts.unknown(), Stage.NOT_RELEASED, null)),
                null,
                null,
                report.madeWith());
        assertThat(StudyDocument.html(one).replace('\u00a0', ' '))
                .contains("Not released yet.")
                .doesNotContain("null");
    }

    private StudyReport small(Origin origin) {
        StudyReport.About a = report.about();
        return new StudyReport(
                new StudyReport.About(
                        a.title(),
                        a.species(),
                        a.scientificName(),
                        a.site(),
                        a.latDeg(),
                        a.lonDeg(),
                        a.zone(),
                        origin,
                        a.authors(),
                        a.licence(),
                        a.asOf(),
                        a.notes()),
                report.animals().subList(10, 12),
                report.estimate(),
                report.plan(),
                report.madeWith());
    }

    @Test
    void noOtherMeasureIsPutInThePlaceOfOneThatGivesNoTime() {
        double nan = Double.NaN;
        assertThat(PlainWords.recovered(
                        new EstimateSection.RecoveryAcross("beat frequency", nan, nan, nan, "median", 13, 12, null)))
                .isEqualTo(
                        "No time of recovery can be given: by the beat frequency, the records of 12 of the 13 animals"
                                + " that the release disturbed do not tell when it was back to normal.");
        assertThat(PlainWords.recovered(
                        new EstimateSection.RecoveryAcross("beat frequency", 2.9, 1.5, 4.7, "median", 14, 4, null)))
                .contains("Half of the 14 animals")
                .contains("2.9")
                .contains("of 4 among them the record tells only that it took longer");
    }
}
