package org.aftercast.report;

import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.GraphicsEnvironment;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;

/** The fonts that come with the program (Liberation, SIL Open Font License). */
final class Fonts {

    /**
     * One file.
     *
     * @param resource path on the class path
     * @param cssWeight 400 or 700
     * @param style normal or italic
     */
    record Face(String resource, int cssWeight, Style style) {

        enum Style {
            NORMAL,
            ITALIC
        }

        InputStream open() {
            InputStream in = Fonts.class.getResourceAsStream(resource);
            if (in == null) {
                throw new IllegalStateException(resource + ": this font should be part of the program and is not");
            }
            return in;
        }
    }

    static final List<Face> FACES = List.of(
            new Face("/liberation/LiberationSans-Regular.ttf", 400, Face.Style.NORMAL),
            new Face("/liberation/LiberationSans-Bold.ttf", 700, Face.Style.NORMAL),
            new Face("/liberation/LiberationSans-Italic.ttf", 400, Face.Style.ITALIC));

    static final Face MONO = new Face("/liberation/LiberationMono-Regular.ttf", 400, Face.Style.NORMAL);

    private static boolean registered;

    private Fonts() {}

    /** Makes the faces known to Java's own drawing; does nothing the second time. */
    static synchronized void register() throws IOException {
        if (registered) {
            return;
        }
        for (Face face : FACES) {
            try (InputStream in = face.open()) {
                GraphicsEnvironment.getLocalGraphicsEnvironment().registerFont(Font.createFont(Font.TRUETYPE_FONT, in));
            } catch (FontFormatException broken) {
                throw new IOException(face.resource() + ": not a usable font", broken);
            }
        }
        registered = true;
    }

    /**
     * The upright faces as a style element that carries them, so that a browser on a machine without them sets every text
     * as wide as it was measured.
     */
    static String asStyle() {
        StringBuilder out = new StringBuilder("<style>\n");
        for (Face face : FACES) {
            if (face.style() == Face.Style.ITALIC) {
                continue;
            }
            try (InputStream in = face.open()) {
                out.append("@font-face { font-family: \"Liberation Sans\"; font-weight: ")
                        .append(face.cssWeight())
                        .append("; src: url(data:font/ttf;base64,")
                        .append(Base64.getEncoder().encodeToString(in.readAllBytes()))
                        .append(") }\n");
            } catch (IOException unreadable) {
                throw new UncheckedIOException(unreadable);
            }
        }
        return out.append("</style>\n").toString();
    }
}
