package org.aftercast.report;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.Locale;
import java.util.TimeZone;
import java.util.zip.CRC32;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;

/** Turns a page of well-formed XHTML into PDF with the shipped fonts; dates and identifiers come from the content. */
final class PdfWriter {

    private PdfWriter() {}

    /** The drawer of figures knows only fonts that the page itself declares. */
    private static String fontFaces() throws IOException {
        StringBuilder out = new StringBuilder("<style>");
        for (Fonts.Face face : Fonts.FACES) {
            if (face.style() == Fonts.Face.Style.ITALIC) {
                continue; // figures have none, and the drawer would take it for all
            }
            try (InputStream in = face.open()) {
                out.append("@font-face { font-family: '")
                        .append(face.cssWeight() == 700 ? Look.BOLD_FONT : Look.FONT)
                        .append("'; font-weight: ")
                        .append(face.cssWeight())
                        .append("; font-style: ")
                        .append(face.style().name().toLowerCase(Locale.ROOT))
                        .append("; -fs-font-subset: subset; src: url(data:font/ttf;base64,")
                        .append(Base64.getEncoder().encodeToString(in.readAllBytes()))
                        .append(") }\n");
            }
        }
        return out.append("</style>").toString();
    }

    /**
     * Writes the document.
     *
     * @param xhtml well-formed, everything inside: no address is ever fetched
     * @param title of the document
     * @throws IOException if it cannot be laid out or written
     */
    static void write(String xhtml, String title, OutputStream out) throws IOException {
        Fonts.register();
        XRLog.setLoggingEnabled(false);
        PdfRendererBuilder builder = new PdfRendererBuilder();
        for (Fonts.Face face : Fonts.FACES) {
            FontStyle style = face.style() == Fonts.Face.Style.ITALIC ? FontStyle.ITALIC : FontStyle.NORMAL;
            builder.useFont(face::open, Look.FONT, face.cssWeight(), style, true);
        }
        builder.useFont(Fonts.MONO::open, "Liberation Mono", 400, FontStyle.NORMAL, true);
        builder.useSVGDrawer(new BatikSVGDrawer());
        builder.useUriResolver((base, uri) -> uri.startsWith("data:") || uri.startsWith("#") ? uri : null);
        builder.withHtmlContent(xhtml.replace("</head>", fontFaces() + "</head>"), null);
        builder.withProducer("Aftercast");
        builder.usePdfUaAccessibility(true);
        CRC32 content = new CRC32();
        content.update(xhtml.getBytes(StandardCharsets.UTF_8));
        try (PdfBoxRenderer renderer = builder.buildPdfRenderer()) {
            renderer.createPDFWithoutClosing();
            try (PDDocument document = renderer.getPdfDocument()) {
                Calendar fixed = new GregorianCalendar(TimeZone.getTimeZone("UTC"), Locale.ROOT);
                fixed.setTimeInMillis(0);
                PDDocumentInformation about = document.getDocumentInformation();
                about.setTitle(title);
                about.setCreationDate(fixed);
                about.setModificationDate(fixed);
                document.setDocumentId(content.getValue());
                document.save(out);
            }
        }
    }
}
