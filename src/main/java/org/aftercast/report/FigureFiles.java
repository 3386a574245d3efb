package org.aftercast.report;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import org.apache.batik.transcoder.SVGAbstractTranscoder;
import org.apache.batik.transcoder.TranscoderException;
import org.apache.batik.transcoder.TranscoderInput;
import org.apache.batik.transcoder.TranscoderOutput;
import org.apache.batik.transcoder.image.ImageTranscoder;
import org.apache.batik.transcoder.image.PNGTranscoder;

/** A {@link Figure} as a file of its own. The same figure gives the same bytes on one machine and Java version. */
public final class FigureFiles {

    private static final double MM_PER_INCH = 25.4;

    private FigureFiles() {}

    /** SVG with an XML declaration, UTF-8. */
    public static void svg(Figure figure, OutputStream out) throws IOException {
        out.write(("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + figure.svg()).getBytes(StandardCharsets.UTF_8));
    }

    /**
     * PNG on white paper, with its resolution written in.
     *
     * @param dpi dots per inch, 36–1200; journals commonly ask for 600
     */
    public static void png(Figure figure, int dpi, OutputStream out) throws IOException {
        if (dpi < 36 || dpi > 1200) {
            throw new IllegalArgumentException("dpi: " + dpi + " is outside 36–1200");
        }
        Fonts.register();
        PNGTranscoder transcoder = new PNGTranscoder();
        transcoder.addTranscodingHint(SVGAbstractTranscoder.KEY_WIDTH, (float) Math.round(figure.widthPt() / 72 * dpi));
        transcoder.addTranscodingHint(
                SVGAbstractTranscoder.KEY_HEIGHT, (float) Math.round(figure.heightPt() / 72 * dpi));
        transcoder.addTranscodingHint(SVGAbstractTranscoder.KEY_PIXEL_UNIT_TO_MILLIMETER, (float) (MM_PER_INCH / dpi));
        transcoder.addTranscodingHint(ImageTranscoder.KEY_BACKGROUND_COLOR, java.awt.Color.WHITE);
        transcoder.addTranscodingHint(SVGAbstractTranscoder.KEY_EXECUTE_ONLOAD, false);
        ByteArrayOutputStream whole = new ByteArrayOutputStream();
        try {
            transcoder.transcode(new TranscoderInput(new StringReader(figure.svg())), new TranscoderOutput(whole));
        } catch (TranscoderException failure) {
            throw new IOException("figure " + figure.name() + ": could not be drawn as PNG", failure);
        }
        whole.writeTo(out);
    }

    /** PDF, one page of exactly the figure's size, lines kept as lines, letters as outlines. */
    public static void pdf(Figure figure, OutputStream out) throws IOException {
        String page = "<html lang=\"en\"><head><title>" + SvgWriter.escape(figure.title())
                + "</title><style>@page { size: "
                + Num.coordinate(figure.widthPt()) + "pt " + Num.coordinate(figure.heightPt())
                + "pt; margin: 0 } body { margin: 0 } svg { display: block }</style></head><body>" + figure.svg()
                + "</body></html>";
        PdfWriter.write(page, figure.title(), out);
    }
}
